package units

import (
	"math"
	"sync"
)

// Kind is what a value measures, in the words phase files use.
type Kind string

// The kinds, each with its base unit.
const (
	TemperatureKind           Kind = "temperature"            // °C
	TemperatureDifferenceKind Kind = "temperature difference" // K
	HumidityKind              Kind = "relative humidity"      // %, 0 to 100
	MoistureContentKind       Kind = "moisture content"       // % of dry mass
	PercentKind               Kind = "percent"                // %
	SlopeKind                 Kind = "slope"                  // %, rise over run
	CountKind                 Kind = "count"                  // 1

	LengthKind   Kind = "length"   // m
	AreaKind     Kind = "area"     // m²
	VolumeKind   Kind = "volume"   // m³
	MassKind     Kind = "mass"     // kg
	DurationKind Kind = "duration" // s
	SpeedKind    Kind = "speed"    // m/s
	DensityKind  Kind = "density"  // kg/m³
	TorqueKind   Kind = "torque"   // N·m

	PressureKind      Kind = "pressure"       // Pa, absolute or a difference of either sign
	GaugePressureKind Kind = "gauge pressure" // Pa above the atmosphere
	VacuumKind        Kind = "vacuum"         // Pa, absolute
	AreaLoadKind      Kind = "area load"      // Pa
	LineLoadKind      Kind = "line load"      // kg/m

	AirflowKind   Kind = "airflow"      // m³/s
	AirChangeKind Kind = "air changes"  // per hour
	MassRateKind  Kind = "mass per day" // kg/day
	PermeanceKind Kind = "permeance"    // kg/(s·m²·Pa)
	EnergyKind    Kind = "energy"       // J
	PowerKind     Kind = "power"        // W
	HeatFluxKind  Kind = "heat flux"    // W/m²

	ThermalResistanceKind Kind = "thermal resistance"    // m²·K/W
	TransmittanceKind     Kind = "thermal transmittance" // W/(m²·K)
	ConductivityKind      Kind = "thermal conductivity"  // W/(m·K)

	VoltageKind          Kind = "voltage"               // V
	CurrentKind          Kind = "current"               // A
	ResistanceKind       Kind = "resistance"            // Ω
	LinearResistanceKind Kind = "resistance per length" // Ω/m
	WireSizeKind         Kind = "wire size"             // mm²
)

// families holds every kind in the order Kinds returns them. A new kind is one
// more entry here and a family in one of the table files.
var families = [...]*family{
	&temperature, &temperatureDifference, &humidity, &moistureContent, &percent, &slope, &count,
	&length, &area, &volume, &mass, &duration, &speed, &density, &torque,
	&pressure, &gaugePressure, &vacuum, &areaLoad, &lineLoad,
	&airflow, &airChange, &massRate, &permeance, &energy, &power, &heatFlux,
	&thermalResistance, &transmittance, &conductivity,
	&voltage, &current, &resistance, &linearResistance, &wireSize,
}

// family is a kind with its units and with what its values may be.
type family struct {
	kind      Kind
	base      string  // symbol of the base unit
	low, high float64 // what nature allows, in the base unit
	lowest    string  // name of low where it has one: "absolute zero"
	highest   string  // name of high where it has one
	us, si    string  // an example in each system's writing; one alone where both agree
	everyUS   []rung  // units of computed values, by size
	everySI   []rung  // the same; nil where both systems agree
	units     []measure
	labels    []label
	chains    [][]string // units that may follow each other in one value: ft, in
	refused   []refusal
	spellings spellings
}

// rung is an everyday unit and the magnitude, in the base unit, from which the
// next larger one takes over; 0 for the last.
type rung struct {
	symbol string
	below  float64
}

// label is a word written before the number.
type label struct {
	name  string // as spelled, in lower case
	unit  string // symbol it stands for; empty when a unit must follow the number
	why   string // what to say when no unit follows
	layer bool   // it makes the length that follows an equivalent air layer
	loose bool   // it names the quantity too, and another unit after the number wins
}

// refusal is a unit that cannot be read with certainty, and why. Its names are
// spelled as those of a measure.
type refusal struct{ names, why, advice string }

// unbounded marks a side on which nature sets no limit.
const unbounded = math.MaxFloat64

// Kinds returns every kind that Parse reads.
func Kinds() []Kind {
	kinds := make([]Kind, len(families))
	for i, f := range families {
		kinds[i] = f.kind
	}
	return kinds
}

// Known reports whether Parse reads k.
func (k Kind) Known() bool { return k.family() != nil }

func (k Kind) family() *family { return familyOf()[k] }

// familyOf finds families by kind, from the first use on.
var familyOf = sync.OnceValue(func() map[Kind]*family {
	byKind := make(map[Kind]*family, len(families))
	for _, f := range families {
		byKind[f.kind] = f
	}
	return byKind
})

// Example returns how values of k are written, such as "5 1/2 in or 140 mm".
// It is empty for an unknown kind.
func (k Kind) Example() string {
	f := k.family()
	switch {
	case f == nil:
		return ""
	case f.si == "":
		return f.us
	}
	return f.us + " or " + f.si
}

// BaseUnit returns the symbol of the unit Base converts to.
func (k Kind) BaseUnit() string {
	if f := k.family(); f != nil {
		return f.base
	}
	return ""
}

// Plausible returns the lowest and highest value that nature allows for k, in
// the base unit; either may be infinite. An unknown kind has none: low > high.
func (k Kind) Plausible() (low, high float64) {
	f := k.family()
	if f == nil {
		return math.Inf(1), math.Inf(-1)
	}
	low, high = f.low, f.high
	if low == -unbounded {
		low = math.Inf(-1)
	}
	if high == unbounded {
		high = math.Inf(1)
	}
	return low, high
}

// Units returns the units k is written in.
func (k Kind) Units() []Unit {
	f := k.family()
	if f == nil {
		return nil
	}
	units := make([]Unit, len(f.units))
	for i := range f.units {
		units[i] = f.unit(&f.units[i])
	}
	return units
}

func (f *family) unit(m *measure) Unit { return Unit{Symbol: m.symbol, Kind: f.kind, of: m} }

// measure returns the unit of f with this symbol, or nil.
func (f *family) measure(symbol string) *measure {
	for i := range f.units {
		if f.units[i].symbol == symbol {
			return &f.units[i]
		}
	}
	return nil
}

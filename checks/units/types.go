package units

// Typed values for the physics packages. Each is held in the unit named here,
// which is the unit its formulas are published in. A temperature difference is
// not a temperature: the types keep the two apart.

// Temperature is a Celsius temperature, kept as the instrument shows it.
type Temperature float64

// TemperatureDifference is in kelvin.
type TemperatureDifference float64

// Sub returns the difference t − u.
func (t Temperature) Sub(u Temperature) TemperatureDifference { return TemperatureDifference(t - u) }

// Add returns the temperature d above t.
func (t Temperature) Add(d TemperatureDifference) Temperature { return t + Temperature(d) }

// Kelvin returns the thermodynamic temperature in K.
func (t Temperature) Kelvin() float64 { return float64(t) + 273.15 }

// RelativeHumidity is in percent, 0 to 100, as instruments show it.
type RelativeHumidity float64

// Fraction returns the relative humidity as a fraction, 0 to 1.
func (rh RelativeHumidity) Fraction() float64 { return float64(rh) / 100 }

// Percent is any other share in percent: moisture content, slope, duty.
type Percent float64

type (
	// Length is in metres: thickness, depth, gap, distance.
	Length float64
	// Area is in square metres.
	Area float64
	// Volume is in cubic metres.
	Volume float64
	// Mass is in kilograms.
	Mass float64
	// Pressure is in pascals, absolute unless a name says gauge or difference.
	Pressure float64
	// ThermalResistance is in m²·K/W.
	ThermalResistance float64
	// Transmittance is in W/(m²·K).
	Transmittance float64
	// Conductivity is in W/(m·K).
	Conductivity float64
	// Permeance is in kg/(s·m²·Pa).
	Permeance float64
	// Power is in watts.
	Power float64
	// Conductance is in W/K.
	Conductance float64
	// Airflow is in m³/s.
	Airflow float64
	// Voltage is in volts.
	Voltage float64
	// Current is in amperes.
	Current float64
	// Resistance is electrical, in ohms.
	Resistance float64
)

package cooling

import (
	"errors"
	"fmt"

	"proveout/checks/units"
)

// Efficiency is the coefficient of performance of an air-cooled unit as a share of
// the Carnot cycle between its evaporating and condensing temperatures:
//
//	COP = η·T_e/(T_c − T_e),  T_c = max(T_o + 12 K, 30 °C)
//
// Shares of 0.35 for a good and 0.25 for a poor unit are assumed; a log or the
// maker's data replace them.
type Efficiency struct {
	Share       float64           // η, 0.05 to 0.7
	Evaporating units.Temperature // T_e, −20 to 15 °C
}

// Condensing returns T_c at an outdoor temperature.
func (e Efficiency) Condensing(outdoor units.Temperature) units.Temperature {
	return max(outdoor+12, 30)
}

// At returns the coefficient of performance at an outdoor temperature.
func (e Efficiency) At(outdoor units.Temperature) float64 {
	return e.Share * e.Evaporating.Kelvin() / e.lift(outdoor)
}

func (e Efficiency) lift(outdoor units.Temperature) float64 {
	return float64(e.Condensing(outdoor).Sub(e.Evaporating))
}

func (e Efficiency) valid() error {
	return errors.Join(
		within("share of Carnot", e.Share, 0.05, 0.7, ""),
		within("evaporating temperature", float64(e.Evaporating), -20, 15, "°C"),
	)
}

// Demand is a room's cooling as it follows the outdoor temperature:
//
//	q = max(0, UA_out·(T_o − T_r) + UA_in·(T_in − T_r) + Q_base)
type Demand struct {
	Outdoors units.Conductance // UA_out, leaks to outdoors included
	House    units.Conductance // UA_in
	Inside   units.Temperature // of the house, all year
	Base     units.Power       // fan, lights, latent load
	Room     units.Temperature
}

// At returns the cooling at an outdoor temperature.
func (d Demand) At(outdoor units.Temperature) units.Power {
	return max(0, d.signed(outdoor))
}

func (d Demand) signed(outdoor units.Temperature) units.Power {
	return units.Power(float64(d.Outdoors)*float64(outdoor.Sub(d.Room))+float64(d.House)*float64(d.Inside.Sub(d.Room))) + d.Base
}

// Balance returns the outdoor temperature at which the room needs no cooling,
// T_r − [UA_in·(T_in − T_r) + Q_base]/UA_out; ok is false without conductance to
// outdoors.
func (d Demand) Balance() (t units.Temperature, ok bool) {
	if !(d.Outdoors > 0) {
		return 0, false
	}
	return d.Room - units.Temperature(float64(d.signed(d.Room))/float64(d.Outdoors)), true
}

func (d Demand) valid() error {
	return errors.Join(
		within("conductance to outdoors", float64(d.Outdoors), 0, 1e4, "W/K"),
		within("conductance to the house", float64(d.House), 0, 1e4, "W/K"),
		within("base heat", float64(d.Base), -1e5, 1e5, "W"),
		airTemperature("house", d.Inside), airTemperature("room", d.Room),
	)
}

// Hours is a stretch of a year at one outdoor temperature: an hour of a weather
// file, a bin at its middle, a month at its mean.
type Hours struct {
	Outdoor units.Temperature
	Hours   float64
}

// Bins returns the stretches of bins of a width, given by their lower edges: each
// at its middle.
func Bins(lower []units.Temperature, hours []float64, width units.TemperatureDifference) ([]Hours, error) {
	if len(lower) != len(hours) || !(width > 0) {
		return nil, fmt.Errorf("bins: %d edges and %d counts of hours, %g K wide; give one count for each edge and a width above 0", len(lower), len(hours), width)
	}
	year := make([]Hours, len(lower))
	for i := range lower {
		year[i] = Hours{lower[i].Add(width / 2), hours[i]}
	}
	return year, nil
}

// Months returns the stretches of a year from its twelve mean temperatures.
func Months(means [12]units.Temperature) []Hours {
	days := [12]float64{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}
	year := make([]Hours, 12)
	for i, t := range means {
		year[i] = Hours{t, 24 * days[i]}
	}
	return year
}

// Hourly returns the stretches of a series of hourly temperatures.
func Hourly(series []units.Temperature) []Hours {
	year := make([]Hours, len(series))
	for i, t := range series {
		year[i] = Hours{t, 1}
	}
	return year
}

// Year is the cooling of a year.
type Year struct {
	Hours       float64
	Heat        Energy
	Electricity Energy
	MeanCOP     float64 // heat over electricity
	// Short are the hours in which the demand is above the unit's capacity; 0 when
	// no capacity was given. Their heat is counted as if it could be removed.
	Short float64
	Steps []Step
}

// Year sums demand and electricity over the stretches, which should make 8760 h. A
// unit's capacity, when not nil, counts the hours in which it falls short.
func (d Demand) Year(year []Hours, e Efficiency, unit Capacity) (Year, error) {
	if err := errors.Join(d.valid(), e.valid()); err != nil {
		return Year{}, fmt.Errorf("year: %w", err)
	}
	var y Year
	for i, h := range year {
		if !(h.Outdoor >= -60 && h.Outdoor <= 60 && h.Hours >= 0 && h.Hours <= 8784) {
			return Year{}, fmt.Errorf("year: entry %d has %g °C for %g h; a temperature of −60 to 60 °C and 0 to 8784 h are wanted", i+1, h.Outdoor, h.Hours)
		}
		heat := float64(d.At(h.Outdoor)) * h.Hours
		y.Hours += h.Hours
		y.Heat += Energy(heat)
		y.Electricity += Energy(heat * e.lift(h.Outdoor))
	}
	if !(y.Hours > 0) {
		return Year{}, errors.New("year: no hours; give outdoor temperatures by hour, bin or month")
	}
	y.Heat *= 3600
	y.Electricity *= Energy(3600 / (e.Share * e.Evaporating.Kelvin()))
	if y.Electricity > 0 {
		y.MeanCOP = float64(y.Heat / y.Electricity)
	}
	var err error
	if y.Short, err = d.short(year, unit); err != nil {
		return Year{}, fmt.Errorf("year: %w", err)
	}
	y.Steps = d.steps(y, e)
	return y, nil
}

// short sums the hours in which the demand is above the unit's capacity.
func (d Demand) short(year []Hours, unit Capacity) (float64, error) {
	if unit == nil {
		return 0, nil
	}
	sum := 0.0
	for i, h := range year {
		at, err := unit.At(d.Room, h.Outdoor)
		if err != nil {
			return 0, fmt.Errorf("entry %d: %w", i+1, err)
		}
		if d.At(h.Outdoor) > at {
			sum += h.Hours
		}
	}
	return sum, nil
}

func (d Demand) steps(y Year, e Efficiency) []Step {
	steps := []Step{
		{Name: "demand", Formula: "max(0, UA_out·(T_o − T_r) + UA_in·(T_in − T_r) + Q_base)",
			Value: fmt.Sprintf("%.1f W/K, %.1f W/K, %.0f W", d.Outdoors, d.House, d.Base), Source: "load calculation"},
		{Name: "hours", Formula: "sum of the outdoor data", Value: fmt.Sprintf("%.0f h", y.Hours), Source: "outdoor data"},
		{Name: "heat", Formula: "Σ hours · demand", Value: fmt.Sprintf("%.1f kWh", y.Heat.KilowattHours())},
		{Name: "performance", Formula: "η·T_e/(T_c − T_e), T_c = max(T_o + 12 K, 30 °C)", Value: fmt.Sprintf("η %.2f, T_e %s, mean %.2f", e.Share, temperatureText(e.Evaporating), y.MeanCOP), Source: "assumed share of Carnot"},
		{Name: "electricity", Formula: "Σ hours · demand / COP", Value: fmt.Sprintf("%.1f kWh", y.Electricity.KilowattHours())},
	}
	if y.Short > 0 {
		steps = append(steps, Step{Name: "unit too small", Formula: "hours with demand above capacity", Value: fmt.Sprintf("%.0f h", y.Short), Source: "capacity at each temperature"})
	}
	return steps
}

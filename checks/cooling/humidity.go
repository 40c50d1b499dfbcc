package cooling

import (
	"errors"
	"fmt"

	"proveout/checks/airflow"
	"proveout/checks/humidair"
	"proveout/checks/units"
)

// Coil is a cooling coil by its apparatus dew point: the temperature at which its
// line on the chart meets saturation.
type Coil struct {
	DewPoint units.Temperature // T_ADP, below the room
	Sensible units.Power       // the sensible load that makes it run
}

// Moisture is what brings water into a room.
type Moisture struct {
	Exchange airflow.MassRate // M: dry air leaking in, and diffusion in its terms
	Inside   airflow.MassRate // G: water set free in the room
}

// DiffusionExchange returns the rate of dry air that would bring the same water as
// diffusion through a permeance and area: permeance·A·p/0.622, for humidity ratios
// that are small.
func DiffusionExchange(permeance units.Permeance, area units.Area, p units.Pressure) airflow.MassRate {
	const massRatio = 0.621945 // ASHRAE Fundamentals ch. 1
	return airflow.MassRate(float64(permeance) * float64(area) * float64(p) / massRatio)
}

// Steady is the humidity that a room settles to.
type Steady struct {
	Ratio      humidair.HumidityRatio
	Humidity   units.RelativeHumidity
	Condensate airflow.MassRate
	// Wet says that the coil takes water out. A dry coil has no say in the
	// humidity.
	Wet          bool
	SensibleHeat float64 // share of the coil's heat that is sensible, 0 to 1
	Steps        []Step
}

// flow is R, the dry air at the coil's line that carries the sensible load.
func (c Coil) flow(room units.Temperature) float64 {
	return float64(c.Sensible) / (dryHeat * float64(room.Sub(c.DewPoint)))
}

// SteadyHumidity returns the humidity at which what comes in is what the coil takes
// out:
//
//	W_r = (M·W_h + G + R·W_ADP)/(M + R),  R = Q_s/(c_p·(T_r − T_ADP))
//
// and W_h + G/M with a coil that stays dry. Bypass and duty cancel out. Water that
// a continuous fan evaporates from the coil in the off cycle is not counted: with
// short cycles the room is then more humid. Air that would be above saturation is
// returned at 100 %.
func (c Coil) SteadyHumidity(m Moisture, house airflow.State, room units.Temperature) (Steady, error) {
	s, coil, err := c.balance(m, house, room)
	if err != nil {
		return Steady{}, fmt.Errorf("room humidity: %w", err)
	}
	s.Steps = c.steps(m, s, coil, house, c.flow(room))
	return s, nil
}

// balance is SteadyHumidity without its steps, and the saturation at the coil.
func (c Coil) balance(m Moisture, house airflow.State, room units.Temperature) (s Steady, coil humidair.HumidityRatio, err error) {
	if err := errors.Join(c.valid(room), m.valid()); err != nil {
		return Steady{}, 0, err
	}
	if coil, err = humidair.SaturationHumidityRatio(c.DewPoint, house.Pressure); err != nil {
		return Steady{}, 0, err
	}
	exchange, inside, r := float64(m.Exchange), float64(m.Inside), c.flow(room)
	s = Steady{Wet: true, SensibleHeat: 1}
	s.Ratio = humidair.HumidityRatio((exchange*float64(house.Ratio) + inside + r*float64(coil)) / (exchange + r))
	if s.Ratio <= coil {
		s.Wet = false
		s.Ratio = house.Ratio + humidair.HumidityRatio(inside/exchange)
	}
	if s.Wet {
		s.Condensate = airflow.MassRate(r * float64(s.Ratio-coil))
		s.SensibleHeat = float64(c.Sensible) / (float64(c.Sensible) + latent*float64(s.Condensate))
	}
	s.Humidity, err = saturating(room, s.Ratio, house.Pressure)
	return s, coil, err
}

// saturating returns the relative humidity, 100 % for more vapor than fits.
func saturating(t units.Temperature, w humidair.HumidityRatio, p units.Pressure) (units.RelativeHumidity, error) {
	full, err := humidair.SaturationHumidityRatio(t, p)
	if err != nil || w >= full {
		return 100, err
	}
	return humidair.RelativeHumidityFromHumidityRatio(t, w, p)
}

func (c Coil) steps(m Moisture, s Steady, coil humidair.HumidityRatio, house airflow.State, r float64) []Step {
	const balance = "water balance of a steady room"
	state := "dry"
	if s.Wet {
		state = "wet"
	}
	return []Step{
		{Name: "apparatus dew point", Value: temperatureText(c.DewPoint), Source: "coil data or log"},
		{Name: "air that carries the sensible load", Formula: "R = Q_s / (c_p · (T_r − T_ADP))", Value: fmt.Sprintf("%.2f g/s", 1000*r), Source: balance},
		{Name: "house air coming in", Formula: "M", Value: fmt.Sprintf("%.2f g/s of %.2f g/kg", 1000*float64(m.Exchange), 1000*float64(house.Ratio)), Source: "leak and diffusion"},
		{Name: "saturation at the coil", Formula: "W_ADP", Value: fmt.Sprintf("%.2f g/kg, coil %s", 1000*float64(coil), state), Source: "ASHRAE Fundamentals ch. 1"},
		{Name: "room", Formula: "(M·W_h + G + R·W_ADP) / (M + R); dry coil: W_h + G/M", Value: fmt.Sprintf("%.2f g/kg = %.1f %% RH", 1000*float64(s.Ratio), s.Humidity), Source: balance},
		{Name: "condensate", Formula: "R · (W_r − W_ADP)", Value: fmt.Sprintf("%.2f kg/day", s.Condensate.PerDay()), Source: balance},
	}
}

// Humidification returns the water that must be added to hold a room at target:
//
//	M·(W_target − W_h) + max(0, R·(W_target − W_ADP)) − G
//
// 0 when the room is humid enough by itself.
func (c Coil) Humidification(m Moisture, house airflow.State, room units.Temperature, target units.RelativeHumidity) (airflow.MassRate, error) {
	if err := errors.Join(c.valid(room), m.valid()); err != nil {
		return 0, fmt.Errorf("humidification: %w", err)
	}
	coil, err := humidair.SaturationHumidityRatio(c.DewPoint, house.Pressure)
	want, errWant := humidair.HumidityRatioFromRelativeHumidity(room, target, house.Pressure)
	if err := errors.Join(err, errWant); err != nil {
		return 0, fmt.Errorf("humidification: %w", err)
	}
	water := float64(m.Exchange)*float64(want-house.Ratio) + max(0, c.flow(room)*float64(want-coil)) - float64(m.Inside)
	return airflow.MassRate(max(0, water)), nil
}

// DewPointFor returns the apparatus dew point at which a wet coil holds the room at
// target. It returns an error when none between −10 °C and the dew point of the
// target does: the room is then drier than the target without any drying, or
// wetter than any coil can make it.
func (c Coil) DewPointFor(m Moisture, house airflow.State, room units.Temperature, target units.RelativeHumidity) (units.Temperature, error) {
	high, err := humidair.DewPoint(room, target)
	if err != nil {
		return 0, fmt.Errorf("apparatus dew point: %w", err)
	}
	low := units.Temperature(-10)
	excess := func(t units.Temperature) (float64, error) {
		s, _, err := Coil{DewPoint: t, Sensible: c.Sensible}.balance(m, house, room)
		return float64(s.Humidity - target), err
	}
	below, err := excess(low)
	above, errHigh := excess(high)
	if err := errors.Join(err, errHigh); err != nil {
		return 0, fmt.Errorf("apparatus dew point: %w", err)
	}
	if below > 0 || above < 0 {
		return 0, fmt.Errorf("apparatus dew point: no coil holds %g %% RH: the room comes to %.1f %% with a coil at %.1f °C and %.1f %% at %.1f °C; change the leak or add water",
			target, below+float64(target), low, above+float64(target), high)
	}
	for range 50 {
		mid := (low + high) / 2
		e, err := excess(mid)
		if err != nil {
			return 0, err
		}
		if e < 0 {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2, nil
}

// SensibleHeatRatio returns the share of a coil's heat that is sensible at a room
// state, c_p·(T_r − T_ADP)/(h_r − h_ADP); 1 for a coil that stays dry.
func (c Coil) SensibleHeatRatio(room airflow.State) (float64, error) {
	if err := c.valid(room.Temperature); err != nil {
		return 0, fmt.Errorf("sensible heat ratio: %w", err)
	}
	coil, err := airflow.Air{Temperature: c.DewPoint, Humidity: 100, Pressure: room.Pressure}.State()
	if err != nil {
		return 0, fmt.Errorf("sensible heat ratio: %w", err)
	}
	if coil.Ratio >= room.Ratio {
		return 1, nil
	}
	return dryHeat * float64(room.Temperature.Sub(c.DewPoint)) / float64(room.Enthalpy-coil.Enthalpy), nil
}

func (c Coil) valid(room units.Temperature) error {
	return errors.Join(
		within("room", float64(room), -20, 40, "°C"),
		within("apparatus dew point", float64(c.DewPoint), -30, float64(room)-0.1, "°C"),
		within("sensible load", float64(c.Sensible), 0.1, 1e5, "W"),
	)
}

func (m Moisture) valid() error {
	return errors.Join(
		within("air exchange", float64(m.Exchange), 1e-9, 10, "kg/s"),
		within("water set free inside", float64(m.Inside), 0, 0.1, "kg/s"),
	)
}

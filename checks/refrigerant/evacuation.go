package refrigerant

import (
	"errors"
	"fmt"
	"time"

	"proveout/checks/units"
)

// Micron returns the absolute pressure of n micrometres of mercury, the unit of
// vacuum gauges.
func Micron(n float64) units.Pressure { return units.Pressure(n * micron) }

// Evacuation is a vacuum decay test: the circuit is pulled down, the pump is
// valved off, and the pressure is watched. Pressures are absolute.
type Evacuation struct {
	Pulled  units.Pressure // when the pump is valved off
	Risen   units.Pressure // at the end of the isolation
	Coldest units.Temperature
	Held    time.Duration
	// GaugeUncertainty is the vacuum gauge's, k = 2.
	GaugeUncertainty units.Pressure

	Limits EvacuationLimits
}

// EvacuationLimits are what the procedure asks for, for example 300 micron,
// then 500 micron after 1 h at 2 °C or warmer (UFGS 15182).
type EvacuationLimits struct {
	Pulled, Risen units.Pressure
	Required      time.Duration
	// Coldest is the lowest ambient temperature at which water still leaves.
	Coldest units.Temperature
}

// EvacuationResult is what a decay test proves.
type EvacuationResult struct {
	Outcome Outcome
	Reason  string
	Rise    units.Pressure // risen − pulled
	// NearLimit says that a reading lies within the gauge's uncertainty of its
	// limit. The published limits leave room for the gauge, so that the reading
	// itself is judged.
	NearLimit bool
	Steps     []Step
}

// Judge works the test out. It returns an error for readings that are missing,
// not finite or not those of a vacuum gauge (0 to 10 kPa).
func (e Evacuation) Judge() (EvacuationResult, error) {
	if err := e.valid(); err != nil {
		return EvacuationResult{}, fmt.Errorf("evacuation: %w", err)
	}
	r := EvacuationResult{Rise: e.Risen - e.Pulled}
	r.NearLimit = near(e.Pulled, e.Limits.Pulled, e.GaugeUncertainty) || near(e.Risen, e.Limits.Risen, e.GaugeUncertainty)
	r.Outcome, r.Reason = e.decide()
	r.Steps = []Step{
		{Name: "pulled to", Value: fmt.Sprintf("%s, at most %s", vacuumText(e.Pulled), vacuumText(e.Limits.Pulled)), Source: readings},
		{Name: "after isolation", Value: fmt.Sprintf("%s, at most %s", vacuumText(e.Risen), vacuumText(e.Limits.Risen)), Source: readings},
		{Name: "rise", Formula: "after − before", Value: vacuumText(r.Rise)},
		{Name: "isolated", Value: fmt.Sprintf("%s of %s", durationText(e.Held), durationText(e.Limits.Required)), Source: readings},
		{Name: "coldest part", Value: fmt.Sprintf("%s, at least %s", temperatureText(e.Coldest), temperatureText(e.Limits.Coldest)), Source: readings},
	}
	return r, nil
}

func (e Evacuation) decide() (Outcome, string) {
	switch {
	case !atMost(float64(e.Risen), float64(e.Limits.Risen)):
		return Fail, fmt.Sprintf("rose to %s, %s is allowed; a straight rise is a leak, one that flattens is moisture; repair or break with nitrogen and pull again",
			vacuumText(e.Risen), vacuumText(e.Limits.Risen))
	case !atMost(float64(e.Pulled), float64(e.Limits.Pulled)):
		return Fail, fmt.Sprintf("pulled to %s, %s is asked for; keep the pump on, check oil and hoses",
			vacuumText(e.Pulled), vacuumText(e.Limits.Pulled))
	case float64(e.Pulled-e.Risen) > float64(e.GaugeUncertainty):
		return Undecided, "the pressure fell while the circuit was isolated; check that the pump was valved off and where the gauge sits"
	case e.Coldest < e.Limits.Coldest:
		return Undecided, fmt.Sprintf("the coldest part was at %s, below %s: water there may be ice that the gauge does not see; warm it and pull again",
			temperatureText(e.Coldest), temperatureText(e.Limits.Coldest))
	case e.Held < e.Limits.Required:
		return Undecided, fmt.Sprintf("isolated for %s of %s; read again when the time is over", durationText(e.Held), durationText(e.Limits.Required))
	}
	return Pass, fmt.Sprintf("%s after %s", vacuumText(e.Risen), durationText(e.Held))
}

func (e Evacuation) valid() error {
	const highest = 10e3 // Pa, beyond any thermistor vacuum gauge
	return errors.Join(
		within("vacuum", float64(e.Pulled), 0.01, highest, "Pa"),
		within("vacuum after isolation", float64(e.Risen), 0.01, highest, "Pa"),
		within("vacuum limit", float64(e.Limits.Pulled), 0.01, highest, "Pa"),
		within("vacuum limit after isolation", float64(e.Limits.Risen), 0.01, highest, "Pa"),
		within("vacuum gauge uncertainty", float64(e.GaugeUncertainty), 0.001, highest, "Pa"),
		within("coldest part", float64(e.Coldest), -40, 60, "°C"),
		within("least temperature", float64(e.Limits.Coldest), -40, 60, "°C"),
		within("isolation", e.Held.Hours(), 0, 24*30, "h"),
		within("required isolation", e.Limits.Required.Hours(), 1.0/60, 24*30, "h"),
	)
}

// near reports whether a reading lies within its uncertainty of the limit.
func near(got, limit, u units.Pressure) bool { return max(got-limit, limit-got) < u }

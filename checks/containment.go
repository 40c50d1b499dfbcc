package checks

import (
	"fmt"
	"time"

	"proveout/checks/logs"
	"proveout/checks/units"
)

// ContainmentLog asks for the weakest suction that an enclosure's pressure logger
// saw, and says for how long it was weaker than wanted.
var ContainmentLog = &Check{
	Name:   "containment-log",
	Doc:    "weakest suction in the continuous pressure log of an enclosure",
	Source: "29 CFR 1926.1101(g)(5)(i), an asbestos rule that mold work borrowed by practice (quoted); 90 % coverage: common practice",
	Result: units.PressureKind,
	Log:    true,
	Each:   containmentLog,
}

func containmentLog(c Case, f Fact) Point {
	limit, err := c.Question.Limits.AtMost.Resolve(units.PressureKind, c.Room, nil)
	if err != nil {
		return undecided(f.Place, "%v", err)
	}
	// Above a band that ends at the limit, suction is too weak.
	st, err := c.stability(f, logs.Pressure, logs.Band{Low: openBand.Low, High: limit.Base() + units.Slack})
	if err != nil {
		return undecided(f.Place, "%v", err)
	}
	worst := units.Of(units.PressureKind, st.Max, c.Room.Units)
	p := Point{Place: f.Place, Quantity: worst, Value: worst.String(), Steps: c.logSteps(f, st)}
	if st.Above > 0 {
		p.Value += fmt.Sprintf(", weaker than wanted for %s", lasting(st.Above.Round(time.Minute)))
	}
	if f.Instrument != nil {
		p.measured, p.Uncertainty = true, f.Instrument.Uncertainty
	}
	p.Steps = append(p.Steps,
		Step{Name: "weakest suction", Value: worst.String(), Source: "logger"},
		Step{Name: "mean", Formula: "Σ w·p / Σ w", Value: units.Of(units.PressureKind, st.Mean, c.Room.Units).String(), Source: "logger"},
		Step{Name: "time weaker than the limit", Value: lasting(st.Above.Round(time.Minute)), Source: "logger"})
	for i, e := range st.Excursions {
		if i == 3 {
			break
		}
		p.Steps = append(p.Steps, Step{
			Name: fmt.Sprintf("lapse %d", i+1), Source: "logger",
			Value: e.From.In(c.zone()).Format("2006-01-02 15:04") + " for " + lasting(e.Duration().Round(time.Second)) + ", " + units.Of(units.PressureKind, e.Peak, c.Room.Units).String(),
		})
	}
	return p
}

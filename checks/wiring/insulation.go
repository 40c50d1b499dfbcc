package wiring

import (
	"errors"
	"fmt"

	"proveout/checks/units"
)

// InsulationLimit is what a circuit's insulation is tested with and must reach.
type InsulationLimit struct {
	Test   units.Voltage    // direct current
	Least  units.Resistance // between live conductors and from each to earth
	Source string
}

const insulationSource = "BS 7671:2018, 641.1 and Table 64 (quoted); IEC 60364-6 has the same figures (from memory)"

// InsulationLimitOf returns the limit of a circuit by its nominal voltage, 1 to
// 1000 V; extraLow says that it is fed by a safety transformer or driver of at
// most 50 V AC or 120 V DC. The NEC sets no figure.
//
// The rule takes the reading as it is: it corrects nothing for temperature, so
// neither does this. Insulation reads lower when it is warm; a low reading in a hot
// attic may be taken again when it has cooled, not recomputed.
func InsulationLimitOf(nominal units.Voltage, extraLow bool) (InsulationLimit, error) {
	if err := units.Within("nominal voltage", float64(nominal), 1, 1000, "V"); err != nil {
		return InsulationLimit{}, fmt.Errorf("insulation: %w", err)
	}
	switch {
	case extraLow && nominal > 120:
		return InsulationLimit{}, fmt.Errorf("insulation: %g V is no extra-low voltage; that ends at 50 V AC and 120 V DC", nominal)
	case extraLow:
		return InsulationLimit{250, 0.5e6, insulationSource}, nil
	case nominal <= 500:
		return InsulationLimit{500, 1e6, insulationSource}, nil
	}
	return InsulationLimit{1000, 1e6, insulationSource}, nil
}

// Insulation is one reading of a circuit.
type Insulation struct {
	Nominal  units.Voltage
	ExtraLow bool
	Test     units.Voltage    // the tester's setting, DC, 50 to 5000 V
	Reading  units.Resistance // lowest of the pairs read, 0 to 1 TΩ
}

// Judge compares a reading with its limit. One taken with a lower test voltage
// than the rule asks for proves nothing and is undecided, unless it is too low
// already.
func (i Insulation) Judge() (Finding, error) {
	limit, err := InsulationLimitOf(i.Nominal, i.ExtraLow)
	err = errors.Join(err,
		units.Within("test voltage", float64(i.Test), 50, 5000, "V"),
		units.Within("insulation resistance", float64(i.Reading), 0, 1e12, "Ω"))
	if err != nil {
		return Finding{}, err
	}
	f := Finding{Name: "insulation", Source: limit.Source, Outcome: units.Pass}
	f.Text = fmt.Sprintf("%.4g MΩ at %g V, at least %.4g MΩ at %g V", i.Reading/1e6, i.Test, limit.Least/1e6, limit.Test)
	switch {
	case float64(i.Reading) < float64(limit.Least)*(1-slack):
		f.Outcome = units.Fail
	case float64(i.Test) < float64(limit.Test)*(1-slack):
		f.Outcome = units.Undecided
	}
	return f, nil
}

package jobs

import (
	"math"
	"testing"
	"time"

	"proveout/checks"
	"proveout/checks/units"
)

// inches and millimeters are one job, written by an American and by a European crew:
// inch, perm (57.2135 ng/(s·m²·Pa)), R-value, °F, Btu/h and foot by their exact
// definitions (NIST SP 811), s_d with δ0 = 2e-10 kg/(m·s·Pa).
const inches = `job: birch-stair
title: Room
started: 2026-05-04
units: US
time zone: UTC
region: us
mold scheme: epa
properties: {services: cavity, insulation: batts, retarder: film}
altitude: 600 ft
room: {length: 10 ft, width: 8 ft, height: 9 ft, set point: 55 °F, low humidity: 50 %, high humidity: 70 %, pull-down limit: 48 h, pull-down load: empty, bottles: 300, air changes: 0.2 /h}
design conditions:
  - {space: house, temperature: 77 °F, humidity: 60 %}
faces:
  - face: wall
    kind: wall
    other side: house
    area: 290 ft²
    as planned:
      - {layer: gypsum board, thickness: 1/2 in}
      - {layer: polyethylene 6 mil, permeance: 0.9 perm, is: retarder}
      - {layer: mineral-fiber batt R-13, thickness: 3 1/2 in, resistance: R-13, framing: 25 %, is: insulation}
      - {layer: gypsum board, thickness: 1/2 in}
unit as planned: {refrigerant: R134a, capacity: 4000 Btu/h, room: 55 °F, outdoor: 77 °F, difference: 14.4 °F, rejects heat to: house}
use:
  appliances:
    - {appliance: fan, power: 100 Btu/h, runs: 24 h}
`

const millimeters = `job: birch-stair
title: Room
started: 2026-05-04
units: SI
time zone: UTC
region: us
mold scheme: epa
properties: {services: cavity, insulation: batts, retarder: film}
altitude: 182.88 m
room: {length: 3.048 m, width: 2.4384 m, height: 2.7432 m, set point: 12.777777777777778 °C, low humidity: 50 %, high humidity: 70 %, pull-down limit: 48 h, pull-down load: empty, bottles: 300, air changes: 0.2 /h}
design conditions:
  - {space: house, temperature: 25 °C, humidity: 60 %}
faces:
  - face: wall
    kind: wall
    other side: house
    area: 26.9418816 m²
    as planned:
      - {layer: gypsum board, thickness: 12.7 mm}
      - {layer: polyethylene 6 mil, permeance: sd 3.884087186105066 m, is: retarder}
      - {layer: mineral-fiber batt R-13, thickness: 88.9 mm, resistance: 2.2894323878699759 m²·K/W, framing: 25 %, is: insulation}
      - {layer: gypsum board, thickness: 12.7 mm}
unit as planned: {refrigerant: R134a, capacity: 1172.2842806800000 W, room: 12.777777777777778 °C, outdoor: 25 °C, difference: 8 K, rejects heat to: house}
use:
  appliances:
    - {appliance: fan, power: 29.307107017 W, runs: 24 h}
`

// A wall in inches and perms and the same in millimeters and s_d come to the same
// verdict from the file on: every value that is judged agrees to 1e-9.
func TestEnteredEitherWayGivesOneVerdict(t *testing.T) {
	for _, check := range []*checks.Check{
		checks.RetarderPermeance, checks.Condensation, checks.ConcealedHumidity, checks.StressSurface,
		checks.Capacity, checks.PredictedDuty, checks.PredictedPullDown,
	} {
		us, si := entered(t, inches, check), entered(t, millimeters, check)
		if us.Outcome != si.Outcome || len(us.Points) != 1 || len(si.Points) != 1 || us.Outcome == checks.Undecided {
			t.Errorf("%s: %v %v in inches, %v %v in millimeters", check.Name, us.Outcome, us.Reasons, si.Outcome, si.Reasons)
			continue
		}
		if check.Result == "" {
			if us.Value != si.Value {
				t.Errorf("%s: %q and %q", check.Name, us.Value, si.Value)
			}
			continue
		}
		a, b := us.Points[0].Quantity.Base(), si.Points[0].Quantity.Base()
		if !(math.Abs(a-b) <= 1e-9*math.Abs(b)) {
			t.Errorf("%s: %v in inches, %v in millimeters", check.Name, a, b)
		}
	}
}

// entered judges a check on a job file.
func entered(t *testing.T, text string, check *checks.Check) checks.Verdict {
	t.Helper()
	d, err := ReadDescription(JobFile, []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	q := &checks.Question{
		Phase: "framing", Name: check.Name, Kind: checks.Computed, Compute: check.Name, Measures: check.Result, Source: "test", Mark: "computed",
	}
	limit := map[units.Kind]string{
		units.PercentKind: "100 %", units.HumidityKind: "80 %", units.TemperatureDifferenceKind: "0 K", units.DurationKind: "48 h",
	}[check.Result]
	if limit != "" {
		if q.Limits.AtLeast, err = checks.ParseBound(check.Result, limit); err != nil {
			t.Fatal(err)
		}
	}
	return checks.Judge(checks.Case{
		Question: q, Questions: map[string]*checks.Question{q.ID(): q}, Room: d.Room, Facts: checks.Facts{},
		Decisions: checks.Decisions{}, Now: time.Date(2026, 6, 15, 12, 0, 0, 0, time.UTC),
	})
}

package checks

import (
	"math"
	"slices"
	"testing"
	"time"

	"proveout/checks/units"
)

// typedIn is a record of a check with its own examples, each in the everyday unit of
// one system.
func typedIn(t testing.TB, c *Check, system units.System) Fact {
	t.Helper()
	f := fact("inner")
	f.Answer = c.FirstAnswer()
	f.Start, f.Values = noon.Add(-100*time.Hour), map[string]units.Quantity{}
	for _, n := range c.Needs {
		if n.Optional && !slices.Contains([]string{"shortest wait", "charge", "area", "weighed in"}, n.Name) {
			continue
		}
		q := quantity(t, n.Kind, n.Sample())
		if n.Kind != units.WireSizeKind {
			q = units.Of(n.Kind, q.Base(), system)
		}
		f.Values[n.Name] = q
	}
	return f
}

// sampled are the checks that compute from values that a record carries.
func sampled() []*Check {
	var all []*Check
	for _, c := range All {
		if c.Each != nil && len(c.Needs) > 0 && !c.Log && !c.Spans {
			all = append(all, c)
		}
	}
	return all
}

// sampledRoom is a room of which job.yaml says all that those checks ask.
func sampledRoom(t testing.TB) *Room {
	room := whole(t)
	room.UnitAsPlanned.Refrigerant = "R513A"
	room.Values[DataSheet+"foam lift"] = "2 in"
	room.Spaces = append(room.Spaces, Space{Name: "house", Season: "stress", Temperature: quantity(t, units.TemperatureKind, "26 °C"), Humidity: quantity(t, units.HumidityKind, "70 %")})
	return room
}

// What is typed in American units and in those of the SI gives the same value, but
// for float noise, and the same outcome on both sides of a limit that lies 2 % from it. What the value must be is held in the tests that name a
// reference.
func TestSystemsOfUnitsAgree(t *testing.T) {
	for _, c := range sampled() {
		t.Run(c.Name, func(t *testing.T) {
			q, room := computing(c), sampledRoom(t)
			us, si := c.Each(asked(room, q), typedIn(t, c, units.US)), c.Each(asked(room, q), typedIn(t, c, units.SI))
			if us.Outcome != si.Outcome || us.judged != si.judged {
				t.Fatalf("%v %q in American units, %v %q in SI", us.Outcome, us.Reason, si.Outcome, si.Reason)
			}
			if us.judged {
				if us.Outcome == Undecided {
					t.Errorf("the examples decide nothing: %s", us.Reason)
				}
				return
			}
			a, b := us.Quantity.Base(), si.Quantity.Base()
			if !(math.Abs(a-b) <= 1e-9*math.Abs(a)) {
				t.Fatalf("%s in American units, %s in SI", us.Quantity, si.Quantity)
			}
			for _, factor := range []float64{0.98, 1.02} {
				q.Limits = limits("at least", bound(t, c.Result, units.Of(c.Result, factor*a, units.SI).String()))
				one, other := judge(room, q, typedIn(t, c, units.US)), judge(room, q, typedIn(t, c, units.SI))
				if one.Outcome != other.Outcome || one.Outcome == Undecided {
					t.Errorf("limit %s: %v %q, %v %q", q.Limits, one.Outcome, one.Reasons, other.Outcome, other.Reasons)
				}
			}
		})
	}
}

// BenchmarkComputed times every check that computes from a record's values.
func BenchmarkComputed(b *testing.B) {
	for _, c := range sampled() {
		b.Run(c.Name, func(b *testing.B) {
			of, f := asked(sampledRoom(b), computing(c)), typedIn(b, c, units.US)
			for b.Loop() {
				c.Each(of, f)
			}
		})
	}
}

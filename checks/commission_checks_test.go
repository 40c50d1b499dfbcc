package checks

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"proveout/checks/units"
)

// run is ten days of the tutorial's cold room in balance: the unit takes out what
// the walls let in, UA·(T − 1 °C), and the fan's watt. Nothing of the analysis
// computes it.
type run struct {
	ua, capacity float64 // W/K, W
	house, swing float64 // °C, K
	cycle        float64 // min from start to start
	supply       bool    // the low logger sits in the supply air
}

var tutorialRun = run{ua: 31.64, capacity: 1500, house: 24, swing: 5, cycle: 30}

const runDays = 10

var runBegan = noon.AddDate(0, 0, -runDays-1)

func (r run) beyond(minute int) float64 {
	return r.house + r.swing*math.Sin(2*math.Pi*float64(minute)/(8*24*60))
}

// duty follows the walls, which pass on what was beyond them four hours ago, as
// walls between frame and masonry do.
func (r run) duty(minute int) float64 {
	return (r.ua*(r.beyond(minute-4*60)-1) + 1) / r.capacity
}

// file writes a column, one value every so many minutes.
func (r run) file(header string, every int, at func(minute int) float64) string {
	var b strings.Builder
	b.WriteString("Time," + header + "\n")
	for m := 0; m <= runDays*24*60; m += every {
		fmt.Fprintf(&b, "%s,%.3f\n", runBegan.Add(time.Duration(m)*time.Minute).Format("2006-01-02 15:04:05"), at(m))
	}
	return b.String()
}

// power is that of the unit: the part of each cycle that its duty asks for, with the
// rest of a minute carried on.
func (r run) power() func(int) float64 {
	owed, phase, on := 0.0, 0, 0
	return func(m int) float64 {
		if phase = m % int(r.cycle); phase == 0 {
			owed += r.duty(m) * r.cycle
			on = int(math.Round(owed))
			owed -= float64(on)
		}
		if phase < on {
			return 400
		}
		return 5
	}
}

// facts are the records of the run by place.
func (r run) facts(leave ...string) Facts {
	rnd := rand.New(rand.NewPCG(1, 2))
	near := func(of func(int) float64) func(int) float64 {
		return func(m int) float64 { return of(m) + 0.05*rnd.NormFloat64() }
	}
	room := func(int) float64 { return 1 }
	low, power := near(room), r.power()
	if r.supply {
		supplied := r.power()
		low = near(func(m int) float64 {
			on := 0.0
			for i := max(0, m-4); i <= m; i++ {
				on = supplied(i)
			}
			return 1 - 12*on/400
		})
	}
	const celsius = "Temperature (°C)"
	all := Facts{}
	add := func(check, place, content string) {
		if slices.Contains(leave, place) {
			return
		}
		f := logged(place, content)
		f.ID, f.Files[0].SHA256 = place, place
		f.Start, f.End = runBegan, runBegan.AddDate(0, 0, runDays)
		all[check] = append(all[check], f)
	}
	add(steadyLogs, "room low", r.file(celsius, 5, low))
	add(steadyLogs, "room middle", r.file(celsius, 5, near(room)))
	add(steadyLogs, "room high", r.file(celsius, 5, near(room)))
	add(besideLogs[1], "power", r.file("Power (W)", 1, power))
	add(besideLogs[2], "house", r.file(celsius, 5, near(r.beyond)))
	add(besideLogs[2], "outdoors", r.file(celsius, 5, near(func(int) float64 { return 35 })))
	add(besideLogs[2], "condenser intake", r.file(celsius, 5, near(func(int) float64 { return 35 })))
	return all
}

// ask judges a check on the run.
func (r run) ask(t *testing.T, check *Check, leave ...string) Verdict {
	t.Helper()
	plan := map[string]*Question{}
	for _, name := range append([]string{steadyLogs}, besideLogs...) {
		_, short, _ := strings.Cut(name, ".")
		plan[name] = &Question{Phase: "commissioning", Name: short, Kind: Computed, Compute: "log-duration", Measures: units.DurationKind, Limits: limits("at least", bound(t, units.DurationKind, "72 h"))}
	}
	q := computing(check)
	q.Phase, q.Uses = "commissioning", "log-duration"
	return Judge(Case{Question: q, Questions: plan, Room: tutorialRoom(t), Facts: r.facts(leave...), Now: noon})
}

// The tutorial prints 22 kWh a day for its faces at 30 °C, 22.0214 by its own
// numbers: 917.56 W (chart of a refrigeration tutorial, read), with the fan's watt
// 61.24 % of a unit of 1500 W. The days of the run lie round 24 °C; the line must
// foretell it within its interval.
func TestWillItHold(t *testing.T) {
	v := tutorialRun.ask(t, WillItHold)
	wantVerdict(t, v, Pass, "")
	var value, low, high float64
	if _, err := fmt.Sscanf(v.Value, "%f %% of the design day (%f to %f %%)", &value, &low, &high); err != nil || low > 61.24 || high < 61.24 || math.Abs(value-61.24) > 1.5 {
		t.Errorf("%q, want 61.24 %% in the interval: %v", v.Value, err)
	}
	if len(v.Facts) != 7 {
		t.Errorf("it rests on %q, want all seven records", v.Facts)
	}
	// Days of 19 to 24 °C: the design day lies more than a span beyond them.
	cool := tutorialRun
	cool.house, cool.swing = 21.5, 2.5
	wantVerdict(t, cool.ask(t, WillItHold), Undecided, "opposite season")
	// By hand 55 W/K · 29 K and the fan are 1596 W, more than the unit's 1500 W.
	weak := run{ua: 55, capacity: 1500, house: 22, swing: 4, cycle: 30}
	wantVerdict(t, weak.ask(t, WillItHold), Fail, "at most 90 %")
	wantVerdict(t, tutorialRun.ask(t, WillItHold, "power"), Undecided, "energy signature")
	wantVerdict(t, tutorialRun.ask(t, WillItHold, "house"), Undecided, "")
}

// The tutorial's 0.28 W/(m²·K) · 113 m² are 31.64 W/K.
func TestMeasuredConductance(t *testing.T) {
	v := tutorialRun.ask(t, MeasuredConductance)
	var value, low, high float64
	if _, err := fmt.Sscanf(v.Value, "%f W/K (%f to %f W/K)", &value, &low, &high); err != nil || low > 31.64 || high < 31.64 {
		t.Errorf("%v %q %q, want 31.64 W/K in the interval: %v", v.Outcome, v.Value, v.Reasons, err)
	}
	for _, tt := range []struct {
		name string
		of   run
		want Outcome
	}{
		{"as designed, cool and hot days", run{ua: 31.64, capacity: 1500, house: 24, swing: 9, cycle: 30}, Pass},
		{"60 % more", run{ua: 1.6 * 31.64, capacity: 1500, house: 22, swing: 4, cycle: 30}, Fail},
		{"15 % more", run{ua: 1.15 * 31.64, capacity: 1500, house: 24, swing: 5, cycle: 30}, Undecided},
		{"days all alike", run{ua: 31.64, capacity: 1500, house: 24, swing: 0.05, cycle: 30}, Undecided},
	} {
		if v := tt.of.ask(t, MeasuredConductance); v.Outcome != tt.want {
			t.Errorf("%s: %v %s %q, want %v", tt.name, v.Outcome, v.Value, v.Reasons, tt.want)
		}
	}
	wantVerdict(t, tutorialRun.ask(t, MeasuredConductance, "power"), Undecided, "energy signature")
}

// By hand: a start every 30 min are 2 an hour; every 8 min, 7.5 an hour with runs
// of 4 min. Six an hour and 5 min are common practice; no standard was found.
func TestShortCycling(t *testing.T) {
	v := tutorialRun.ask(t, ShortCycling)
	if wantVerdict(t, v, Pass, ""); !strings.HasPrefix(v.Value, "2.0 starts an hour") {
		t.Errorf("%q, want 2.0 starts an hour", v.Value)
	}
	quick := tutorialRun
	quick.cycle = 8
	wantVerdict(t, quick.ask(t, ShortCycling), Fail, "at least 5m")
	wantVerdict(t, tutorialRun.ask(t, ShortCycling, "power"), Undecided, "")
}

// Faults are planted; how many loggers must be left is this project's choice and no
// published figure was found.
func TestLoggerHealth(t *testing.T) {
	whole := tutorialRun.ask(t, LoggerHealth)
	wantVerdict(t, whole, Pass, "")
	for _, s := range whole.Points[0].Steps {
		if strings.Contains(s.Name, "left out") {
			t.Errorf("a sound logger is left out: %+v", s)
		}
	}
	wantVerdict(t, tutorialRun.ask(t, LoggerHealth, "room low"), Pass, "")
	wantVerdict(t, tutorialRun.ask(t, LoggerHealth, "room low", "room high"), Undecided, "1 of 2 loggers")
	wantVerdict(t, tutorialRun.ask(t, LoggerHealth, "house"), Undecided, "0 of 1 loggers")
	wantVerdict(t, tutorialRun.ask(t, LoggerHealth, "power"), Undecided, "0 of 1 loggers")
	bad := tutorialRun
	bad.supply = true
	v := bad.ask(t, LoggerHealth)
	wantVerdict(t, v, Pass, "")
	if !slices.ContainsFunc(v.Points, func(p Point) bool { return strings.Contains(p.Reason, "room low.csv: logger in the supply air") }) {
		t.Errorf("the logger in the supply air is not named: %+v", v.Points[0])
	}
	wantVerdict(t, bad.ask(t, LoggerHealth, "room high"), Fail, "logger in the supply air")
}

// The sign-off rests on every record that the loggers came with.
func TestProofReads(t *testing.T) {
	for _, check := range []*Check{LoggerHealth, ShortCycling, MeasuredConductance, WillItHold} {
		q := Question{Phase: "commissioning", Compute: check.Name}
		for _, name := range append([]string{steadyLogs, "insulation.foam-depth"}, besideLogs...) {
			if !slices.Contains(q.Reads(), name) {
				t.Errorf("%s does not read %s", check.Name, name)
			}
		}
	}
}

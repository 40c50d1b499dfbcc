package checks

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"proveout/checks/logs"
	"proveout/checks/units"
)

// began is when the loggers of these tests began: six days before noon.
var began = noon.AddDate(0, 0, -6)

// csv writes a logger file: one row every step, from began on.
func csv(step time.Duration, celsius ...float64) string {
	var b strings.Builder
	b.WriteString("Time,Temperature (°C),Humidity (%)\n")
	for i, v := range celsius {
		fmt.Fprintf(&b, "%s,%.3f,%.1f\n", began.Add(time.Duration(i)*step).Format("2006-01-02 15:04:05"), v, 50+v)
	}
	return b.String()
}

// logged is a record with a logger file.
func logged(place, content string) Fact {
	f := fact(place)
	f.Files = []File{{Name: place + ".csv", Log: func() (*logs.File, error) { return logs.Read([]byte(content), logs.Dialect{Zone: time.UTC}) }}}
	return f
}

// steady is so many values round 13 °C, one of ten a step above it.
func steady(n int, step float64) []float64 {
	values := make([]float64, n)
	for i := range values {
		values[i] = 13
		if i%10 == 9 {
			values[i] += step
		}
	}
	return values
}

// set puts the room's set point at 13 °C, its band at 1 K and 55 to 65 % RH.
func set(t testing.TB) *Room {
	room := cellar(t)
	room.Units = units.SI
	room.SetPoint = quantity(t, units.TemperatureKind, "13 °C")
	room.LowHumidity, room.HighHumidity = quantity(t, units.HumidityKind, "55 %"), quantity(t, units.HumidityKind, "65 %")
	room.PullDownLimit = quantity(t, units.DurationKind, "8 h")
	return room
}

// WHO guidance on mapping asks for 72 h (read in summaries). Each sample stands
// for the time to the next: 433 samples every 10 minutes are 72 h 10 min.
func TestLogDuration(t *testing.T) {
	q := computing(LogDuration)
	q.Limits = limits("at least", bound(t, units.DurationKind, "72 h"))
	const ten = 10 * time.Minute
	gap := strings.Split(strings.TrimSuffix(csv(ten, steady(433, 0)...), "\n"), "\n")
	gap = append(gap[:200], gap[260:]...) // 10 h of 72 are missing: 86 % are there
	windowed := logged("p", csv(ten, steady(433, 0)...))
	windowed.Start = began.Add(time.Hour)
	for _, tt := range []struct {
		name string
		f    Fact
		want Outcome
		says string
	}{
		{"long enough", logged("p", csv(ten, steady(433, 0)...)), Pass, ""},
		{"an hour short", logged("p", csv(ten, steady(425, 0)...)), Fail, "is not at least 72 h"},
		{"the record names less of it", windowed, Fail, "is not at least 72 h"},
		{"a gap", logged("p", strings.Join(gap, "\n")+"\n"), Undecided, "only 86 % of the time is recorded"},
		{"not a log", logged("p", "%PDF-1.4 a picture"), Undecided, "p.csv"},
		{"another quantity", logged("p", "Time,Pressure (Pa)\n2026-06-10 10:00,5\n2026-06-10 10:10,5\n"), Undecided, ""},
		{"no file", fact("p"), Undecided, "the logger file"},
		{"it cannot be read", Fact{ID: "r", Place: "p", By: "Ana", Measured: noon, Files: []File{{Name: "a.csv", Log: func() (*logs.File, error) { return nil, errors.New("gone") }}}}, Undecided, "gone"},
	} {
		t.Run(tt.name, func(t *testing.T) { wantVerdict(t, judge(set(t), q, tt.f), tt.want, tt.says) })
	}
	ahead := asked(set(t), q, logged("p", csv(ten, steady(433, 0)...)))
	ahead.Now = began.Add(time.Hour)
	ahead.Facts[q.ID()][0].Measured = began
	wantVerdict(t, Judge(ahead), Undecided, "which is still to come")
}

// Two loggers in one record leave open which of them is judged.
func TestOneLoggerToARecord(t *testing.T) {
	q := computing(LogDuration)
	q.Limits = limits("at least", bound(t, units.DurationKind, "24 h"))
	good, bad := logged("p", csv(10*time.Minute, steady(289, 0)...)), logged("q", csv(10*time.Minute, steady(10, 9)...))
	good.Files = append(good.Files, bad.Files...)
	wantVerdict(t, judge(set(t), q, good), Undecided, "2 columns of temperature")
	columns := strings.Replace(csv(10*time.Minute, steady(289, 0)...), "Humidity (%)", "Temperature 2 (°C)", 1)
	wantVerdict(t, judge(set(t), q, logged("p", columns)), Undecided, "2 columns of temperature")
}

// One sample of ten is 2 K high, outside of the band of 1 K: 90 % of the time is
// within (by hand; samples weigh the same). In a band of 2 K all of it is.
func TestTemperatureInBand(t *testing.T) {
	q := computing(TemperatureInBand)
	file := csv(10*time.Minute, steady(400, 2)...)
	for _, tt := range []struct {
		band, limit string
		want        Outcome
		share       float64
	}{
		{"", "90 %", Pass, 90}, {"", "90.1 %", Fail, 90}, {"2 K", "100 %", Pass, 100}, {"3.6 °F", "100 %", Pass, 100}, {"1.9 K", "95 %", Fail, 90},
	} {
		room := set(t)
		if tt.band != "" {
			room.Values["temperature band"] = tt.band
		}
		q.Limits = limits("at least", bound(t, units.PercentKind, tt.limit))
		v := judge(room, q, logged("p", file))
		if v.Outcome != tt.want || math.Abs(v.Points[0].Quantity.Base()-tt.share) > 1e-9 {
			t.Errorf("band %q, limit %s: %v with %v, want %v with %v %%", tt.band, tt.limit, v.Outcome, v.Value, tt.want, tt.share)
		}
	}
	// The worst logger decides, and an hour proves nothing.
	q.Limits = limits("at least", bound(t, units.PercentKind, "95 %"))
	v := judge(set(t), q, logged("good", csv(10*time.Minute, steady(400, 0)...)), logged("bad", file))
	if v.Outcome != Fail || v.Place != "bad" {
		t.Errorf("verdict = %+v", v)
	}
	short := logged("p", csv(10*time.Minute, steady(400, 0)...))
	short.Start, short.End = began, began.Add(time.Hour)
	wantVerdict(t, judge(set(t), q, short), Undecided, "it takes 24 h to show day and night")
}

// The humidity of these files is 63 % with one sample of ten at 66 %, above the
// room's 65 %: 90 % of the time is within.
func TestHumidityInBand(t *testing.T) {
	q := computing(HumidityInBand)
	q.Limits = limits("at least", bound(t, units.PercentKind, "95 %"))
	file := csv(10*time.Minute, steady(400, 3)...)
	v := judge(set(t), q, logged("p", file))
	if v.Outcome != Fail || v.Value != "90 %" {
		t.Errorf("verdict = %v, %q", v.Outcome, v.Value)
	}
	room := set(t)
	room.HighHumidity = quantity(t, units.HumidityKind, "66 %")
	wantVerdict(t, judge(room, q, logged("p", file)), Pass, "")
}

// Nine samples of 13 °C and one of 14 °C: 13.1 °C.
func TestMeanTemperature(t *testing.T) {
	q := computing(MeanTemperature)
	q.Limits = Limits{AtLeast: bound(t, units.TemperatureKind, "set point - 1 K"), AtMost: bound(t, units.TemperatureKind, "set point + 1 K")}
	v := judge(set(t), q, logged("p", csv(10*time.Minute, steady(400, 1)...)))
	if v.Outcome != Pass || math.Abs(v.Points[0].Quantity.Base()-13.1) > 1e-9 || v.Margin != "+0.9 °C" {
		t.Errorf("verdict = %v, %q, margin %q", v.Outcome, v.Value, v.Margin)
	}
	warm := steady(400, 0)
	for i := range warm {
		warm[i] += 1.01
	}
	wantVerdict(t, judge(set(t), q, logged("p", csv(10*time.Minute, warm...))), Fail, "is not at most 14 °C")
}

// Loggers of 13.0 and 14.5 °C lie 1.5 K apart, in °F 2.7.
func TestSpatialSpread(t *testing.T) {
	used := computing(LogDuration)
	used.Limits = limits("at least", bound(t, units.DurationKind, "24 h"))
	q := computing(SpatialSpread)
	q.Uses, q.Limits = used.Name, limits("at most", bound(t, units.TemperatureDifferenceKind, "2 K"))
	ask := func(facts ...Fact) Verdict {
		return Judge(Case{Question: q, Questions: map[string]*Question{q.ID(): q, used.ID(): used}, Room: set(t), Facts: Facts{used.ID(): facts}, Now: noon})
	}
	warm := steady(400, 0)
	for i := range warm {
		warm[i] += 1.5
	}
	low, high := logged("low", csv(10*time.Minute, steady(400, 0)...)), logged("high", csv(10*time.Minute, warm...))
	v := ask(low, high)
	if v.Outcome != Pass || math.Abs(v.Points[0].Quantity.Base()-1.5) > 1e-9 || len(v.Facts) != 2 {
		t.Errorf("verdict = %v, %q %q", v.Outcome, v.Value, v.Reasons)
	}
	q.Limits = limits("at most", bound(t, units.TemperatureDifferenceKind, "2.6 °F"))
	wantVerdict(t, ask(low, high), Fail, "")
	wantVerdict(t, ask(low), Undecided, "two loggers at least")
	wantVerdict(t, ask(low, fact("empty")), Undecided, "not complete")
	apart := high
	apart.End = began.Add(30 * time.Hour)
	other := low
	other.Start = began.Add(20 * time.Hour)
	wantVerdict(t, ask(other, apart), Undecided, "it takes 24 h")
}

// curve is the definition's own test record at twice its times, so that its hold
// of 60 minutes is the 2 h of air (computed; own definition, no standard found).
// Minutes and °C.
var curve = []struct {
	minute  int
	celsius float64
}{
	{0, 24.0}, {20, 20}, {40, 17.5}, {60, 15.8}, {80, 14.6}, {100, 13.9}, {120, 13.4}, {140, 13.7}, {160, 13.6},
	{180, 13.3}, {200, 13.2}, {220, 13.1}, {240, 14.2}, {260, 13.3}, {280, 13.0}, {300, 12.9}, {320, 13.0},
	{380, 13.1}, {400, 13.0}, {420, 12.9}, {440, 13.0},
}

// pulledDown writes the curve, and then so many more rows at 13 °C.
func pulledDown(more int) string {
	var b strings.Builder
	b.WriteString("Time,Temperature (°C)\n")
	row := func(minute int, celsius float64) {
		fmt.Fprintf(&b, "%s,%.1f\n", began.Add(time.Duration(minute)*time.Minute).Format("2006-01-02 15:04"), celsius)
	}
	for _, p := range curve {
		row(p.minute, p.celsius)
	}
	for i := range more {
		row(460+20*i, 13.0)
	}
	return b.String()
}

// With 5 % of the hold allowed above the limit of 13.5 °C, and 90 % observed,
// the candidates at 120 to 220 min fail (above for a third and a sixth of it),
// those at 260 to 320 have a gap, those from 380 on hold once the log is long
// enough: 380 min. The naive first touch is at 116 min.
func TestPullDown(t *testing.T) {
	q := computing(PullDown)
	q.Limits = limits("at most", bound(t, units.DurationKind, "pull-down limit"))
	from := func(place, content string, start time.Time) Fact {
		f := logged(place, content)
		f.Start = start
		return f
	}
	v := judge(set(t), q, from("air", pulledDown(10), began))
	if v.Outcome != Pass || math.Abs(v.Points[0].Quantity.Base()/60-380) > 1e-6 {
		t.Errorf("verdict = %v %q, %v min, want a pass at 380 min", v.Outcome, v.Reasons, v.Points[0].Quantity.Base()/60)
	}
	tight := set(t)
	tight.PullDownLimit = quantity(t, units.DurationKind, "6 h")
	wantVerdict(t, judge(tight, q, from("air", pulledDown(10), began)), Fail, "is not at most 6 h")
	wantVerdict(t, judge(set(t), q, from("air", pulledDown(0), began)), Undecided, "not proven: it first came down after 116 min")
	wantVerdict(t, judge(set(t), q, from("air", csv(10*time.Minute, 24, 22, 20, 18), began)), Undecided, "never came down")
	wantVerdict(t, judge(set(t), q, from("air", pulledDown(10), time.Time{})), Undecided, "start time")
	// A log that begins cold, or a start put after the room was cold.
	wantVerdict(t, judge(set(t), q, from("air", pulledDown(10), began.Add(6*time.Hour))), Undecided, "it proves no pull-down")
	wantVerdict(t, judge(set(t), q, from("air", csv(10*time.Minute, steady(40, 0)...), began)), Undecided, "it proves no pull-down")
	wantVerdict(t, judge(set(t), q, from("air", pulledDown(10), noon.Add(-time.Minute))), Undecided, "it proves no pull-down")
}

// A loaded room is proved by a probe in a bottle, which must hold for a day; a
// logger's uncertainty gives the time bounds, and a room that might not hold
// within it is not proved.
func TestPullDownOfBottles(t *testing.T) {
	q := computing(PullDown)
	q.Limits = limits("at most", bound(t, units.DurationKind, "pull-down limit"))
	room := set(t)
	room.PullDownLoad = "loaded"
	f := logged("air", pulledDown(200))
	f.Start = began
	wantVerdict(t, judge(room, q, f), Undecided, "a probe in a bottle")
	f.Place = "bottle probe"
	wantVerdict(t, judge(room, q, f), Pass, "")
	f.Files = logged("bottle probe", pulledDown(20)).Files // 8 h of hold
	wantVerdict(t, judge(room, q, f), Undecided, "not proven")
	f.Files = logged("bottle probe", pulledDown(200)).Files
	f.Instrument = &Instrument{ID: "L-1", Uncertainty: quantity(t, units.TemperatureDifferenceKind, "0.6 K")}
	wantVerdict(t, judge(room, q, f), Undecided, "uncertainty of 0.6 K the room did not hold")
	f.Instrument.Uncertainty = quantity(t, units.TemperatureDifferenceKind, "0.2 K")
	if v := judge(room, q, f); v.Outcome != Pass || !strings.Contains(v.Value, " to ") {
		t.Errorf("verdict = %v %q, %q", v.Outcome, v.Reasons, v.Value)
	}
}

package envelope_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"proveout/checks/envelope"
	"proveout/checks/units"
)

var outsideWall = envelope.Face{Kind: envelope.Wall, Other: envelope.Outdoors}

// seasons is a sample year outdoors, invented: a sine of temperature with its
// coldest month in January and a steady relative humidity.
func seasons(t testing.TB, mean, swing float64, rh units.RelativeHumidity, room envelope.Air) []envelope.Month {
	t.Helper()
	months := envelope.SteadyYear(room, room)
	for i := range months {
		θ := mean - swing*math.Cos(2*math.Pi*float64(i)/12)
		months[i].Other = air(t, units.Temperature(θ), rh)
	}
	return months
}

func winterWall(t testing.TB) []envelope.Month {
	return seasons(t, 8, 14, 70, air(t, 13, 60))
}

// A wall with its retarder on the outside of the insulation: the room's vapor
// condenses there in winter.
func outerRetarder() envelope.Assembly {
	board := solid("sheathing", 12, 0.13)
	board.Vapor = envelope.Mu(50)
	retarder := envelope.Layer{Name: "retarder", Kind: envelope.Film, Vapor: envelope.SD(20)}
	wool := solid("wool", 140, 0.04)
	wool.Vapor = envelope.Mu(1)
	lining := solid("lining", 12.5, 0.16)
	lining.Vapor = envelope.Mu(8.3)
	lining.Storage = envelope.Storage{Kind: envelope.Absorbs}
	return envelope.Assembly{Name: "outer retarder", Layers: []envelope.Layer{board, retarder, wool, lining}}
}

// painted slows the room's vapor on its way to the outer retarder, and what
// dries from there on its way back.
func painted(a envelope.Assembly) envelope.Assembly {
	paint := envelope.Layer{Name: "paint", Kind: envelope.Film, Vapor: envelope.SD(2)}
	a.Layers = append(slices.Clone(a.Layers), paint)
	return a
}

// Two wet months and ten dry ones by hand, from the closed form of one plane
// (ISO 13788:2012, 6.3 and 6.4): M = g·Δt, positive and negative alike, until
// nothing is left.
func TestYearByHand(t *testing.T) {
	room := air(t, 13, 60)
	cold, warm := air(t, -10, 80), air(t, 20, 60)
	months := envelope.SteadyYear(warm, room)
	months[3].Other, months[4].Other = cold, cold // April and May, on purpose
	b, err := envelope.Year(outerRetarder(), outsideWall, months)
	if err != nil {
		t.Fatal(err)
	}
	rate := func(other envelope.Air) float64 {
		films, err := envelope.SurfaceResistances(outsideWall, other.Temperature, 13)
		if err != nil {
			t.Fatal(err)
		}
		p, err := envelope.Profile(outerRetarder(), films, other, room)
		if err != nil {
			t.Fatal(err)
		}
		var plane, last envelope.VaporNode
		for _, n := range p.Nodes {
			if n.Name == "between retarder and wool" {
				plane = n
			}
			last = n
		}
		sat, x, end := float64(plane.Saturation), float64(plane.SD), float64(last.SD)
		return 2e-10 * ((float64(other.VaporPressure)-sat)/x - (sat-float64(room.VaporPressure))/(end-x))
	}
	wetting, drying := rate(cold), rate(warm)
	if wetting <= 0 || drying >= 0 {
		t.Fatalf("rates %v and %v, want wetting and drying", wetting, drying)
	}
	want := make([]float64, 12)
	want[3] = wetting * 30 * 86400
	want[4] = want[3] + wetting*31*86400
	want[5] = max(0, want[4]+drying*30*86400)
	want[6] = max(0, want[5]+drying*31*86400)
	if b.Verdict != envelope.TooWet || b.Start != 3 || b.PeakMonth != 4 || len(b.Planes) != 1 {
		t.Fatalf("%v from month %d, peak in %d, %d planes; want too much, 3, 4, 1", b.Verdict, b.Start, b.PeakMonth, len(b.Planes))
	}
	if name := b.Assembly.PlaceName(b.Planes[0].Place); name != "between retarder and wool" {
		t.Errorf("plane %s, want between retarder and wool", name)
	}
	for m, w := range want {
		if !near(float64(b.Planes[0].Mass[m]), w, 1e-12*want[4]) {
			t.Errorf("month %d: %v kg/m², want %v", m+1, b.Planes[0].Mass[m], w)
		}
	}
}

// Every kind of verdict.
func TestYearVerdicts(t *testing.T) {
	room := air(t, 13, 60)
	house := envelope.Face{Kind: envelope.Wall, Other: envelope.House}
	wet := painted(outerRetarder())
	wood := painted(outerRetarder())
	wood.Layers[2].Storage = envelope.Storage{Kind: envelope.WoodPanel, Density: 20}
	unknown := painted(outerRetarder())
	unknown.Layers[2].Storage = envelope.Storage{Kind: envelope.SolidWood}
	pane := solid("glass", 6, 1)
	pane.Vapor = envelope.SD(1e4)
	for _, tt := range []struct {
		name   string
		a      envelope.Assembly
		face   envelope.Face
		months []envelope.Month
		want   envelope.YearVerdict
	}{
		{"retarder on the house side", vaporWall(0.06, true), house, envelope.SteadyYear(air(t, 26, 65), room), envelope.NeverWet},
		{"no retarder, wood panel, humid house", vaporWall(10, true), house, envelope.SteadyYear(air(t, 26, 65), room), envelope.StaysWet},
		{"wet in winter, dry in summer", wet, outsideWall, winterWall(t), envelope.DriesOut},
		{"the same beside a thin wood panel", wood, outsideWall, winterWall(t), envelope.TooWet},
		{"the same beside wood of unknown density", unknown, outsideWall, winterWall(t), envelope.Undecided},
		{"colder than any summer can dry", wet, outsideWall, seasons(t, -5, 8, 80, room), envelope.StaysWet},
		{"single glass", envelope.Assembly{Layers: []envelope.Layer{pane}}, house, envelope.SteadyYear(air(t, 26, 70), room), envelope.SurfaceWet},
	} {
		b, err := envelope.Year(tt.a, tt.face, tt.months)
		if err != nil || b.Verdict != tt.want {
			t.Errorf("%s: %v, peak %v, %v, want %v", tt.name, b.Verdict, b.Peak, err, tt.want)
		}
		if pass := tt.want == envelope.NeverWet || tt.want == envelope.DriesOut; b.Verdict.Passes() != pass {
			t.Errorf("%s: passes %v, want %v", tt.name, b.Verdict.Passes(), pass)
		}
	}
	var zero envelope.YearBalance
	if zero.Verdict.Passes() {
		t.Error("the zero balance passes")
	}
}

// DIN 4108-3 (1.0 read in guidance, the others from memory): limits by what
// lies beside the plane.
func TestCondensateLimit(t *testing.T) {
	layer := func(s envelope.Storage) envelope.Layer {
		return envelope.Layer{Name: "x", Thickness: 0.019, Storage: s}
	}
	none, absorbs := layer(envelope.Storage{}), layer(envelope.Storage{Kind: envelope.Absorbs})
	wood := layer(envelope.Storage{Kind: envelope.SolidWood, Density: 500})
	panel := layer(envelope.Storage{Kind: envelope.WoodPanel, Density: 600})
	unknown := layer(envelope.Storage{Kind: envelope.SolidWood})
	for _, tt := range []struct {
		a, b envelope.Layer
		want float64
		rule envelope.LimitRule
	}{
		{none, none, 0.5, envelope.NoUptakeRule},
		{none, absorbs, 1, envelope.GeneralRule},
		{wood, absorbs, 0.05 * 500 * 0.019, envelope.SolidWoodRule},
		{none, panel, 0.03 * 600 * 0.019, envelope.WoodPanelRule},
		{wood, panel, 0.03 * 600 * 0.019, envelope.WoodPanelRule},
		{panel, unknown, 0, envelope.NoDensityRule},
	} {
		a := envelope.Assembly{Layers: []envelope.Layer{tt.a, tt.b}}
		limit, rule := a.CondensateLimit(envelope.Place{Layer: 0, Part: 1, Parts: 1})
		if !near(float64(limit), tt.want, 1e-12) || rule != tt.rule {
			t.Errorf("limit %v by %q, want %v by %q", limit, rule, tt.want, tt.rule)
		}
	}
}

// randomYear keeps the surfaces dry; the other side swings with the seasons.
func randomYear(t testing.TB, random *rand.Rand) ([]envelope.Month, envelope.Air) {
	room := air(t, 13, units.RelativeHumidity(40+30*random.Float64()))
	return seasons(t, 2+14*random.Float64(), 15*random.Float64(), units.RelativeHumidity(40+45*random.Float64()), room), room
}

// balanced calls check for random walls and years until there were n with
// condensation and dry surfaces.
func balanced(t *testing.T, seed uint64, n int, check func(envelope.Assembly, []envelope.Month, envelope.YearBalance)) {
	t.Helper()
	random := rand.New(rand.NewPCG(13788, seed))
	seen := map[envelope.YearVerdict]int{}
	several := 0
	for tries := 0; seen[envelope.DriesOut]+seen[envelope.TooWet]+seen[envelope.StaysWet] < n; tries++ {
		if tries > 100*n {
			t.Fatalf("only %v of %d walls got wet", seen, n)
		}
		a := randomWall(random)
		months, _ := randomYear(t, random)
		b, err := envelope.Year(a, outsideWall, months)
		if err != nil {
			t.Fatal(err)
		}
		seen[b.Verdict]++
		if b.Verdict == envelope.SurfaceWet || b.Verdict == envelope.NeverWet {
			continue
		}
		if len(b.Planes) > 1 {
			several++
		}
		check(a, months, b)
	}
	if seen[envelope.DriesOut] == 0 || seen[envelope.StaysWet] == 0 || several == 0 {
		t.Errorf("verdicts %v, several planes %d: not every kind was tried", seen, several)
	}
}

// What enters less what leaves in a month is what the planes gain in it.
func TestYearMassBalance(t *testing.T) {
	balanced(t, 3, 300, func(a envelope.Assembly, months []envelope.Month, b envelope.YearBalance) {
		for k := 1; k < len(months); k++ { // the first month begins from the year before
			m := (b.Start + k) % 12
			before := b.Months[(m+11)%12].Mass
			gain := b.Months[m].In - b.Months[m].Out
			scale := math.Abs(float64(b.Months[m].In)) + math.Abs(float64(b.Months[m].Out)) + float64(b.Peak)
			if !near(float64(b.Months[m].Mass-before), float64(gain), 1e-11*scale) {
				t.Errorf("month %d: mass %v → %v, but in − out is %v", m, before, b.Months[m].Mass, gain)
			}
		}
		for _, p := range b.Planes {
			for m, mass := range p.Mass {
				if mass < 0 || mass > p.Peak {
					t.Errorf("month %d: mass %v outside 0 to peak %v", m, mass, p.Peak)
				}
			}
		}
	})
}

// The year may start in any month: the verdict and the masses stay with their
// months.
func TestYearStartsAnywhere(t *testing.T) {
	balanced(t, 4, 100, func(a envelope.Assembly, months []envelope.Month, b envelope.YearBalance) {
		for shift := 1; shift < 12; shift++ {
			turned := slices.Concat(months[shift:], months[:shift])
			c, err := envelope.Year(a, outsideWall, turned)
			if err != nil {
				t.Fatal(err)
			}
			allWet := b.Start == 0 && b.Verdict == envelope.StaysWet
			if c.Verdict != b.Verdict || !allWet && !near(float64(c.Peak), float64(b.Peak), 1e-9) {
				t.Errorf("from month %d: %v, peak %v; from January %v, %v", shift, c.Verdict, c.Peak, b.Verdict, b.Peak)
			}
			for i, p := range b.Planes {
				for m := range p.Mass {
					if !allWet && !near(float64(c.Planes[i].Mass[(m+12-shift)%12]), float64(p.Mass[m]), 1e-9) {
						t.Errorf("from month %d: plane %d month %d: %v, want %v", shift, i, m, c.Planes[i].Mass[(m+12-shift)%12], p.Mass[m])
					}
				}
			}
		}
	})
}

// Turning wall and airs round mirrors the year.
func TestYearMirrors(t *testing.T) {
	balanced(t, 5, 100, func(a envelope.Assembly, months []envelope.Month, b envelope.YearBalance) {
		turned := slices.Clone(months)
		for i, m := range months {
			films := b.Months[i].Films
			films.OtherSide, films.Room = films.Room, films.OtherSide
			turned[i].Other, turned[i].Room, turned[i].Films = m.Room, m.Other, &films
		}
		c, err := envelope.Year(reversed(a), outsideWall, turned)
		if err != nil {
			t.Fatal(err)
		}
		if c.Verdict != b.Verdict || !near(float64(c.Peak), float64(b.Peak), 1e-9) || len(c.Planes) != len(b.Planes) {
			t.Errorf("%v, peak %v; mirrored %v, %v", b.Verdict, b.Peak, c.Verdict, c.Peak)
		}
	})
}

// A workspace gives the same as a fresh one whatever it did before, and
// allocates nothing once it has grown.
func TestWorkspaceReuse(t *testing.T) {
	var w envelope.Workspace
	months := winterWall(t)
	steady := envelope.SteadyYear(air(t, 26, 65), air(t, 13, 60))
	wall, house := vaporWall(10, true), envelope.Face{Kind: envelope.Wall, Other: envelope.House}
	for range 3 {
		if _, err := w.Year(wall, house, steady); err != nil {
			t.Fatal(err)
		}
		got, err := w.Year(outerRetarder(), outsideWall, months)
		if err != nil {
			t.Fatal(err)
		}
		want, err := envelope.Year(outerRetarder(), outsideWall, months)
		if err != nil {
			t.Fatal(err)
		}
		if fmt.Sprint(got) != fmt.Sprint(want) {
			t.Errorf("reused workspace gives %v, fresh %v", got, want)
		}
	}
	cold := outerRetarder()
	if allocs := testing.AllocsPerRun(100, func() {
		if _, err := w.Year(cold, outsideWall, months); err != nil {
			t.Fatal(err)
		}
	}); allocs != 0 {
		t.Errorf("%v allocations a year, want none", allocs)
	}
}

func TestYearRefuses(t *testing.T) {
	months := winterWall(t)
	change := func(f func(*envelope.Month)) []envelope.Month {
		c := slices.Clone(months)
		f(&c[6])
		return c
	}
	for name, tt := range map[string]struct {
		face   envelope.Face
		months []envelope.Month
		want   string
	}{
		"no months":    {outsideWall, nil, "months"},
		"no days":      {outsideWall, change(func(m *envelope.Month) { m.Days = 0 }), "days"},
		"NaN days":     {outsideWall, change(func(m *envelope.Month) { m.Days = math.NaN() }), "days"},
		"NaN air":      {outsideWall, change(func(m *envelope.Month) { m.Other.Temperature = units.Temperature(math.NaN()) }), `"July"`},
		"unknown face": {envelope.Face{}, months, "face kind"},
		"unknown side": {envelope.Face{Kind: envelope.Wall}, months, "other side"},
	} {
		b, err := envelope.Year(outerRetarder(), tt.face, tt.months)
		if err == nil || !strings.Contains(err.Error(), tt.want) || b.Verdict != envelope.Undecided {
			t.Errorf("%s: %v, %v, want an error with %q", name, b.Verdict, err, tt.want)
		}
	}
}

// The highest concealed humidity over the year, with its month and place.
func TestWettestPlace(t *testing.T) {
	b, err := envelope.Year(outerRetarder(), outsideWall, winterWall(t))
	if err != nil {
		t.Fatal(err)
	}
	if !near(float64(b.Wettest.Humidity), 100, 1e-9) || b.Assembly.PlaceName(b.Wettest.Place) != "between retarder and wool" {
		t.Errorf("wettest %v %% %s, want 100 between retarder and wool", b.Wettest.Humidity, b.Assembly.PlaceName(b.Wettest.Place))
	}
	dry, err := envelope.Year(vaporWall(1, true), envelope.Face{Kind: envelope.Wall, Other: envelope.House}, envelope.SteadyYear(air(t, 24, 60), air(t, 13, 60)))
	if err != nil {
		t.Fatal(err)
	}
	p, err := envelope.Profile(vaporWall(1, true), wallFilms, air(t, 24, 60), air(t, 13, 60))
	if err != nil {
		t.Fatal(err)
	}
	if !near(float64(dry.Wettest.Humidity), float64(p.Wettest.Humidity), 1e-9) || dry.Wettest.Place != p.Wettest.Place {
		t.Errorf("wettest of a steady year %+v, of its profile %+v", dry.Wettest, p.Wettest)
	}
}

func BenchmarkYear(b *testing.B) {
	var w envelope.Workspace
	wall, months := outerRetarder(), winterWall(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := w.Year(wall, outsideWall, months); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkYearNeverWet(b *testing.B) {
	var w envelope.Workspace
	wall := vaporWall(0.06, true)
	months := envelope.SteadyYear(air(b, 26, 65), air(b, 13, 60))
	house := envelope.Face{Kind: envelope.Wall, Other: envelope.House}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := w.Year(wall, house, months); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkYearStaysWet(b *testing.B) {
	var w envelope.Workspace
	wall := vaporWall(10, true)
	months := envelope.SteadyYear(air(b, 26, 65), air(b, 13, 60))
	house := envelope.Face{Kind: envelope.Wall, Other: envelope.House}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := w.Year(wall, house, months); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkResistance(b *testing.B) {
	wall := bay(solid("foam", 140, 0.0245))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := wall.Resistance(wallFilms); err != nil {
			b.Fatal(err)
		}
	}
}

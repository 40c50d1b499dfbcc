package envelope_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"proveout/checks/envelope"
	"proveout/checks/units"
)

func bay(insulation envelope.Layer) envelope.Assembly {
	return envelope.Assembly{Name: "north wall", Layers: []envelope.Layer{
		solid("house board", 12.7, 0.16),
		insulation.WithFraming(0.25, solid("stud", 0, 0.115)),
		solid("room board", 12.7, 0.16),
	}}
}

// Foam planned to fill a 140 mm bay, measured 100 mm at its thinnest. The
// installed figure is depth over conductivity (ASHRAE Fundamentals 2005 ch. 25:
// 0.0245); the whole wall is another number.
func ExampleAssembly_AsBuilt() {
	wall := bay(solid("foam", 140, 0.0245))
	films := envelope.Films{OtherSide: 0.13, Room: 0.13, Direction: envelope.Horizontal}
	built, err := wall.AsBuilt(films, envelope.Measurement{Layer: "foam", Depth: 0.100})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("installed R-%.1f, whole wall R-%.1f\n", envelope.RValue(built.Installed), envelope.RValue(built.Whole.Total))
	// Output: installed R-23.2, whole wall R-17.4
}

// Foam: R = d/λ. A rated batt keeps its rating at its thickness and above and
// loses at most in proportion below (common practice); compression is said.
func TestInstalledResistance(t *testing.T) {
	batt := envelope.Layer{Name: "batt", Resistance: 3.32, Thickness: 0.140}
	for _, tt := range []struct {
		layer      envelope.Layer
		depth      units.Length
		want       float64
		compressed bool
	}{
		{solid("foam", 89, 0.0245), 0.0762, 0.0762 / 0.0245, false},
		{solid("foam", 89, 0.0245), 0.100, 0.100 / 0.0245, false},
		{batt, 0.140, 3.32, false},
		{batt, 0.165, 3.32, false},
		{batt, 0.105, 3.32 * 0.75, true},
	} {
		got, err := tt.layer.InstalledResistance(tt.depth)
		if err != nil {
			t.Errorf("%s at %v: %v", tt.layer.Name, tt.depth, err)
			continue
		}
		if !near(float64(got.Resistance), tt.want, 1e-12) || got.Compressed != tt.compressed || (len(got.Notes) > 0) != tt.compressed {
			t.Errorf("%s at %v = %+v, want %v, compressed %v", tt.layer.Name, tt.depth, got, tt.want, tt.compressed)
		}
	}
}

func TestInstalledResistanceRefuses(t *testing.T) {
	foam := solid("foam", 89, 0.0245)
	for _, tt := range []struct {
		layer envelope.Layer
		depth units.Length
		want  string
	}{
		{foam, 0, "measured depth"},
		{foam, -0.1, "measured depth"},
		{foam, 3.5, "measured depth"},
		{foam, units.Length(math.NaN()), "measured depth"},
		{envelope.Layer{Name: "batt", Resistance: 2.29}, 0.05, "rated at"},
		{envelope.Layer{Name: "paint", Kind: envelope.Film}, 0.05, "film"},
		{envelope.Layer{Name: "board"}, 0.05, "neither"},
	} {
		got, err := tt.layer.InstalledResistance(tt.depth)
		if err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s at %v = %v, %v, want an error with %q", tt.layer.Name, tt.depth, got.Resistance, err, tt.want)
		}
	}
}

// By hand: bay of 140 mm, 75 % foam of λ 0.0245, 25 % stud of λ 0.115; two
// boards 0.07938 each and films 0.13 each make 0.41875 besides.
func TestAsBuiltWhole(t *testing.T) {
	const rest, stud = 2*0.0127/0.16 + 0.26, 0.140 / 0.115
	combined := func(cavity, framing float64) float64 {
		upper := 1 / (0.75/(rest+cavity) + 0.25/(rest+framing))
		lower := rest + 1/(0.75/cavity+0.25/framing)
		return (upper + lower) / 2
	}
	foam := 0.100 / 0.0245
	lowerSplit := rest + 1/(0.75/foam+0.25/(0.100/0.115)) + 1/(0.75/0.18+0.25/(0.040/0.115))
	upperSplit := 1 / (0.75/(rest+foam+0.18) + 0.25/(rest+stud))
	for _, tt := range []struct {
		name      string
		m         envelope.Measurement
		installed float64
		whole     float64
	}{
		{"as planned", envelope.Measurement{Layer: "foam", Depth: 0.140}, 0.140 / 0.0245, combined(0.140/0.0245, stud)},
		{"thinner, void not counted", envelope.Measurement{Layer: "foam", Depth: 0.100}, foam, combined(foam, stud)},
		{"thinner, air layer behind", envelope.Measurement{Layer: "foam", Depth: 0.100, AirBehind: true}, foam, (upperSplit + lowerSplit) / 2},
		{"proud of the studs", envelope.Measurement{Layer: "foam", Depth: 0.150}, 0.140 / 0.0245, combined(0.140/0.0245, stud)},
	} {
		got, err := bay(solid("foam", 140, 0.0245)).AsBuilt(wallFilms, tt.m)
		if err != nil {
			t.Errorf("%s: %v", tt.name, err)
			continue
		}
		if !near(float64(got.Installed), tt.installed, 1e-12) || !near(float64(got.Whole.Total), tt.whole, 1e-12) {
			t.Errorf("%s: installed %v whole %v, want %v and %v", tt.name, got.Installed, got.Whole.Total, tt.installed, tt.whole)
		}
	}
}

func TestAsBuiltRefuses(t *testing.T) {
	wall := bay(solid("foam", 140, 0.0245))
	twice := envelope.Assembly{Layers: append(wall.Layers, wall.Layers...)}
	for name, tt := range map[string]struct {
		a    envelope.Assembly
		m    []envelope.Measurement
		want string
	}{
		"nothing measured": {wall, nil, "no measured depth"},
		"unknown layer":    {wall, []envelope.Measurement{{Layer: "batt", Depth: 0.1}}, `no layer "batt"`},
		"two of a name":    {twice, []envelope.Measurement{{Layer: "foam", Depth: 0.1}}, "two layers"},
		"no depth":         {wall, []envelope.Measurement{{Layer: "foam"}}, "measured depth"},
	} {
		got, err := tt.a.AsBuilt(wallFilms, tt.m...)
		if err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: AsBuilt = %v, %v, want an error with %q", name, got.Installed, err, tt.want)
		}
	}
}

// A second measurement of the same assembly leaves the first alone.
func TestAsBuiltDoesNotChangeThePlan(t *testing.T) {
	wall := bay(solid("foam", 140, 0.0245))
	before, err := wall.Resistance(wallFilms)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := wall.AsBuilt(wallFilms, envelope.Measurement{Layer: "foam", Depth: 0.05, AirBehind: true}); err != nil {
		t.Fatal(err)
	}
	after, err := wall.Resistance(wallFilms)
	if err != nil || after.Total != before.Total {
		t.Errorf("the plan now gives %v, %v, want %v", after.Total, err, before.Total)
	}
}

// Half as thick lets twice as much vapor through, however its resistance was stated:
// s_d = μ·d (ISO 12572, from memory). Deeper than planned proves no more than planned.
func TestThinnedLayerLetsMoreVaporThrough(t *testing.T) {
	films := envelope.Films{OtherSide: 0.13, Room: 0.13, Direction: envelope.Horizontal}
	stated, bulk := solid("foam", 140, 0.0245), solid("foam", 140, 0.0245)
	stated.Vapor, bulk.Vapor = envelope.SD(8.4), envelope.Mu(60)
	for depth, want := range map[units.Length]float64{0.070: 4.2, 0.035: 2.1, 0.140: 8.4} {
		for _, foam := range []envelope.Layer{stated, bulk} {
			built, err := bay(foam).AsBuilt(films, envelope.Measurement{Layer: "foam", Depth: depth})
			if err != nil {
				t.Fatal(err)
			}
			l := built.Assembly.Layers[1]
			if sd, err := l.Vapor.SD(l.Thickness, 50); err != nil || !near(float64(sd), want, 1e-12) {
				t.Errorf("at %v m: sd %v m, %v, want %v", float64(depth), float64(sd), err, want)
			}
		}
	}
}

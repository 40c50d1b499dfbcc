package figure

import (
	"flag"
	"os"
	"path/filepath"
	"testing"
)

// picture is what every figure is.
type picture interface {
	SVG() ([]byte, error)
	Text(width int) string
}

// gallery are the pictures that the tests look at: of an invented room.
var gallery = map[string]picture{
	"section":           exampleSection,
	"section-eight":     eightLayers,
	"load":              exampleLoad,
	"pulldown":          examplePullDown,
	"pulldown-measured": measuredPullDown,
	"log":               exampleLog,
	"log-two-days":      twoDays,
	"log-one":           onePointLog,
	"signature":         exampleSignature,
	"signature-one":     oneDay,
	"months":            exampleMonths,
	"months-load":       loadMonths,
	"map":               exampleMap,
	"map-list":          listMap,
	"door":              exampleDoor,
}

var exampleSection = Section{
	Title: "North wall as found: polyethylene on the room side",
	Axis:  "temperature and dew point, °C",
	Other: AirSide{"Hallway", Mark{24, "24.0 °C"}, Mark{14.8, "14.8 °C"}, "56 % RH"},
	Room:  AirSide{"Cellar", Mark{13, "13.0 °C"}, Mark{7.4, "7.4 °C"}, "69 % RH"},
	Layers: []Layer{
		{"Gypsum board, painted", 12.7, "1/2 in", Board},
		{"Mineral wool batt between studs", 89, "3 1/2 in", Insulation},
		{"Polyethylene", 0.15, "6 mil", Membrane},
		{"Gypsum board", 12.7, "1/2 in", Board},
	},
	Planes: []Plane{{0, 23.5, 14.8}, {12.7, 23.2, 14.6}, {101.7, 13.8, 13.8}, {101.85, 13.8, 7.6}, {114.55, 13.4, 7.4}},
	Wet:    []WetPlane{{101.7, "100 % RH", "water on the outer face of the polyethylene all summer; dries by February"}},
}

var eightLayers = Section{
	Title: "South wall to outdoors in July",
	Axis:  "temperature and dew point, °F",
	Other: AirSide{"Outdoors, sun on the wall in the afternoon", Mark{95, "95 °F"}, Mark{76, "76 °F"}, "54 % RH"},
	Room:  AirSide{"Wine room", Mark{55, "55 °F"}, Mark{46, "46 °F"}, "72 % RH"},
	Layers: []Layer{
		{"Brick veneer", 3.625, "3 5/8 in", Masonry},
		{"Air space", 1, "1 in", AirSpace},
		{"Water-resistive barrier", 0.006, "6 mil", Membrane},
		{"Oriented strand board sheathing with taped joints, existing", 0.4375, "7/16 in", Lumber},
		{"Closed-cell foam", 3.5, "3 1/2 in", Insulation},
		{"Polyethylene left from the first build", 0.006, "6 mil", Membrane},
		{"Cement board", 0.5, "1/2 in", Board},
		{"Redwood boards", 0.75, "3/4 in", Lumber},
	},
	Planes: []Plane{{0, 94, 76}, {3.625, 91, 75}, {4.625, 89, 75}, {4.631, 89, 74}, {5.0685, 87, 72}, {8.5685, 57, 56.5}, {8.5745, 57, 47}, {9.0745, 56.5, 46.5}, {9.8245, 56, 46}},
	Wet: []WetPlane{
		{5.0685, "86 % RH", "mold can grow on the sheathing in July and August"},
		{8.5685, "98 % RH", "close to wet"},
	},
	Notes: []string{"Means of July. Computed by ISO 13788."},
}

var update = flag.Bool("update", false, "write the golden files anew")

// The pictures are as they were when somebody looked at them.
func TestGolden(t *testing.T) {
	for name, p := range gallery {
		svg, err := p.SVG()
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if name != "log" { // as big as a photo; log-two-days stands for it
			golden(t, name+".svg", svg)
		}
		golden(t, name+".txt", []byte(p.Text(80)))
	}
}

func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		if err := os.WriteFile(path, got, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if string(got) != string(want) {
		t.Errorf("%s has changed; look at it, then run with -update", path)
	}
}

package jobs

import (
	"reflect"
	"regexp"
	"strings"
	"testing"
	"time"

	"proveout/checks/envelope"
	"proveout/checks/units"
	"proveout/phases"
)

func exampleOutline(s units.System) Outline {
	o := NewOutline(nil)
	o.Units, o.Started = s, "2026-05-04"
	return o.Example()
}

func TestOutlineReadsBack(t *testing.T) {
	for _, s := range []units.System{units.US, units.SI} {
		text := exampleOutline(s).YAML()
		d, err := ReadDescription(JobFile, text)
		if err != nil {
			t.Fatalf("%s: %v\n%s", s, err, text)
		}
		if d.ID != "birch-stair" || d.Room.Bottles != 520 || d.Room.YearBuilt != 1964 || len(d.Room.Faces) != 5 || d.Room.Units != s {
			t.Errorf("%s: read back as %+v", s, d)
		}
		if f := d.Room.Face("ceiling"); len(f.AsPlanned) != 4 || !f.AsPlanned[1].Retarder || !f.Design["depth"].Known() || f.Bays != 6 {
			t.Errorf("%s: the ceiling reads back as %+v", s, f)
		}
	}
}

// The example must work as it stands: the library knows its materials.
func TestOutlineExampleMaterials(t *testing.T) {
	lib, err := envelope.NewLibrary()
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range exampleOutline(units.US).Faces {
		for _, l := range f.Layers {
			if _, err := lib.Find(l.Material); err != nil {
				t.Errorf("%s: %v", f.Name, err)
			}
		}
	}
	for _, insulation := range Properties["insulation"] {
		o := Outline{Properties: []NamedText{{"insulation", insulation}}}
		if _, err := lib.Find(o.material()); err != nil {
			t.Errorf("stub for %s: %v", insulation, err)
		}
	}
}

// What stands commented out must be right as well: it is what people make
// plain by taking the # away.
func TestOutlineStubsAreRight(t *testing.T) {
	for _, s := range []units.System{units.US, units.SI} {
		o := exampleOutline(s)
		o.Properties = o.Properties[:3]
		o.Altitude, o.YearBuilt, o.Spaces = "", "", nil
		for i := range o.Faces {
			o.Faces[i].Layers, o.Faces[i].Design = nil, nil
		}
		text := string(o.YAML())
		if _, err := ReadDescription(JobFile, []byte(text)); err != nil {
			t.Fatalf("%s: with stubs: %v\n%s", s, err, text)
		}
		stub := regexp.MustCompile(`(?m)^# (( *- \{|  +[a-z -]+:|(year built|altitude|design conditions|values|equipment|products|use|outdoor months|costs|unit as found|unit as planned):).*)$`)
		text = stub.ReplaceAllString(text, "$1")
		text = strings.ReplaceAll(text, "temperature: , humidity: }", "temperature: 20 °C, humidity: 50 %}")
		text = regexp.MustCompile(`(?m)^(  [a-z -]+:) # [a-z ]+$`).ReplaceAllStringFunc(text, func(line string) string {
			name, kind, _ := strings.Cut(line, " # ")
			return name + " " + strings.Split(units.Kind(kind).Example(), " or ")[0]
		})
		d, err := ReadDescription(JobFile, []byte(text))
		if err != nil {
			t.Fatalf("%s: with the stubs made plain: %v\n%s", s, err, text)
		}
		if len(d.Room.Values) < 10 || len(d.Room.Spaces) != 4 || len(d.Equipment) != 1 || d.Room.UnitAsPlanned == nil || len(d.Room.Use.Doors) != 1 || len(d.Room.Months) != 12 || d.Room.Materials == nil || len(d.Room.Face("north wall").AsPlanned) != 3 || !d.Room.Altitude.Known() {
			t.Errorf("%s: the stubs were not read: %+v", s, d)
		}
	}
}

func TestOutlineQuotesWhatWasTyped(t *testing.T) {
	o := exampleOutline(units.US)
	o.Title = "Room: \"the cave\" # 2\nyear built: 1800"
	d, err := ReadDescription(JobFile, o.YAML())
	if err != nil || d.Title != o.Title || d.Room.YearBuilt != 1964 {
		t.Errorf("title %q reads back as %+v, %v", o.Title, d, err)
	}
}

func TestParseFace(t *testing.T) {
	for _, tt := range []struct {
		text string
		want OutlineFace
	}{
		{"north wall: wall, house, 80 ft², 6 bays", OutlineFace{Name: "north wall", Kind: "wall", OtherSide: "house", Area: "80 ft²", Bays: "6"}},
		{"Floor: 7.2 m², crawl space", OutlineFace{Name: "Floor", Kind: "floor", OtherSide: "crawl space", Area: "7.2 m²"}},
		{"lid: ceiling, 1 bay, attic, 90 sq ft", OutlineFace{Name: "lid", Kind: "ceiling", OtherSide: "attic", Area: "90 sq ft", Bays: "1"}},
	} {
		got, err := ParseFace(tt.text)
		if err != nil || !reflect.DeepEqual(got, tt.want) {
			t.Errorf("ParseFace(%q) = %+v, %v, want %+v", tt.text, got, err, tt.want)
		}
	}
	for _, tt := range []struct{ text, want string }{
		{"north wall", "is not a face"},
		{"a/b: wall, house, 80 ft²", "is not a face"},
		{"north wall: wall, hose, 80 ft²", `did you mean "house"`},
		{"north wall: wall, house, 80", `"80" is no kind of face`},
		{"north wall: wall, house", "its area is missing"},
		{"lid: attic, 80 ft²", "its kind is missing"},
		{"north wall: wall, 80 ft²", "its other side is missing"},
		{"north wall: house, 80 ft², six bays", "does not say how many stud bays"},
		{"north wall: house, 80 ft², 70 ft²", `"70 ft²" is no kind of face`},
	} {
		if got, err := ParseFace(tt.text); err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("ParseFace(%q) = %+v, %v, want an error that says %q", tt.text, got, err, tt.want)
		}
	}
}

func TestParseLayersDesignSpace(t *testing.T) {
	layers, err := ParseLayers("gypsum board, 1/2 in; closed-cell spray foam, 5 in, 0.3 perm, 15 % framing, insulation and retarder; R-13 batt, R-13")
	want := []OutlineLayer{
		{Material: "gypsum board", Thickness: "1/2 in"},
		{Material: "closed-cell spray foam", Thickness: "5 in", Permeance: "0.3 perm", Framing: "15 %", Is: "insulation and retarder"},
		{Material: "R-13 batt", Resistance: "R-13"},
	}
	if err != nil || !reflect.DeepEqual(layers, want) {
		t.Errorf("ParseLayers = %+v, %v, want %+v", layers, err, want)
	}
	design, err := ParseDesign("depth 5 in, installed resistance R-19, resistance R-18, permeance 0.1 perm")
	if err != nil || !reflect.DeepEqual(design, []NamedText{{"depth", "5 in"}, {"installed resistance", "R-19"}, {"resistance", "R-18"}, {"permeance", "0.1 perm"}}) {
		t.Errorf("ParseDesign = %v, %v", design, err)
	}
	space, err := ParseSpace("attic, 120 °F, 20 % RH, summer")
	if err != nil || space != (OutlineSpace{"attic", "summer", "120 °F", "20 % RH"}) {
		t.Errorf("ParseSpace = %+v, %v", space, err)
	}
	for text, parse := range map[string]func(string) error{
		"foam, 5":        func(s string) error { _, err := ParseLayers(s); return err },
		"; foam, 5 in":   func(s string) error { _, err := ParseLayers(s); return err },
		"foam, insulate": func(s string) error { _, err := ParseLayers(s); return err },
		"depth R-18":     func(s string) error { _, err := ParseDesign(s); return err },
		"deepness 5 in":  func(s string) error { _, err := ParseDesign(s); return err },
		"attick, 120 °F": func(s string) error { _, err := ParseSpace(s); return err },
		"attic, 120":     func(s string) error { _, err := ParseSpace(s); return err },
		"attic, 20 % RH": func(s string) error { _, err := ParseSpace(s); return err },
	} {
		if err := parse(text); err == nil {
			t.Errorf("%q was read without an error", text)
		}
	}
}

// A typed face reads back from the file that is made of it, or was refused.
func FuzzParseFace(f *testing.F) {
	f.Add("north wall: wall, house, 80 ft², 6 bays")
	f.Add("lid:ceiling,attic,7 m²")
	f.Add("\"a\": # x: floor, ground, 1 m2, 2 bays")
	f.Fuzz(func(t *testing.T, text string) {
		face, err := ParseFace(text)
		if err != nil {
			return
		}
		o := exampleOutline(units.US)
		o.Faces = []OutlineFace{face}
		d, err := ReadDescription(JobFile, o.YAML())
		if err != nil {
			t.Fatalf("ParseFace(%q) = %+v, and the file cannot be read: %v", text, face, err)
		}
		if got := d.Room.Faces[0]; got.Kind != face.Kind || got.OtherSide != face.OtherSide || got.Area.Text != strings.TrimSpace(face.Area) {
			t.Fatalf("ParseFace(%q) = %+v reads back as %+v", text, face, got)
		}
	})
}

func TestCompanyOutlineReadsBack(t *testing.T) {
	for _, region := range []string{"us", "us-ny", "de"} {
		r, _ := phases.RegionNamed(region)
		o := CompanyOutline{Name: "Hollow Oak: Cellar Rooms", Region: region, Units: r.Units, Scheme: r.Scheme, Zone: "Europe/Berlin", Person: "Ana Ruiz", Roles: []string{"owner", "crew lead"}}
		c, err := readCompany(CompanyFile, t.TempDir(), o.YAML(time.Date(2026, 5, 4, 0, 0, 0, 0, time.UTC)))
		if err != nil {
			t.Fatalf("%s: %v\n%s", region, err, o.YAML(time.Now()))
		}
		if c.Name != o.Name || c.Region != region || !c.People[0].Has("crew lead") || len(c.Instruments) != 0 {
			t.Errorf("%s: reads back as %+v", region, c)
		}
		plain := regexp.MustCompile(`(?m)^# (( *- \{.*)|(instruments|limits|products|warranty|acceptance|photo size|phone):.*|  - [A-Z].*)$`).ReplaceAllString(string(o.YAML(time.Date(2026, 5, 4, 0, 0, 0, 0, time.UTC))), "$1")
		c, err = readCompany(CompanyFile, t.TempDir(), []byte(plain))
		if err != nil || len(c.Instruments) < 3 || len(c.Limits) != 1 || len(c.People) != 2 || len(c.Warranty) == 0 || len(c.Products) != 1 {
			t.Errorf("%s: with the stubs made plain: %+v, %v\n%s", region, c, err, plain)
		}
		if _, _, err := planFor(c, region); err != nil {
			t.Errorf("%s: the example limit: %v", region, err)
		}
	}
}

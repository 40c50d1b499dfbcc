package jobs

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"proveout/checks/units"
	"proveout/phases"
	"proveout/phases/strict"
)

// Outline is a new job as a person describes it: texts as they were typed,
// from which YAML makes a job.yaml that is pleasant to go on with.
type Outline struct {
	ID, Title, Started string

	Units        units.System
	Zone, Region string
	Scheme       string
	PhotoSize    int

	YearBuilt, Altitude string
	Properties          []NamedText

	Length, Width, Height       string
	SetPoint                    string
	LowHumidity, HighHumidity   string
	Bottles                     string
	PullDownLimit, PullDownLoad string
	Spaces                      []OutlineSpace
	Faces                       []OutlineFace
	Values                      []NamedText
	Products                    []Product // the company's own
}

// OutlineSpace is the air on the other side of faces.
type OutlineSpace struct{ Name, Season, Temperature, Humidity string }

// OutlineFace is one bounding surface.
type OutlineFace struct {
	Name, Kind, OtherSide, Area, Bays string
	Design                            []NamedText
	Layers                            []OutlineLayer
}

// OutlineLayer is one layer of a face as planned.
type OutlineLayer struct {
	Material, Thickness, Resistance, Permeance, Framing, Is string
}

// ParseFace reads one face as it is typed in a line: "north wall: wall, house,
// 80 ft², 6 bays". A name that ends with its kind need not repeat it.
func ParseFace(text string) (OutlineFace, error) {
	name, rest, ok := strings.Cut(text, ":")
	f := OutlineFace{Name: strings.TrimSpace(name)}
	if !ok || f.Name == "" || strings.Contains(f.Name, "/") {
		return f, fmt.Errorf("%q is not a face\nwrite NAME: KIND, OTHER SIDE, AREA, BAYS, for example \"north wall: wall, house, 80 ft², 6 bays\"", text)
	}
	for _, part := range strings.Split(rest, ",") {
		if err := f.part(strings.TrimSpace(part)); err != nil {
			return f, fmt.Errorf("face %q: %w", f.Name, err)
		}
	}
	if f.Kind == "" {
		f.Kind = kindInName(f.Name)
	}
	for _, m := range []struct{ what, text, write string }{
		{"kind", f.Kind, strings.Join(phases.FaceKinds, ", ")}, {"other side", f.OtherSide, strings.Join(phases.OtherSides, ", ")}, {"area", f.Area, units.AreaKind.Example()},
	} {
		if m.text == "" {
			return f, fmt.Errorf("face %q: its %s is missing\nwrite one of: %s", f.Name, m.what, m.write)
		}
	}
	return f, nil
}

// part takes in one part of a face's line.
func (f *OutlineFace) part(text string) error {
	if number, ok := strings.CutSuffix(strings.TrimSuffix(text, "s"), " bay"); ok {
		if n, err := strconv.Atoi(number); err != nil || n < 1 || n > 200 {
			return fmt.Errorf("%q does not say how many stud bays; write 6 bays", text)
		}
		f.Bays = number
		return nil
	}
	switch {
	case slices.Contains(phases.FaceKinds, text) && f.Kind == "":
		f.Kind = text
		return nil
	case slices.Contains(phases.OtherSides, text) && f.OtherSide == "":
		f.OtherSide = text
		return nil
	}
	if _, err := units.Parse(units.AreaKind, text); err == nil && f.Area == "" {
		f.Area = text
		return nil
	}
	return fmt.Errorf("%q is no kind of face, no other side, no area and no number of bays%s", text, strict.DidYouMean(text, slices.Concat(phases.FaceKinds, phases.OtherSides)))
}

// kindInName finds the kind of face at the end of its name: "north wall".
func kindInName(name string) string {
	for _, kind := range phases.FaceKinds {
		if strings.HasSuffix(strings.ToLower(name), kind) {
			return kind
		}
	}
	return ""
}

// ParseSpace reads the air beyond a face: "attic, 120 °F, 20 % RH, summer".
func ParseSpace(text string) (OutlineSpace, error) {
	var s OutlineSpace
	for _, part := range strings.Split(text, ",") {
		part = strings.TrimSpace(part)
		_, noTemperature := units.Parse(units.TemperatureKind, part)
		_, noHumidity := units.Parse(units.HumidityKind, part)
		switch {
		case slices.Contains(phases.OtherSides, part):
			s.Name = part
		case part == "summer" || part == "winter" || part == "stress":
			s.Season = part
		case noTemperature == nil:
			s.Temperature = part
		case noHumidity == nil:
			s.Humidity = part
		default:
			return s, fmt.Errorf("space %q: %q is no space, no temperature, no humidity and no season%s\nwrite it like \"house, 75 °F, 50 %% RH\" or \"attic, 120 °F, 20 %% RH, summer\"", text, part, strict.DidYouMean(part, phases.OtherSides))
		}
	}
	if s.Name == "" || s.Temperature == "" {
		return s, fmt.Errorf("space %q lacks its name or its temperature\nwrite it like \"house, 75 °F, 50 %% RH\" or \"attic, 120 °F, 20 %% RH, summer\"", text)
	}
	return s, nil
}

// designKinds are the design values of a face.
var designKinds = []struct {
	name string
	kind units.Kind
}{
	{"depth", units.LengthKind}, {"installed resistance", units.ThermalResistanceKind},
	{"resistance", units.ThermalResistanceKind}, {"permeance", units.PermeanceKind},
}

// ParseDesign reads design values: "depth 5 in, resistance R-18".
func ParseDesign(text string) ([]NamedText, error) {
	var design []NamedText
	for _, part := range strings.Split(text, ",") {
		v, err := designValue(strings.TrimSpace(part))
		if err != nil {
			return nil, err
		}
		design = append(design, v)
	}
	return design, nil
}

func designValue(text string) (NamedText, error) {
	for _, d := range designKinds {
		value, ok := strings.CutPrefix(text, d.name+" ")
		if !ok {
			continue
		}
		_, err := units.Parse(d.kind, value)
		return NamedText{d.name, strings.TrimSpace(value)}, err
	}
	return NamedText{}, fmt.Errorf("the design value %q is not known\nwrite depth, resistance, installed resistance or permeance with its value, for example \"depth 5 in, resistance R-18\"", text)
}

// ParseLayers reads the layers of a face from the other side inwards: "gypsum
// board, 1/2 in; closed-cell spray foam, 5 in, 15 % framing, insulation; …".
func ParseLayers(text string) ([]OutlineLayer, error) {
	var layers []OutlineLayer
	for _, one := range strings.Split(text, ";") {
		parts := strings.Split(one, ",")
		l := OutlineLayer{Material: strings.TrimSpace(parts[0])}
		if l.Material == "" {
			return nil, fmt.Errorf("a layer of %q has no material\nwrite MATERIAL, THICKNESS for each, with a semicolon between layers", text)
		}
		for _, part := range parts[1:] {
			if err := l.part(strings.TrimSpace(part)); err != nil {
				return nil, fmt.Errorf("layer %q: %w", l.Material, err)
			}
		}
		layers = append(layers, l)
	}
	return layers, nil
}

func (l *OutlineLayer) part(text string) error {
	is := []string{"insulation", "retarder", "insulation and retarder"}
	if slices.Contains(is, text) {
		l.Is = text
		return nil
	}
	if share, ok := strings.CutSuffix(text, " framing"); ok {
		l.Framing = share
		_, err := units.Parse(units.PercentKind, share)
		return err
	}
	for _, p := range []struct {
		kind units.Kind
		to   *string
	}{{units.LengthKind, &l.Thickness}, {units.ThermalResistanceKind, &l.Resistance}, {units.PermeanceKind, &l.Permeance}} {
		if _, err := units.Parse(p.kind, text); err == nil {
			*p.to = text
			return nil
		}
	}
	return fmt.Errorf("%q is no thickness, resistance, permeance or share of framing%s\nwrite it like 5 in, R-30, 0.3 perm, 15 %% framing, insulation or retarder", text, strict.DidYouMean(text, is))
}

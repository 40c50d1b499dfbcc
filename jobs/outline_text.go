package jobs

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"sync"

	"proveout/checks"
	"proveout/checks/units"
	"proveout/phases"
	"proveout/phases/strict"
)

// YAML writes the job.yaml of an outline: what was said, and comments that say
// what else may be said and what for.
func (o Outline) YAML() []byte {
	p := &page{}
	p.say(`This file describes the job. Edit it with any editor; the next command shows
the difference and wants a reason before anything else: proveout adopt.
Nothing personal belongs here: the file stays in the job's history. The
client's name and address are in clients/%s.yaml of the company.
Every value has its unit: 10 ft, 12 ft 6 in, 3.05 m, 55 °F, 13 °C, R-19, 6 mil.
A line that begins with # says nothing yet; take "# " away to say it.`, o.ID)
	p.put("job", o.ID)
	p.put("title", o.Title)
	p.put("started", strict.Plain(o.Started))
	p.put("units", o.Units.String())
	p.put("time zone", o.Zone)
	p.put("region", o.Region)
	p.put("mold scheme", o.Scheme)
	if o.PhotoSize != 0 && o.PhotoSize != DefaultPhotoSize {
		p.put("photo size", o.PhotoSize)
	}
	p.house(o)
	p.properties(o)
	p.room(o)
	p.spaces(o)
	p.faces(o)
	p.products(o.Products)
	p.service(o)
	p.values(o)
	p.equipment(o)
	return p.b.Bytes()
}

// pick is the text of the outline's system of units.
func (o Outline) pick(us, si string) string {
	if o.Units == units.SI {
		return si
	}
	return us
}

func (p *page) house(o Outline) {
	p.gap()
	p.set("", "year built", o.YearBuilt, "1964", "of the house; lead and asbestos rules go by it")
	p.set("", "altitude", o.Altitude, o.pick("600 ft", "200 m"), "of the site; thin air carries less heat")
}

// propertyWords say what each property is about, in the order of the file.
var propertyWords = []struct{ name, about string }{
	{"services", "where wires and lines run; it sets the order of the holds"},
	{"insulation", "what fills the cavity"},
	{"retarder", "what keeps vapor out, on the warm side"},
	{"floor", "what the floor is built of"},
	{"finish", "of the walls inside"},
	{"refrigerant class", "of the cooling unit, from its plate"},
	{"unit", "kind of cooling unit"},
	{"condenser", "where the warm side of the unit breathes"},
	{"drain", "of the condensate"},
	{"permit", "a building permit"},
	{"collection", "bottles in the room while work goes on"},
}

func (p *page) properties(o Outline) {
	p.gap()
	p.say("What the plan asks about. A property that is not said keeps its checks on.")
	p.b.WriteString("properties:\n")
	for _, w := range propertyWords {
		choices := Properties[w.name]
		p.set("  ", w.name, named(o.Properties, w.name), choices[0], w.about+": "+strings.Join(choices, ", "))
	}
}

func named(texts []NamedText, name string) string {
	i := slices.IndexFunc(texts, func(t NamedText) bool { return t.Name == name })
	if i < 0 {
		return ""
	}
	return texts[i].Text
}

func (p *page) room(o Outline) {
	p.gap()
	p.say("The room, inside, finished.")
	p.b.WriteString("room:\n")
	for _, f := range []struct{ key, value, about string }{
		{"length", o.Length, ""}, {"width", o.Width, ""}, {"height", o.Height, ""},
		{"set point", o.SetPoint, "what the room is kept at"},
		{"low humidity", o.LowHumidity, ""},
		{"high humidity", o.HighHumidity, ""},
		{"bottles", o.Bottles, "that the racks will hold"},
		{"pull-down limit", o.PullDownLimit, "time the unit may take from warm to the set point"},
		{"pull-down load", o.PullDownLoad, "of that test: empty or loaded"},
	} {
		p.set("  ", f.key, f.value, "", f.about)
	}
}

func (p *page) spaces(o Outline) {
	p.gap()
	p.say(`The air beyond the faces, at its hottest and, where it differs, at its coldest.
Each other side that a face names needs it for summer, or for all year.`)
	var list [][]strict.Field
	for _, s := range o.Spaces {
		var f fields
		f.text("space", s.Name)
		f.text("season", s.Season)
		f.text("temperature", s.Temperature)
		f.text("humidity", s.Humidity)
		list = append(list, f)
	}
	if list != nil {
		p.items("design conditions", list, nil)
	} else {
		p.say("design conditions:")
	}
	for _, f := range o.Faces {
		if !o.spaceSaid(f.OtherSide) {
			p.say("  - {space: %s, season: summer, temperature: , humidity: }", f.OtherSide)
			o.Spaces = append(o.Spaces, OutlineSpace{Name: f.OtherSide})
		}
	}
	if !slices.ContainsFunc(o.Spaces, func(s OutlineSpace) bool { return s.Season == "stress" }) {
		p.say("  - {space: house, season: stress, temperature: %s, humidity: 70 %% RH}  # its most humid days", o.pick("79 °F", "26 °C"))
	}
}

func (o Outline) spaceSaid(name string) bool {
	return slices.ContainsFunc(o.Spaces, func(s OutlineSpace) bool { return s.Name == name })
}

func (p *page) faces(o Outline) {
	p.gap()
	p.say(`Every surface that bounds the room. kind: %s.
other side: %s.
bays are counted between studs; photos and depths are asked for each.
Layers go from the other side inwards: as planned and, in the same way, as found.
A framed layer says how much of the face is framing. "is" marks the layer whose
depth is measured, and the retarder. A figure from a data sheet (resistance,
permeance) beats the library's.`, strings.Join(phases.FaceKinds, ", "), strings.Join(phases.OtherSides, ", "))
	var list [][]strict.Field
	for _, f := range o.Faces {
		list = append(list, f.fields())
	}
	p.items("faces", list, func(i int) { p.faceStubs(o, o.Faces[i]) })
}

func (f OutlineFace) fields() fields {
	var m fields
	m.text("face", f.Name)
	m.text("kind", f.Kind)
	m.text("other side", f.OtherSide)
	m.text("area", f.Area)
	if f.Bays != "" {
		m = append(m, strict.Field{Key: "bays", Value: strict.Plain(f.Bays)})
	}
	m.named("design", f.Design)
	var layers [][]strict.Field
	for _, l := range f.Layers {
		var one fields
		one.text("layer", l.Material)
		one.text("thickness", l.Thickness)
		one.text("resistance", l.Resistance)
		one.text("permeance", l.Permeance)
		one.text("framing", l.Framing)
		one.text("is", l.Is)
		layers = append(layers, one)
	}
	if layers != nil {
		m = append(m, strict.Field{Key: "as planned", Value: layers})
	}
	return m
}

// insulated reports whether a face has layers that the plan asks about.
func (f OutlineFace) insulated() bool {
	return f.Kind == "wall" || f.Kind == "ceiling" || f.Kind == "floor"
}

// faceStubs writes what a face could still say.
func (p *page) faceStubs(o Outline, f OutlineFace) {
	if !f.insulated() {
		return
	}
	depth := o.pick("5 in", "120 mm")
	if f.Design == nil {
		p.say("    design: {depth: %s, resistance: %s, installed resistance: %s, permeance: %s}", depth, o.pick("R-18", "RSI 3.2"), o.pick("R-29", "RSI 5.1"), o.pick("0.1 perm", "5.7 ng/(s·m²·Pa)"))
	}
	if f.Layers != nil {
		return
	}
	board := o.pick("1/2 in", "12.7 mm")
	p.say(`    as planned:
      - {layer: gypsum board, thickness: %s}
      - {layer: %s, thickness: %s, framing: 15 %%, is: insulation}
      - {layer: gypsum board, thickness: %s}`, board, o.material(), depth, board)
}

// material is a name of the library for what fills the cavity.
func (o Outline) material() string {
	switch named(o.Properties, "insulation") {
	case "batts":
		return "mineral-fiber batt R-19"
	case "board":
		return "XPS"
	}
	return "closed-cell spray foam"
}

func (p *page) values(o Outline) {
	p.gap()
	p.say(`Figures that limits name. Those of a product come from its data sheet; without
them their checks stay open.`)
	if len(o.Values) > 0 {
		var f fields
		f.named("values", o.Values)
		p.put("values", f[0].Value)
	} else {
		p.say("values:")
	}
	for _, v := range neededValues(o) {
		if named(o.Values, v.Name) == "" {
			p.say("  %s: # %s", v.Name, v.Text)
		}
	}
}

// defaultPlan is the plan that a job starts with.
var defaultPlan = sync.OnceValue(func() *phases.Plan {
	plan, err := phases.ReadPlan(phases.Defaults())
	if err != nil {
		panic(err) // the embedded files are tested
	}
	return plan
})

// neededValues are the figures that the default plan names for such a job, each
// with what it measures. Numbers would be taken for advice.
func neededValues(o Outline) []NamedText {
	kinds := map[string]units.Kind{}
	for name, kind := range checks.JobValues {
		if !strings.HasPrefix(name, "design ") {
			kinds[name] = kind
		}
	}
	for _, of := range []string{"set point", "low humidity", "high humidity", "pull-down limit"} {
		delete(kinds, of) // they stand under room:
	}
	decisions := checks.Decisions{"region": o.Region}
	for _, t := range o.Properties {
		decisions[t.Name] = t.Text
	}
	for _, q := range defaultPlan().Questions() {
		if q.When.Holds(decisions) {
			maps.Copy(kinds, sheetFigures(q))
		}
	}
	var all []NamedText
	for _, name := range slices.Sorted(maps.Keys(kinds)) {
		all = append(all, NamedText{name, string(kinds[name])})
	}
	return all
}

// sheetFigures are the data sheet figures that a question names.
func sheetFigures(q *checks.Question) map[string]units.Kind {
	figures := map[string]units.Kind{}
	for _, b := range q.Limits.Bounds() {
		if strings.HasPrefix(b.Name, checks.DataSheet) {
			figures[b.Name] = q.Measures
		}
	}
	if strings.HasPrefix(q.Wait, checks.DataSheet) {
		figures[q.Wait] = units.DurationKind
	}
	return figures
}

func (p *page) equipment(o Outline) {
	p.gap()
	p.say(`What stays in the room, with the numbers that a warranty asks for.
equipment:
  - {item: cooling unit, model: from its plate, serial: from its plate, settings: %q}`, fmt.Sprintf("set point %s", o.SetPoint))
}

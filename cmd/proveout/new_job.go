package main

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"proveout/checks/units"
	"proveout/jobs"
	"proveout/phases"
	"proveout/phases/strict"
)

// jobOutline is a new job on the way from flags and answers to its job.yaml.
type jobOutline struct {
	jobs.Outline
	fields     []*field
	properties map[string]*string
	unitSystem string

	faces, spaces, designs, layers, values []string // as flags gave them
	flags                                  []string
}

// propertyFlags are the questions behind properties, in the order they are
// asked; services, insulation and retarder must be said.
var propertyFlags = []struct{ property, flag, ask string }{
	{"services", "services", "Wires and lines run in"},
	{"insulation", "insulation", "Insulation"},
	{"retarder", "retarder", "Vapor retarder"},
	{"floor", "floor", "Floor"},
	{"finish", "finish", "Walls inside"},
	{"unit", "cooling-unit", "Cooling unit"},
	{"condenser", "condenser", "Warm side of the unit breathes"},
	{"refrigerant class", "refrigerant-class", "Safety class of the refrigerant"},
	{"drain", "drain", "Condensate drain"},
	{"permit", "permit", "Building permit"},
	{"collection", "collection", "Bottles in the room during work"},
}

func newJobOutline() *jobOutline {
	o := &jobOutline{properties: map[string]*string{}}
	o.fields = []*field{
		{flag: "title", ask: "Title of the job, without the client's name", must: true, check: notEmpty, to: &o.Title},
		{flag: "id", ask: "Id, the name of its folder", must: true, check: jobs.CheckID, to: &o.ID},
		{flag: "started", ask: "Day it starts", check: aDate, to: &o.Started},
		{flag: "year-built", ask: "Year the house was built", check: aYear, to: &o.YearBuilt},
		{flag: "altitude", ask: "Altitude of the site", check: quantityOf(units.LengthKind), to: &o.Altitude},
		{flag: "length", ask: "Length of the room", must: true, check: quantityOf(units.LengthKind), to: &o.Length},
		{flag: "width", ask: "Width", must: true, check: quantityOf(units.LengthKind), to: &o.Width},
		{flag: "height", ask: "Height", must: true, check: quantityOf(units.LengthKind), to: &o.Height},
		{flag: "bottles", ask: "Bottles the racks will hold", must: true, check: aCount, to: &o.Bottles},
		{flag: "set-point", ask: "Set point", check: quantityOf(units.TemperatureKind), to: &o.SetPoint},
		{flag: "low-humidity", ask: "Lowest humidity", otherwise: "50 % RH", check: quantityOf(units.HumidityKind), to: &o.LowHumidity},
		{flag: "high-humidity", ask: "Highest humidity", otherwise: "70 % RH", check: quantityOf(units.HumidityKind), to: &o.HighHumidity},
		{flag: "pull-down-limit", ask: "Time the unit may take to the set point", otherwise: "48 h", check: quantityOf(units.DurationKind), to: &o.PullDownLimit},
		{flag: "pull-down-load", ask: "Load of that test (empty or loaded)", otherwise: "empty", check: oneOf([]string{"empty", "loaded"}), to: &o.PullDownLoad},
	}
	for i, p := range propertyFlags {
		to, words := new(string), jobs.Properties[p.property]
		o.properties[p.property] = to
		ask := p.ask + " (" + strings.Join(words, ", ") + ")"
		o.fields = append(o.fields, &field{flag: p.flag, ask: ask, must: i < 3, check: oneOf(words), to: to})
	}
	return o
}

func (o *jobOutline) addFlags(c *cobra.Command) {
	before := map[string]bool{}
	c.Flags().VisitAll(func(f *flagOf) { before[f.Name] = true })
	addFields(c, o.fields)
	f := c.Flags()
	f.StringVar(&o.unitSystem, "units", "", "US or SI (default the company's)")
	f.StringVar(&o.Zone, "zone", "", "time zone of the site (default the company's)")
	f.StringVar(&o.Region, "region", "", "whose limits it starts with (default the company's)")
	f.StringVar(&o.Scheme, "scheme", "", "mold area scheme (default the company's, or the region's)")
	f.StringArrayVar(&o.faces, "face", nil, "a bounding surface: \"north wall: wall, house, 80 ft², 6 bays\"; may be given again")
	f.StringArrayVar(&o.designs, "design", nil, "design values: \"wall: depth 5 in, resistance R-18\"; may be given again")
	f.StringArrayVar(&o.layers, "layers", nil, "layers as planned: \"wall: gypsum board, 1/2 in; …\"; may be given again")
	f.StringArrayVar(&o.spaces, "space", nil, "air beyond faces: \"attic, 120 °F, 20 % RH, summer\"; may be given again")
	f.StringArrayVar(&o.values, "value", nil, "a figure that limits name: \"nominal voltage=230 V\"; may be given again")
	c.Flags().VisitAll(func(f *flagOf) {
		if !before[f.Name] {
			o.flags = append(o.flags, f.Name)
		}
	})
}

// said are the flags given that describe the job.
func (o *jobOutline) said(c *cobra.Command) []string {
	var said []string
	for _, name := range o.flags {
		if c.Flags().Changed(name) {
			said = append(said, "--"+name)
		}
	}
	return said
}

// begin takes over what the company says for all its jobs.
func (o *jobOutline) begin(company *jobs.Company, now time.Time) {
	from := jobs.NewOutline(company)
	o.Units, o.PhotoSize = from.Units, from.PhotoSize
	if o.unitSystem == "SI" {
		o.Units = units.SI
	} else if o.unitSystem == "US" {
		o.Units = units.US
	}
	if o.Zone == "" {
		o.Zone = from.Zone
	}
	if o.Scheme == "" && o.Region == "" {
		o.Scheme = from.Scheme
	}
	if o.Region == "" {
		o.Region = from.Region
	}
	setPoint := "55 °F"
	if o.Units == units.SI {
		setPoint = "13 °C"
	}
	o.field("set-point").otherwise = setPoint
	o.field("started").otherwise = now.In(company.Zone).Format(time.DateOnly)
	o.field("id").check = func(id string) error {
		if err := jobs.CheckID(id); err != nil {
			return err
		}
		if isJob(company.JobDir(id)) {
			return fmt.Errorf("there is a job %q already; choose another id", id)
		}
		return nil
	}
}

func (o *jobOutline) field(flag string) *field {
	return o.fields[slices.IndexFunc(o.fields, func(f *field) bool { return f.flag == flag })]
}

// check checks all that flags said, and returns what must still be said.
func (o *jobOutline) check() (missing []string, err error) {
	if missing, err = checkFlags(o.fields); err != nil {
		return nil, err
	}
	for _, f := range []struct {
		flag, text string
		check      func(string) error
	}{
		{"units", o.unitSystem, oneOf([]string{"US", "SI", ""})}, {"zone", o.Zone, aZone}, {"region", o.Region, o.checkRegion}, {"scheme", o.Scheme, o.checkScheme},
	} {
		if err := f.check(f.text); err != nil {
			return nil, &usageError{fmt.Sprintf("--%s: %v", f.flag, err)}
		}
	}
	if o.faces == nil {
		missing = append(missing, "--face")
	}
	return missing, o.readLists()
}

func (o *jobOutline) checkRegion(name string) error {
	r, known := phases.RegionNamed(name)
	if r == nil {
		return oneOf(known)(name)
	}
	if o.Scheme == "" {
		o.Scheme = r.Scheme
	}
	return nil
}

func (o *jobOutline) checkScheme(name string) error {
	if s, known := phases.Scheme(name); s == nil {
		return oneOf(known)(name)
	}
	return nil
}

// readLists reads the flags that may be given again.
func (o *jobOutline) readLists() error {
	for _, text := range o.faces {
		if err := o.addFace(text); err != nil {
			return &usageError{"--face: " + err.Error()}
		}
	}
	for _, text := range o.spaces {
		s, err := jobs.ParseSpace(text)
		if err != nil {
			return &usageError{"--space: " + err.Error()}
		}
		o.Spaces = append(o.Spaces, s)
	}
	for _, text := range o.values {
		name, value, ok := strings.Cut(text, "=")
		if !ok {
			return &usageError{fmt.Sprintf("--value: %q has no =; write \"nominal voltage=230 V\"", text)}
		}
		o.Values = append(o.Values, jobs.NamedText{Name: strings.TrimSpace(name), Text: strings.TrimSpace(value)})
	}
	if o.faces == nil {
		return nil // faces are asked for first
	}
	return o.dressFaces()
}

func (o *jobOutline) addFace(text string) error {
	f, err := jobs.ParseFace(text)
	if err != nil {
		return err
	}
	if slices.ContainsFunc(o.Faces, func(g jobs.OutlineFace) bool { return g.Name == f.Name }) {
		return fmt.Errorf("two faces are called %q", f.Name)
	}
	o.Faces = append(o.Faces, f)
	return nil
}

// dressFaces gives faces the design values and layers that flags name.
func (o *jobOutline) dressFaces() error {
	for _, d := range []struct {
		flag  string
		texts []string
		set   func(f *jobs.OutlineFace, text string) error
	}{{"design", o.designs, setDesign}, {"layers", o.layers, setLayers}} {
		for _, text := range d.texts {
			if err := o.each(text, d.set); err != nil {
				return &usageError{"--" + d.flag + ": " + err.Error()}
			}
		}
	}
	return nil
}

// each does something to the faces that the text before the colon names: one
// by its name, or all of a kind.
func (o *jobOutline) each(text string, do func(f *jobs.OutlineFace, rest string) error) error {
	name, rest, ok := strings.Cut(text, ":")
	if !ok {
		return fmt.Errorf("%q does not begin with a face or a kind of face and a colon", text)
	}
	found := false
	known := slices.Clone(phases.FaceKinds)
	for i := range o.Faces {
		f := &o.Faces[i]
		known = append(known, f.Name)
		if f.Name != name && f.Kind != strings.TrimSuffix(name, "s") {
			continue
		}
		found = true
		if err := do(f, strings.TrimSpace(rest)); err != nil {
			return err
		}
	}
	if !found {
		return fmt.Errorf("there is no face %q%s", name, strict.DidYouMean(name, known))
	}
	return nil
}

// complete asks for what is missing, or takes what stands for it.
func (o *jobOutline) complete(e *env, asking bool) error {
	if asking {
		if err := e.fill([]*field{o.field("title")}, asking); err != nil {
			return err
		}
		o.field("id").otherwise = jobs.IDFrom(o.Title)
	}
	if err := e.fill(o.fields, asking); err != nil {
		return err
	}
	for _, p := range propertyFlags {
		if text := *o.properties[p.property]; text != "" {
			o.Properties = append(o.Properties, jobs.NamedText{Name: p.property, Text: text})
		}
	}
	if asking {
		if err := o.askFaces(e); err != nil {
			return err
		}
	}
	o.houseAir()
	return nil
}

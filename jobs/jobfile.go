package jobs

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"proveout/checks"
	"proveout/checks/units"
	"proveout/checks/wiring"
	"proveout/phases"
	"proveout/phases/strict"
)

// JobFile is the file that describes a job.
const JobFile = "job.yaml"

// Description is the content of job.yaml.
type Description struct {
	ID        string
	Title     string
	Started   time.Time
	Zone      *time.Location
	Region    string
	Room      *checks.Room
	Equipment []Equipment
	PhotoSize int
	Schedule  string
}

// Equipment is a thing with a serial number that stays in the room.
type Equipment struct {
	Item, Model, Serial, Settings, Note string
}

// Properties are the words job.yaml may use under properties:, with their
// values; conditions in phase files ask about them.
var Properties = phases.Properties

// ReadDescription reads job.yaml. All its problems are reported.
func ReadDescription(file string, data []byte) (*Description, error) {
	doc, err := strict.Read(file, data, strict.Options{MaxBytes: strict.PlanLimit})
	if err != nil {
		return nil, err
	}
	m := doc.Map()
	d := &Description{
		ID: m.Text("job"), Title: m.Text("title"),
		Started: m.Date("started"), Zone: readZone(m), Region: m.Text("region"),
		Equipment: readEquipment(m), PhotoSize: DefaultPhotoSize,
	}
	if err := CheckID(d.ID); d.ID != "" && err != nil {
		m.Fail("job", "%v", err)
	}
	d.PhotoSize = intOr(m, "photo size", DefaultPhotoSize)
	d.Room = readRoom(m, d)
	if err := doc.Err(); err != nil {
		return nil, err
	}
	return d, nil
}

func intOr(m *strict.Map, key string, otherwise int) int {
	if n, ok := m.OptionalInt(key); ok {
		return n
	}
	return otherwise
}

func readEquipment(m *strict.Map) []Equipment {
	var all []Equipment
	for _, e := range m.OptionalMaps("equipment") {
		all = append(all, Equipment{
			Item: e.Text("item"), Model: e.OptionalText("model"), Serial: e.OptionalText("serial"),
			Settings: e.OptionalText("settings"), Note: e.OptionalText("note"),
		})
	}
	return all
}

func readRoom(m *strict.Map, d *Description) *checks.Room {
	r := &checks.Room{
		Job: d.ID, Units: readSystem(m), YearBuilt: intOr(m, "year built", 0),
		GuardBand: readAcceptance(m), Zone: d.Zone, Altitude: quantity(m, "altitude", units.LengthKind),
	}
	if r.YearBuilt != 0 && (r.YearBuilt < 1600 || !d.Started.IsZero() && r.YearBuilt > d.Started.Year()) {
		m.Fail("year built", "year built is %d; write the year the house was built", r.YearBuilt)
	}
	r.Scheme = readScheme(m)
	readFigures(m.Map("room"), r)
	r.Properties = readProperties(m, d.Region)
	r.Values = readValues(m)
	for _, s := range m.OptionalMaps("design conditions") {
		readSpace(s, r)
	}
	for _, f := range m.Maps("faces") {
		face := readFace(f)
		if r.Face(face.Name) != nil {
			f.Fail("face", "two faces are called %q", face.Name)
		}
		r.Faces = append(r.Faces, face)
	}
	readService(m, r)
	r.Materials = library(m, readProducts(m))
	return r
}

// readSpace reads the air of one space in one season, or all year.
func readSpace(m *strict.Map, r *checks.Room) {
	s := checks.Space{
		Name:        word(m, "space", phases.OtherSides),
		Season:      m.OptionalText("season"),
		Temperature: needed(m, "temperature", units.TemperatureKind),
		Humidity:    quantity(m, "humidity", units.HumidityKind),
	}
	if s.Season != "" && s.Season != "summer" && s.Season != "winter" && s.Season != "stress" {
		m.Fail("season", "season is %q; write summer, winter or stress (the most humid days), or leave it out for all year", s.Season)
	}
	if slices.ContainsFunc(r.Spaces, func(o checks.Space) bool { return o.Name == s.Name && o.Season == s.Season }) {
		m.Fail("space", "the air of %s stands twice for the same season", s.Name)
	}
	r.Spaces = append(r.Spaces, s)
}

func readScheme(m *strict.Map) *checks.Scheme {
	name := m.Text("mold scheme")
	if name == "" {
		return nil
	}
	scheme, known := phases.Scheme(name)
	if scheme == nil {
		m.Fail("mold scheme", "there is no mold scheme %q; known are: %s", name, strings.Join(known, ", "))
	}
	return scheme
}

func readFigures(m *strict.Map, r *checks.Room) {
	r.Length = needed(m, "length", units.LengthKind)
	r.Width = needed(m, "width", units.LengthKind)
	r.Height = needed(m, "height", units.LengthKind)
	r.SetPoint = needed(m, "set point", units.TemperatureKind)
	r.LowHumidity = needed(m, "low humidity", units.HumidityKind)
	r.HighHumidity = needed(m, "high humidity", units.HumidityKind)
	r.PullDownLimit = needed(m, "pull-down limit", units.DurationKind)
	r.PullDownLoad = word(m, "pull-down load", []string{"empty", "loaded"})
	r.Bottles = m.Int("bottles")
	r.AirChange = quantity(m, "air changes", units.AirChangeKind)
	if r.LowHumidity.Known() && r.HighHumidity.Known() && !(r.LowHumidity.Base() < r.HighHumidity.Base()) {
		m.Fail("low humidity", "low humidity %s is not below high humidity %s", r.LowHumidity, r.HighHumidity)
	}
}

func readProperties(m *strict.Map, region string) map[string]string {
	properties := map[string]string{"region": region}
	p := m.Map("properties")
	for _, pair := range p.Pairs() {
		values, ok := Properties[pair.Key]
		if !ok {
			pair.Value.Fail("unknown property %q; known are: %s", pair.Key, strings.Join(propertyNames(), ", "))
			continue
		}
		text := pair.Value.Text()
		if !slices.Contains(values, text) {
			pair.Value.Fail("%s is %q; write one of: %s", pair.Key, text, strings.Join(values, ", "))
		}
		properties[pair.Key] = text
	}
	for _, name := range []string{"services", "insulation", "retarder"} {
		if properties[name] == "" {
			m.Fail("properties", "property %q is missing; it selects the order of the holds; write one of: %s", name, strings.Join(Properties[name], ", "))
		}
	}
	return properties
}

func propertyNames() []string {
	var names []string
	for name := range Properties {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}

// readValues reads the figures that limits may name. A data-sheet figure is
// kept as written: what it measures depends on the limit that names it.
func readValues(m *strict.Map) map[string]string {
	values := map[string]string{}
	v, ok := m.OptionalMap("values")
	if !ok {
		return values
	}
	for _, p := range v.Pairs() {
		values[p.Key] = p.Value.Text()
		kind, known := checks.JobValues[p.Key]
		switch {
		case p.Key == checks.WiringEdition:
			if _, err := wiring.EditionNamed(values[p.Key]); err != nil {
				p.Value.Fail("%v", err)
			}
		case elsewhere(p.Key):
			p.Value.Fail("%s has its own place in job.yaml, in room or in a face's design; take it out here", p.Key)
		case known:
			if _, err := units.Parse(kind, values[p.Key]); err != nil {
				p.Value.Fail("%s: %v", p.Key, err)
			}
		case !strings.HasPrefix(p.Key, checks.DataSheet):
			p.Value.Fail("unknown value %q; write one of the job's values, or begin a product's figure with \"data sheet\"", p.Key)
		case !anyKind(values[p.Key]):
			p.Value.Fail("%s: %q is not a quantity with a unit", p.Key, values[p.Key])
		}
	}
	return values
}

// elsewhere reports whether a value that limits may name has its own place in
// job.yaml: written twice it could be two things.
func elsewhere(name string) bool {
	return strings.HasPrefix(name, "design ") || slices.Contains([]string{"set point", "low humidity", "high humidity", "pull-down limit"}, name)
}

func anyKind(text string) bool {
	return slices.ContainsFunc(units.Kinds(), func(k units.Kind) bool {
		_, err := units.Parse(k, text)
		return err == nil
	})
}

func readFace(m *strict.Map) checks.Face {
	f := checks.Face{
		Name: m.Text("face"), Kind: word(m, "kind", phases.FaceKinds),
		OtherSide: word(m, "other side", phases.OtherSides),
		Area:      needed(m, "area", units.AreaKind),
		Bays:      intOr(m, "bays", 0),
		Design:    map[string]units.Quantity{},
		AsFound:   ReadLayers(m, "as found"), AsPlanned: ReadLayers(m, "as planned"),
		Transmittance: quantity(m, "transmittance as found", units.TransmittanceKind),
		Sun:           quantity(m, "sun", units.TemperatureDifferenceKind),
	}
	if strings.ContainsAny(f.Name, "/") {
		m.Fail("face", "the name %q has a slash; slashes divide a face from its bay", f.Name)
	}
	if f.Transmittance.Known() && f.AsFound != nil {
		m.Fail("transmittance as found", "face %s has layers as found and a transmittance as found; write one of them", f.Name)
	}
	if f.Bays < 0 || f.Bays > 200 {
		m.Fail("bays", "bays is %d; write how many stud bays the face has", f.Bays)
	}
	design, ok := m.OptionalMap("design")
	if !ok {
		return f
	}
	for name, kind := range map[string]units.Kind{
		"depth": units.LengthKind, "resistance": units.ThermalResistanceKind,
		"installed resistance": units.ThermalResistanceKind, "permeance": units.PermeanceKind,
		"transmittance": units.TransmittanceKind,
	} {
		if q := quantity(design, name, kind); q.Known() {
			f.Design[name] = q
		}
	}
	return f
}

// ReadLayers reads the layers below a key, from the other side inwards. What is
// wrong with them is reported on the document.
func ReadLayers(m *strict.Map, key string) []checks.Layer {
	var layers []checks.Layer
	for _, l := range m.OptionalMaps(key) {
		is := l.OptionalText("is")
		if is != "" && is != "insulation" && is != "retarder" && is != "insulation and retarder" {
			l.Fail("is", "is: %q; write insulation, retarder, or insulation and retarder", is)
		}
		layers = append(layers, checks.Layer{
			Material:        l.Text("layer"),
			Thickness:       quantity(l, "thickness", units.LengthKind),
			Resistance:      quantity(l, "resistance", units.ThermalResistanceKind),
			Permeance:       quantity(l, "permeance", units.PermeanceKind),
			Framing:         quantity(l, "framing", units.PercentKind),
			FramingMaterial: l.OptionalText("framing material"),
			Insulation:      strings.HasPrefix(is, "insulation"),
			Retarder:        strings.HasSuffix(is, "retarder"),
		})
	}
	return layers
}

func word(m *strict.Map, key string, known []string) string {
	text := m.Text(key)
	if text != "" && !slices.Contains(known, text) {
		m.Fail(key, "%s is %q; write one of: %s", key, text, strings.Join(known, ", "))
	}
	return text
}

// needed reads a quantity that must be there.
func needed(m *strict.Map, key string, kind units.Kind) units.Quantity {
	if !m.Has(key) {
		m.Text(key) // reports that it is missing
		return units.Quantity{}
	}
	return quantity(m, key, kind)
}

// quantity reads a quantity that may be missing.
func quantity(m *strict.Map, key string, kind units.Kind) units.Quantity {
	text := m.OptionalText(key)
	if text == "" {
		return units.Quantity{}
	}
	q, err := units.Parse(kind, text)
	if err != nil {
		m.Fail(key, "%s: %v", key, err)
	}
	return q
}

// CheckID reports why a text cannot be a job's id: ids are names of folders
// and stay in the history, so they hold nothing personal and nothing odd.
func CheckID(id string) error {
	if len(id) < 2 || len(id) > 60 {
		return fmt.Errorf("a job id has 2 to 60 characters, not %d", len(id))
	}
	for _, r := range id {
		if r != '-' && (r < 'a' || r > 'z') && (r < '0' || r > '9') {
			return fmt.Errorf("job id %q: use lower-case letters, digits and hyphens, like birch-stair", id)
		}
	}
	if strings.HasPrefix(id, "-") || strings.HasSuffix(id, "-") {
		return fmt.Errorf("job id %q begins or ends with a hyphen", id)
	}
	return nil
}

// IDFrom suggests a job's id for its title, "" when the title gives none.
func IDFrom(title string) string {
	id := strings.Trim(safe(title)[:min(len(safe(title)), 40)], "-")
	if CheckID(id) != nil {
		return ""
	}
	return id
}

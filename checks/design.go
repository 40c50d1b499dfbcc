package checks

import (
	"errors"
	"fmt"
	"slices"

	"proveout/checks/envelope"
	"proveout/checks/units"
)

// siteCheck is a check whose records replace a value of the design.
type siteCheck struct {
	name string // phase.check
	// stage is when it is recorded, of the phases in stages.
	stage int
}

// siteChecks is the one place that says which records replace which values of
// the design. A depth replaces that of the layer marked insulation: the mean
// for heat, the thinnest for vapor and surfaces. A permeance and a side replace
// those of the layer marked retarder, a label's value that of door or glass, a
// fan test or the gap below the door the leak, a measured power that of the
// lights.
var siteChecks = []siteCheck{
	{"vapor-retarder.permeance", 1},
	{"vapor-retarder.retarder-side", 1}, {"vapor-retarder.floor-retarder-side", 1},
	{"insulation.foam-depth", 2}, {"insulation.fitted-depth", 2}, {"insulation.floor-depth", 2},
	{"insulation.foam-permeance", 2},
	{"door.label-transmittance", 3}, {"door.fan-test", 3}, {"door.bottom-gap", 3},
	{"electrical.light-power", 4}, {"commissioning.fan-test", 4},
}

var (
	depthChecks     = []string{"insulation.foam-depth", "insulation.fitted-depth", "insulation.floor-depth"}
	permeanceChecks = []string{"vapor-retarder.permeance", "insulation.foam-permeance"}
	sideChecks      = []string{"vapor-retarder.retarder-side", "vapor-retarder.floor-retarder-side"}
)

// stages orders the phases by what is built when they are released. A check
// looks at nothing that is built after its own phase: or each step would open
// the signed holds of those before. A phase that is not named comes last.
var stages = map[string]int{
	"assess": 0, "demo": 0, "framing": 0, "vapor-retarder": 1, "insulation": 2,
	"electrical": 2, "line-set": 2, "drywall": 2, "door": 3,
}

// lastStage sees everything that is built.
const lastStage = 4

// builtChecks are the checks whose records replace values of the design for a
// question of a phase.
func builtChecks(phase string) []string {
	stage, named := stages[phase]
	if !named {
		stage = lastStage
	}
	var names []string
	for _, s := range siteChecks {
		if s.stage <= stage {
			names = append(names, s.name)
		}
	}
	return names
}

// onSite returns the records of checks on a face ("" for all) that replace a
// value of the design by now. A record that cannot be used is an error: it says
// that something else was built, but not what.
func (c Case) onSite(names []string, face string) ([]Fact, error) {
	seen := builtChecks(c.Question.Phase)
	var facts []Fact
	for _, name := range names {
		q := c.Questions[name]
		if q == nil || !slices.Contains(seen, name) || !q.When.Holds(c.Decisions) {
			continue
		}
		of := c
		of.Question = q
		for _, f := range c.Facts.On(name, face) {
			if why := of.problem(f); why != "" {
				return nil, fmt.Errorf("%s at %s cannot be used: %s", name, f.Place, why)
			}
			facts = append(facts, f)
		}
	}
	return facts, nil
}

// faceDesign is a face as planned, with what was recorded on site instead.
type faceDesign struct {
	face     *Face
	assembly envelope.Assembly
	// retarder and insulation are indexes into the layers, −1 without one; they
	// are the same for foam that stops vapor.
	retarder, insulation int
	// stated stands for the layers of door and glass.
	stated units.Transmittance
	steps  []Step
	facts  []string
}

// depthOf takes one depth from those measured on a face.
type depthOf func([]Fact) (units.Length, string)

// meanDepth is what heat passes through: bays lie side by side.
func meanDepth(facts []Fact) (units.Length, string) {
	sum := 0.0
	for _, f := range facts {
		sum += f.Quantity.Base()
	}
	return units.Length(sum / float64(len(facts))), "mean depth of the insulation"
}

// thinnest is where vapor passes and surfaces are coldest.
func thinnest(facts []Fact) (units.Length, string) {
	least, _ := shallowest(facts)
	return least.Length(), "least depth of the insulation"
}

// design returns a face as planned or, as far as it is recorded, as built.
func (c Case) design(f *Face, depth depthOf) (faceDesign, error) {
	d := faceDesign{face: f, retarder: -1, insulation: -1, assembly: envelope.Assembly{Name: f.Name}}
	layers := f.AsPlanned
	if layers == nil {
		layers = f.AsFound
	}
	if layers == nil {
		return d, c.label(&d)
	}
	for i, l := range layers {
		layer, err := layerOf(c.Room.Materials, l)
		if err != nil {
			return d, fmt.Errorf("the %s, layer %d: %w", f.Name, i+1, err)
		}
		d.assembly.Layers = append(d.assembly.Layers, layer)
		if l.Insulation && d.insulation < 0 {
			d.insulation = i
		}
		if l.Retarder && d.retarder < 0 {
			d.retarder = i
		}
	}
	return d, errors.Join(c.measured(&d, depth), c.hung(&d), c.permeates(&d))
}

// measured puts in the depth of the insulation.
func (c Case) measured(d *faceDesign, depth depthOf) error {
	facts, err := c.onSite(depthChecks, d.face.Name)
	if err != nil || len(facts) == 0 {
		return err
	}
	if d.insulation < 0 {
		return fmt.Errorf("job.yaml marks no layer of the %s as insulation (is: insulation)", d.face.Name)
	}
	films, err := filmsOf(c.Room, d.face)
	if err != nil {
		return err
	}
	deep, name := depth(facts)
	planned := d.assembly.Layers[d.insulation]
	built, err := d.assembly.AsBuilt(films, envelope.Measurement{Layer: planned.Name, Depth: deep})
	if err != nil {
		return err
	}
	d.assembly = built.Assembly
	d.instead(name, units.Of(units.LengthKind, float64(deep), c.Room.Units), units.Of(units.LengthKind, float64(planned.Thickness), c.Room.Units), facts)
	return nil
}

// hung moves the retarder to the side of the insulation that it was found on.
func (c Case) hung(d *faceDesign) error {
	facts, err := c.onSite(sideChecks, d.face.Name)
	if err != nil || len(facts) == 0 || d.retarder < 0 || d.insulation < 0 || d.retarder == d.insulation {
		return err
	}
	side := facts[0].Answer
	for _, f := range facts {
		d.facts = append(d.facts, f.ID)
		if f.Answer != side {
			return fmt.Errorf("the retarder of the %s was found on both sides; supersede the wrong answer: proveout correct", d.face.Name)
		}
	}
	d.steps = append(d.steps, Step{Name: "side of the retarder", Value: side, Source: "record, instead of the design"})
	if (side == "room side") == (d.retarder > d.insulation) {
		return nil
	}
	film := d.assembly.Layers[d.retarder]
	layers := slices.Delete(slices.Clone(d.assembly.Layers), d.retarder, d.retarder+1)
	from := d.retarder
	if d.retarder = d.insulation; from > d.insulation {
		d.insulation++
	} else {
		d.insulation--
	}
	d.assembly.Layers = slices.Insert(layers, d.retarder, film)
	return nil
}

// permeates puts in the greatest permeance read on the face.
func (c Case) permeates(d *faceDesign) error {
	facts, err := c.onSite(permeanceChecks, d.face.Name)
	if err != nil || len(facts) == 0 || d.retarder < 0 {
		return err
	}
	most := slices.MaxFunc(facts, func(a, b Fact) int { return compareBase(a.Quantity, b.Quantity) }).Quantity
	planned, err := d.permeance()
	if err != nil {
		return err
	}
	layers := slices.Clone(d.assembly.Layers)
	layers[d.retarder].Vapor, layers[d.retarder].VaporSource = envelope.OfPermeance(most.Permeance()), "record"
	d.assembly.Layers = layers
	d.instead("permeance of the retarder", most, units.Of(units.PermeanceKind, float64(planned), c.Room.Units), facts)
	return nil
}

func compareBase(a, b units.Quantity) int {
	order, _ := units.Compare(a, b)
	return order
}

// permeance is that of the layer marked as the retarder.
func (d *faceDesign) permeance() (units.Permeance, error) {
	if d.retarder < 0 {
		return 0, fmt.Errorf("job.yaml marks no layer of the %s as its retarder (is: retarder)", d.face.Name)
	}
	l := d.assembly.Layers[d.retarder]
	sd, err := l.Vapor.SD(l.Thickness, 50)
	if err != nil {
		return 0, fmt.Errorf("the %s, %s: %w", d.face.Name, l.Name, err)
	}
	return envelope.PermeanceFromSD(sd), nil
}

// instead writes down what a record replaces.
func (d *faceDesign) instead(what string, found, planned units.Quantity, facts []Fact) {
	d.steps = append(d.steps, Step{Name: what, Formula: "planned: " + planned.String(), Value: found.String(), Source: "record, instead of the design"})
	for _, f := range facts {
		d.facts = append(d.facts, f.ID)
	}
}

// side is the face as package envelope knows it.
func (f *Face) side() envelope.Face {
	return envelope.Face{Kind: envelope.FaceKind(f.Kind), Other: envelope.OtherSide(f.OtherSide)}
}

// transmittance of the face between two temperatures, with its films.
func (d *faceDesign) transmittance(other, room units.Temperature) (units.Transmittance, envelope.Films, []Step, error) {
	films, err := envelope.SurfaceResistances(d.face.side(), other, room)
	if err != nil || d.stated > 0 {
		return d.stated, films, nil, err
	}
	whole, err := d.assembly.Resistance(films)
	if err != nil {
		return 0, films, nil, fmt.Errorf("the %s: %w", d.face.Name, err)
	}
	return whole.Transmittance, films, whole.Steps, nil
}

package checks

import (
	"fmt"

	"proveout/checks/envelope"
	"proveout/checks/units"
)

// labelChecks are read off doors and panes.
var labelChecks = []string{"door.label-transmittance"}

// InstalledTransmittance asks whether door and glass are as good as designed.
// A label speaks of a pane to outdoor air; between house and room it has indoor
// air on both sides.
var InstalledTransmittance = &Check{
	Name:   "installed-transmittance",
	Doc:    "transmittance of door and glass by their labels, with indoor air on both sides",
	Source: "1/U' = 1/U − Rs(label) + Rs(here), ISO 6946 and EN 673 surface resistances (from memory)",
	Result: units.TransmittanceKind,
	From:   "door.label-transmittance",
	Whole:  installedTransmittance,
}

func installedTransmittance(c Case) []Point {
	var points []Point
	for _, f := range c.Facts.On(c.source(), c.Face) {
		points = append(points, c.labelled(f))
	}
	if points == nil {
		return []Point{undecided("", "no label is read")}
	}
	return points
}

func (c Case) labelled(f Fact) Point {
	u, step, err := indoors(f.Quantity)
	if err != nil {
		return undecided(f.Place, "%v", err)
	}
	return Point{Place: f.Place, Quantity: units.Of(units.TransmittanceKind, float64(u), c.Room.Units), Steps: []Step{
		{Name: "label", Value: f.Quantity.String(), Source: "reading"}, step,
	}, Facts: []string{f.ID}}
}

// indoors is a label's transmittance with indoor air on both sides, which is how
// job.yaml states those of door and glass.
func indoors(label units.Quantity) (units.Transmittance, Step, error) {
	if !label.Known() {
		return 0, Step{}, fmt.Errorf("the label has no value")
	}
	u, err := envelope.RebasedTransmittance(label.Transmittance(), envelope.CatalogueFilms, envelope.StillAirFilms)
	return u, Step{
		Name: "with indoor air on both sides", Formula: fmt.Sprintf("1/U' = 1/%.3f − 0.17 + 0.26", float64(label.Transmittance())),
		Value: fmt.Sprintf("%.3f W/(m²·K)", float64(u)), Source: "ISO 6946 and EN 673 surface resistances (from memory)",
	}, err
}

// label states the transmittance of a face without layers: of the label read on
// site, or of the design, or as it was found where the design changes nothing.
func (c Case) label(d *faceDesign) error {
	planned := d.face.Design["transmittance"]
	if !planned.Known() {
		planned = d.face.Transmittance
	}
	facts, err := c.onSite(labelChecks, d.face.Name)
	if err != nil {
		return err
	}
	if len(facts) == 0 {
		if !planned.Known() {
			return fmt.Errorf("job.yaml says neither layers nor transmittance of the %s; add as planned: with its layers, or design: {transmittance: 1.5 W/(m²·K)}", d.face.Name)
		}
		d.stated = planned.Transmittance()
		return nil
	}
	for _, f := range facts { // the worst label counts
		u, step, err := indoors(f.Quantity)
		if err != nil {
			return err
		}
		if u > d.stated {
			d.stated = u
			d.steps = []Step{{Name: "label of the " + d.face.Name, Formula: "planned: " + planned.String(), Value: f.Quantity.String(), Source: "record, instead of the design"}, step}
		}
		d.facts = append(d.facts, f.ID)
	}
	return nil
}

package templates

import (
	"slices"
	"strings"

	"proveout/checks"
	"proveout/checks/units"
	"proveout/jobs"
	"proveout/phases"
)

// receipt is what InsulationReceipt prints.
type receipt struct {
	Head        head
	Parts       []receiptPart
	Papers      []evidence
	Cores       []coreResult
	Installers  []signatureLine
	Inspections []inspection
	Hold        *holdLine
	Resistances []check // computed, beside the product's own figure
	Cautions    []string
	Sources     []reference
}

// receiptPart is one part of the house.
type receiptPart struct {
	Face, Area, Product string
	Thickness           string // the least that was measured
	Place, Readings     string
	Planned, Measured   string
	Resistance          Markdown // as the product states it
}

// coreResult is what a core sample showed.
type coreResult struct{ Ask, Place, Result, By, At, Note string }

// InsulationReceipt writes the receipt that the installer signs and the
// customer keeps (16 CFR 460.17, read): coverage area, thickness and R-value of
// each part of the house. The R-value is the product's own; it is not computed
// from inches.
func InsulationReceipt(d Dossier) (Document, error) { return d.write("receipt", d.receipt()) }

func (d Dossier) receipt() receipt {
	refs := &references{}
	view := receipt{Head: d.head(), Cautions: d.cautions(d.Plan.Phase("insulation"))}
	for _, f := range d.Room.Faces {
		if i := insulationOf(f); i >= 0 {
			view.Parts = append(view.Parts, d.receiptPart(f, f.AsPlanned[i]))
		}
	}
	ph := d.Plan.Phase("insulation")
	if ph == nil {
		return view
	}
	for _, h := range ph.Holds {
		state, records := d.Gate.State(h), d.HoldRecords(h, nil)
		line := d.holdLine(h, state)
		view.Hold = &line
		view.Inspections = append(view.Inspections, d.inspectionsOf(records)...)
		view.Resistances = append(view.Resistances, d.resistances(state, refs)...)
		d.receiptRecords(&view, records)
	}
	view.Sources = refs.list
	return view
}

// resistances are the computed resistances of a hold.
func (d Dossier) resistances(s *phases.HoldState, refs *references) []check {
	questions := d.Plan.Questions()
	var all []check
	for _, v := range s.Verdicts {
		if q := questions[v.Check]; q.Kind == checks.Computed && q.Measures == units.ThermalResistanceKind {
			all = append(all, d.check(q, v, refs))
		}
	}
	return all
}

func insulationOf(f checks.Face) int {
	return slices.IndexFunc(f.AsPlanned, func(l checks.Layer) bool { return l.Insulation })
}

func (d Dossier) receiptPart(f checks.Face, l checks.Layer) receiptPart {
	p := receiptPart{Face: f.Name, Area: f.Area.Understood(d.Room.Units), Product: l.Material}
	if l.Thickness.Known() {
		p.Planned = l.Thickness.String()
	}
	worst, count := d.leastDepth(f)
	p.Thickness, p.Readings, p.Measured = "not measured yet", count, d.depthDays(f)
	if worst != nil {
		p.Thickness, p.Place = worst.Quantity.Understood(d.Room.Units), placeText(worst.Place)
	}
	p.Resistance = statedResistance(l, worst)
	return p
}

// statedResistance is the product's R-value, which holds for the thickness it
// is stated for and for no thinner layer.
func statedResistance(l checks.Layer, worst *checks.Point) Markdown {
	stated := l.Resistance.String()
	switch {
	case !l.Resistance.Known():
		return blank + " from the product's label or data sheet"
	case worst == nil:
		return Escape(stated + " as planned")
	case l.Thickness.Known() && !units.AtLeast(worst.Quantity, l.Thickness):
		return blank + " " + Escape("("+stated+" is stated for "+l.Thickness.String()+", which was not reached)")
	}
	return Escape(stated)
}

// blank is a line to fill in by hand.
const blank Markdown = "______"

// leastDepth is the shallowest reading of the checks that measure depth on a
// face against its design, and how many there are.
func (d Dossier) leastDepth(f checks.Face) (worst *checks.Point, count string) {
	taken, planned := 0, 0
	for _, h := range d.Plan.Holds() {
		for _, q := range h.Checks {
			if q.Limits.AtLeast.Name != "design depth" || !d.Gate.Asked(q) || !q.Applies(d.Room, f.Name) {
				continue
			}
			planned += len(q.Expected(d.Room, f.Name))
			for _, p := range points(d.Gate.State(h), q.ID()) {
				if checks.FaceOf(p.Place) != f.Name || !p.Quantity.Known() {
					continue
				}
				taken++
				if worst == nil || units.AtMost(p.Quantity, worst.Quantity) {
					worst = &p
				}
			}
		}
	}
	return worst, plural(taken, "reading") + " of " + plural(planned, "point")
}

// depthDays are the days on which the depth of a face was measured.
func (d Dossier) depthDays(f checks.Face) string {
	var of []*jobs.Record
	for _, q := range d.Plan.Questions() {
		if q.Limits.AtLeast.Name != "design depth" {
			continue
		}
		for _, r := range d.answers(q.ID()) {
			if checks.FaceOf(r.Place) == f.Name {
				of = append(of, r)
			}
		}
	}
	days, _ := d.visited(of)
	return days
}

// receiptRecords sorts the records of the insulation's hold: papers, cores,
// and the people with a licence who did the work.
func (d Dossier) receiptRecords(view *receipt, records []*jobs.Record) {
	questions := d.Plan.Questions()
	for _, r := range records {
		q := questions[r.CheckID()]
		if r.Kind != jobs.AnswerRecord || !d.Current(r) || q == nil {
			continue
		}
		if q.Kind == checks.Paper {
			view.Papers = append(view.Papers, d.evidenceOf([]*jobs.Record{r})...)
			line := signatureLine{"installer", r.By, r.Licence}
			if q.Name == "applicator" && !slices.Contains(view.Installers, line) {
				view.Installers = append(view.Installers, line)
			}
		}
		if strings.HasPrefix(q.Name, "core-") {
			view.Cores = append(view.Cores, coreResult{q.Ask, d.place(q, r.Place), r.Shown(), r.By, d.day(r.Measured), r.Note})
		}
	}
	if view.Installers == nil {
		view.Installers = []signatureLine{{Role: "installer"}}
	}
}

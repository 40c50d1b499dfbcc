package templates

import (
	"fmt"
	"slices"
	"strings"

	"proveout/checks"
	"proveout/phases"
)

// signoffSheet is what Signoff prints.
type signoffSheet struct {
	Head                       head
	Hold, Phase, Title, Covers string
	State, Plan                string
	Draft, Stale, Released     bool
	Missing, Changed           []string
	Before, Faces              []holdLine
	Checks, Reasons            []check
	Maps                       []Figure
	Inspections                []inspection
	Waits                      []wait
	Deviations                 []deviation
	Evidence                   []evidence
	Instruments                []instrument
	Cautions                   []string
	Signed                     []signature
	Wanted                     []string
	Lines                      []signatureLine
	Next                       []string
	Sources                    []reference
	Calculations               []calculation
}

// holdLine is a hold, or a face of one, with where it stands.
type holdLine struct{ ID, Title, State, Signed string }

// signatureLine is a line that somebody signs on paper.
type signatureLine struct{ Role, Name, Licence string }

// Signoff writes the sign-off sheet of a hold: what was checked, what it rests
// on, who signed it and how to find out whether anything was changed. Before
// it is signed it is a draft that says what is missing.
func Signoff(d Dossier, h *phases.Hold) (Document, error) {
	return d.write("signoff", d.signoffSheet(h))
}

func (d Dossier) signoffSheet(h *phases.Hold) signoffSheet {
	s := d.Gate.State(h)
	records := d.HoldRecords(h, nil)
	refs := &references{}
	sheet := signoffSheet{
		Head: d.head(), Hold: h.ID(), Phase: h.Phase.Title, Title: h.Title, Covers: h.Covers,
		State: string(s.State), Plan: d.plan(), Stale: s.State == phases.Stale, Released: s.State == phases.Signed,
		Before: d.before(h), Faces: d.faceLines(h, s),
		Checks:      d.checksOf(s, refs, measuredKinds...),
		Inspections: d.inspectionsOf(records), Waits: d.waitsOf(s.Verdicts),
		Deviations: d.deviations(h.ID()), Evidence: d.evidenceOf(records), Instruments: d.instrumentsOf(records),
		Cautions: d.cautions(h.Phase), Signed: d.signoffs(h.ID()), Wanted: s.WantRoles, Lines: d.signatureLines(h),
		Next: d.after(h), Calculations: d.calculations(s), Maps: d.maps(s, ""),
	}
	sheet.Draft = !sheet.Stale && !sheet.Released
	if sheet.Stale {
		sheet.Changed, sheet.Wanted = s.Stale, h.Roles(d.Gate.Decisions)
	}
	if !sheet.Released {
		sheet.Missing = missing(s)
	}
	for _, c := range sheet.Checks {
		if c.Reason != "" {
			sheet.Reasons = append(sheet.Reasons, c)
		}
	}
	d.checksOf(s, refs) // inspections and waits name their sources as well
	sheet.Sources = refs.list
	return sheet
}

// measuredKinds are the kinds of check that stand in the table of checks;
// inspections and waits have tables of their own.
var measuredKinds = []checks.Kind{checks.Reading, checks.Computed, checks.Observation, checks.Choice, checks.Paper}

// missing says what keeps a hold from being released.
func missing(s *phases.HoldState) []string {
	var all []string
	for _, up := range s.BlockedBy {
		all = append(all, up+" must be released first")
	}
	for _, v := range s.Verdicts {
		if !v.Settled() {
			all = append(all, fmt.Sprintf("%s (%s): %s", v.Ask, v.Check, strings.Join(append([]string{outcome(v)}, v.Reasons...), "; ")))
		}
	}
	for _, n := range s.Open {
		all = append(all, n+" is open")
	}
	for _, role := range s.WantRoles {
		all = append(all, "the signature of the "+role)
	}
	return all
}

// before lists the holds that must be released first.
func (d Dossier) before(h *phases.Hold) []holdLine {
	var lines []holdLine
	for _, up := range d.Plan.Before(h, d.Gate.Decisions) {
		lines = append(lines, d.holdLine(up, d.Gate.State(up)))
	}
	return lines
}

func (d Dossier) holdLine(h *phases.Hold, s *phases.HoldState) holdLine {
	var signed []string
	for _, sig := range d.Releases(h.ID()) {
		signed = append(signed, sig.By+", "+sig.Role+", "+d.day(sig.At))
	}
	return holdLine{h.ID(), h.Title, string(s.State), strings.Join(signed, "; ")}
}

// faceLines shows each face of a hold that is released face by face.
func (d Dossier) faceLines(h *phases.Hold, s *phases.HoldState) []holdLine {
	var lines []holdLine
	for _, name := range s.Faces {
		of := d.Gate.FaceState(h, name)
		var signed []string
		for _, r := range of.Signed {
			signed = append(signed, r.By+", "+r.Role+", "+d.day(r.At))
		}
		lines = append(lines, holdLine{h.ID(), name, string(of.State), strings.Join(signed, "; ")})
	}
	return lines
}

// after lists the holds that wait for this one.
func (d Dossier) after(h *phases.Hold) []string {
	var next []string
	for _, o := range d.Plan.Holds() {
		if o.When.Holds(d.Gate.Decisions) && slices.Contains(d.Plan.Before(o, d.Gate.Decisions), h) {
			next = append(next, o.ID())
		}
	}
	return next
}

// signatureLines are the lines to sign on paper, with the name of who has
// signed already.
func (d Dossier) signatureLines(h *phases.Hold) []signatureLine {
	var lines []signatureLine
	for _, role := range h.Roles(d.Gate.Decisions) {
		line := signatureLine{Role: role}
		for _, s := range d.Releases(h.ID()) {
			if s.Role == role {
				line.Name, line.Licence = s.By, s.Licence
			}
		}
		lines = append(lines, line)
	}
	return lines
}

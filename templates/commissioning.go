package templates

import (
	"slices"
	"strings"

	"proveout/checks"
	"proveout/jobs"
	"proveout/phases"
)

// record is what CommissioningRecord prints.
type record struct {
	Head           head
	Provisional    []string
	Handed         string // day of the handover; "" while it is not signed
	Wrong, Meaning string
	WrongNote      string
	Conceded       []deviation
	Done           []done
	Proved         []provedTest
	Wanted         string
	Normal         []fact
	Dangers        []string
	Faces          []builtFace
	Layers         []layerGroup
	Sections       []Figure
	Hidden         []coveredFace
	DoorMaps       []Figure
	Logged         *proved // nil without a log that can be analysed
	HiddenRoom     []photo
	Equipment      []equipment
	Tests          []testedHold
	Signed         []signature
	Inspections    []inspection
	Deviations     []deviation
	Cautions       []string
	People         []signatureLine
	Warranty       []string
	Care           care
	Lists          []string
	Calculations   []calculation
	Sources        []reference
	Instruments    []instrument
	Lines          []signatureLine
}

// builtFace is a face as it was built and measured.
type builtFace struct {
	Name, OtherSide, Area, Design string
	Depth, Whole, Insulation      string
	Layers                        []layer
}

// testedHold are the tests of one hold.
type testedHold struct {
	ID, Title, State string
	Checks           []check
}

// CommissioningRecord writes what the homeowner keeps: page one in plain words,
// then how the room is built, what is behind its board, every test with limit
// and source, who signed, how to care for the room and whom to call.
func CommissioningRecord(d Dossier) (Document, error) { return d.write("commissioning", d.record()) }

func (d Dossier) record() record {
	refs := &references{}
	hidden := d.coverUp()
	view := record{
		Head: d.head(), Provisional: d.provisional(), Wanted: d.wantedClimate(),
		Done: d.phasesDone(), Proved: d.proofs(), Normal: d.normal(), Dangers: d.dangers(), Care: d.care(),
		Faces: d.builtFaces(), Layers: layerGroups(d.faces(asPlanned)),
		Hidden: hidden.Faces, HiddenRoom: hidden.Room, Equipment: d.equipment(),
		Inspections: d.inspectionsOf(d.Records), Deviations: d.deviations(""), Instruments: d.instrumentsOf(d.Records),
		Cautions: d.cautions(d.Plan.Phase(commissioning)), People: d.people(),
	}
	view.Logged = d.proofOf()
	view.DoorMaps = d.mapsOfCheck("door.door-gap", "")
	view.Sections = d.sectionsBuilt(view.Layers)
	view.Hidden = slices.DeleteFunc(view.Hidden, func(f coveredFace) bool { return f.Photos == nil && f.Holes == nil && f.Maps == nil })
	if r := d.answer("assess.cause"); r != nil {
		view.Wrong, view.Meaning, view.WrongNote = r.Answer, meaning[r.Answer], sentence(r.Note)
		if r.Answer == "more than one" {
			view.Wrong, view.Meaning = d.causes()
		}
	}
	for _, n := range view.Deviations {
		if n.Concession && !n.Open {
			view.Conceded = append(view.Conceded, n)
		}
	}
	if d.Company != nil {
		view.Warranty = d.Company.Warranty
	}
	d.tested(&view, refs)
	view.Sources = refs.list
	return view
}

// tested fills in tests and sign-offs of all holds, and the calculations that prove
// the finished room.
func (d Dossier) tested(view *record, refs *references) {
	for _, h := range d.Plan.Holds() {
		s := d.Gate.State(h)
		if s.State == phases.NotApplicable {
			continue
		}
		view.Tests = append(view.Tests, testedHold{h.ID(), h.Title, string(s.State), d.checksOf(s, refs)})
		if h.Phase.Name == commissioning { // the others stand on the sign-off sheets
			view.Calculations = append(view.Calculations, d.calculations(s)...)
		}
		for _, sig := range d.signoffs(h.ID()) {
			view.Signed = append(view.Signed, sig)
			view.Lists = append(view.Lists, sig.List)
		}
	}
	h := d.Plan.Hold(handover)
	if h == nil {
		return
	}
	view.Lines = d.signatureLines(h)
	if d.Gate.State(h).State != phases.Signed {
		return
	}
	for _, sig := range d.Releases(handover) {
		view.Handed = d.day(sig.At)
	}
}

// builtFaces are the faces with what was measured and computed on each.
func (d Dossier) builtFaces() []builtFace {
	var all []builtFace
	for _, f := range d.Room.Faces {
		b := builtFace{Name: f.Name, OtherSide: f.OtherSide, Area: f.Area.Understood(d.Room.Units), Design: designText(f)}
		if insulationOf(f) >= 0 {
			worst, count := d.leastDepth(f)
			b.Depth = "not measured"
			if worst != nil {
				b.Depth = worst.Quantity.Understood(d.Room.Units) + " at the thinnest of " + count
			}
			b.Whole = d.pointOn(f.Name, checks.EffectiveResistance)
			b.Insulation = d.pointOn(f.Name, checks.InstalledResistance)
		}
		all = append(all, b)
	}
	return all
}

// pointOn is the value that a computed check found on a face.
func (d Dossier) pointOn(face string, check *checks.Check) string {
	for _, h := range d.Plan.Holds() {
		for _, q := range h.Checks {
			if q.Compute != check.Name || !d.Gate.Asked(q) {
				continue
			}
			for _, p := range points(d.Gate.State(h), q.ID()) {
				if p.Place == face && p.Quantity.Known() {
					return d.value(p)
				}
			}
		}
	}
	return ""
}

// people are those who entered something or signed, with roles and licence.
func (d Dossier) people() []signatureLine {
	var all []signatureLine
	add := func(name string, roles []string, licence string) {
		line := signatureLine{Role: strings.Join(roles, ", "), Name: name, Licence: licence}
		if name != jobs.Homeowner.Name && !slices.Contains(all, line) {
			all = append(all, line)
		}
	}
	for _, r := range d.Records {
		add(r.By, r.Roles, r.Licence)
	}
	slices.SortFunc(all, func(a, b signatureLine) int { return strings.Compare(a.Name, b.Name) })
	return all
}

package templates

import (
	"maps"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"proveout/checks"
	"proveout/phases"
)

// scope is what Scope prints.
type scope struct {
	Head       head
	Plan       string
	Room       []fact
	Faces      []face
	Layers     []layerGroup
	Conditions []condition
	Equipment  []equipment
	Hazards    []hazard
	Order      []orderLine
	Changed    []changedLimit
	Phases     []scopePhase
	Sources    []reference
	Warranty   []string
	Lines      []signatureLine
}

// fact is one thing that is known of the job.
type fact struct{ Name, Value string }

// condition is the air beyond faces that the room is designed for.
type condition struct{ Space, Season, Temperature, Humidity string }

// equipment is a thing with a serial number that stays.
type equipment struct{ Item, Model, Serial, Settings, Note string }

// orderLine is a hold with what comes before it and who releases it.
type orderLine struct{ ID, Title, After, SignedBy, Invited, Faces string }

// changedLimit is a limit that differs from the default, with its reason.
type changedLimit struct{ Check, Ask, Limit, Default, Reason string }

// scopePhase is a phase with its inspection and test plan.
type scopePhase struct {
	Number                           int
	Title, Purpose, HandOff          string
	Crew, Materials, Steps, Cautions []string
	Photos, LastChance               []string
	Holds                            []scopeHold
}

// scopeHold is a hold of the inspection and test plan.
type scopeHold struct {
	orderLine
	Covers      string
	Checks      []planned
	Inspections []planned
	Waits       []planned
}

// planned is a check as it is agreed before anything is measured.
type planned struct {
	Ask, Limit, Points, With, By, Fails, Ref string
	Note                                     string
}

// Scope writes what is to be built and the inspection and test plan that goes
// with it: the holds in their order, each check with limit, number of points,
// instrument and source, who signs, what waits.
func Scope(d Dossier) (Document, error) { return d.write("scope", d.scope()) }

func (d Dossier) scope() scope {
	refs := &references{}
	view := scope{
		Head: d.head(), Plan: d.plan(), Room: d.roomFacts(), Faces: d.faces(asPlanned), Conditions: d.conditions(),
		Equipment: d.equipment(), Hazards: d.hazards(), Changed: d.changedLimits(),
		Lines: []signatureLine{{Role: "owner"}, {Role: "homeowner"}},
	}
	view.Layers = layerGroups(view.Faces)
	if d.Company != nil {
		view.Warranty = d.Company.Warranty
	}
	for _, ph := range d.Plan.Phases {
		view.Phases = append(view.Phases, d.scopePhase(ph, refs))
	}
	for _, ph := range view.Phases {
		for _, h := range ph.Holds {
			view.Order = append(view.Order, h.orderLine)
		}
	}
	view.Sources = refs.list
	return view
}

func (d Dossier) scopePhase(ph *phases.Phase, refs *references) scopePhase {
	view := scopePhase{
		Number: ph.Number, Title: ph.Title, Purpose: ph.Purpose, HandOff: ph.HandOff,
		Crew: ph.Crew, Materials: ph.Materials, Cautions: d.cautions(ph),
		Steps: phases.ForDecisions(ph.Steps, d.Gate.Decisions), Photos: ph.Photos, LastChance: ph.LastChance,
	}
	for _, h := range ph.Holds {
		if h.When.Holds(d.Gate.Decisions) {
			view.Holds = append(view.Holds, d.scopeHold(h, refs))
		}
	}
	return view
}

func (d Dossier) scopeHold(h *phases.Hold, refs *references) scopeHold {
	view := scopeHold{orderLine: d.orderLine(h), Covers: h.Covers}
	for _, q := range h.Checks {
		if !d.Gate.Asked(q) {
			continue
		}
		p := d.planned(q, refs)
		switch q.Kind {
		case checks.Inspection:
			view.Inspections = append(view.Inspections, p)
		case checks.Wait:
			view.Waits = append(view.Waits, p)
		default:
			view.Checks = append(view.Checks, p)
		}
	}
	return view
}

func (d Dossier) orderLine(h *phases.Hold) orderLine {
	line := orderLine{
		ID: h.ID(), Title: h.Title, After: "nothing",
		SignedBy: strings.Join(h.Roles(d.Gate.Decisions), ", "), Invited: strings.Join(h.Invite, ", "),
	}
	var before []string
	for _, up := range d.Plan.Before(h, d.Gate.Decisions) {
		before = append(before, up.ID())
	}
	if before != nil {
		line.After = strings.Join(before, ", ")
	}
	if h.FaceByFace {
		line.Faces = "face by face"
	}
	return line
}

func (d Dossier) planned(q *checks.Question, refs *references) planned {
	p := planned{
		Ask: q.Ask, Limit: limitText(q, d.Room), Points: samplingText(q, d.Room), With: means(q),
		By: strings.Join(q.By, " or "), Fails: q.IfFails, Ref: refs.number(q.Source, q.Mark),
	}
	var notes []string
	if q.Safety {
		notes = append(notes, "safety: cannot be accepted as it is")
	}
	if q.Code {
		notes = append(notes, "a rule of the code")
	}
	if names := q.When.Undecided(d.Gate.Decisions); names != nil {
		notes = append(notes, "on until decided: "+strings.Join(names, ", "))
	}
	p.Note = strings.Join(notes, "; ")
	return p
}

// means are the instrument and the photo that a check wants.
func means(q *checks.Question) string {
	var parts []string
	if q.Instrument != "" {
		parts = append(parts, q.Instrument)
	}
	switch {
	case q.PhotoEach:
		parts = append(parts, "photo each")
	case q.PhotoOne:
		parts = append(parts, "photo")
	}
	return strings.Join(parts, ", ")
}

// changedLimits lists the limits that are not the program's defaults.
func (d Dossier) changedLimits() []changedLimit {
	defaults := map[string]*checks.Question{}
	if plan, err := phases.ReadPlan(phases.Defaults()); err == nil {
		defaults = plan.Questions()
	}
	var all []changedLimit
	for _, h := range d.Plan.Holds() {
		for _, q := range h.Checks {
			if q.LimitReason == "" || !d.Gate.Asked(q) {
				continue
			}
			c := changedLimit{Check: q.ID(), Ask: q.Ask, Limit: limitText(q, d.Room), Default: "not in the defaults", Reason: q.LimitReason}
			if was := defaults[q.ID()]; was != nil {
				c.Default = limitText(was, d.Room)
			}
			all = append(all, c)
		}
	}
	return all
}

// capital begins a text with a capital letter.
func capital(text string) string {
	first, size := utf8.DecodeRuneInString(text)
	if size == 0 {
		return ""
	}
	return string(unicode.ToUpper(first)) + text[size:]
}

// properties are the words of job.yaml about the job, in the order of names.
func (d Dossier) properties() []fact {
	var all []fact
	for _, name := range slices.Sorted(maps.Keys(d.Room.Properties)) {
		all = append(all, fact{capital(name), d.Room.Properties[name]})
	}
	return all
}

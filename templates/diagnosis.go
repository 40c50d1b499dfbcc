package templates

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"proveout/checks"
	"proveout/jobs"
	"proveout/phases"
)

// diagnosisSheet is what Diagnosis prints.
type diagnosisSheet struct {
	Head                head
	Missing             bool // the plan has no such phase
	Draft               bool
	Visited             string
	People              []string
	Wanted, Found       string
	Cause, CauseNote    string
	Meaning             string // of the cause, in plain words
	Evidence            *check // whether the cause fits every reading
	Hazards             []hazard
	Unknown             []string
	Next                []string
	Air                 []air
	Faces               []face
	Layers              []layerGroup
	Patches             []reading
	Mold                hazard
	Readings            []readingGroup
	Checks              []check
	Inspections         []inspection
	Notes               []note
	Instruments         []instrument
	Photos              []evidence
	Cautions            []string
	Signed              []signature
	Lines               []signatureLine
	Calculations        []calculation
	Sources             []reference
	Room                []fact
	Equipment           []equipment
	DewPoint, DewPointM string
	Records             *fromRecords // nil when the job is not described well enough
	NoRecords           string       // why
}

// Diagnosis writes what was found in the assess phase: page one in plain words,
// then the readings, the hazards, what could not be checked and the
// instruments.
func Diagnosis(d Dossier) (Document, error) { return d.write("diagnosis", d.diagnosis()) }

const assess = "assess"

func (d Dossier) diagnosis() diagnosisSheet {
	view := diagnosisSheet{
		Head: d.head(), Hazards: d.hazards(), Mold: d.mold(), Room: d.roomFacts(), Equipment: d.equipment(),
		Faces: d.faces(asFound), Wanted: d.wantedClimate(), DewPoint: dewPointSource, DewPointM: "computed",
	}
	view.Layers = layerGroups(view.Faces)
	view.Records, view.NoRecords = d.explained()
	ph := d.Plan.Phase(assess)
	if ph == nil {
		view.Missing = true
		return view
	}
	d.assessed(&view, ph)
	d.found(&view, ph)
	return view
}

// assessed fills in what the phase asked and recorded.
func (d Dossier) assessed(view *diagnosisSheet, ph *phases.Phase) {
	refs := &references{}
	leave := map[string]bool{"assess.mold-patch": true}
	for _, pair := range pairs(ph) {
		view.Air = append(view.Air, d.airOf(pair)...)
		leave[pair[0].ID()], leave[pair[1].ID()] = true, true
	}
	view.Patches = d.readings("assess.mold-patch")
	view.Readings = d.readingGroups(ph, refs, leave)
	view.Notes, view.Cautions = d.notes(assess), d.cautions(ph)
	var records []*jobs.Record
	for _, h := range ph.Holds {
		s := d.Gate.State(h)
		records = append(records, d.HoldRecords(h, nil)...)
		view.Checks = append(view.Checks, d.checksOf(s, refs, checks.Computed, checks.Observation, checks.Choice, checks.Paper)...)
		view.Unknown = append(view.Unknown, d.unknown(s)...)
		view.Signed = append(view.Signed, d.signoffs(h.ID())...)
		view.Lines = append(view.Lines, d.signatureLines(h)...)
		view.Calculations = append(view.Calculations, d.calculations(s)...)
		view.Next = append(view.Next, d.nextHolds(h)...)
		view.Draft = view.Draft || s.State != phases.Signed
	}
	view.Inspections, view.Instruments = d.inspectionsOf(records), d.instrumentsOf(records)
	view.Photos = slices.DeleteFunc(d.evidenceOf(records), func(e evidence) bool { return !e.Photo })
	view.Visited, view.People = d.visited(records)
	view.Sources = refs.list
}

// found fills in page one: the cause and what the room does.
func (d Dossier) found(view *diagnosisSheet, ph *phases.Phase) {
	if r := d.answer("assess.cause"); r != nil {
		view.Cause, view.CauseNote = r.Answer, sentence(r.Note)
		view.Meaning = meaning[r.Answer]
		if r.Answer == "more than one" {
			view.Cause, view.Meaning = d.causes()
		}
	}
	for i, c := range view.Checks {
		if c.ID == "assess.cause-evidence" && view.Cause != "" {
			view.Evidence = &view.Checks[i]
		}
	}
	view.Found = d.climate("assess.room-temperature", "assess.room-humidity")
}

// causes are the several causes that were stated, and what each does to the room.
func (d Dossier) causes() (names, means string) {
	var list, words []string
	for _, r := range d.answers("assess.causes") {
		if !slices.Contains(list, r.Answer) {
			list, words = append(list, r.Answer), append(words, meaning[r.Answer])
		}
	}
	return strings.Join(list, ", and "), strings.Join(words, " ")
}

// meaning says in plain words what a cause does to a room.
var meaning = map[string]string{
	"air leakage":                           "House air gets in through gaps. It brings warmth, and water that turns to damp in the cold room.",
	"insulation missing or thin":            "Walls, ceiling or floor hold back too little warmth.",
	"retarder missing or on the wrong side": "Water vapor of the house gets into the walls and turns to water there.",
	"door or glass":                         "The door or its glass lets in warmth and air.",
	"unit too small":                        "The cooling unit cannot carry away the warmth that comes in.",
	"unit faulty":                           "The cooling unit does not do what it was made for.",
	"heat cannot get away":                  "The cooling unit cannot get rid of its heat.",
	"drain or water from outside":           "Water comes in, or does not run off.",
	"control or airflow":                    "The control is off, or the cold air does not reach every corner.",
	"moisture from the past":                "Walls or floor still hold water from before.",
	"none found, the room is sound":         "Every sign of a failing room was looked for, and none was found.",
}

// sentence begins a note with a capital letter and ends it with a stop.
func sentence(note string) string {
	note = plain(note)
	if note == "" || strings.ContainsAny(note[len(note)-1:], ".!?") {
		return capital(note)
	}
	return capital(note) + "."
}

// wantedClimate is what the room is to hold.
func (d Dossier) wantedClimate() string {
	return fmt.Sprintf("%s, and a humidity of %s", d.Room.SetPoint, d.humidityBand())
}

// climate is the range of temperature and humidity that was read; "" when
// nothing was.
func (d Dossier) climate(temperature, humidity string) string {
	var parts []string
	for _, id := range []string{temperature, humidity} {
		h := d.Plan.HoldOf(id)
		if h == nil {
			continue
		}
		if text := readingRange(points(d.Gate.State(h), id), d.Room.Units); text != "" {
			parts = append(parts, text)
		}
	}
	return strings.Join(parts, " and ")
}

// unknown lists the checks of a hold that are undecided, and those answered
// with "not applicable".
func (d Dossier) unknown(s *phases.HoldState) []string {
	var all []string
	for _, v := range s.Verdicts {
		if v.Outcome == checks.Undecided {
			all = append(all, asked(v.Ask)+" "+strings.Join(v.Reasons, "; "))
		}
		for _, r := range d.answers(v.Check) {
			if r.Answer == "not applicable" {
				all = append(all, asked(v.Ask)+" not applicable, "+r.Note)
			}
		}
	}
	return all
}

// nextHolds are the holds that come after one, with their titles.
func (d Dossier) nextHolds(h *phases.Hold) []string {
	var next []string
	for _, id := range d.after(h) {
		next = append(next, d.Plan.Hold(id).Title)
	}
	return next
}

// visited is the time in which records were taken, and who took them.
func (d Dossier) visited(records []*jobs.Record) (when string, people []string) {
	var first, last time.Time
	for _, r := range records {
		if r.Kind != jobs.AnswerRecord {
			continue
		}
		if first.IsZero() || r.Measured.Before(first) {
			first = r.Measured
		}
		if r.Measured.After(last) {
			last = r.Measured
		}
		if name := who(r); !slices.Contains(people, name) {
			people = append(people, name)
		}
	}
	slices.Sort(people)
	return d.period(first, last), people
}

package jobs

import (
	"slices"
	"strings"
	"time"

	"proveout/phases/strict"
)

// What a record is about.
const (
	AnswerRecord      = "answer"      // of a check
	PenetrationRecord = "penetration" // a hole through retarder or insulation
	NoteRecord        = "note"
	VoidRecord        = "void"          // takes back what it supersedes
	NonconformityRec  = "nonconformity" // a requirement not met
	DispositionRecord = "disposition"   // rework, repair or concession
	AgreementRecord   = "agreement"     // of somebody who must agree
	ClosingRecord     = "closing"       // the nonconformity is dealt with
	AdoptionRecord    = "adoption"      // plan and job file as they are from here on
	WithdrawalRecord  = "withdrawal"    // of a sign-off
)

var recordKinds = []string{
	AnswerRecord, PenetrationRecord, NoteRecord, VoidRecord, NonconformityRec,
	DispositionRecord, AgreementRecord, ClosingRecord, AdoptionRecord, WithdrawalRecord,
}

// Record is one fact: one file, never changed. Texts are as they were typed.
type Record struct {
	Kind  string
	ID    string
	Job   string
	Phase string // folder below records/

	Check  string // answer: the check's name in its phase
	Place  string
	Value  string // a reading, as written
	Values []NamedText
	Answer string
	Number string
	Start  time.Time
	End    time.Time

	Instrument *Instrument
	Party      string // who gave the result, when that is not who entered it
	By         string
	Roles      []string
	Licence    string
	Measured   time.Time
	Entered    time.Time

	Photos []Evidence
	Files  []Evidence
	Note   string

	Supersedes []string
	Reason     string

	// Of a penetration.
	For, Owner, Seal string

	// Of a nonconformity and what follows on it.
	Nonconformity string // NC-1
	Requirement   string
	Found         string
	Disposition   string
	Limits        string
	Until         time.Time
	// Accepts are the records that a concession accepts as they are; of an
	// agreement, the decision that is agreed to.
	Accepts []string
	Code    bool
	Cause   string
	Action  string

	// Of an adoption: what each plan file's bytes hash to, and what changed.
	Plan    []NamedText
	Changes []string

	Signoff string // of a withdrawal
	Hold    string // phase.hold: of a nonconformity, a withdrawal

	path string
	sum  string // SHA-256 of the file
}

// NamedText is one named value, as written.
type NamedText struct{ Name, Text string }

// Evidence is a file that a record rests on, stored in the job.
type Evidence struct {
	Path     string // in the job
	Name     string // as the person's file was called
	SHA256   string // of the stored file
	Original string // SHA-256 of the file as it came, when it was shrunk
	Place    string // where a logger stood
	Logger   *Logger
}

// CheckID is the full name of the check an answer answers.
func (r *Record) CheckID() string { return r.Phase + "." + r.Check }

// Path is where the record's file is, relative to the job.
func (r *Record) Path() string {
	if r.path != "" {
		return r.path
	}
	return "records/" + r.Phase + "/" + r.ID + ".yaml"
}

const timeFormat = time.RFC3339

// Encode writes the record's file.
func (r *Record) Encode() []byte {
	var f fields
	f.text("record", r.Kind)
	f.text("id", r.ID)
	f.text("job", r.Job)
	f.text("phase", r.Phase)
	f.text("check", r.Check)
	f.text("place", r.Place)
	f.text("value", r.Value)
	f.named("values", r.Values)
	f.text("answer", r.Answer)
	f.text("number", r.Number)
	f.time("start", r.Start)
	f.time("end", r.End)
	f.instrument(r.Instrument)
	f.text("for", r.For)
	f.text("owner", r.Owner)
	f.text("seal", r.Seal)
	f.text("hold", r.Hold)
	f.text("nonconformity", r.Nonconformity)
	f.text("requirement", r.Requirement)
	f.text("found", r.Found)
	f.text("disposition", r.Disposition)
	f.text("limits", r.Limits)
	f.time("until", r.Until)
	f.list("accepts", r.Accepts)
	if r.Code {
		f.text("code", "yes")
	}
	f.text("cause", r.Cause)
	f.text("action", r.Action)
	f.named("plan", r.Plan)
	f.list("changes", r.Changes)
	f.text("sign-off", r.Signoff)
	f.text("party", r.Party)
	f.text("by", r.By)
	f.list("roles", r.Roles)
	f.text("licence", r.Licence)
	f.time("measured", r.Measured)
	f.time("entered", r.Entered)
	f.evidence("photos", r.Photos)
	f.evidence("files", r.Files)
	f.text("note", r.Note)
	f.list("supersedes", r.Supersedes)
	f.text("reason", r.Reason)
	return strict.Encode(f)
}

// fields collects what a file holds; nothing empty is written.
type fields []strict.Field

func (f *fields) text(key, text string) {
	if text != "" {
		*f = append(*f, strict.Field{Key: key, Value: text})
	}
}

func (f *fields) list(key string, texts []string) {
	if len(texts) > 0 {
		*f = append(*f, strict.Field{Key: key, Value: texts})
	}
}

func (f *fields) time(key string, t time.Time) {
	if !t.IsZero() {
		f.text(key, t.Format(timeFormat))
	}
}

func (f *fields) named(key string, texts []NamedText) {
	if len(texts) == 0 {
		return
	}
	var m []strict.Field
	for _, t := range texts {
		m = append(m, strict.Field{Key: t.Name, Value: t.Text})
	}
	*f = append(*f, strict.Field{Key: key, Value: m})
}

func (f *fields) instrument(i *Instrument) {
	if i == nil {
		return
	}
	var m fields
	m.text("id", i.ID)
	m.text("kind", i.Kind)
	m.text("uncertainty", i.Uncertainty)
	m.text("calibration not required", i.NotRequired)
	m.date("calibrated", i.Calibrated)
	m.date("due", i.Due)
	m.text("certificate", i.Certificate)
	*f = append(*f, strict.Field{Key: "instrument", Value: []strict.Field(m)})
}

func (f *fields) date(key string, t time.Time) {
	if !t.IsZero() {
		f.text(key, t.Format(time.DateOnly))
	}
}

func (f *fields) evidence(key string, all []Evidence) {
	if len(all) == 0 {
		return
	}
	var list [][]strict.Field
	for _, e := range all {
		var m fields
		m.text("path", e.Path)
		m.text("name", e.Name)
		m.text("sha256", e.SHA256)
		m.text("original sha256", e.Original)
		m.text("place", e.Place)
		m = append(m, e.Logger.fields()...)
		list = append(list, m)
	}
	*f = append(*f, strict.Field{Key: key, Value: list})
}

// ReadRecord reads a record's file. Its path must agree with what it says.
func ReadRecord(file string, data []byte) (*Record, error) {
	doc, err := strict.Read(file, data, strict.Options{MaxBytes: strict.RecordLimit, Ended: true})
	if err != nil {
		return nil, err
	}
	m := doc.Map()
	r := &Record{
		Kind: word(m, "record", recordKinds), ID: m.Text("id"), Job: m.Text("job"), Phase: m.Text("phase"),
		Check: m.OptionalText("check"), Place: m.OptionalText("place"),
		Value: m.OptionalText("value"), Values: readNamed(m, "values"),
		Answer: m.OptionalText("answer"), Number: m.OptionalText("number"),
		For: m.OptionalText("for"), Owner: m.OptionalText("owner"), Seal: m.OptionalText("seal"),
		Nonconformity: m.OptionalText("nonconformity"), Requirement: m.OptionalText("requirement"),
		Found: m.OptionalText("found"), Disposition: m.OptionalText("disposition"),
		Limits: m.OptionalText("limits"), Accepts: m.OptionalTexts("accepts"), Code: yes(m, "code"),
		Cause: m.OptionalText("cause"), Action: m.OptionalText("action"),
		Plan: readNamed(m, "plan"), Changes: m.OptionalTexts("changes"),
		Signoff: m.OptionalText("sign-off"), Hold: m.OptionalText("hold"),
		Party: m.OptionalText("party"), By: m.Text("by"), Roles: m.OptionalTexts("roles"), Licence: m.OptionalText("licence"),
		Measured: m.Time("measured"), Entered: m.Time("entered"),
		Photos: readEvidence(m, "photos"), Files: readEvidence(m, "files"),
		Note: m.OptionalText("note"), Supersedes: m.OptionalTexts("supersedes"), Reason: m.OptionalText("reason"),
	}
	r.Start, r.End, r.Until = m.OptionalTime("start"), m.OptionalTime("end"), m.OptionalTime("until")
	if i, ok := m.OptionalMap("instrument"); ok {
		instrument := readInstrument(i)
		r.Instrument = &instrument
	}
	if r.ID != "" && !strings.HasSuffix(file, "records/"+r.Phase+"/"+r.ID+".yaml") {
		m.Fail("id", "the file's name does not agree with phase %q and id %q", r.Phase, r.ID)
	}
	if r.Kind == AnswerRecord && r.Check == "" {
		m.Fail("record", "an answer needs check: the check it answers")
	}
	if err := doc.Err(); err != nil {
		return nil, err
	}
	return r, nil
}

func yes(m *strict.Map, key string) bool {
	v, ok := m.OptionalBool(key)
	return ok && v
}

func readNamed(m *strict.Map, key string) []NamedText {
	named, ok := m.OptionalMap(key)
	if !ok {
		return nil
	}
	var texts []NamedText
	for _, p := range named.Pairs() {
		texts = append(texts, NamedText{p.Key, p.Value.Text()})
	}
	return texts
}

func readEvidence(m *strict.Map, key string) []Evidence {
	var all []Evidence
	for _, e := range m.OptionalMaps(key) {
		file := Evidence{
			Path: e.Text("path"), Name: e.Text("name"), SHA256: e.Text("sha256"),
			Original: e.OptionalText("original sha256"), Place: e.OptionalText("place"),
			Logger: readLogger(e),
		}
		if !strings.HasPrefix(file.Path, "evidence/") || slices.Contains(strings.Split(file.Path, "/"), "..") {
			e.Fail("path", "evidence %q is not below evidence/", file.Path)
		}
		all = append(all, file)
	}
	return all
}

package main

import (
	"fmt"
	"slices"
	"strings"

	"proveout/checks"
	"proveout/jobs"
	"proveout/phases"
)

// draft is what somebody is about to sign.
type draft struct {
	Job       string           `json:"job"`
	Hold      string           `json:"hold"`
	Title     string           `json:"title"`
	Faces     []string         `json:"faces,omitempty"`
	Role      string           `json:"role"`
	By        string           `json:"by"`
	Statement string           `json:"statement"`
	Standing  []string         `json:"released_already,omitempty"`
	Checks    []checks.Verdict `json:"checks"`
	Open      []string         `json:"nonconformities,omitempty"`
	Grounds   jobs.Grounds     `json:"grounds"`

	signoff *jobs.Signoff
}

func (s *signing) draft() (*draft, error) {
	state := s.gate.State(s.hold)
	if len(s.faces) == 1 {
		state = s.gate.FaceState(s.hold, s.faces[0])
	}
	role := s.role
	if role == "" {
		role = firstOf(state.WantRoles, s.hold.Roles(s.gate.Decisions))
	}
	signoff, err := s.job.Draft(s.gate, s.hold, s.faces, s.person, role)
	if err != nil {
		return nil, err
	}
	d := &draft{
		Job: s.job.ID, Hold: s.hold.ID(), Title: s.hold.Title, Faces: s.faces, Role: role, By: s.person.Name,
		Statement: signoff.Statement, Open: state.Open, Grounds: s.job.Grounds(s.gate, s.hold, s.faces), signoff: signoff,
	}
	for _, r := range state.Signed {
		d.Standing = append(d.Standing, releaseText(r))
	}
	if s.faces == nil {
		d.Checks = s.gate.Verdicts(s.hold, "")
	}
	for _, face := range s.faces {
		d.Checks = append(d.Checks, s.gate.Verdicts(s.hold, face)...)
	}
	return d, nil
}

// releaseText names a signature that stands already.
func releaseText(r phases.Release) string {
	text := fmt.Sprintf("%s, %s, on %s", r.By, r.Role, r.At.Format("2 Jan 2006 15:04"))
	if r.Faces != nil {
		text += " for " + strings.Join(r.Faces, ", ")
	}
	return text
}

// firstOf is the first text of the first list that has one.
func firstOf(lists ...[]string) string {
	for _, l := range lists {
		if len(l) > 0 {
			return l[0]
		}
	}
	return ""
}

func (d *draft) print(e *env) {
	title := d.Hold + ", " + d.Title
	if d.Faces != nil {
		title += ": " + strings.Join(d.Faces, ", ")
	}
	e.printf("%s\n%s\n\n", e.bold(terminalText(title)), terminalText("job "+d.Job))
	e.paragraph("  ", d.Statement)
	e.printf("\n")
	for _, v := range d.Checks {
		e.marked(v.Outcome, v.Check+": "+v.Ask)
		e.paragraph("        ", resultLine(v))
	}
	e.printf("\n")
	for _, line := range d.summary() {
		e.paragraph("  ", line)
	}
}

// marked prints a line behind the mark of an outcome; what follows hangs below
// the text.
func (e *env) marked(o checks.Outcome, text string) {
	for i, line := range wrapped(terminalText(text), min(e.width, 100)-8) {
		if i == 0 {
			e.printf("  %s  %s\n", e.mark(o), line)
			continue
		}
		e.printf("        %s\n", line)
	}
}

// resultLine is a verdict's result in one line.
func resultLine(v checks.Verdict) string {
	var parts []string
	add := func(format, text string) {
		if text != "" {
			parts = append(parts, fmt.Sprintf(format, text))
		}
	}
	value := v.Value
	if value != "" && v.Place != "" && v.Place != "point 1" {
		value += " at " + v.Place
	}
	add("%s", value)
	add("limit: %s", v.Limit)
	add("margin %s", v.Margin)
	if v.Planned > 1 {
		parts = append(parts, fmt.Sprintf("%d of %d points pass", v.Passed, v.Planned))
	}
	if v.Near {
		parts = append(parts, "NEAR THE LIMIT: within the instrument's uncertainty of it")
	}
	add("accepted by concession %s", v.Concedes)
	add("limit changed: %s", v.LimitReason)
	if v.Outcome != checks.Pass {
		parts = append(parts, v.Reasons...)
	}
	return strings.Join(parts, "; ")
}

// summary counts what the release rests on.
func (d *draft) summary() []string {
	counted := map[checks.Outcome]int{}
	conceded, near := 0, 0
	for _, v := range d.Checks {
		counted[v.Outcome]++
		if v.Concedes != "" {
			conceded++
		}
		if v.Near {
			near++
		}
	}
	lines := []string{fmt.Sprintf("checks: %d, pass %d, fail %d, undecided %d, by concession %d, near the limit %d",
		len(d.Checks), counted[checks.Pass], counted[checks.Fail], counted[checks.Undecided], conceded, near)}
	g := d.Grounds
	lines = append(lines, fmt.Sprintf("rests on: %s, %s, %s", number(g.Records, "record"), number(g.Photos, "photo"), number(g.Files, "file")))
	list := func(label string, items []string) {
		for _, item := range items {
			lines = append(lines, label+": "+item)
		}
	}
	if g.By != nil {
		lines = append(lines, "entered by: "+strings.Join(g.By, ", "))
	}
	list("instrument", g.Instruments)
	list("concession", g.Concessions)
	list("released before", g.Upstream)
	list("open", d.Open)
	list("signed already", d.Standing)
	return lines
}

// number is a count with its word.
func number(n int, word string) string {
	if n == 1 {
		return "1 " + word
	}
	return fmt.Sprintf("%d %ss", n, word)
}

// signedReport is what a sign-off did.
type signedReport struct {
	Signoff     string   `json:"sign_off"`
	List        string   `json:"list"`
	Files       int      `json:"files"`
	Fingerprint string   `json:"fingerprint"`
	ToSign      []string `json:"to_sign,omitempty"`
	FacesShut   []string `json:"faces_shut,omitempty"`
	Opened      []string `json:"opened,omitempty"`
}

func (r signedReport) print(e *env, s *jobs.Signoff) {
	e.printf("\n%s\n", e.bold(terminalText("Signed by "+s.By+", "+s.Role+": "+s.Hold)))
	e.printf("  statement    %s\n", r.Signoff)
	e.printf("  list         %s (%s)\n", r.List, number(r.Files, "file"))
	e.printf("  fingerprint  %s\n", r.Fingerprint)
	e.printf("               write it on the paper sheet: proveout document signoff %s\n", s.Hold)
	if len(r.ToSign) > 0 {
		e.printf("  to sign yet  %s\n", terminalText(strings.Join(r.ToSign, ", ")))
	}
	if s.Faces != nil && len(r.FacesShut) > 0 {
		e.printf("  faces shut   %s\n", terminalText(strings.Join(r.FacesShut, ", ")))
	}
	if len(r.Opened) > 0 {
		e.printf("  open now     %s\n", strings.Join(r.Opened, ", "))
	}
}

// opened are the holds that were blocked and are not any more.
func opened(before, after *phases.Gate) []string {
	var ids []string
	for _, s := range after.States() {
		was := before.State(before.Plan.Hold(s.Hold.ID()))
		if was.State == phases.Blocked && !slices.Contains([]phases.State{phases.Blocked, phases.NotApplicable}, s.State) {
			ids = append(ids, s.Hold.ID())
		}
	}
	return ids
}

package templates

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"proveout/checks"
	"proveout/checks/units"
)

// limitText prints what a question asks for, with the values of the job that
// its limit names.
func limitText(q *checks.Question, room *checks.Room) string {
	switch q.Kind {
	case checks.Observation:
		return q.Want
	case checks.Inspection:
		return "pass, with its number"
	case checks.Choice:
		return "one of: " + strings.Join(q.Options, ", ")
	case checks.Paper:
		return "document: " + q.Paper
	case checks.Wait:
		return waitText(q, room)
	}
	if q.RecordOnly {
		return "recorded, no limit"
	}
	var parts []string
	for _, b := range q.Limits.Bounds() {
		parts = append(parts, b.Word+" "+boundText(q, b.Bound, room))
	}
	switch {
	case parts != nil:
		return strings.Join(parts, ", ")
	case q.Before != "":
		return "applies to a house built before " + q.Before
	}
	return "as computed"
}

// decidingLimit prints the bound that decided a verdict, in the job's units as
// well where it is written in others.
func decidingLimit(limit string, q *checks.Question, room *checks.Room) string {
	for _, b := range q.Limits.Bounds() {
		text, ok := strings.CutPrefix(limit, b.Word+" ")
		if !ok {
			continue
		}
		if v, err := units.Parse(q.Measures, text); err == nil {
			return b.Word + " " + v.Understood(room.Units)
		}
	}
	return limit
}

func waitText(q *checks.Question, room *checks.Room) string {
	if !strings.HasPrefix(q.Wait, checks.DataSheet) {
		return q.Wait
	}
	return named(q.Wait, units.DurationKind, checks.Bound{Text: q.Wait, Name: q.Wait, Share: 100}, room)
}

// boundText prints one bound; a value of the job is printed with its name.
func boundText(q *checks.Question, b checks.Bound, room *checks.Room) string {
	switch {
	case b.ByFace != nil:
		return b.String()
	case b.Name == "":
		return b.Plain.Understood(room.Units)
	case strings.HasPrefix(b.Name, "design ") && q.Sampling.OnFaces():
		return byFace(q, b, room)
	}
	return named(b.Text, q.Measures, b, room)
}

func named(text string, kind units.Kind, b checks.Bound, room *checks.Room) string {
	v, err := b.Resolve(kind, room, nil)
	if err != nil {
		return text + " (not given yet)"
	}
	return v.Understood(room.Units) + " (" + text + ")"
}

// byFace prints a design value of each face, equal ones together.
func byFace(q *checks.Question, b checks.Bound, room *checks.Room) string {
	var values []string
	faces := map[string][]string{}
	for _, f := range facesOf(q, room) {
		value := "not given yet"
		if v, err := b.Resolve(q.Measures, room, f); err == nil {
			value = v.Understood(room.Units)
		}
		if faces[value] == nil {
			values = append(values, value)
		}
		faces[value] = append(faces[value], f.Name)
	}
	switch len(values) {
	case 0:
		return b.Text
	case 1:
		return fmt.Sprintf("%s (%s)", values[0], b.Text)
	}
	var parts []string
	for _, v := range values {
		parts = append(parts, v+" for "+strings.Join(faces[v], ", "))
	}
	return fmt.Sprintf("%s (%s)", strings.Join(parts, "; "), b.Text)
}

// facesOf are the faces on which a question is asked.
func facesOf(q *checks.Question, room *checks.Room) []*checks.Face {
	var faces []*checks.Face
	for _, place := range q.Expected(room, "") {
		f := room.Face(checks.FaceOf(place))
		if f != nil && !slices.Contains(faces, f) {
			faces = append(faces, f)
		}
	}
	return faces
}

// samplingText prints how many answers are wanted, and where.
func samplingText(q *checks.Question, room *checks.Room) string {
	if !q.WantsRecord(room) {
		return "computed"
	}
	s := q.Sampling
	n := len(q.Expected(room, ""))
	var parts []string
	add := func(count int, of string) {
		if count > 0 {
			parts = append(parts, strconv.Itoa(count)+" per "+of)
		}
	}
	add(s.PerFace, "face")
	add(s.PerBay, "bay")
	if s.PerArea.Known() {
		parts = append(parts, "1 per "+s.PerArea.String())
	}
	switch {
	case s.Each != "":
		return fmt.Sprintf("each %s, now %d", s.Each, n)
	case s.Places != nil:
		return strconv.Itoa(n) + ": " + strings.Join(s.Places, ", ")
	case parts != nil:
		return fmt.Sprintf("%s; %d in all", strings.Join(parts, ", "), n)
	}
	return strconv.Itoa(n)
}

// asksRecord reports whether a question is answered by records of its own in some
// job; else it is always computed from others.
func asksRecord(q *checks.Question) bool { return q.WantsRecord(nil) }

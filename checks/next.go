package checks

import (
	"fmt"
	"strings"
)

// next says what to do about a verdict that is not a pass.
func (c Case) next(v Verdict) []string {
	q := c.Question
	var next []string
	if v.Conflict {
		return []string{"proveout correct ID --reason \"which answer was wrong\""}
	}
	if v.Outcome == Fail && q.IfFails != "" {
		next = append(next, q.IfFails)
	}
	if v.Waiting {
		return next
	}
	if place, missing := c.withoutPhoto(v); missing {
		next = append(next, q.attachCommand(place))
		if len(v.Missing) == 0 {
			return next
		}
	}
	place := v.Place
	if len(v.Missing) > 0 {
		place = v.Missing[0]
	} else if place == MeanPlace {
		place = ""
	}
	if command := q.Command(place); command != "" && q.WantsRecord(c.Room) {
		if len(v.Missing) == 0 && len(v.Points) > 0 && !q.Series && q.Kind != Inspection {
			command += " --rework \"what was done\""
		}
		next = append(next, command)
	}
	return next
}

// photoMissing is the reason of an answer that lacks only its photo.
const photoMissing = "the photo is missing"

// withoutPhoto returns the place of an answer that lacks only its photo.
func (c Case) withoutPhoto(v Verdict) (place string, missing bool) {
	for _, p := range v.Points {
		if p.Reason == photoMissing {
			return p.Place, true
		}
	}
	if v.Outcome == Undecided && c.Question.PhotoOne && len(v.Points) > 0 && !c.hasPhoto() {
		return v.Place, true
	}
	return "", false
}

// attachCommand adds a photo to the answer at a place.
func (q *Question) attachCommand(place string) string {
	at := ""
	if place != "" && place != "point 1" && !q.PhotoOne {
		at = fmt.Sprintf(" --at %q", place)
	}
	return fmt.Sprintf("proveout attach %s %s PHOTO.jpg%s --by NAME", q.Phase, q.Name, at)
}

// Command returns the command that answers the question at a place, with
// words in capitals where the person fills in.
func (q *Question) Command(place string) string {
	var b strings.Builder
	fmt.Fprintf(&b, "proveout record %s %s", q.Phase, q.Name)
	if !q.answerArguments(&b) {
		return ""
	}
	if place != "" && place != "point 1" {
		fmt.Fprintf(&b, " --at %q", place)
	}
	if q.Instrument != "" {
		fmt.Fprintf(&b, " --with %s", strings.ToUpper(strings.ReplaceAll(q.Instrument, " ", "-")))
	}
	if q.PhotoEach || q.PhotoOne {
		b.WriteString(" --photo PHOTO.jpg")
	}
	if len(q.By) > 0 && (q.Kind == Inspection || q.Kind == Paper) {
		fmt.Fprintf(&b, " --party %q", q.By[0]+" NAME")
	}
	b.WriteString(" --by NAME")
	return b.String()
}

// answerArguments writes what the answer itself is; false when the question
// wants no record of its own.
func (q *Question) answerArguments(b *strings.Builder) bool {
	switch q.Kind {
	case Reading:
		fmt.Fprintf(b, " %q", q.Measures.Sample())
	case Observation:
		b.WriteString(" yes|no")
	case Inspection:
		b.WriteString(" pass|fail --number NUMBER")
	case Choice:
		fmt.Fprintf(b, " %s", quotedOptions(q.Options))
	case Paper:
		b.WriteString(" --file FILE")
	case Wait:
		b.WriteString(" --start \"YYYY-MM-DD HH:MM\"")
	case Computed:
		return q.computedArguments(b)
	}
	return true
}

func quotedOptions(options []string) string {
	quoted := make([]string, len(options))
	for i, o := range options {
		quoted[i] = o
		if strings.Contains(o, " ") {
			quoted[i] = fmt.Sprintf("%q", o)
		}
	}
	return strings.Join(quoted, "|")
}

func (q *Question) computedArguments(b *strings.Builder) bool {
	check := ByName(q.Compute)
	if check == nil || !q.WantsRecord(nil) {
		return false
	}
	if len(check.Answers) > 0 {
		b.WriteString(" " + quotedOptions(check.Answers))
	}
	for _, n := range check.Needs {
		if !n.Optional {
			fmt.Fprintf(b, " --set %q", n.Name+"="+n.Sample())
		}
	}
	if check.Starts {
		b.WriteString(" --start \"YYYY-MM-DD HH:MM\"")
	}
	if check.Spans {
		b.WriteString(" --start \"YYYY-MM-DD HH:MM\" --end \"YYYY-MM-DD HH:MM\"")
	}
	if check.Log {
		b.WriteString(" --file LOG.csv")
	}
	return true
}

package templates

import (
	"slices"
	"strings"

	"proveout/checks"
	"proveout/phases"
)

// fieldSheet is what FieldSheet prints.
type fieldSheet struct {
	Head         head
	Phase, Title string
	Number       int
	Codes        []fact
	Cautions     []string
	Holds        []sheetHold
	Nothing      bool // every check has its answers
}

// sheetHold are the checks of one hold that still want answers.
type sheetHold struct {
	ID, Title, State string
	Checks           []sheetCheck
}

// sheetCheck is one check with a box for each place.
type sheetCheck struct {
	No                    int
	Name, Ask, Limit      string
	Instrument, Photo, By string
	One                   *sheetBox    // the only place
	Lines                 [][]sheetBox // of several places
	places                []string
	id                    string
}

// sheetBox is a place to fill in; the zero sheetBox fills a line up.
type sheetBox struct {
	Code  string
	Box   Markdown
	Photo Markdown
}

// FieldSheet writes the paper form of a phase: the checks that still want an
// answer, each with its limit and a box for every place.
func FieldSheet(d Dossier, ph *phases.Phase) (Document, error) {
	return d.write("fieldsheet", d.fieldSheet(ph))
}

func (d Dossier) fieldSheet(ph *phases.Phase) fieldSheet {
	view := fieldSheet{
		Head: d.head(), Phase: ph.Name, Title: ph.Title, Number: ph.Number,
		Cautions: d.cautions(ph), Holds: d.sheetHolds(ph),
	}
	for i, f := range d.Room.Faces {
		view.Codes = append(view.Codes, fact{faceCode(i), f.Name})
	}
	view.Nothing = len(view.Holds) == 0
	return view
}

// sheetHolds are the holds of a phase with the checks that want answers.
func (d Dossier) sheetHolds(ph *phases.Phase) []sheetHold {
	var holds []sheetHold
	questions := d.Plan.Questions()
	no := 0
	for _, h := range ph.Holds {
		s := d.Gate.State(h)
		sheet := sheetHold{ID: h.ID(), Title: h.Title, State: string(s.State)}
		for _, v := range s.Verdicts {
			places := wanted(questions[v.Check], v)
			if len(places) == 0 {
				continue
			}
			no++
			sheet.Checks = append(sheet.Checks, d.sheetCheck(no, questions[v.Check], places))
		}
		if sheet.Checks != nil {
			holds = append(holds, sheet)
		}
	}
	return holds
}

// wanted are the places of a check that want an answer: those without one and,
// where a place is read again, those that fail.
func wanted(q *checks.Question, v checks.Verdict) []string {
	if !asksRecord(q) {
		return nil
	}
	places := v.Missing
	if !q.Series {
		return places
	}
	for _, p := range v.Points {
		if p.Outcome == checks.Fail {
			places = append(places, p.Place)
		}
	}
	return places
}

func (d Dossier) sheetCheck(no int, q *checks.Question, places []string) sheetCheck {
	c := sheetCheck{
		No: no, Name: q.Name, Ask: asked(q.Ask), Limit: sheetLimit(q, d.Room),
		Instrument: q.Instrument, By: strings.Join(q.By, " or "), places: places, id: q.ID(),
	}
	if q.PhotoOne {
		c.Photo = "photo ☐"
	}
	var boxes []sheetBox
	for _, place := range places {
		box := sheetBox{Code: d.placeCode(place), Box: boxFor(q)}
		if q.PhotoEach {
			box.Photo = "☐"
		}
		boxes = append(boxes, box)
	}
	if len(boxes) == 1 {
		c.One = &boxes[0]
		c.One.Code = d.place(q, places[0])
		if q.PhotoEach {
			c.Photo = "photo ☐"
		}
		return c
	}
	c.Lines = inLines(boxes, boxesInLine(q))
	return c
}

// sheetLimit is the limit beside a box; "" where the box says it itself.
func sheetLimit(q *checks.Question, room *checks.Room) string {
	switch q.Kind {
	case checks.Observation:
		return "wanted: " + q.Want
	case checks.Paper, checks.Choice, checks.Inspection:
		return ""
	}
	return limitText(q, room)
}

// boxesInLine is how many boxes stand side by side: few where they are wide.
func boxesInLine(q *checks.Question) int {
	if check := checks.ByName(q.Compute); check != nil && len(check.Needs) > 1 {
		return 1
	}
	return 3
}

// inLines puts boxes into lines of n and fills the last one up.
func inLines(boxes []sheetBox, n int) [][]sheetBox {
	n = min(n, len(boxes))
	lines := slices.Collect(slices.Chunk(boxes, n))
	last := len(lines) - 1
	lines[last] = append(slices.Clone(lines[last]), make([]sheetBox, n-len(lines[last]))...)
	return lines
}

// placeCode shortens a place on a face: "A-b3" is bay 3 of face A, "A-p2" its
// point 2. Other places keep their names.
func (d Dossier) placeCode(place string) string {
	code := d.code(place)
	if code == "room" {
		return place
	}
	short := strings.NewReplacer("/bay ", "-b", "/point ", "-p", "/", "-")
	return short.Replace(code + strings.TrimPrefix(place, checks.FaceOf(place)))
}

// boxFor is what a person fills in for one answer.
func boxFor(q *checks.Question) Markdown {
	switch q.Kind {
	case checks.Observation:
		if q.NotApplicable {
			return "yes ☐ no ☐ n/a ☐"
		}
		return "yes ☐ no ☐"
	case checks.Inspection:
		return "pass ☐ fail ☐ no. ________"
	case checks.Choice:
		return options(q.Options)
	case checks.Paper:
		return "file ________"
	case checks.Wait:
		return "began ____________"
	case checks.Computed:
		return computedBox(q)
	}
	return "________"
}

func options(words []string) Markdown {
	var parts []string
	for _, w := range words {
		parts = append(parts, string(Escape(w))+" ☐")
	}
	return Markdown(strings.Join(parts, " "))
}

// computedBox has a line for each value that a computed check needs.
func computedBox(q *checks.Question) Markdown {
	check := checks.ByName(q.Compute)
	var parts []string
	for _, word := range check.Answers {
		parts = append(parts, string(Escape(word))+" ☐")
	}
	for _, n := range check.Needs {
		parts = append(parts, string(Escape(n.Name))+" ______")
	}
	if check.Starts || check.Spans {
		parts = append(parts, "began ________")
	}
	if check.Spans {
		parts = append(parts, "ended ________")
	}
	if check.Log {
		parts = append(parts, "logger file ________")
	}
	return Markdown(strings.Join(parts, ", "))
}

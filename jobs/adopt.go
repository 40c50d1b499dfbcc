package jobs

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"proveout/checks"
	"proveout/jobs/store"
	"proveout/phases"
)

// Edit is the difference between plan and job file as adopted and as they are
// now.
type Edit struct {
	Path     string
	Old, New string // text; Old is "" for a new file
}

// Edits returns the edits that are not adopted, with both texts.
func (j *Job) Edits() ([]Edit, error) {
	var edits []Edit
	for _, path := range j.Edited {
		old, err := j.adoptedText(path)
		if err != nil {
			return nil, err
		}
		text, edited := j.edited[path]
		if !edited {
			text = j.planFiles[path]
		}
		edits = append(edits, Edit{Path: path, Old: string(old), New: string(text)})
	}
	return edits, nil
}

// adoptedText returns a plan file as it was last adopted, from the history.
func (j *Job) adoptedText(path string) ([]byte, error) {
	want := ""
	for _, f := range j.adopted().Plan {
		if f.Name == path {
			want = f.Text
		}
	}
	if want == "" {
		return nil, nil
	}
	found := errors.New("found")
	var text []byte
	err := j.repo.Log(func(c store.Commit) error {
		data, err := j.repo.FileAt(c.Hash, path)
		if err == nil && sum(data) == want {
			text = data
			return found
		}
		return nil
	})
	if err != nil && !errors.Is(err, found) {
		return nil, err
	}
	if text == nil {
		return nil, problem(ErrIntegrity, "bring the folder back from a copy", "the history does not hold the adopted %s", path)
	}
	return text, nil
}

// PutBack writes the adopted texts back over the edits. Nothing is committed:
// the files are again what the history holds.
func (j *Job) PutBack(ctx context.Context) ([]string, error) {
	var back []string
	op, err := j.repo.Lock(ctx, lockWait)
	if err != nil {
		return nil, err
	}
	defer op.Close()
	for _, path := range j.Edited {
		text, err := j.adoptedText(path)
		if err != nil {
			return back, err
		}
		if text == nil {
			return back, problem(ErrDecide, "move it out of phases/", "%s is not part of the adopted plan", path)
		}
		if err := op.Write(path, text); err != nil {
			return back, err
		}
		back = append(back, path)
	}
	return back, j.reload()
}

// Adopt makes the edited plan and job file the ones in force, with a reason.
// A loosening is refused once its check has a reading; a safety limit is never
// loosened.
func (j *Job) Adopt(ctx context.Context, e Entry, reason string) (*Record, error) {
	var r *Record
	err := j.changeEdited(ctx, e, true, func(op *store.Operation) (string, error) {
		if strings.TrimSpace(reason) == "" {
			return "", problem(ErrInput, "add: --reason \"why\"", "an adoption says why")
		}
		if len(j.Edited) == 0 {
			return "", problem(ErrInput, "", "there is nothing to adopt: plan and job file are as they were adopted")
		}
		differences, err := j.Differences()
		if err != nil {
			return "", err
		}
		if err := j.mayAdopt(e.By, differences); err != nil {
			return "", err
		}
		if err := j.writeReasons(op, e.By.Name+": "+reason); err != nil {
			return "", err
		}
		if r, err = j.newRecord(e, AdoptionRecord, "plan"); err != nil {
			return "", err
		}
		r.Reason, r.Supersedes = reason, []string{j.adopted().ID}
		r.Changes = slices.Clone(j.Edited)
		for _, d := range differences {
			r.Changes = append(r.Changes, strings.TrimPrefix(d.Check+": "+d.Text, ": "))
		}
		for _, path := range slices.Sorted(maps.Keys(j.planSums)) {
			r.Plan = append(r.Plan, NamedText{path, j.planSums[path]})
		}
		for _, path := range j.Edited {
			op.Add(path)
		}
		return "plan: " + firstLine(reason), r.write(op)
	})
	return r, err
}

func firstLine(text string) string {
	line, _, _ := strings.Cut(text, "\n")
	if len(line) > 60 {
		line = line[:60]
	}
	return line
}

// writeReasons puts the reason of an adoption beside each limit that it
// changes and that gives none of its own, so that the papers show it.
func (j *Job) writeReasons(op *store.Operation, reason string) error {
	old, _, err := j.adoptedPlan()
	if err != nil {
		return err
	}
	for _, q := range phases.WithoutReason(old, j.Plan) {
		path := j.phasePath(j.Plan.Phase(q.Phase))
		data, err := phases.SetReason(j.file(path), j.planFiles[path], q.Name, firstLine(reason))
		if err != nil {
			return problem(ErrInput, "add a line  reason: \"why\"  under that check by hand", "%v", err)
		}
		if err := op.Write(path, data); err != nil {
			return err
		}
		j.planFiles[path], j.planSums[path] = data, sum(data)
	}
	return nil
}

// Differences lists what the edits change in the checks.
func (j *Job) Differences() ([]phases.Difference, error) {
	oldPlan, oldRoom, err := j.adoptedPlan()
	if err != nil {
		return nil, err
	}
	oldRoom.Penetrations = j.Room.Penetrations
	now := j.Last()
	was := phases.NewGate(oldPlan, phases.Evidence{Room: oldRoom, Facts: j.factsFor(oldPlan), Now: now})
	is := phases.NewGate(j.Plan, phases.Evidence{Room: j.Room, Facts: j.facts(), Now: now})
	return append(phases.Compare(oldPlan, j.Plan, oldRoom, j.Room), phases.CompareVerdicts(was, is)...), nil
}

func (j *Job) adoptedPlan() (*phases.Plan, *checks.Room, error) {
	files := map[string][]byte{}
	var room *checks.Room
	for _, f := range j.adopted().Plan {
		text := j.planFiles[f.Name]
		if sum(text) != f.Text {
			var err error
			if text, err = j.adoptedText(f.Name); err != nil {
				return nil, nil, err
			}
		}
		if f.Name != JobFile {
			files[f.Name] = text
			continue
		}
		d, err := ReadDescription(f.Name, text)
		if err != nil {
			return nil, nil, err
		}
		room = d.Room
	}
	plan, err := phases.ReadPlan(files)
	return plan, room, err
}

func (j *Job) mayAdopt(by Person, differences []phases.Difference) error {
	if !by.Has("owner") && !by.Has("crew lead") {
		return problem(ErrShut, "let the crew lead or the owner adopt it", "%s is neither crew lead nor owner", by.Name)
	}
	var refused []string
	loosens := false
	for _, d := range differences {
		if why := j.Refusal(d); why != "" {
			refused = append(refused, fmt.Sprintf("%s: %s\n  %s", d.Check, d.Text, why))
		}
		loosens = loosens || d.Loosens
	}
	if refused != nil {
		return problem(ErrShut, "put the files back: proveout adopt --put-back", "%s", strings.Join(refused, "\n"))
	}
	if loosens && !by.Has("owner") {
		return problem(ErrShut, "let the owner adopt it: --by OWNER", "the edit loosens the plan, and %s is not the owner", by.Name)
	}
	return nil
}

// Refusal says why a difference cannot be adopted by anybody, or "".
func (j *Job) Refusal(d phases.Difference) string {
	switch {
	case d.Loosens && d.Safety:
		return "a safety limit may only be tightened"
	case d.Loosens && d.Check != "" && j.hasReading(d.Check):
		return "it has a reading already; a limit is fixed before it is measured against. Accept what was built by a concession: proveout nonconformity raise"
	}
	return ""
}

// hasReading reports whether a check, or the check it computes from, was
// answered at any time.
func (j *Job) hasReading(check string) bool {
	return slices.ContainsFunc(j.Records, func(r *Record) bool { return r.Kind == AnswerRecord && r.CheckID() == check }) ||
		j.usedReading(check)
}

// usedReading looks at the checks that this one computes from, in the plan as
// it was adopted and as it is now.
func (j *Job) usedReading(check string) bool {
	plans := []*phases.Plan{j.Plan}
	if old, _, err := j.adoptedPlan(); err == nil {
		plans = append(plans, old)
	}
	return slices.ContainsFunc(plans, func(p *phases.Plan) bool {
		q := p.Questions()[check]
		return q != nil && q.Uses != "" && q.UsedID() != check && j.hasReading(q.UsedID())
	})
}

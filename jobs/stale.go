package jobs

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"proveout/checks"
	"proveout/phases"
)

// releases returns the standing sign-offs as the gate sees them.
func (j *Job) releases(g *phases.Gate) []phases.Release {
	var all []phases.Release
	for _, s := range j.Signoffs {
		if !j.Standing(s) {
			continue
		}
		all = append(all, phases.Release{
			ID: s.ID, Hold: s.Hold, Faces: s.Faces, Role: s.Role, By: s.By, At: s.At,
			Stale: j.staleness(g, s),
		})
	}
	return all
}

// staleness says what has changed since a sign-off, one sentence each.
func (j *Job) staleness(g *phases.Gate, s *Signoff) []string {
	stale := slices.Clone(s.broken)
	h := j.Plan.Hold(s.Hold)
	if h == nil {
		return append(stale, "the plan has no hold "+s.Hold+" any more")
	}
	if !j.samePlan(s) {
		if basis, err := j.basis(h); err != nil || basis != s.Basis {
			stale = append(stale, "plan or job file have changed what this hold asks for")
		}
	}
	listed := map[string]bool{}
	for _, l := range s.List {
		listed[l.Path] = true
	}
	for _, o := range j.Signoffs {
		if slices.Contains(s.Upstream, o.ID) && j.withdrawal(o) != nil {
			stale = append(stale, o.Hold+", on which it was built, was withdrawn since")
		}
	}
	for _, r := range j.RestsOn(g, h, s.Faces) {
		if !listed[r.Path()] {
			stale = append(stale, "added since: "+r.Describe())
		}
	}
	return stale
}

// samePlan reports whether the plan file and the job file are byte for byte as
// they were when s was signed.
func (j *Job) samePlan(s *Signoff) bool {
	for _, l := range s.List {
		if now, plan := j.planSums[l.Path]; plan && now != l.SHA256 {
			return false
		}
	}
	return true
}

// basis hashes what plan and job file ask of a hold.
func (j *Job) basis(h *phases.Hold) (string, error) {
	path := j.phasePath(h.Phase)
	lines, err := phases.Basis(path, j.planFiles[path], h.Name)
	if err != nil {
		return "", err
	}
	asked := strings.Join(lines, "\n")
	room, err := phases.Flatten(JobFile, j.planFiles[JobFile], "title", "equipment", "photo size")
	if err != nil {
		return "", err
	}
	figures := h.Figures()
	room = slices.DeleteFunc(room, func(line string) bool {
		name, isValue := strings.CutPrefix(line, "values/")
		key, _, _ := strings.Cut(name, "=")
		if isValue {
			return !strings.Contains(asked, key) && !slices.Contains(figures, key)
		}
		return ofService(line) && !slices.ContainsFunc(figures, func(f string) bool { return strings.HasPrefix(line, f) })
	})
	return sum([]byte(asked + "\n" + strings.Join(room, "\n"))), nil
}

func (j *Job) phasePath(ph *phases.Phase) string {
	for path := range j.planFiles {
		if j.file(path) == ph.File {
			return path
		}
	}
	return ""
}

// RestsOn returns the records that a hold, or some of its faces, rests on,
// superseded ones too.
func (j *Job) RestsOn(g *phases.Gate, h *phases.Hold, faces []string) []*Record {
	asked := map[string]*checks.Question{}
	holes := false
	for _, q := range h.Checks {
		asked[q.ID()] = q
		holes = holes || q.Sampling.Each == "penetration" && g.Asked(q)
	}
	for _, q := range h.Checks {
		if !g.Asked(q) {
			continue
		}
		for _, name := range q.Reads() {
			if asked[name] == nil || !q.Sampling.ByFace() {
				asked[name] = q // a check on the whole room reads all faces
			}
		}
	}
	var rests []*Record
	for _, r := range j.Records {
		if j.belongs(r, h, asked, holes) && j.onFaces(r.Place, faces, asked[r.CheckID()]) {
			rests = append(rests, r)
		}
	}
	return rests
}

func (j *Job) belongs(r *Record, h *phases.Hold, asked map[string]*checks.Question, holes bool) bool {
	switch r.Kind {
	case AnswerRecord:
		return asked[r.CheckID()] != nil
	case PenetrationRecord:
		return holes
	case VoidRecord:
		return slices.ContainsFunc(r.Supersedes, func(id string) bool {
			of := j.byID[id]
			return of != nil && of.Kind != VoidRecord && j.belongs(of, h, asked, holes)
		})
	case NonconformityRec, DispositionRecord, AgreementRecord, ClosingRecord:
		return r.Hold == h.ID()
	}
	return false
}

// onFaces reports whether a record concerns these faces: nil means all, and a
// record that is not about one face concerns each.
func (j *Job) onFaces(place string, faces []string, q *checks.Question) bool {
	face := checks.FaceOf(place)
	if len(faces) == 0 || q != nil && !q.Sampling.ByFace() || j.Room.Face(face) == nil {
		return true
	}
	return slices.Contains(faces, face)
}

// Describe names a record in a sentence.
func (r *Record) Describe() string {
	what := r.Kind
	if r.Check != "" {
		what = r.CheckID()
	}
	if r.Nonconformity != "" {
		what = r.Kind + " " + r.Nonconformity
	}
	text := what
	if r.Place != "" {
		text += " at " + r.Place
	}
	return fmt.Sprintf("%s, %s by %s", text, r.Entered.Format("2 Jan 2006 15:04"), cmp.Or(r.By, "nobody"))
}

// ofService reports whether a line of job.yaml belongs to a part that counts
// only for holds with a check that computes from it, as Check.Figures says.
func ofService(line string) bool {
	for _, part := range []string{"unit as found", "unit as planned", "use", "outdoor months", "costs"} {
		if strings.HasPrefix(line, part+"/") {
			return true
		}
	}
	return false
}

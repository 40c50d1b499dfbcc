package phases

import (
	"fmt"
	"slices"
	"strings"

	"proveout/checks"
	"proveout/checks/units"
)

// Difference is one way in which a new plan or job file asks something else
// than the one before it.
type Difference struct {
	Check   string // phase.check, "" for a change outside the checks
	Text    string // in plain words
	Loosens bool   // it makes the check easier to pass, or drops it
	Safety  bool   // the check is a safety check
}

// Compare lists how new differs from old: checks dropped, limits loosened or
// tightened, signatures and order of holds. Limits that name a value of the
// job are compared as each room resolves them.
func Compare(old, new *Plan, oldRoom, newRoom *checks.Room) []Difference {
	all := compareRooms(oldRoom, newRoom)
	questions := new.Questions()
	for _, h := range old.Holds() {
		for _, a := range h.Checks {
			b := questions[a.ID()]
			if b == nil {
				all = append(all, Difference{a.ID(), "the check is taken out", true, a.Safety})
				continue
			}
			all = append(all, compareQuestions(a, b, oldRoom, newRoom)...)
			all = append(all, compareAsked(a, b, oldRoom, newRoom)...)
			if to := new.HoldOf(a.ID()); to.ID() != h.ID() {
				all = append(all, Difference{a.ID(), fmt.Sprintf("it is asked at hold %s, no longer at %s", to.ID(), h.ID()), true, a.Safety})
			}
		}
		all = append(all, compareHolds(h, new.Hold(h.ID()))...)
	}
	former := old.Questions()
	for _, h := range new.Holds() {
		for _, q := range h.Checks {
			if former[q.ID()] == nil {
				all = append(all, Difference{Check: q.ID(), Text: "the check is new", Safety: q.Safety})
			}
		}
	}
	return all
}

func compareQuestions(a, b *checks.Question, oldRoom, newRoom *checks.Room) []Difference {
	var all []Difference
	if what := loosened(a, b); len(what) > 0 {
		what = slices.DeleteFunc(what, func(w string) bool { return bound(a, w).IsSet() && comparableIn(w, a, b, oldRoom, newRoom) })
		if len(what) > 0 {
			all = append(all, Difference{a.ID(), fmt.Sprintf("loosened (%s): from %q to %q", strings.Join(what, ", "), limitText(a), limitText(b)), true, a.Safety})
		}
	} else if limitText(a) != limitText(b) {
		way := "tightened"
		if !Looser(b, a) {
			way = "written in another way"
		}
		all = append(all, Difference{a.ID(), fmt.Sprintf("%s: from %q to %q", way, limitText(a), limitText(b)), false, a.Safety})
	}
	for _, w := range []string{"at least", "above", "at most", "below"} {
		all = append(all, compareResolved(w, a, b, oldRoom, newRoom)...)
	}
	return all
}

// comparableIn reports whether a bound resolves to a quantity on every face in
// both rooms, so that compareResolved has the last word on it.
func comparableIn(word string, a, b *checks.Question, oldRoom, newRoom *checks.Room) bool {
	if bound(a, word).Plain.Known() && bound(b, word).Plain.Known() {
		return false
	}
	for _, f := range facesOf(a, bound(a, word), oldRoom) {
		_, errA := bound(a, word).Resolve(a.Measures, oldRoom, oldRoom.Face(f))
		_, errB := bound(b, word).Resolve(b.Measures, newRoom, newRoom.Face(f))
		if errA != nil || errB != nil {
			return false
		}
	}
	return true
}

// compareResolved compares a limit that comes from the job file, face by face.
func compareResolved(word string, a, b *checks.Question, oldRoom, newRoom *checks.Room) []Difference {
	old, new := bound(a, word), bound(b, word)
	if !old.IsSet() || !new.IsSet() || old.Plain.Known() && new.Plain.Known() {
		return nil
	}
	var all []Difference
	for _, f := range facesOf(a, bound(a, word), oldRoom) {
		was, errA := old.Resolve(a.Measures, oldRoom, oldRoom.Face(f))
		is, errB := new.Resolve(b.Measures, newRoom, newRoom.Face(f))
		order, comparable := units.Compare(was, is)
		if errA != nil || errB != nil || !comparable || order == 0 {
			continue
		}
		at := ""
		if f != "" {
			at = " for the " + f
		}
		loosens := looserQuantity(word, was, is)
		way := "tightened"
		if loosens {
			way = "loosened"
		}
		all = append(all, Difference{a.ID(), fmt.Sprintf("%s%s: from %s %s to %s %s", way, at, word, was, word, is), loosens, a.Safety})
	}
	return all
}

// facesOf returns the faces on which a bound can differ, or "" for one that is
// the same everywhere.
func facesOf(q *checks.Question, b checks.Bound, room *checks.Room) []string {
	if b.ByFace == nil && !strings.HasPrefix(b.Name, "design ") {
		return []string{""}
	}
	return slices.DeleteFunc(room.FaceNames(), func(face string) bool { return !q.Applies(room, face) })
}

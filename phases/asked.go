package phases

import (
	"fmt"
	"slices"
	"strings"

	"proveout/checks"
	"proveout/checks/units"
)

// compareAsked lists differences in what is asked, where and how long for, as
// far as limits do not tell them.
func compareAsked(a, b *checks.Question, oldRoom, newRoom *checks.Room) []Difference {
	var all []Difference
	if text := reworded(a, b); text != "" {
		all = append(all, Difference{Check: a.ID(), Text: text, Loosens: true})
	}
	if gone := fewerPlaces(a, b, oldRoom, newRoom); gone != nil && !fewer(a.Sampling, b.Sampling) {
		all = append(all, Difference{Check: a.ID(), Text: "it is asked at fewer points: " + strings.Join(gone, ", "), Loosens: true})
	}
	all = append(all, compareFigures(a, oldRoom, newRoom)...)
	return append(all, compareWait(a, b, oldRoom, newRoom)...)
}

// compareFigures reports other figures of the job that a check computes with.
// Which way they work nobody can tell from here.
func compareFigures(q *checks.Question, oldRoom, newRoom *checks.Room) []Difference {
	check := checks.ByName(q.Compute)
	if check == nil {
		return nil
	}
	var all []Difference
	for _, name := range check.Figures {
		if was, is := oldRoom.FigureText(name), newRoom.FigureText(name); was != is {
			all = append(all, Difference{Check: q.ID(), Text: fmt.Sprintf("it is computed with another %s: from %q to %q", name, was, is), Loosens: true})
		}
	}
	return all
}

// compareRooms reports what a job file changes for all checks.
func compareRooms(oldRoom, newRoom *checks.Room) []Difference {
	if oldRoom.GuardBand && !newRoom.GuardBand {
		return []Difference{{Text: "acceptance: readings within their uncertainty of a limit pass from here on", Loosens: true}}
	}
	return nil
}

// reworded reports another wording where the words are the requirement: nobody
// but a person can tell whether it asks for less.
func reworded(a, b *checks.Question) string {
	if a.Kind == checks.Reading || a.Kind == checks.Computed {
		return ""
	}
	for _, pair := range [][2]string{{a.Ask, b.Ask}, {a.Inspection, b.Inspection}, {a.Paper, b.Paper}, {a.From, b.From}} {
		if pair[0] != pair[1] {
			return fmt.Sprintf("it is asked in other words: from %q to %q", pair[0], pair[1])
		}
	}
	return ""
}

// fewerPlaces lists faces, or named places, at which b wants fewer answers in
// the new room than a did in the old one.
func fewerPlaces(a, b *checks.Question, oldRoom, newRoom *checks.Room) []string {
	was, is := placesByFace(a, oldRoom), placesByFace(b, newRoom)
	var gone []string
	for face, n := range was {
		if is[face] < n {
			gone = append(gone, fmt.Sprintf("%s (%d, not %d)", face, is[face], n))
		}
	}
	slices.Sort(gone)
	return gone
}

func placesByFace(q *checks.Question, room *checks.Room) map[string]int {
	n := map[string]int{}
	for _, place := range q.Expected(room, "") {
		n[checks.FaceOf(place)]++
	}
	return n
}

// compareWait compares waits of which one stands on a data sheet in the job
// file.
func compareWait(a, b *checks.Question, oldRoom, newRoom *checks.Room) []Difference {
	if !strings.HasPrefix(a.Wait, checks.DataSheet) {
		return nil
	}
	was, errA := oldRoom.Value(a.Wait, units.DurationKind)
	is, errB := newRoom.Value(b.Wait, units.DurationKind)
	order, ok := units.Compare(is, was)
	if errA != nil || errB != nil || !ok || order == 0 {
		return nil
	}
	way := "tightened"
	if order < 0 {
		way = "loosened"
	}
	return []Difference{{a.ID(), fmt.Sprintf("%s: %s from %s to %s", way, a.Wait, was, is), order < 0, a.Safety}}
}

func compareHolds(a, b *Hold) []Difference {
	if b == nil {
		return []Difference{{Text: "hold " + a.ID() + " is taken out", Loosens: true, Safety: true}}
	}
	var all []Difference
	add := func(changed, loosens bool, text string) {
		if changed {
			all = append(all, Difference{Text: "hold " + a.ID() + ": " + text, Loosens: loosens})
		}
	}
	add(!equal(a.SignedBy, b.SignedBy), !within(a.SignedBy, b.SignedBy), "other people must sign it")
	add(!equal(a.After, b.After), !within(a.After, b.After), "it comes after other holds")
	add(fmt.Sprint(a.When) != fmt.Sprint(b.When), true, "it applies under other conditions")
	add(!a.FaceByFace && b.FaceByFace, true, "it may now be released face by face")
	return all
}

func equal[T any](a, b []T) bool { return fmt.Sprint(a) == fmt.Sprint(b) }

// within reports whether everything in a is in b as well.
func within[T any](a, b []T) bool {
	return !slices.ContainsFunc(a, func(x T) bool {
		return !slices.ContainsFunc(b, func(y T) bool { return fmt.Sprint(x) == fmt.Sprint(y) })
	})
}

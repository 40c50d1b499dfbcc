package phases

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"proveout/checks"
	"proveout/checks/units"
)

// Looser reports whether question b is easier to pass than a, as far as the
// two texts tell. Limits that name a value of the job are compared by
// Compare.
func Looser(a, b *checks.Question) bool { return len(loosened(a, b)) > 0 }

// loosened lists what makes b easier to pass than a.
func loosened(a, b *checks.Question) []string {
	var what []string
	add := func(worse bool, text string) {
		if worse {
			what = append(what, text)
		}
	}
	for _, w := range []string{"at least", "above", "at most", "below"} {
		add(looserBound(w, bound(a, w), bound(b, w)), w)
	}
	add(a.Kind != b.Kind || a.Compute != b.Compute || a.Want != b.Want || a.UsedID() != b.UsedID(), "what is asked")
	add(!slices.Equal(a.Options, b.Options), "the choice")
	add(shorter(a.Wait, b.Wait) || shorter(a.Hold, b.Hold), "the time")
	add(earlier(a.Before, b.Before), "the year")
	add(a.Safety && !b.Safety || a.Code && !b.Code, "the safety mark")
	add(!a.RecordOnly && b.RecordOnly || !a.Mean && b.Mean || !a.Series && b.Series || !a.NotApplicable && b.NotApplicable, "how it is judged")
	add(a.Instrument != "" && a.Instrument != b.Instrument, "the instrument")
	add(a.PhotoEach && !b.PhotoEach || a.PhotoOne && !b.PhotoOne && !b.PhotoEach, "the photo")
	add(len(a.By) > 0 && !slices.Equal(a.By, b.By), "who may answer")
	add(fewer(a.Sampling, b.Sampling), "the number of points")
	add(fmt.Sprint(a.When) != fmt.Sprint(b.When), "when it is asked")
	return what
}

func bound(q *checks.Question, word string) checks.Bound {
	switch word {
	case "at least":
		return q.Limits.AtLeast
	case "above":
		return q.Limits.Above
	case "at most":
		return q.Limits.AtMost
	}
	return q.Limits.Below
}

func looserBound(word string, a, b checks.Bound) bool {
	switch {
	case !a.IsSet():
		return false
	case !b.IsSet():
		return true
	case a.String() == b.String():
		return false
	case a.ByFace != nil && b.ByFace != nil:
		for kind, of := range a.ByFace {
			if looserBound(word, of, b.ByFace[kind]) {
				return true
			}
		}
		return false
	case !a.Plain.Known() || !b.Plain.Known():
		return true // not comparable by text alone
	}
	return looserQuantity(word, a.Plain, b.Plain)
}

func looserQuantity(word string, a, b units.Quantity) bool {
	if word == "at least" || word == "above" {
		return !units.AtLeast(b, a)
	}
	return !units.AtMost(b, a)
}

// shorter reports whether wait b can be over before wait a is.
func shorter(a, b string) bool {
	if a == b || a == "" {
		return false
	}
	countA, wordA, _ := strings.Cut(a, " ")
	countB, wordB, _ := strings.Cut(b, " ")
	if nA, errA := strconv.Atoi(countA); errA == nil && wordA == wordB {
		if nB, errB := strconv.Atoi(countB); errB == nil {
			return nB < nA
		}
	}
	_, longestA, okA := checks.WaitSpan(a)
	shortestB, _, okB := checks.WaitSpan(b)
	return !okA || !okB || shortestB < longestA
}

func earlier(a, b string) bool {
	ya, _ := strconv.Atoi(a)
	yb, _ := strconv.Atoi(b)
	return a != b && yb < ya
}

func fewer(a, b checks.Sampling) bool {
	dense := func(area units.Quantity) float64 {
		if !area.Known() {
			return 0
		}
		return 1 / area.Base()
	}
	return b.PerFace < a.PerFace || b.PerBay < a.PerBay || b.AtLeast < a.AtLeast ||
		len(b.Places) < len(a.Places) || a.Each != "" && a.Each != b.Each || dense(b.PerArea) < dense(a.PerArea)*(1-1e-9) ||
		dense(b.FloorArea) < dense(a.FloorArea)*(1-1e-9) ||
		narrower(a.Faces, b.Faces) || narrower(a.OtherSides, b.OtherSides)
}

// narrower reports whether list b leaves out something that a takes in; nil
// takes in everything.
func narrower(a, b []string) bool {
	if b == nil {
		return false
	}
	if a == nil {
		return true
	}
	return slices.ContainsFunc(a, func(w string) bool { return !slices.Contains(b, w) })
}

// limitText is the limit of a question in one line, for messages.
func limitText(q *checks.Question) string {
	switch {
	case q.Limits.IsSet():
		return q.Limits.String()
	case q.Wait != "":
		return q.Wait
	case q.Before != "":
		return "before " + q.Before
	}
	return q.Want
}

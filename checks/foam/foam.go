// Package foam judges what is left to prove of sprayed foam and of batts once they
// are in: the lifts and the time between them, the depth over a face, and the
// grade of a batt.
//
// Foam makes heat as it sets. The core of a lift reaches 225 to 350 °F at the
// greatest thickness the maker allows, and beyond some 450 to 500 °F foam takes
// fire by itself (trade texts, quoted). So lifts are thin and wait for each other:
// the product's report governs; where it gives nothing, at most 1½ in and at least
// 10 to 15 minutes or a core that has cooled (trade body, quoted).
//
// Depth is judged by its least point. The mean is shown beside it and excuses
// nothing.
package foam

import (
	"errors"
	"fmt"
	"time"

	"proveout/checks/units"
)

const inch = 0.0254 // m

// Defaults where a product's report gives none (quoted).
const (
	DefaultLift = 1.5 * inch
	DefaultWait = 15 * time.Minute
)

// Lifts is how the foam of one place was built up.
type Lifts struct {
	Number   int           // of lifts, 1 to 20
	Thickest units.Length  // single lift, pinned between lifts
	Shortest time.Duration // wait between two lifts; not used for one lift
	Depth    units.Length  // all of them together, at the deepest point
	Limit    units.Length  // of a lift, by the product's report
	Wait     time.Duration // between lifts, by the product's report
}

// Finding is one question about the lifts with its answer.
type Finding struct {
	Outcome units.Outcome
	Text    string
}

// Judge returns the finding that decides. Lifts that together cannot make up the
// depth are undecided: one of them was thicker than written, or is missing.
func (l Lifts) Judge() (Finding, error) {
	if err := l.valid(); err != nil {
		return Finding{}, fmt.Errorf("foam lifts: %w", err)
	}
	most := float64(l.Number) * float64(l.Thickest)
	switch {
	case float64(l.Thickest) > float64(l.Limit)*(1+slack):
		return Finding{units.Fail, fmt.Sprintf("a lift of %s, at most %s", length(l.Thickest), length(l.Limit))}, nil
	case l.Number > 1 && l.Shortest < l.Wait:
		return Finding{units.Fail, fmt.Sprintf("%s between two lifts, at least %s", minutes(l.Shortest), minutes(l.Wait))}, nil
	case most < float64(l.Depth)*(1-slack):
		return Finding{units.Undecided, fmt.Sprintf("%d lifts of at most %s do not make %s: one was thicker or is not written down", l.Number, length(l.Thickest), length(l.Depth))}, nil
	}
	return Finding{units.Pass, fmt.Sprintf("%d lifts, the thickest %s", l.Number, length(l.Thickest))}, nil
}

func (l Lifts) valid() error {
	err := errors.Join(
		units.Within("number of lifts", float64(l.Number), 1, 20, ""),
		units.Within("thickest lift", float64(l.Thickest), 0.003, 0.3, "m"),
		units.Within("depth", float64(l.Depth), 0.003, 0.6, "m"),
		units.Within("limit of a lift", float64(l.Limit), 0.005, 0.2, "m"),
		units.Within("wait that is wanted", l.Wait.Hours(), 0, 48, "h"),
	)
	if l.Number > 1 {
		err = errors.Join(err, units.Within("shortest wait", l.Shortest.Hours(), 0, 1000, "h"))
	}
	return err
}

func length(l units.Length) string { return fmt.Sprintf("%.0f mm (%.2f in)", 1000*l, l/inch) }

func minutes(d time.Duration) string { return fmt.Sprintf("%.0f min", d.Minutes()) }

// slack is the relative room that comparisons leave for float noise.
const slack = 1e-9

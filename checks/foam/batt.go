package foam

import (
	"errors"
	"fmt"

	"proveout/checks/units"
)

// Batt is what is seen of the batts of a face or bay, as shares of its area.
type Batt struct {
	Voids    units.Percent // through the full depth
	Squeezed units.Percent // compressed or not filled, without the voids
	// Loss is the greatest share of its thickness that such a place lacks.
	Loss units.Percent
}

// Grade is I, II or III, or 0 for what has no grade and counts as not insulated.
type Grade int

func (g Grade) String() string {
	if g < 1 || g > 3 {
		return "no grade"
	}
	return []string{"Grade I", "Grade II", "Grade III"}[g-1]
}

// GradeSource is where the grades come from; the figures of I are quoted.
const GradeSource = "RESNET grading of installation: I quoted; II and III from memory"

// Grade returns the grade of the batts: I without voids, with at most 2 % squeezed
// and less than 30 % of the thickness lost there; II with at most 2 % voids and
// 10 % squeezed; III with at most 5 % voids. It is an error for shares that are not
// 0 to 100 % or together above 100 %.
func (b Batt) Grade() (Grade, error) {
	err := errors.Join(
		units.Within("voids", float64(b.Voids), 0, 100, "%"),
		units.Within("squeezed", float64(b.Squeezed), 0, 100, "%"),
		units.Within("loss of thickness", float64(b.Loss), 0, 100, "%"),
		units.Within("voids and squeezed together", float64(b.Voids+b.Squeezed), 0, 100, "%"),
	)
	if err == nil && (b.Squeezed > 0) != (b.Loss > 0) {
		err = errors.New("squeezed places and the thickness they lack go together; give both or neither")
	}
	if err != nil {
		return 0, fmt.Errorf("batts: %w", err)
	}
	deep := b.Loss >= 30*(1-slack)
	switch {
	case b.Voids == 0 && upTo(b.Squeezed, 2) && !deep:
		return 1, nil
	case upTo(b.Voids, 2) && upTo(b.Squeezed, 10) && !deep:
		return 2, nil
	case upTo(b.Voids, 5) && upTo(b.Squeezed, 10):
		return 3, nil
	}
	return 0, nil
}

func upTo(got, limit units.Percent) bool { return float64(got) <= float64(limit)*(1+slack) }

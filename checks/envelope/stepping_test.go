package envelope_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"proveout/checks/envelope"
)

// stepper moves condensate through short steps by brute force: in each, vapor
// pressure and mass obey p ≤ p_sat, M ≥ 0 and one of the two with equality
// (implicit Euler and projected Gauss–Seidel; Glowinski, Lions, Trémolières,
// Numerical Analysis of Variational Inequalities, 1981, ch. 2).
type stepper struct {
	nodes [12][]envelope.VaporNode // by month
	p     []float64
	mass  []float64
}

func (s *stepper) step(m int, other, room, seconds float64) {
	nodes := s.nodes[m]
	last := len(nodes) - 1
	conductance := func(j int) float64 { return 2e-10 / float64(nodes[j].SD-nodes[j-1].SD) }
	s.p[0], s.p[last] = other, room
	for range 100000 {
		var change float64
		for j := 1; j < last; j++ {
			left, right := conductance(j), conductance(j+1)
			free := (left*s.p[j-1] + right*s.p[j+1] + s.mass[j]/seconds) / (left + right)
			next := min(s.p[j]+1.7*(free-s.p[j]), float64(nodes[j].Saturation))
			change = max(change, math.Abs(next-s.p[j]))
			s.p[j] = next
		}
		if change < 1e-8 {
			break
		}
	}
	for j := 1; j < last; j++ {
		gain := conductance(j)*(s.p[j-1]-s.p[j]) - conductance(j+1)*(s.p[j]-s.p[j+1])
		s.mass[j] = max(0, s.mass[j]+gain*seconds)
	}
}

// year runs from the start month with eight steps a day and returns the whole
// mass at the end of each month.
func (s *stepper) year(months []envelope.Month, start int) [12]float64 {
	var total [12]float64
	for k := range 12 {
		m := (start + k) % 12
		steps := int(8 * months[m].Days)
		for range steps {
			s.step(m, float64(months[m].Other.VaporPressure), float64(months[m].Room.VaporPressure), months[m].Days*86400/float64(steps))
		}
		for _, mass := range s.mass {
			total[m] += mass
		}
	}
	return total
}

// Twelve random walls, a year by divided months against a year of short steps.
// Wetting is exact in both; the steps smear the moment of drying over three
// hours, so that masses may differ by what the fastest month moves in a step.
func TestYearAgainstShortSteps(t *testing.T) {
	random := rand.New(rand.NewPCG(13788, 6))
	tested, dried := 0, 0
	for tested < 12 {
		a := randomWall(random)
		months, _ := randomYear(t, random)
		b, err := envelope.Year(a, outsideWall, months)
		if err != nil {
			t.Fatal(err)
		}
		if len(b.Planes) == 0 || b.Months[(b.Start+11)%12].Mass > 1e-9 && b.Verdict != envelope.StaysWet {
			continue
		}
		s := stepper{}
		for m := range months {
			p, err := envelope.Profile(a, b.Months[m].Films, months[m].Other, months[m].Room)
			if err != nil {
				t.Fatal(err)
			}
			s.nodes[m] = p.Nodes
		}
		s.p, s.mass = make([]float64, len(s.nodes[0])), make([]float64, len(s.nodes[0]))
		total := s.year(months, b.Start)
		tested++
		if b.Verdict != envelope.StaysWet {
			dried++
		}
		var moved float64
		for m := range months {
			moved = max(moved, (math.Abs(float64(b.Months[m].In))+math.Abs(float64(b.Months[m].Out)))/(8*months[m].Days))
		}
		for m := range months {
			if !near(float64(b.Months[m].Mass), total[m], moved) {
				t.Errorf("wall %d (%v), month %d: %v kg/m², short steps %v, allowed %v", tested, b.Verdict, m+1, b.Months[m].Mass, total[m], moved)
			}
		}
	}
	if dried < 3 || dried == tested {
		t.Errorf("%d of %d walls dried: not both kinds", dried, tested)
	}
}

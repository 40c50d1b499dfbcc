package airflow

import (
	"errors"
	"fmt"
	"math"

	"proveout/checks/units"
)

// Perimeter is the gap all round a closed door, the only leak of its room: slots
// below and above, and two beside it over the whole height.
type Perimeter struct {
	Width, Height units.Length // of the door leaf
	// Bottom, Head and Jamb are the gaps' widths; Jamb is that of each side.
	Bottom, Head, Jamb units.Length
	Discharge          float64 // 0.3 to 1; SharpEdged unless it was measured
}

// Area returns the area of the gap all round.
func (d Perimeter) Area() units.Area {
	return units.Area(d.Bottom*d.Width + d.Head*d.Width + 2*d.Jamb*d.Height)
}

// Leak returns the steady exchange by the difference in density alone. The height
// at which no air passes is where flow in and flow out are equal.
func (d Perimeter) Leak(house, room State) (Leak, error) {
	if err := d.valid(); err != nil {
		return Leak{}, fmt.Errorf("door gap: %w", err)
	}
	total := StackPressure(house.Density, room.Density, d.Height)
	neutral := d.neutral()
	// √(2Δp/ρ) at the full height; at a height h it goes as √(h/H).
	speed := math.Sqrt(2 * math.Abs(float64(total)) / (float64(house.Density+room.Density) / 2))
	l := Leak{
		Pressure: total * units.Pressure(neutral),
		Flow:     units.Airflow(d.Discharge * speed * d.opening(d.Bottom, neutral)),
	}
	var err error
	if l.Carried, err = Exchange(house.Entering(l.Flow), house, room); err != nil {
		return Leak{}, fmt.Errorf("door gap: %w", err)
	}
	l.Steps = append([]Step{
		{Name: "gap all round", Value: fmt.Sprintf("%.1f cm²", 1e4*d.Area()), Source: "feeler gauge"},
		{Name: "stack pressure", Formula: "(ρ_room − ρ_house) · g · height", Value: fmt.Sprintf("%.2f Pa", total), Source: "hydrostatics"},
		{Name: "no flow at", Formula: "flow out below = flow in above", Value: fmt.Sprintf("%.0f %% of the height", 100*neutral), Source: "orifice law over the height"},
		{Name: "air leak", Formula: "C_d · (A·√(2Δp/ρ) at the end + ⅔ of it beside the leaf)", Value: flowText(l.Flow), Source: "orifice law over the height"},
	}, l.Carried.steps()...)
	return l, nil
}

// opening is the area of the slot at one end, weighted as √(Δp/Δp_total), and of
// the jambs between it and the height of no flow, a share s of the height away.
func (d Perimeter) opening(end units.Length, s float64) float64 {
	jambs := 2 * float64(d.Jamb*d.Height)
	return float64(end*d.Width)*math.Sqrt(s) + jambs*2/3*s*math.Sqrt(s)
}

// neutral returns the height of no flow as a share of the door's, by bisection:
// the lower opening grows with it and the upper one shrinks.
func (d Perimeter) neutral() float64 {
	low, high := 0.0, 1.0
	for range 50 {
		s := (low + high) / 2
		if d.opening(d.Bottom, s) < d.opening(d.Head, 1-s) {
			low = s
		} else {
			high = s
		}
	}
	return (low + high) / 2
}

func (d Perimeter) valid() error {
	const most = 0.1 // m
	err := errors.Join(
		within("door width", float64(d.Width), 0.3, 3, "m"),
		within("door height", float64(d.Height), 0.5, 4, "m"),
		within("bottom gap", float64(d.Bottom), 0, most, "m"),
		within("head gap", float64(d.Head), 0, most, "m"),
		within("jamb gap", float64(d.Jamb), 0, most, "m"),
		within("discharge coefficient", d.Discharge, 0.3, 1, ""),
	)
	if err == nil && d.Jamb == 0 && (d.Bottom == 0 || d.Head == 0) {
		return errors.New("one gap alone passes no steady flow; enter what leaks at the other end, or at the sides")
	}
	return err
}

package envelope

import (
	"fmt"
	"strings"
)

const yearSource = "ISO 13788:2012, clause 6 (clause number from memory)"

// Summary says in one line what becomes of condensate over the year.
func (b YearBalance) Summary() string {
	switch b.Verdict {
	case NeverWet:
		return fmt.Sprintf("no condensation inside in any month; wettest %s with %.0f %% RH in %s",
			b.Assembly.PlaceName(b.Wettest.Place), float64(b.Wettest.Humidity), b.monthName(b.Wettest.Month))
	case SurfaceWet:
		return "surface condensation in " + strings.Join(b.wetSurfaces(), ", ") + "; the balance inside would mean nothing"
	case Undecided:
		if len(b.Planes) == 0 {
			return "undecided: nothing has been computed"
		}
	}
	var planes []string
	for _, p := range b.Planes {
		limit := fmt.Sprintf("limit %.3f", float64(p.Limit))
		if p.Rule == NoDensityRule {
			limit = "limit unknown, the density of the wood beside it is missing"
		}
		text := fmt.Sprintf("%s %.3f kg/m² in %s, %s", b.Assembly.PlaceName(p.Place), float64(p.Peak), b.monthName(p.PeakMonth), limit)
		if p.Growth > dryMass {
			text += fmt.Sprintf(", %.3f more each year", float64(p.Growth))
		}
		planes = append(planes, text)
	}
	return fmt.Sprintf("%s: %s", b.Verdict, strings.Join(planes, "; "))
}

func (b YearBalance) wetSurfaces() []string {
	var months []string
	for i, m := range b.Months {
		if m.OtherSideWet {
			months = append(months, b.monthName(i)+" on the other side")
		}
		if m.RoomWet {
			months = append(months, b.monthName(i)+" in the room")
		}
	}
	return months
}

func (b YearBalance) monthName(i int) string {
	if i < 0 || i >= len(b.Given) || b.Given[i].Name == "" {
		return fmt.Sprintf("month %d", i+1)
	}
	return b.Given[i].Name
}

// Steps shows the balance month by month, from the first wet month on, and the
// rule each plane is judged by.
func (b YearBalance) Steps() []Step {
	var steps []Step
	for k := range b.Months {
		i := (b.Start + k) % len(b.Months)
		m, given := b.Months[i], b.Given[i]
		value := fmt.Sprintf("%.4f kg/m² in the planes, %.1f %% RH %s", float64(m.Mass), float64(m.Wettest.Humidity), b.Assembly.PlaceName(m.Wettest.Place))
		if m.OtherSideWet || m.RoomWet {
			value = "surface condensation"
		} else if b.Verdict == SurfaceWet {
			value = "not balanced"
		}
		steps = append(steps, Step{Name: b.monthName(i),
			Formula: fmt.Sprintf("%.4g days; other side %.2f °C %.1f Pa, room %.2f °C %.1f Pa; heat %s, Rs %.2f and %.2f",
				given.Days, float64(given.Other.Temperature), float64(given.Other.VaporPressure), float64(given.Room.Temperature), float64(given.Room.VaporPressure),
				m.Films.Direction, float64(m.Films.OtherSide), float64(m.Films.Room)),
			Value: value, Source: yearSource})
	}
	for _, p := range b.Planes {
		steps = append(steps, Step{Name: "limit " + b.Assembly.PlaceName(p.Place), Formula: fmt.Sprintf("peak %.4f kg/m² in %s", float64(p.Peak), b.monthName(p.PeakMonth)),
			Value: fmt.Sprintf("at most %.4f kg/m²", float64(p.Limit)), Source: string(p.Rule)})
	}
	return append(steps, Step{Name: "verdict", Formula: "condensate over the year", Value: b.Summary(), Source: yearSource})
}

package envelope

import (
	"errors"
	"fmt"

	"proveout/checks/units"
)

// PlaneMonth is the air at one plane of an assembly, mean of a month.
type PlaneMonth struct {
	Name        string
	Days        float64
	Temperature units.Temperature
	Humidity    units.RelativeHumidity
}

// Plane follows one plane through the months of a balanced year, from the first
// month given. In a month that ends with condensate somewhere inside, the plane
// counts as damp as the dampest of all. It is an error where a surface is wet:
// then nothing is known of the inside.
func (b YearBalance) Plane(place Place) ([]PlaneMonth, error) {
	if b.Verdict == SurfaceWet || b.Verdict == Undecided && len(b.Planes) == 0 {
		return nil, errors.New("the year has no profile inside: " + b.Summary())
	}
	months := make([]PlaneMonth, len(b.Given))
	for i, m := range b.Given {
		p, err := Profile(b.Assembly, b.Months[i].Films, m.Other, m.Room)
		if err != nil {
			return nil, fmt.Errorf("month %d, %q: %w", i+1, m.Name, err)
		}
		node, ok := p.node(place)
		if !ok {
			return nil, fmt.Errorf("the assembly has no plane %+v; take one that the year names", place)
		}
		months[i] = PlaneMonth{Name: b.monthName(i), Days: m.Days, Temperature: node.Temperature, Humidity: node.Humidity}
		if b.Months[i].Mass > dryMass {
			months[i].Humidity = min(100, max(node.Humidity, b.Months[i].Wettest.Humidity))
		}
	}
	return months, nil
}

// Mild reports whether no plane inside is above the critical humidity in any month.
func (b YearBalance) Mild() bool { return b.Wettest.Humidity <= CriticalHumidity*(1+slack) }

func (p VaporProfile) node(place Place) (VaporNode, bool) {
	for _, n := range p.Nodes {
		if n.Place == place {
			return n, true
		}
	}
	return VaporNode{}, false
}

// Hours spreads months over their hours, each hour at its month's mean.
func Hours(months []PlaneMonth) ([]units.Temperature, []units.RelativeHumidity) {
	var temperatures []units.Temperature
	var humidities []units.RelativeHumidity
	for _, m := range months {
		for range int(m.Days*24 + 0.5) {
			temperatures = append(temperatures, m.Temperature)
			humidities = append(humidities, min(100, m.Humidity))
		}
	}
	return temperatures, humidities
}

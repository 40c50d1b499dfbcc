package checks

import (
	"fmt"

	"proveout/checks/envelope"
	"proveout/checks/units"
)

// RetarderPermeance asks whether the retarder of a face is tight enough where it
// is: its permeance as a share of the greatest that keeps every plane behind it
// at 80 % or below, under each of the design conditions.
var RetarderPermeance = &Check{
	Name:    "retarder-permeance",
	Doc:     "permeance of the retarder as a share of the greatest that its face allows",
	Source:  "straight vapor pressure line of ISO 13788:2012, 6.3, solved for the retarder; 80 % by clause 5.1 (clause numbers from memory)",
	Result:  units.PercentKind,
	Figures: yearFigures,
	Built:   true,
	Whole:   retarderPermeance,
}

func retarderPermeance(c Case) []Point {
	var points []Point
	for _, f := range c.Question.faces(c.Room, c.Face) {
		points = append(points, c.greatestPermeance(f))
	}
	return points
}

func (c Case) greatestPermeance(f *Face) Point {
	d, err := c.design(f, thinnest)
	if err != nil {
		return undecided(f.Name, "%v", err)
	}
	installed, err := d.permeance()
	if err != nil {
		return undecided(f.Name, "%v", err)
	}
	months, err := c.Room.year(f)
	if err != nil {
		return undecided(f.Name, "%v", err)
	}
	if alike(months) {
		months = months[:1]
		months[0].Name = "every month"
	}
	worst := undecided(f.Name, "the air the vapor goes to is above 80 %% RH in all months; no retarder decides then")
	for _, m := range months {
		if beyondHelp(m) {
			continue
		}
		p := d.allowed(c, m, installed)
		if p.judged || worst.judged || p.Quantity.Base() > worst.Quantity.Base() {
			worst = p
		}
		if p.judged {
			break
		}
	}
	worst.Facts, worst.Steps = d.facts, append(d.steps, worst.Steps...)
	return worst
}

// beyondHelp reports whether the air that the vapor goes to is itself above 80 %: no
// retarder keeps planes drier than that. How damp they get the year's balance says.
func beyondHelp(m envelope.Month) bool {
	far := m.Room
	if m.Other.VaporPressure < m.Room.VaporPressure {
		far = m.Other
	}
	rh, err := far.RelativeHumidity()
	return err == nil && rh > envelope.CriticalHumidity
}

// alike reports whether all months have the same airs.
func alike(months []envelope.Month) bool {
	for _, m := range months {
		if m.Other != months[0].Other || m.Room != months[0].Room {
			return false
		}
	}
	return true
}

// allowed compares the retarder with what the airs of one month allow.
func (d *faceDesign) allowed(c Case, m envelope.Month, installed units.Permeance) Point {
	name := d.face.Name
	films, err := envelope.SurfaceResistances(d.face.side(), m.Other.Temperature, m.Room.Temperature)
	if err != nil {
		return undecided(name, "%v", err)
	}
	bare, at := d.withoutRetarder(m.Other.VaporPressure >= m.Room.VaporPressure)
	limit, err := envelope.GreatestPermeance(bare, at, films, m.Other, m.Room, envelope.CriticalHumidity)
	if err != nil {
		return undecided(name, "in %s: %v", m.Name, err)
	}
	print := func(p units.Permeance) string {
		return units.Of(units.PermeanceKind, float64(p), c.Room.Units).String()
	}
	p := Point{Place: name, Steps: append([]Step{
		{Name: "air in " + m.Name, Value: fmt.Sprintf("beyond the %s %.1f °C and %.0f Pa of vapor, in the room %.1f °C and %.0f Pa", name, float64(m.Other.Temperature), float64(m.Other.VaporPressure), float64(m.Room.Temperature), float64(m.Room.VaporPressure)), Source: "job.yaml"},
		{Name: "permeance of the retarder", Value: print(installed), Source: d.assembly.Layers[d.retarder].VaporSource},
	}, limit.Steps...)}
	if limit.Before > 100 {
		p.Outcome, p.judged, p.Value = Fail, true, print(installed)
		p.Reason = fmt.Sprintf("the retarder is on the wrong side in %s: tight or not, vapor condenses before it", m.Name)
		return p
	}
	share, asks := 0.0, "no retarder is needed"
	if limit.Needed {
		share, asks = 100*float64(installed/limit.Permeance), "at most "+print(limit.Permeance)+" in "+m.Name
	}
	p.Quantity = units.Of(units.PercentKind, share, c.Room.Units)
	p.Value = fmt.Sprintf("%s (%s; %s)", p.Quantity, print(installed), asks)
	return p
}

// withoutRetarder is the face without its retarder, and the layer that it lies
// before. Foam that stops vapor stays as insulation; its vapor resistance counts
// as a sheet on the face that the vapor meets first, so that the plane behind all
// of it decides.
func (d *faceDesign) withoutRetarder(inward bool) (envelope.Assembly, int) {
	bare, at := envelope.Assembly{Name: d.assembly.Name}, d.retarder
	for i, l := range d.assembly.Layers {
		if i == d.retarder && l.Kind == envelope.Film {
			continue
		}
		if i == d.retarder {
			l.Vapor = envelope.SD(0)
			if !inward {
				at++
			}
		}
		bare.Layers = append(bare.Layers, l)
	}
	return bare, at
}

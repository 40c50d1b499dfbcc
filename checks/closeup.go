package checks

import (
	"fmt"

	"proveout/checks/envelope"
	"proveout/checks/units"
	"proveout/checks/wood"
)

// CloseUpMoisture asks whether framing is dry enough to be closed in. Behind a
// layer of Class I or II its moisture stays, and the air in the bay comes into
// balance with it: there the plan's limit holds. Where the face is open to vapor
// the wood may still dry, and 19 % holds.
var CloseUpMoisture = &Check{
	Name:    "close-up-moisture",
	Doc:     "moisture of framing on the day it is closed in, by the layer that closes it",
	Source:  "balance with air: Wood Handbook FPL-GTR-282, eq. 4-5; classes: IRC R702.7 (from memory); 19 %: California Green Building Standards Code 4.505.3",
	Result:  units.MoistureContentKind,
	Figures: []string{"set point"},
	Built:   true,
	Whole:   closeUpMoisture,
}

// wettestClosed is the moisture that framing may never be closed in with, %.
// California Green Building Standards Code 4.505.3 (read).
const wettestClosed = 19

func closeUpMoisture(c Case) []Point {
	if c.used() == nil {
		return []Point{undecided("", "the plan does not say whose readings it is judged by; add uses:")}
	}
	facts := c.Facts.On(c.source(), c.Face)
	var readings, points []Point
	for _, f := range facts {
		r := Point{Place: f.Place, Facts: []string{f.ID}, Quantity: f.Quantity}
		if f.Instrument != nil {
			r.Uncertainty = f.Instrument.Uncertainty
		}
		readings = append(readings, r)
	}
	readings = latest(readings, facts) // wood dries: an older reading counts no more
	for _, f := range c.Question.faces(c.Room, c.Face) {
		points = append(points, c.closeUp(f, readings))
	}
	return points
}

func (c Case) closeUp(f *Face, readings []Point) Point {
	p := Point{Place: f.Name}
	for _, r := range readings {
		if FaceOf(r.Place) != f.Name {
			continue
		}
		p.Facts = append(p.Facts, r.Facts...)
		if !p.Quantity.Known() || compareBase(r.Quantity, p.Quantity) > 0 {
			p.Quantity, p.Uncertainty, p.measured = r.Quantity, r.Uncertainty, true
		}
	}
	if !p.Quantity.Known() {
		return undecided(f.Name, "no moisture is read on the %s", f.Name)
	}
	class, steps, err := c.closedBy(f)
	if err != nil {
		return undecided(f.Name, "%v", err)
	}
	air := c.balance(p.Quantity)
	p.Value = p.Quantity.String() + air
	p.Steps = append([]Step{{Name: "wettest reading", Value: p.Quantity.String(), Source: "reading"}}, steps...)
	p.Steps = append(p.Steps, Step{Name: "air in the closed bay", Formula: "humidity in balance with the wood at the set point", Value: p.Value, Source: "Wood Handbook FPL-GTR-282, eq. 4-5"})
	never := units.Of(units.MoistureContentKind, wettestClosed, c.Room.Units)
	open := class != envelope.ClassI && class != envelope.ClassII
	wet := !units.AtMost(p.Quantity, never)
	if wet || open {
		p.judged, p.Outcome, p.Limit = true, Pass, "at most "+never.String()
	}
	if wet {
		p.Outcome, p.Reason = Fail, p.Value+" is above "+never.String()+", which framing is never closed in with"
	}
	return p
}

// closedBy is the class of the tightest layer of a face. A layer whose vapor
// resistance nobody knows may be tight.
func (c Case) closedBy(f *Face) (envelope.Class, []Step, error) {
	d, err := c.design(f, thinnest)
	if err != nil {
		return "", nil, err
	}
	least, name := units.Permeance(1), ""
	for _, l := range d.assembly.Layers {
		sd, err := l.Vapor.SD(l.Thickness, 50)
		if err != nil {
			return envelope.ClassI, append(d.steps, Step{Name: "tightest layer", Value: l.Name + ", of unknown permeance: taken as Class I", Source: "job.yaml"}), nil
		}
		if sd > 0 && envelope.PermeanceFromSD(sd) < least {
			least, name = envelope.PermeanceFromSD(sd), l.Name
		}
	}
	if name == "" {
		return "", nil, fmt.Errorf("job.yaml gives no layers of the %s; add as planned: with its layers", f.Name)
	}
	class, err := envelope.RetarderClass(least)
	perms := units.Of(units.PermeanceKind, float64(least), c.Room.Units)
	return class, append(d.steps, Step{Name: "tightest layer", Value: fmt.Sprintf("%s, %s: %s", name, perms, class), Source: "IRC R702.7 (from memory)"}), err
}

// balance says what humidity wood of a moisture makes around itself.
func (c Case) balance(moisture units.Quantity) string {
	if !c.Room.SetPoint.Known() {
		return ""
	}
	rh, err := wood.EquilibriumHumidity(c.Room.SetPoint.Temperature(), moisture.Percent())
	if err != nil {
		return ", air in the closed bay above 95 % RH or out of range"
	}
	return fmt.Sprintf(", air of %s in the closed bay", units.Of(units.HumidityKind, float64(rh), c.Room.Units))
}

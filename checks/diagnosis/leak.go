package diagnosis

import (
	"errors"
	"fmt"
	"math"

	"proveout/checks/airflow"
	"proveout/checks/cooling"
	"proveout/checks/envelope"
	"proveout/checks/units"
)

// leakage is the air that comes in with the door shut, at the visit.
type leakage struct {
	door, openings, rest part
	doorRead             bool // gaps were measured
	// measured says that the whole was, by condensate or fan: rest is then what
	// neither door nor openings explain.
	measured Measurement
	known    bool
	why      string // why it is not known
	sound    units.Airflow
	steps    []units.Step
	// floor says that only what could be seen is counted.
	floor bool
}

// part is one share of a leak.
type part struct {
	flow units.Airflow // of the side's air
	side envelope.OtherSide
}

func (l leakage) total() units.Airflow { return l.door.flow + l.openings.flow + l.rest.flow }

// leakage measures the leak by a day's condensate, else by a fan test, and divides
// it between the door's gap, openings and the rest.
func (d *diagnosis) measureLeak() {
	l := &d.leak
	r := d.room.Readings
	l.rest.side, l.door.side = envelope.House, envelope.House
	perHour := d.limits.SoundAirChange
	if d.room.Planned != nil {
		perHour = d.room.Planned.AirChange
	}
	l.sound = units.Airflow(perHour * float64(d.room.Volume) / 3600)
	house, ok := d.now.state(envelope.House, d.pressure)
	if !ok || !d.in.stated {
		l.why = "temperature and humidity of room and house are needed"
		return
	}
	d.doorGap(house)
	d.openings()
	var total units.Airflow
	var err error
	switch {
	case r.Condensate.Taken:
		total, err = d.byCondensate(house)
		l.measured = Condensate
	case r.FanTest != nil:
		var leak airflow.Leak
		leak, err = r.FanTest.Leak(house, d.in.state)
		total, l.measured = leak.Flow, FanTest
		l.steps = append(l.steps, leak.Steps...)
	default:
		l.why = "no condensate was weighed and no fan test made"
		l.floor = true
		return
	}
	if err != nil {
		l.why, l.floor = err.Error(), true
		return
	}
	l.known = true
	l.divide(total)
}

// divide gives the whole leak to its parts; parts that add up to more than was
// measured are scaled down.
func (l *leakage) divide(total units.Airflow) {
	seen := l.door.flow + l.openings.flow
	if seen > total {
		scale := total / seen
		l.door.flow *= scale
		l.openings.flow *= scale
		return
	}
	l.rest.flow = total - seen
}

// byCondensate is the house air that a day's water stands for, after what
// diffusion, openings, doors in use and people have brought.
func (d *diagnosis) byCondensate(house airflow.State) (units.Airflow, error) {
	water := d.room.Readings.Condensate.Value
	other := d.room.Use.Water
	other += d.diffusion() + d.doorUse()
	if d.leak.openings.side != "" && d.leak.openings.side != envelope.House {
		if s, ok := d.now.state(d.leak.openings.side, d.pressure); ok {
			if c, err := airflow.Exchange(s.Entering(d.leak.openings.flow), s, d.in.state); err == nil {
				other += c.Water.PerDay()
			}
		}
	}
	other = units.Mass(math.Min(math.Max(0, float64(other)), float64(water)))
	i, err := airflow.Condensate{Water: water, Inside: other}.Infiltration(house, d.in.state)
	if err != nil {
		return 0, err
	}
	d.leak.steps = append(d.leak.steps, i.Steps...)
	total := i.Flow
	if d.leak.openings.side != "" && d.leak.openings.side != envelope.House {
		total += d.leak.openings.flow // its water was taken off before
	}
	return total, nil
}

// diffusion returns the water that passes the faces in a day.
func (d *diagnosis) diffusion() units.Mass {
	var sum units.Mass
	for _, s := range d.faces {
		air, ok := d.now.state(s.Side, d.pressure)
		if !ok || s.permeance == 0 || !s.used.Taken {
			continue
		}
		if c, err := s.asFace(s.used.Value, true).Diffusion(air.Air, d.in.state.Air); err == nil {
			sum += c.Water.PerDay()
		}
	}
	return sum
}

// doorUse returns the water that comes in by doors in use in a day.
func (d *diagnosis) doorUse() units.Mass {
	var sum units.Mass
	for _, door := range d.room.Use.Doors {
		air, ok := d.now.state(envelope.OtherSide(door.Side), d.pressure)
		if !ok {
			continue
		}
		if c, err := door.Average(door.DoorUse, air, d.in.state); err == nil {
			sum += c.Water.PerDay()
		}
	}
	return sum
}

// doorGap computes what passes the gap round the door: what lies below the middle of
// its height lets air out, what lies above lets it in. A door read at one end only
// is taken to leak as much at the other.
func (d *diagnosis) doorGap(house airflow.State) {
	gaps := d.room.Readings.Gaps
	if len(gaps) == 0 {
		return
	}
	d.leak.doorRead = true
	low, high, height := gapAreas(gaps)
	if low == 0 && high == 0 {
		return
	}
	if low == 0 || high == 0 {
		low, high = max(low, high), max(low, high)
		height = max(height, 2)
	}
	gap := airflow.Gap{Low: low, High: high, Height: height, Discharge: airflow.SharpEdged}
	leak, err := gap.Leak(house, d.in.state)
	if err != nil {
		return
	}
	d.leak.door.flow = leak.Flow
	d.leak.steps = append(d.leak.steps, units.Step{
		Name: "gap round the door", Formula: "Σ length · width below and above its middle",
		Value: fmt.Sprintf("%.1f and %.1f cm², %.2f m apart", 1e4*float64(low), 1e4*float64(high), float64(height)), Source: "feeler gauge",
	})
	d.leak.steps = append(d.leak.steps, leak.Steps...)
}

// gapAreas returns the area of the gap below and above its middle and the distance
// of their centers.
func gapAreas(gaps []DoorGapStretch) (low, high units.Area, height units.Length) {
	bottom, top := math.Inf(1), math.Inf(-1)
	for _, g := range gaps {
		bottom, top = math.Min(bottom, float64(g.Height)), math.Max(top, float64(g.Height))
	}
	middle := (bottom + top) / 2
	var lowMoment, highMoment float64
	add := func(area, at float64) {
		if at < middle || bottom == top && at < 1 {
			low += units.Area(area)
			lowMoment += area * at
			return
		}
		high += units.Area(area)
		highMoment += area * at
	}
	for _, g := range gaps {
		area := float64(g.Length) * float64(g.Width)
		if h := float64(g.Height); bottom != top && math.Abs(h-middle) < 0.1*(top-bottom) {
			// A jamb from floor to head: half of it on either side of the middle.
			add(area/2, h-float64(g.Length)/4)
			add(area/2, h+float64(g.Length)/4)
			continue
		}
		add(area, float64(g.Height))
	}
	if low > 0 && high > 0 {
		height = units.Length(highMoment/float64(high) - lowMoment/float64(low))
	}
	return low, high, height
}

// openings adds up what old openings exchange by themselves, warm air in through their
// upper half and cold air out through the lower: the least that they pass, since
// leaks elsewhere make it more. They count with the first one's side.
func (d *diagnosis) openings() {
	for _, o := range d.room.Readings.Openings {
		air, ok := d.now.state(o.Side, d.pressure)
		if !ok {
			continue
		}
		height := max(o.Height, units.Length(math.Sqrt(float64(o.Area))))
		leak, err := airflow.Gap{Low: o.Area / 2, High: o.Area / 2, Height: height / 2, Discharge: airflow.SharpEdged}.Leak(air, d.in.state)
		if err != nil {
			continue
		}
		if d.leak.openings.side == "" {
			d.leak.openings.side = o.Side
		}
		d.leak.openings.flow += leak.Flow
		d.leak.steps = append(d.leak.steps, units.Step{
			Name: o.Name, Formula: fmt.Sprintf("halves of %.0f cm², centers %.2f m apart", 1e4*float64(o.Area), float64(height)/2),
			Value: fmt.Sprintf("%.1f m³/h at least", 3600*float64(leak.Flow)), Source: "orifice law, stack of the hole itself",
		})
	}
}

// at returns the leak as the load sees it with the room at other air: stack flows go
// as the root of the difference in temperature.
func (l leakage) at(c climate, was climate, from, to airflow.State) []cooling.Leak {
	var leaks []cooling.Leak
	for _, p := range []struct {
		name string
		part
	}{{leakDoor, l.door}, {leakOpening, l.openings}, {leakRest, l.rest}} {
		if p.flow == 0 {
			continue
		}
		leaks = append(leaks, cooling.Leak{Name: p.name, Side: string(p.side), Flow: p.flow * units.Airflow(stack(c, was, p.side, from, to))})
	}
	return leaks
}

// The lines of a load that leaks make.
const (
	leakDoor    = "leak round the door"
	leakOpening = "leak through old openings"
	leakRest    = "other leaks"
	leakSound   = "leak of a sound room"
)

// stack returns by what factor a flow driven by the difference in temperature
// changes from one state of affairs to another; 1 where the first difference is too
// small to divide by.
func stack(c, was climate, side envelope.OtherSide, from, to airflow.State) float64 {
	before, after := was.sides[side].Temperature, c.sides[side].Temperature
	if !before.Taken || !after.Taken {
		return 1
	}
	d0 := math.Abs(float64(before.Value.Sub(from.Temperature)))
	d1 := math.Abs(float64(after.Value.Sub(to.Temperature)))
	if d0 < 2 {
		return 1
	}
	return math.Sqrt(d1 / d0)
}

// carried returns the heat that a flow of a side's air brings into the room at to.
func (c climate) carried(flow units.Airflow, side envelope.OtherSide, to airflow.State) (airflow.Carried, error) {
	s, ok := c.state(side, to.Pressure)
	if !ok {
		return airflow.Carried{}, errors.New("no temperature and humidity of the " + string(side))
	}
	return airflow.Exchange(s.Entering(flow), s, to)
}

package diagnosis

import (
	"proveout/checks/cooling"
	"proveout/checks/envelope"
	"proveout/checks/units"
)

// Balance sets the heat that comes into the room at its set point against what the
// unit can take out, at one time.
type Balance struct {
	When string
	// Found is the load as found at the set point, line by line; Known says that
	// every face and the leaks could be counted.
	Found cooling.Load
	Known bool
	// Ordinary is the same room with sound faces and leaks.
	Ordinary cooling.Load
	// Rated is the unit's capacity at the set point with its heat led away, Able
	// with the intake as read, Given what it gives by its split. Rates says that
	// they are known.
	Rated, Able, Given units.Power
	Rates              bool
	// Shares is what each cause adds to the load or takes from the capacity.
	Shares []Share
	Steps  []units.Step

	intake, free Reading[units.Temperature]
}

// Share is the heat that a cause accounts for.
type Share struct {
	Cause Cause
	Power units.Power
	Known bool // false when the reading that it needs is missing
}

func (b *Balance) share(c Cause) Share {
	for _, s := range b.Shares {
		if s.Cause == c {
			return s
		}
	}
	return Share{Cause: c}
}

// balance works out the balance in a climate.
func (d *diagnosis) balance(c climate) (*Balance, error) {
	b := &Balance{When: c.name}
	var err error
	if b.Found, err = d.load(c, d.faceLoads(used), d.leak.at(c, d.now, d.from(), d.in.atSet)); err != nil {
		return b, err
	}
	sound := d.faceLoads(func(s surface) Reading[units.Transmittance] { return Read(s.sound) })
	tight := []cooling.Leak{{Name: leakSound, Side: string(envelope.House), Flow: d.leak.sound}}
	if b.Ordinary, err = d.load(c, sound, tight); err != nil {
		return b, err
	}
	b.Known = d.leak.known && len(d.unknownFaces()) == 0
	d.rate(b, c)
	d.divide(b, c)
	return b, nil
}

// load computes the load of the room at its set point.
func (d *diagnosis) load(c climate, faces []cooling.Face, leaks []cooling.Leak) (cooling.Load, error) {
	return d.loadAt(c, faces, leaks, d.in.atSet.Air)
}

// unknownFaces lists the faces whose transmittance nobody knows.
func (d *diagnosis) unknownFaces() []string {
	var names []string
	for _, s := range d.faces {
		if !s.used.Taken {
			names = append(names, s.Name)
		}
	}
	return names
}

// rate finds the three capacities.
func (d *diagnosis) rate(b *Balance, c climate) {
	unit := d.room.Unit.Capacity
	b.intake, b.free = c.intake, d.freeIntake(c)
	if unit == nil || !b.free.Taken {
		return
	}
	if !b.intake.Taken {
		b.intake = b.free
	}
	rated, err := unit.At(d.room.Set, b.free.Value)
	able, errAble := unit.At(d.room.Set, b.intake.Value)
	if err != nil || errAble != nil {
		return
	}
	b.Rated, b.Able, b.Rates = rated, min(able, rated), true
	b.Given = b.Able * units.Power(d.unit.share())
}

// divide finds what each cause adds to the load or takes from the capacity.
func (d *diagnosis) divide(b *Balance, c climate) {
	var opaque, door units.Power
	for _, s := range d.faces {
		if s.opaque() {
			opaque += s.excess(c, d.room.Set)
		} else {
			door += s.excess(c, d.room.Set)
		}
	}
	gap, leak := d.leakExcess(c)
	b.Shares = []Share{
		{AirLeakage, leak, d.leak.known},
		{Insulation, opaque, len(d.unknownFaces()) == 0},
		{DoorOrGlass, door + gap, d.leak.doorRead || d.leak.known && d.leak.rest.flow == 0},
	}
	if !b.Rates {
		return
	}
	b.Shares = append(b.Shares,
		Share{UnitTooSmall, positive(b.Ordinary.Total() - b.Rated), true},
		Share{UnitFaulty, positive(b.Able - b.Given), d.unit.split != splitUnknown},
		Share{HeatTrapped, positive(b.Rated - b.Able), c.intake.Taken},
	)
}

// leakExcess returns the heat of the door's gap and of the other leaks, less that of
// a sound room's leak, which comes off the others first.
func (d *diagnosis) leakExcess(c climate) (gap, rest units.Power) {
	for _, l := range d.leak.at(c, d.now, d.from(), d.in.atSet) {
		carried, err := c.carried(l.Flow, envelope.OtherSide(l.Side), d.in.atSet)
		if err != nil {
			continue
		}
		if l.Name == leakDoor {
			gap += carried.Total()
		} else {
			rest += carried.Total()
		}
	}
	allowed, err := c.carried(d.leak.sound, envelope.House, d.in.atSet)
	if err != nil {
		return gap, rest
	}
	off := min(rest, allowed.Total())
	return positive(gap - (allowed.Total() - off)), rest - off
}

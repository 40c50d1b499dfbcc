package diagnosis

import (
	"proveout/checks/envelope"
	"proveout/checks/units"
)

// Month is what a room kept at its set point asks of its unit in one month.
type Month struct {
	Load units.Power
	// Able is what the unit can take out with its condenser in that month's air; not
	// taken without its data sheet.
	Able Reading[units.Power]
	// Rejects is the air that its heat goes to.
	Rejects units.Temperature
}

// year works out the twelve of a year; none without the months of any side, or
// while faces or leaks are not known.
func (d *diagnosis) year() []Month {
	if len(d.room.Year) == 0 || !d.leak.known || len(d.unknownFaces()) > 0 {
		return nil
	}
	var year []Month
	for i := range 12 {
		c := d.room.month(i)
		air := c.sides[d.room.Unit.RejectsTo].Temperature
		if !air.Taken || len(c.missing(d.room.Faces)) > 0 {
			return nil
		}
		load, err := d.load(c, d.faceLoads(used), d.leak.at(c, d.now, d.from(), d.in.atSet))
		if err != nil {
			return nil
		}
		m := Month{Load: max(0, load.Total()), Rejects: air.Value}
		if d.room.Unit.Capacity != nil {
			if able, err := d.room.Unit.Capacity.At(d.room.Set, air.Value); err == nil {
				m.Able = Read(able)
			}
		}
		year = append(year, m)
	}
	return year
}

// month returns the climate of one month; a side without months keeps the air as
// read.
func (r Room) month(i int) climate {
	c := climate{name: "in a month", sides: map[envelope.OtherSide]SideAir{}}
	for side, air := range r.Readings.Sides {
		c.sides[side] = air
	}
	for side, year := range r.Year {
		if len(year) == 12 {
			c.sides[side] = SideAir{Read(year[i].Temperature), Read(year[i].Humidity)}
		}
	}
	return c
}

package diagnosis

import (
	"math"

	"proveout/checks/airflow"
	"proveout/checks/cooling"
	"proveout/checks/envelope"
	"proveout/checks/units"
)

// reserve is the capacity over the load of the design day that a plan should have, %
// (common practice: 10 to 20 % over the load).
const reserve = 10

// asPlanned returns the same room and the same air around it, built as planned.
func (d *diagnosis) asPlanned() (*diagnosis, error) {
	room, plan := d.room, d.room.Planned
	room.Faces, room.Planned = plan.Faces, nil
	if plan.Unit != nil {
		room.Unit = *plan.Unit
	}
	room.Readings = Readings{Sides: d.room.Readings.Sides, Hottest: plan.Intake}
	p, err := start(room)
	if err != nil {
		return nil, err
	}
	p.limits = d.limits
	p.faces = room.surfaces(p.now, p.from().Temperature, p.limits)
	p.leak = leakage{known: true, sound: d.leak.sound, rest: part{d.leak.sound, envelope.House}}
	if err := p.balances(); err != nil {
		return nil, err
	}
	p.walls()
	return p, nil
}

// compare sets the room as found beside the room as planned.
func (d *diagnosis) compare() {
	if d.room.Planned == nil {
		return
	}
	p, err := d.asPlanned()
	if err != nil {
		d.unknown("how the room as planned compares: %v", err)
		return
	}
	d.report.Planned = &Planned{Visit: p.visit, Summer: p.summer, Walls: p.report.Walls, Months: p.year()}
	d.report.Comparison = []Line{
		d.line("load at the visit's air", units.PowerKind, d.visit.load(), p.visit.load()),
		d.line("load of the design day", units.PowerKind, d.summer.load(), p.summer.load()),
		d.least("capacity on the design day", units.PowerKind, d.summer.able(), p.summer.able(), scaled(p.summer.load(), 1+reserve/100.), "10 % over the load, common practice"),
		d.most("duty on the design day", units.PercentKind, d.summer.duty(), p.summer.duty(), known(float64(d.limits.Strained)), "18 hours of the day, common practice"),
		d.line("air leaking in", units.AirflowKind, d.leakTotal(), known(float64(p.leak.total()))),
		d.most("humidity the room settles to", units.HumidityKind, d.settles(), p.settles(), known(float64(d.room.Band.High)), "the room's band"),
		d.least("coldest house-side surface over dew point", units.TemperatureDifferenceKind, d.overDewPoint(), p.overDewPoint(), known(0), "no condensation"),
		d.most("most humid plane inside a face", units.HumidityKind, d.wettestPlane(), p.wettestPlane(), known(float64(envelope.CriticalHumidity)), "ISO 13788, mold"),
	}
}

// value is a number that may not be known.
type value struct {
	v  float64
	ok bool
}

func known(v float64) value { return value{v, !math.IsNaN(v) && !math.IsInf(v, 0)} }

func scaled(a value, by float64) value { return value{a.v * by, a.ok} }

func (d *diagnosis) quantity(k units.Kind, a value) Quantity {
	if !a.ok {
		return Quantity{Kind: k, Text: "not known"}
	}
	return Quantity{Kind: k, Base: a.v, Known: true, Text: d.show.of(k, a.v)}
}

func (d *diagnosis) line(name string, k units.Kind, found, planned value) Line {
	return Line{Name: name, Found: d.quantity(k, found), Planned: d.quantity(k, planned), Margin: d.quantity(k, value{})}
}

// least is a line whose value should be at least a limit, most one at most.
func (d *diagnosis) least(name string, k units.Kind, found, planned, limit value, source string) Line {
	return d.limited(name, k, found, planned, limit, source, "at least ", 1)
}

func (d *diagnosis) most(name string, k units.Kind, found, planned, limit value, source string) Line {
	return d.limited(name, k, found, planned, limit, source, "at most ", -1)
}

func (d *diagnosis) limited(name string, k units.Kind, found, planned, limit value, source, words string, sign float64) Line {
	l := d.line(name, k, found, planned)
	l.Limit = words + d.quantity(k, limit).Text + " (" + source + ")"
	if limit.ok && planned.ok {
		margin := sign * (planned.v - limit.v)
		l.Margin = Quantity{Kind: k, Base: margin, Known: true, Text: d.difference(k, margin)}
	}
	return l
}

// difference prints a margin; one of humidity is in points.
func (d *diagnosis) difference(k units.Kind, margin float64) string {
	if k == units.HumidityKind {
		k = units.PercentKind
	}
	return d.show.of(k, margin)
}

func (b *Balance) load() value {
	if b == nil {
		return value{}
	}
	return known(float64(b.Found.Total()))
}

func (b *Balance) able() value {
	if b == nil || !b.Rates {
		return value{}
	}
	return known(float64(b.Able))
}

func (b *Balance) duty() value {
	if b == nil || !b.Rates || b.Able <= 0 {
		return value{}
	}
	return known(100 * math.Max(0, float64(b.Found.Total()/b.Able)))
}

func (d *diagnosis) leakTotal() value {
	if !d.leak.known {
		return value{}
	}
	return known(float64(d.leak.total()))
}

// settles returns the humidity that the room comes to at its set point in the air of
// the visit, by the water balance of its coil.
func (d *diagnosis) settles() value {
	house, ok := d.now.state(envelope.House, d.pressure)
	if !ok || d.visit == nil || !d.leak.known || d.visit.Found.Sensible <= 0 || !d.visit.Rates {
		return value{}
	}
	exchange := house.Entering(d.leak.total())
	for _, s := range d.faces {
		exchange += cooling.DiffusionExchange(s.permeance, s.Area, d.pressure)
	}
	coil := d.room.Unit.coil(d.room.Set, d.visit.Able, d.visit.Able)
	coil.Sensible = d.visit.Found.Sensible
	inside := airflow.MassRate(d.room.Use.Water / 86400)
	s, err := coil.SteadyHumidity(cooling.Moisture{Exchange: max(exchange, 1e-9), Inside: inside}, house, d.room.Set)
	if err != nil {
		return value{}
	}
	return known(float64(s.Humidity))
}

// overDewPoint returns the smallest margin of a face's other side over the dew point
// there, at the visit's air, as computed from its construction or measured.
func (d *diagnosis) overDewPoint() value {
	worst := value{math.Inf(1), false}
	for _, s := range d.faces {
		air, ok := d.isoAir(d.now.sides[s.Side])
		if !ok || !s.used.Taken || s.used.Value <= 0 || s.films.OtherSide <= 0 {
			continue
		}
		state, err := envelope.WarmSurface(s.used.Value, s.films.OtherSide, air, d.room.Set)
		if s.coldest.Taken {
			state, err = envelope.SurfaceIn(air, s.coldest.Value)
		}
		if err == nil && float64(state.Margin) < worst.v {
			worst = value{float64(state.Margin), true}
		}
	}
	return worst
}

func (d *diagnosis) wettestPlane() value {
	worst := value{}
	for _, w := range d.report.Walls {
		if float64(w.Worst.Humidity) > worst.v {
			worst = known(float64(w.Worst.Humidity))
		}
	}
	return worst
}

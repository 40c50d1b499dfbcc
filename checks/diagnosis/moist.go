package diagnosis

import (
	"math"

	"proveout/checks/airflow"
	"proveout/checks/units"
)

const (
	fromLog   = "least squares of hourly vapor pressures, limits assumed"
	fromAir   = "ASHRAE Fundamentals ch. 1"
	fromStack = "orifice law, stack of the cold room"
)

// followed reports whether the room follows the house because air gets in. It may
// also follow because its coil does not dry: the gain is M/(M + R). So the coil must
// be at work and wet; a dry one leaves the room to follow however tight it is, only
// later. And where the water balance of the coil says that no more leaks in than
// into a sound room, that counts.
func (d *diagnosis) followed() bool {
	if d.follow == nil || !d.follow.Follows || !d.coilWorks() {
		return false
	}
	if d.leak.known {
		return d.leak.total() > 2*d.leak.sound
	}
	if wet, known := d.coilWet(); known && wet {
		return true
	}
	// With a dry coil boards and corks alone hold the room back: it must go far and soon.
	return d.follow.Gain >= 2*d.limits.Follows && d.leastAirChange() > 2*3600*float64(d.leak.sound)/float64(d.room.Volume)
}

// coilWet reports whether the coil takes water out, by its condensate or by its
// temperature against the room's dew point.
func (d *diagnosis) coilWet() (wet, known bool) {
	if c := d.room.Readings.Condensate; c.Taken {
		return c.Value > 0.1, true
	}
	if !d.in.stated || d.room.Unit.Capacity == nil {
		return false, false
	}
	dew, err := dewPoint(d.in.state)
	coil := d.room.Unit.coil(d.in.state.Temperature, 1, 1)
	return coil.DewPoint < dew-1, err == nil
}

// leastAirChange is what a room with a dry coil must exchange in an hour to follow the
// daily course of the house with the lag that it has: the lag of a first-order system
// of time constant τ is atan(ω·τ)/ω, and what boards and corks hold only adds to τ.
func (d *diagnosis) leastAirChange() float64 {
	const omega = 2 * math.Pi / 24
	lag := d.follow.Lag.Hours() + 1 // the log's own step, in the room's favor
	return omega / math.Tan(math.Min(omega*lag, math.Pi/2))
}

// coilWorks reports whether the unit is known to do its work: by a normal split, or
// by holding the room with time to rest.
func (d *diagnosis) coilWorks() bool {
	if d.unit.split != splitUnknown {
		return d.unit.split == splitNormal
	}
	duty := d.room.Readings.Duty
	holds := d.in.temperature.Taken && d.in.temperature.Value.Sub(d.room.Set) <= d.limits.Warm
	return holds && duty.Taken && duty.Value <= d.limits.Strained
}

// explainHumid explains a room that is too humid.
func (d *diagnosis) explainHumid(s *Sign) {
	if d.has(TooWarm) {
		return // what keeps it warm keeps the coil from drying it
	}
	known, short := d.cycling()
	switch {
	case d.follow == nil:
		d.want(s, BaselineLog, d.logNote+"; only a log tells house air from a badly controlled coil", AirLeakage, DoorOrGlass, ControlOrAirflow)
	case d.followed():
		d.followsHouse(s)
	case !known:
		d.want(s, UnitCycles, "a unit that starts too often wets the air again between its runs", ControlOrAirflow, DrainOrWater)
	case short:
		d.shortAndHumid(s)
	case d.room.Readings.Drain.TrapHolds == No || d.room.Readings.Drain.Empties == No:
		d.drain(s)
	case d.has(HardlyRests):
		return // what overloads or weakens the unit keeps it from drying
	case !d.follow.Steady:
		d.want(s, BaselineLog, "the log lies between following and steady; leave the loggers for a week in which the house's dew point moves", AirLeakage, ControlOrAirflow)
	case d.room.Readings.Drain == Drain{}:
		d.want(s, DrainTest, "standing water wets the room's air", DrainOrWater, ControlOrAirflow)
	default:
		d.coilTooWarm(s)
	}
}

// explainAir explains house air that gets in.
func (d *diagnosis) explainAir(s *Sign) {
	if d.followed() {
		d.followsHouse(s)
		return
	}
	if d.follow != nil && d.follow.Steady {
		d.oppose(AirLeakage, fromLog, only(BaselineLog), "the room does not follow the house (r %.2f, %.2f Pa for each pascal)", d.follow.Correlation, d.follow.Gain)
	}
	if d.hasDoor() && !d.leak.doorRead {
		d.want(s, DoorGap, "the leak may be the door's or that of walls, ceiling and pipe holes", AirLeakage, DoorOrGlass)
		return
	}
	d.leakOrDoor(s)
}

// followsHouse names the leak, the door's or another.
func (d *diagnosis) followsHouse(s *Sign) {
	f := d.follow
	for _, c := range []Cause{AirLeakage, DoorOrGlass} {
		d.favor(c, fromLog, only(BaselineLog), "the room's dew point follows the house's within %s (r %.2f, %.2f Pa for each pascal): house air gets in", lagText(f.Lag), f.Correlation, f.Gain)
	}
	if d.hasDoor() && !d.leak.doorRead {
		d.want(s, DoorGap, "the leak may be the door's or that of walls, ceiling and pipe holes", AirLeakage, DoorOrGlass)
		return
	}
	d.leakOrDoor(s)
}

// leakOrDoor names whichever passes a good part of the leak. What leaks elsewhere is a
// fault from half more than a sound room's leak on; without a measured leak the gap is
// one when it alone passes more than that.
func (d *diagnosis) leakOrDoor(s *Sign) {
	l := d.leak
	elsewhere := l.rest.flow + l.openings.flow
	if !l.known {
		elsewhere += l.sound // at least
	}
	total := l.door.flow + elsewhere
	if l.door.flow > l.sound && l.door.flow > total/3 {
		d.favor(DoorOrGlass, fromStack, only(DoorGap), "the gap round the door passes %s, a sound room leaks %s in all", d.show.flow(l.door.flow), d.show.flow(l.sound))
		d.name(s, DoorOrGlass)
	}
	doorAlone := len(s.By) > 0 && (!l.known || elsewhere < total/3 || elsewhere < 1.5*l.sound)
	if doorAlone && l.openings.flow == 0 {
		return
	}
	if l.known || l.openings.flow > 0 {
		d.leakEvidence(AirLeakage, elsewhere)
	} else if l.doorRead {
		d.favor(AirLeakage, fromStack, only(DoorGap), "the door's gap passes %s, no more than a sound room: the air comes in elsewhere", d.show.flow(l.door.flow))
		d.oppose(DoorOrGlass, fromStack, only(DoorGap), "the door's gap passes %s, no more than a sound room leaks in all", d.show.flow(l.door.flow))
	}
	d.name(s, AirLeakage)
}

// shortAndHumid names the control when the house is not followed.
func (d *diagnosis) shortAndHumid(s *Sign) {
	d.favor(ControlOrAirflow, "common practice; Shirey and Henderson 2004 for water evaporating from the coil (read)", only(UnitCycles), "%s: the coil's water evaporates again between runs", d.cyclingText())
	f := d.follow
	d.favor(ControlOrAirflow, fromLog, only(BaselineLog), "the room's dew point does not follow the house's (r %.2f, %.2f Pa for each pascal)", f.Correlation, f.Gain)
	d.oppose(AirLeakage, fromLog, only(BaselineLog), "the room's dew point does not follow the house's (r %.2f, %.2f Pa for each pascal)", f.Correlation, f.Gain)
	d.oversize()
	d.name(s, ControlOrAirflow)
}

// oversize adds, when it is so, that the unit is far larger than its load.
func (d *diagnosis) oversize() {
	b := d.visit
	if b == nil || !b.Rates || b.Found.Total() <= 0 || b.Able < 2.5*b.Found.Total() {
		return
	}
	d.favor(ControlOrAirflow, fromBalance, only(UnitSheet, FaceConstruction), "the unit gives %s for a load of %s: it is oversized", d.show.power(b.Able), d.show.power(b.Found.Total()))
}

// coilTooWarm: the room is tight and sits at the dew point of its coil. That coil may
// be warm because its unit is weak.
func (d *diagnosis) coilTooWarm(s *Sign) {
	supply, ok := d.supply()
	switch {
	case !ok:
		d.want(s, UnitSplit, "the coil's temperature says whether it can dry the room", ControlOrAirflow, UnitFaulty, PastMoisture)
	case d.follow.RoomDewPoint < supply-1.5:
		d.want(s, Condensate, "water is set free inside: weigh what the coil takes out and look for its source", DrainOrWater, PastMoisture)
	case d.unit.split != splitNormal:
		d.explainDelivery(s)
	case !d.room.Readings.Duty.Taken:
		d.want(s, UnitDuty, "a coil that hardly runs is warm, one that always runs is weak", ControlOrAirflow, UnitFaulty)
	default:
		d.favor(ControlOrAirflow, fromAir, only(BaselineLog, UnitSplit), "the room's dew point, %s, is that of its supply air of %s: the coil is too warm to dry it", d.show.temperature(d.follow.RoomDewPoint), d.show.temperature(supply))
		d.name(s, ControlOrAirflow)
	}
}

// supply returns the supply air's temperature.
func (d *diagnosis) supply() (units.Temperature, bool) {
	r := d.room.Readings
	if len(r.Split) == 0 || !d.in.temperature.Taken {
		return 0, false
	}
	return d.in.temperature.Value.Add(-mean(r.Split).Value), true
}

// explainDry explains a room that is too dry: the coil dries it when the house's air
// would wet it, leaking house air does when that is dry itself.
func (d *diagnosis) explainDry(s *Sign) {
	house, ok := d.now.state("house", d.pressure)
	if !ok || !d.in.stated {
		d.want(s, AdjoiningHumidity, "house air that is drier than the room dries it by leaking; moist house air cannot", AirLeakage, ControlOrAirflow)
		return
	}
	if house.Ratio > d.in.state.Ratio+0.001 { // twice the error of two hygrometers
		d.driedByCoil(s, house)
		return
	}
	d.oppose(ControlOrAirflow, fromAir, only(AdjoiningHumidity), "house air holds %s and the room %s: it needs no coil to dry it", ratioText(house.Ratio), ratioText(d.in.state.Ratio))
	d.favor(AirLeakage, fromAir, only(AdjoiningHumidity), "house air holds %s and the room %s: what leaks in dries it", ratioText(house.Ratio), ratioText(d.in.state.Ratio))
	switch {
	case d.leak.known && d.leak.total() <= 2*d.leak.sound:
		s.NoFault = "the house's air is as dry and the room is tight: nothing adds water; it wants a humidifier"
	case d.leak.known:
		d.leakOrDoor(s)
	case d.follow == nil:
		d.want(s, BaselineLog, d.logNote+"; a tight room in a dry winter is dry too, but follows the house late", AirLeakage)
	case d.followed():
		d.followsHouse(s)
	default:
		d.oppose(AirLeakage, fromLog, only(BaselineLog), "the room goes with the house within %s (r %.2f, %.2f Pa for each pascal), no sooner or further than a tight room with a dry coil", lagText(d.follow.Lag), d.follow.Correlation, d.follow.Gain)
		d.want(s, FanTest, "with dry air all round neither condensate nor loggers tell a leak from a tight room that wants a humidifier", AirLeakage)
	}
}

// driedByCoil: moist house air, so that only the coil can take the water.
func (d *diagnosis) driedByCoil(s *Sign, house airflow.State) {
	d.oppose(AirLeakage, fromAir, only(AdjoiningHumidity), "house air holds %s and the room %s: what leaks in wets it", ratioText(house.Ratio), ratioText(d.in.state.Ratio))
	d.favor(ControlOrAirflow, fromAir, only(AdjoiningHumidity, RoomHumidity), "the room holds %s though the house holds %s: the coil takes the water", ratioText(d.in.state.Ratio), ratioText(house.Ratio))
	if d.follow == nil {
		d.want(s, BaselineLog, d.logNote+"; the house may have been dry until today", ControlOrAirflow, AirLeakage)
		return
	}
	if d.followed() {
		d.oppose(ControlOrAirflow, fromLog, only(BaselineLog), "yet the room follows the house (r %.2f)", d.follow.Correlation)
	} else {
		d.favor(ControlOrAirflow, fromLog, only(BaselineLog), "the room's dew point stays at %s whatever the house does: the coil sets it", d.show.temperature(d.follow.RoomDewPoint))
	}
	d.oversize()
	d.name(s, ControlOrAirflow)
}

// explainShortCycles explains short runs by themselves.
func (d *diagnosis) explainShortCycles(s *Sign) {
	d.favor(ControlOrAirflow, "common practice", only(UnitCycles), "%s: sensor in the supply air, differential too small, or a unit far too large", d.cyclingText())
	d.oversize()
	d.name(s, ControlOrAirflow)
}

// explainUneven: short runs mix no air, a blocked return neither.
func (d *diagnosis) explainUneven(s *Sign) {
	known, short := d.cycling()
	r := d.room.Readings
	switch {
	case !known:
		d.want(s, UnitCycles, "short runs leave a room unmixed", ControlOrAirflow, AirLeakage)
	case short:
		d.favor(ControlOrAirflow, "common practice", only(UnitCycles), "%s: the air is not mixed between starts", d.cyclingText())
		d.favor(ControlOrAirflow, fromReading, only(RoomTemperature), "%s", s.Text)
		d.name(s, ControlOrAirflow)
	case r.Airflow == AirflowNotSeen:
		d.want(s, UnitAirflow, "racks or cartons before the return keep its air from the far side", ControlOrAirflow, AirLeakage)
	case r.Airflow == AirflowWeak:
		d.favor(ControlOrAirflow, fromReading, only(RoomTemperature), "%s", s.Text)
		d.airflow(s)
	default:
		d.want(s, SurfaceTemperatures, "with air moving well a warm corner is a missing piece of insulation or a leak", Insulation, AirLeakage)
	}
}

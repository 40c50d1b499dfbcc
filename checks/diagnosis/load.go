package diagnosis

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"proveout/checks/units"
)

// reach is the part of a load that readings do not resolve (assumed).
const reach = 0.05

// explainLoad divides a shortage among leaks, insulation, door and glass, heat
// rejection and the size of the unit, and names those without whose part the room
// would hold.
func (d *diagnosis) explainLoad(s *Sign, b *Balance) {
	if !b.Rates {
		d.want(s, UnitSheet, "without the unit's capacity there is no balance", UnitTooSmall, AirLeakage, Insulation, DoorOrGlass)
		return
	}
	allowed := units.Power(d.target(s))
	short := b.Found.Total() - b.Able*allowed
	if short > 0 {
		d.blame(s, b, short, allowed)
	}
	if d.visit == b {
		d.closes(s, b)
	}
	if len(s.By) == 0 {
		d.hidden(s, fmt.Sprintf("the room as described needs %s and the unit gives %s: it should hold", d.show.power(b.Found.Total()), d.show.power(b.Able*allowed)))
		return
	}
	d.enough(s, b, allowed)
	if d.room.Readings.Airflow == AirflowNotSeen {
		for _, c := range s.By {
			d.finding(c).assumed = true // the airflow of the data sheet
		}
	}
}

// blame names what makes up the shortage, one part after the other until the room
// would hold without them: first what was measured on the room as a fault, the
// largest before the rest, then what the plan would do better. A measured fault at
// least half as large as the largest is named in any case.
func (d *diagnosis) blame(s *Sign, b *Balance, short, allowed units.Power) {
	shares := d.parts(b, short*units.Power(d.limits.Part)/100, allowed)
	left := short
	for _, share := range shares {
		c := share.Cause
		if covered := left <= b.Found.Total()*reach; covered && (share.Power < shares[0].Power/2 || !d.defect(c)) {
			continue
		}
		left -= share.Power
		d.apportion(c, share.Power, short)
		d.favor(c, fromBalance, causeReadings(c, d), "%s accounts for %s; the unit falls short by %s", inWords(c), d.show.power(share.Power), d.show.power(short))
		d.evidenceOfShare(c, b)
		d.name(s, c)
	}
	d.size(s, b, short, allowed)
}

// defect reports whether a part of the load was measured as a fault, and is not just
// what the plan would do better.
func (d *diagnosis) defect(c Cause) bool {
	switch c {
	case AirLeakage:
		return d.leak.known
	case DoorOrGlass:
		return d.leak.door.flow > d.leak.sound
	case Insulation:
		for _, s := range d.faces {
			if s.opaque() && s.loses() {
				return true
			}
		}
		return false
	}
	return true
}

// parts returns the shares of at least a power, measured faults first and then by
// size. A part below 10 W is none. Lost capacity counts as far as the unit may be
// asked for it.
func (d *diagnosis) parts(b *Balance, least, allowed units.Power) []Share {
	var parts []Share
	for _, c := range []Cause{AirLeakage, Insulation, DoorOrGlass, HeatTrapped} {
		share := b.share(c)
		if c == HeatTrapped {
			share.Power *= allowed
		}
		if share.Power >= max(least, 10) {
			parts = append(parts, share)
		}
	}
	slices.SortStableFunc(parts, func(a, b Share) int {
		return cmp.Or(cmp.Compare(truth(d.defect(b.Cause)), truth(d.defect(a.Cause))), cmp.Compare(b.Power, a.Power))
	})
	return parts
}

// size names the unit's size when even a sound room would be too much for it.
func (d *diagnosis) size(s *Sign, b *Balance, short, allowed units.Power) {
	lacks := b.Ordinary.Total() - b.Rated*allowed
	if lacks < 10 {
		d.oppose(UnitTooSmall, fromBalance, only(UnitSheet), "the unit gives %s; the same room with sound faces and an ordinary leak needs %s", d.show.power(b.Rated), d.show.power(b.Ordinary.Total()))
		return
	}
	d.apportion(UnitTooSmall, lacks, short)
	d.favor(UnitTooSmall, fromBalance, only(UnitSheet, FaceConstruction), "even with sound faces and an ordinary leak the room needs %s; the unit gives %s", d.show.power(b.Ordinary.Total()), d.show.power(b.Rated))
	d.finding(UnitTooSmall).assumed = d.room.Planned == nil
	d.name(s, UnitTooSmall)
}

// apportion notes the largest share that a cause has of a shortage.
func (d *diagnosis) apportion(c Cause, part, short units.Power) {
	f := d.finding(c)
	f.Share = max(f.Share, units.Percent(math.Min(100, 100*float64(part/short))))
}

func inWords(c Cause) string {
	switch c {
	case AirLeakage:
		return "leakage beyond that of a sound room"
	case Insulation:
		return "heat through walls, ceiling and floor beyond that of sound ones"
	case DoorOrGlass:
		return "door and glass, beyond sound ones,"
	case HeatTrapped:
		return "the capacity lost to a hot condenser"
	}
	return string(c)
}

// causeReadings returns the readings that a share rests on.
func causeReadings(c Cause, d *diagnosis) []Measurement {
	switch c {
	case AirLeakage:
		if d.leak.known {
			return only(d.leak.measured)
		}
		return only(DoorGap, ThroughWallSearch)
	case Insulation:
		for _, s := range d.faces {
			if s.opaque() && s.loses() {
				return only(SurfaceTemperatures)
			}
		}
		return only(FaceConstruction)
	case DoorOrGlass:
		if d.leak.door.flow > 0 {
			return only(DoorGap)
		}
		return only(FaceConstruction)
	}
	return only(CondenserIntake)
}

// evidenceOfShare adds the numbers behind a share.
func (d *diagnosis) evidenceOfShare(c Cause, b *Balance) {
	switch c {
	case AirLeakage:
		d.leakEvidence(c, d.leak.rest.flow+d.leak.openings.flow)
	case DoorOrGlass:
		if d.leak.door.flow > 0 {
			d.leakEvidence(c, d.leak.door.flow)
		}
		d.faceEvidence(c, b, false)
	case Insulation:
		d.finding(c).assumed = !d.defect(c)
		d.faceEvidence(c, b, true)
	case HeatTrapped:
		d.favor(c, fromSheet, only(CondenserIntake), "at an intake of %s the unit gives %s, at %s it would give %s", d.show.temperature(b.intake.Value), d.show.power(b.Able), d.show.temperature(b.free.Value), d.show.power(b.Rated))
	}
}

func (d *diagnosis) leakEvidence(c Cause, flow units.Airflow) {
	r := d.room.Readings
	if c == DoorOrGlass {
		d.favor(c, fromStack, only(DoorGap), "the gap round the door passes %s of house air", d.show.flow(flow))
		return
	}
	if r.Condensate.Taken && d.leak.measured == Condensate {
		d.favor(c, "water balance, ASHRAE Fundamentals ch. 1", only(Condensate, AdjoiningHumidity), "%s of condensate stand for %s of leaked air, where a sound room leaks %s",
			d.show.water(r.Condensate.Value), d.show.flow(d.leak.total()), d.show.flow(d.leak.sound))
	}
	if d.leak.doorRead {
		d.favor(c, fromStack, only(DoorGap), "the door's gap passes only %s of it", d.show.flow(d.leak.door.flow))
	}
	if d.leak.openings.flow > 0 {
		d.favor(c, fromStack, only(ThroughWallSearch), "old openings pass at least %s", d.show.flow(d.leak.openings.flow))
	}
}

// faceEvidence names the faces that let in most beyond sound ones: a tenth of the
// whole excess at least.
func (d *diagnosis) faceEvidence(c Cause, b *Balance, opaque bool) {
	air := d.now
	if b == d.summer {
		air = d.hot
	}
	for _, s := range d.faces {
		more := s.excess(air, d.room.Set)
		if s.opaque() != opaque || more < b.share(c).Power/10 || more < 1 {
			continue
		}
		if s.loses() {
			d.favor(c, s.films.Source+"; steady conduction", only(SurfaceTemperatures), "the surface of %q says %s where its construction gives %s", s.Name, d.show.transmittance(s.used.Value), d.show.transmittance(s.described.Value))
			continue
		}
		d.favor(c, "ISO 6946", only(FaceConstruction), "%q lets through %s, %s more than a sound one of %s", s.Name, d.show.transmittance(s.used.Value), d.show.power(more), d.show.transmittance(s.sound))
	}
}

// closes checks that the heat the unit takes out is the heat that comes in at the
// temperature the room is at.
func (d *diagnosis) closes(s *Sign, b *Balance) {
	removed, load, ok := d.atVisit()
	if !ok || removed <= 0 {
		return
	}
	off := 100 * float64((removed-load)/removed)
	b.Steps = append(b.Steps, units.Step{Name: "heat taken out against heat coming in", Formula: "heat taken out while running · duty; load at the room's temperature",
		Value: fmt.Sprintf("%.0f W and %.0f W, %.0f %% apart", float64(removed), float64(load), off), Source: "both should agree in a steady room"})
	switch {
	case off > float64(d.limits.Closing):
		d.hidden(s, fmt.Sprintf("the unit takes out %s and only %s is accounted for", d.show.power(removed), d.show.power(load)))
	case off < -float64(d.limits.Closing):
		for _, c := range s.By {
			d.oppose(c, fromBalance, only(UnitSplit, UnitDuty), "the load comes to %s and the unit takes out only %s: something is counted too high", d.show.power(load), d.show.power(removed))
		}
	default:
		for _, c := range s.By {
			d.favor(c, fromBalance, only(UnitSplit, UnitDuty), "the numbers close: the unit takes out %s and %s come in", d.show.power(removed), d.show.power(load))
		}
	}
}

// atVisit returns the heat taken out and the heat coming in at the room's own
// temperature.
func (d *diagnosis) atVisit() (removed, load units.Power, ok bool) {
	duty := d.room.Readings.Duty
	if !d.in.stated || !duty.Taken || d.unit.total <= 0 {
		return 0, 0, false
	}
	removed = d.unit.total * units.Power(duty.Value/100)
	l, err := d.loadAt(d.now, d.faceLoads(used), d.leak.at(d.now, d.now, d.from(), d.from()), d.in.state.Air)
	return removed, l.Total(), err == nil
}

func used(s surface) Reading[units.Transmittance] { return s.used }

// hidden asks for what would show a load that is not accounted for.
func (d *diagnosis) hidden(s *Sign, why string) {
	r, asked := d.room.Readings, false
	ask := func(missing bool, m Measurement, causes ...Cause) {
		if missing {
			asked = true
			d.want(s, m, why, causes...)
		}
	}
	ask(!r.Intake.Taken, CondenserIntake, HeatTrapped)
	ask(!d.leak.known, Condensate, AirLeakage, DoorOrGlass)
	ask(d.unmeasured(), SurfaceTemperatures, Insulation)
	ask(len(r.Gaps) == 0 && d.hasDoor() && !d.leak.known, DoorGap, DoorOrGlass)
	if asked {
		return
	}
	s.Explained = false
	ask(!r.WarmUp.Taken, WarmUp, AirLeakage, Insulation)
	if asked {
		return
	}
	d.want(s, BaselineLog, why+"; was the room steady? bottles brought in the day before would do it", envelopeCauses...)
}

// unmeasured reports whether a face that can be read from a house-like side has no
// surface temperature.
func (d *diagnosis) unmeasured() bool {
	for _, f := range d.faces {
		if f.opaque() && float64(f.films.OtherSide) > 0.05 && !f.measured.Taken {
			return true
		}
	}
	return false
}

// enough checks that with the named causes put right the room would hold, and asks
// for what could still hide the rest.
func (d *diagnosis) enough(s *Sign, b *Balance, allowed units.Power) {
	var load, capacity units.Power = b.Found.Total(), b.Able
	for _, c := range s.By {
		switch c {
		case AirLeakage, Insulation, DoorOrGlass:
			load -= b.share(c).Power
		case HeatTrapped:
			capacity = b.Rated
		case UnitTooSmall:
			capacity = max(capacity, b.Ordinary.Total()/allowed)
		}
	}
	if load <= capacity*allowed+b.Found.Total()*reach {
		d.divideLeak(s, b)
		return
	}
	d.hidden(s, fmt.Sprintf("with the causes found so far put right the room would still need %s of %s", d.show.power(load), d.show.power(capacity)))
}

// divideLeak asks for the door's gap when a measured leak could be all the door's.
func (d *diagnosis) divideLeak(s *Sign, b *Balance) {
	leak := b.share(AirLeakage).Power
	if d.findings[AirLeakage] == nil || !d.findings[AirLeakage].Named || d.leak.doorRead || !d.hasDoor() || leak == 0 {
		return
	}
	d.want(s, DoorGap, "the leak may be the door's or that of walls, ceiling and pipe holes", AirLeakage, DoorOrGlass)
}

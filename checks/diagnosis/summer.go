package diagnosis

import "proveout/checks/envelope"

// explainSummer explains a room that holds in winter and fails in hot weather by the
// balance of the design day, with the hottest intake that was logged.
func (d *diagnosis) explainSummer(s *Sign) {
	r, u := d.room.Readings, d.room.Unit
	if !r.Hottest.Taken {
		d.want(s, HottestIntake, "in hot weather either the heat cannot get away or the load is too large",
			HeatTrapped, UnitTooSmall, Insulation, AirLeakage)
		return
	}
	if len(d.hot.missing(d.room.Faces)) > 0 || d.summer == nil {
		d.wantConditions(s, d.hot)
		return
	}
	if d.unit.split == splitLow || d.unit.split == splitHigh {
		d.oppose(HeatTrapped, fromSheet, only(UnitSplit), "the split is %s of the data sheet's at the visit already: mend that first", percentText(100*d.unit.ratio))
		d.want(s, UnitSplit, "the unit is not in order now; read it again when it is", UnitFaulty, HeatTrapped)
		return
	}
	if u.IntakeLimit.Taken && r.Hottest.Value > u.IntakeLimit.Value {
		d.tooHot(s)
	}
	b := d.summer
	if !b.Rates {
		d.want(s, UnitSheet, "without the unit's capacity there is no balance of the hottest day", UnitTooSmall, HeatTrapped)
		return
	}
	short := b.Found.Total() - b.Able
	if short > 0 {
		d.blame(s, b, short, 1)
		d.enough(s, b, 1)
		return
	}
	if len(s.By) == 0 {
		d.hidden(s, "on the design day the room as described needs "+d.show.power(b.Found.Total())+" and the unit gives "+d.show.power(b.Able))
	}
}

// explainHotCondenser: above the maker's limit the heat does not get away.
func (d *diagnosis) explainHotCondenser(s *Sign) {
	r, limit := d.room.Readings, d.room.Unit.IntakeLimit
	if r.Intake.Taken && r.Intake.Value > limit.Value {
		d.trapped(s)
	}
	if r.Hottest.Taken && r.Hottest.Value > limit.Value {
		d.tooHot(s)
	}
}

// tooHot names heat rejection by the hottest intake.
func (d *diagnosis) tooHot(s *Sign) {
	hottest, limit := d.room.Readings.Hottest.Value, d.room.Unit.IntakeLimit.Value
	d.favor(HeatTrapped, "data sheet", only(HottestIntake, UnitSheet), "the condenser draws air of %s in hot weather; the maker allows %s", d.show.temperature(hottest), d.show.temperature(limit))
	d.summerHeat()
	d.name(s, HeatTrapped)
}

// summerHeat adds where the hot intake comes from.
func (d *diagnosis) summerHeat() {
	r, out := d.room.Readings, d.hot.sides[envelope.Outdoors].Temperature
	if out.Taken && r.Hottest.Value.Sub(out.Value) > 5 {
		d.favor(HeatTrapped, fromReading, only(HottestIntake, DesignConditions), "that is %s warmer than outdoors on the design day: the heat it gives off stays around it",
			d.show.kelvin(r.Hottest.Value.Sub(out.Value)))
	}
	limit := d.room.Unit.IntakeLimit.Value
	if r.Intake.Taken && r.Intake.Value <= limit && d.in.temperature.Taken && !d.has(TooWarm) {
		d.favor(HeatTrapped, fromReading, only(CondenserIntake, RoomTemperature), "at the visit the intake was %s and the room held", d.show.temperature(r.Intake.Value))
	}
}

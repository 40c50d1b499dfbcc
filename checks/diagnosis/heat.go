package diagnosis

import (
	"fmt"

	"proveout/checks/envelope"
	"proveout/checks/units"
)

const (
	fromReading = "reading"
	fromBalance = "heat balance of the room at its set point"
	fromSheet   = "the unit's data sheet, corrected for room and intake"
)

// envelopeCauses are what can make the load too large.
var envelopeCauses = []Cause{AirLeakage, Insulation, DoorOrGlass}

// explainHeat explains a room that is too warm, or a unit that hardly rests. The
// first question is whether the unit rests though the room is warm, the second
// whether it gives what it should, the third where the heat comes from.
func (d *diagnosis) explainHeat(s *Sign) {
	duty := d.room.Readings.Duty
	if !duty.Taken {
		d.want(s, UnitDuty, "a unit that rests in a warm room is badly controlled; one that never rests is weak or overloaded",
			ControlOrAirflow, UnitFaulty, UnitTooSmall, AirLeakage)
		return
	}
	if s.Symptom == TooWarm && duty.Value < d.limits.Always {
		d.explainResting(s)
		return
	}
	d.warmUp()
	if !d.explainDelivery(s) {
		return
	}
	if d.visit == nil {
		d.wantConditions(s, d.now)
		return
	}
	d.explainLoad(s, d.visit)
}

// wantConditions asks for the temperatures that a load needs.
func (d *diagnosis) wantConditions(s *Sign, c climate) {
	if c.name == d.hot.name {
		d.want(s, DesignConditions, "without them there is no load of the hottest day", envelopeCauses...)
		return
	}
	if len(d.room.Faces) == 0 || len(d.unknownFaces()) > 0 {
		d.want(s, FaceConstruction, "without it there is no load", envelopeCauses...)
		return
	}
	d.want(s, AdjoiningTemperature, "without it there is no load", append(envelopeCauses, UnitTooSmall)...)
}

// explainResting explains a warm room whose unit rests.
func (d *diagnosis) explainResting(s *Sign) {
	r := d.room.Readings
	d.favor(ControlOrAirflow, fromReading, only(RoomTemperature, UnitDuty), "the room is warm and yet the unit runs only %s of the time", percentText(float64(r.Duty.Value)))
	if r.CutsOut == Yes {
		d.explainCutOut(s)
		return
	}
	if _, short := d.cycling(); short {
		d.favor(ControlOrAirflow, "common practice", only(UnitCycles), "%s: the sensor feels the supply air, not the room's", d.cyclingText())
		d.name(s, ControlOrAirflow)
		return
	}
	if !r.ControlOffset.Taken {
		d.want(s, ControlOffset, "a control that reads cold lets the unit rest in a warm room", ControlOrAirflow, UnitFaulty)
		return
	}
	above := d.in.temperature.Value.Sub(d.room.Set)
	if offset := r.ControlOffset.Value; -offset > d.limits.Offset && -offset > above/2 {
		d.favor(ControlOrAirflow, fromReading, only(ControlOffset), "the control shows %s less than a reference thermometer, and the room is %s too warm",
			d.show.kelvin(-offset), d.show.kelvin(above))
		d.name(s, ControlOrAirflow)
		return
	}
	d.oppose(ControlOrAirflow, fromReading, only(ControlOffset), "the control reads within %s of a reference thermometer", d.show.kelvin(d.limits.Offset))
	if r.CutsOut == NotAsked {
		d.want(s, UnitCutOut, "a unit that trips rests as well", HeatTrapped, UnitFaulty)
		return
	}
	d.want(s, BaselineLog, "a room that is still coming down after bottles were brought in is warm too: log it on quiet days", ControlOrAirflow)
}

// explainCutOut explains a unit that stops on a safety switch.
func (d *diagnosis) explainCutOut(s *Sign) {
	r, limit := d.room.Readings, d.room.Unit.IntakeLimit
	d.favorAll([]Cause{HeatTrapped, UnitFaulty}, fromReading, only(UnitCutOut), "the unit stops on a safety switch")
	switch {
	case !r.Intake.Taken:
		d.want(s, CondenserIntake, "a hot condenser trips a sound unit", HeatTrapped, UnitFaulty)
	case !limit.Taken:
		d.want(s, UnitSheet, "the highest intake that the maker allows", HeatTrapped, UnitFaulty)
	case r.Intake.Value > limit.Value || r.Condenser == No:
		d.trapped(s)
	default:
		d.oppose(HeatTrapped, fromReading, only(CondenserIntake), "the intake of %s is below the %s allowed", d.show.temperature(r.Intake.Value), d.show.temperature(limit.Value))
		d.name(s, UnitFaulty)
	}
}

// trapped names the heat rejection on what was read at the condenser.
func (d *diagnosis) trapped(s *Sign) {
	r, limit := d.room.Readings, d.room.Unit.IntakeLimit
	if r.Intake.Taken && limit.Taken && r.Intake.Value > limit.Value {
		d.favor(HeatTrapped, "data sheet", only(CondenserIntake, UnitSheet), "the condenser draws air of %s; the maker allows %s", d.show.temperature(r.Intake.Value), d.show.temperature(limit.Value))
	}
	if r.Condenser == No {
		d.favor(HeatTrapped, fromReading, only(CondenserIntake), "the condenser is dirty or breathes its own air")
	}
	if out := d.now.sides[envelope.Outdoors].Temperature; r.Intake.Taken && out.Taken && r.Intake.Value.Sub(out.Value) > 5 {
		d.favor(HeatTrapped, fromReading, only(CondenserIntake, AdjoiningTemperature), "the intake is %s warmer than outdoors", d.show.kelvin(r.Intake.Value.Sub(out.Value)))
	}
	d.name(s, HeatTrapped)
}

// explainDelivery asks whether the unit gives what it should. It returns false when
// the answer ends there: it is not known, or a unit's fault was named that leaves
// nothing to the room.
func (d *diagnosis) explainDelivery(s *Sign) bool {
	v, r := d.unit, d.room.Readings
	switch v.split {
	case splitUnknown:
		d.want(s, v.missing, "only a split against the data sheet tells a weak unit from a heavy load",
			UnitFaulty, UnitTooSmall, AirLeakage, Insulation, DoorOrGlass)
		return false
	case splitBetween:
		if !r.Intake.Taken {
			d.want(s, CondenserIntake, "the split lies between normal and not; a hot condenser may be why", HeatTrapped, UnitFaulty)
			return false
		}
		d.want(s, UnitSplit, "the split lies between normal and not; read three sets again", UnitFaulty, UnitTooSmall, AirLeakage, Insulation)
		return false
	case splitHigh:
		return d.explainHighSplit(s)
	case splitLow:
		return d.explainLowSplit(s)
	}
	text := "the split is %s, %s of what the data sheet gives here: the unit does its work"
	d.oppose(UnitFaulty, fromSheet, only(UnitSplit), text, d.show.kelvin(v.measured), percentText(100*v.ratio))
	if d.limits.classify(v.ratioUnspoilt) == splitNormal {
		d.oppose(HeatTrapped, fromSheet, only(UnitSplit), text, d.show.kelvin(v.measured), percentText(100*v.ratioUnspoilt))
	}
	if r.Duty.Taken {
		d.favorAll(append(envelopeCauses, UnitTooSmall), fromSheet, only(UnitSplit, UnitDuty), "the unit runs %s of the time with a normal split (%s, %s of the data sheet's): the load is above its capacity",
			percentText(float64(r.Duty.Value)), d.show.kelvin(v.measured), percentText(100*v.ratio))
	}
	if r.Airflow == AirflowWeak || r.Frost == Yes {
		d.airflow(s)
	}
	if limit := d.room.Unit.IntakeLimit; limit.Taken && r.Intake.Taken && r.Intake.Value > limit.Value {
		d.trapped(s)
	}
	return true
}

// explainHighSplit: little air through the coil.
func (d *diagnosis) explainHighSplit(s *Sign) bool {
	r := d.room.Readings
	d.favor(ControlOrAirflow, fromSheet, only(UnitSplit), "the split is %s, %s of the data sheet's: little air passes the coil", d.show.kelvin(d.unit.measured), percentText(100*d.unit.ratio))
	switch {
	case r.Airflow == AirflowNotSeen && r.Frost != Yes:
		d.want(s, UnitAirflow, "a large split comes from little air, or from a wrong data sheet", ControlOrAirflow, UnitFaulty)
		return false
	case r.Airflow == AirflowNormal && r.Frost != Yes:
		d.oppose(ControlOrAirflow, fromReading, only(UnitAirflow), "filter, coil and air paths are free")
		d.want(s, UnitSheet, "a split above the data sheet's with all its air does not go together", ControlOrAirflow)
		return false
	}
	d.airflow(s)
	d.envelopeToo(s)
	return false
}

// airflow names the air through the coil on what was seen.
func (d *diagnosis) airflow(s *Sign) {
	r := d.room.Readings
	if r.Airflow == AirflowWeak {
		d.favor(ControlOrAirflow, fromReading, only(UnitAirflow), "the air through the coil is weak: filter, coil, fan, or racks in the way")
	}
	if r.Frost == Yes {
		d.favor(ControlOrAirflow, fromReading, only(UnitAirflow), "the coil is frosted")
	}
	d.name(s, ControlOrAirflow)
}

// explainLowSplit: little cooling with all the air.
func (d *diagnosis) explainLowSplit(s *Sign) bool {
	r, v := d.room.Readings, d.unit
	d.favor(UnitFaulty, fromSheet, only(UnitSplit), "the split is %s where the data sheet gives %s here: %s of it", d.show.kelvin(v.measured), d.show.kelvin(v.expected), percentText(100*v.ratio))
	d.favor(HeatTrapped, fromSheet, only(UnitSplit), "the split is %s; at the data sheet's intake it would be %s", d.show.kelvin(v.measured), d.show.kelvin(v.unspoilt))
	switch {
	case r.Airflow == AirflowNotSeen:
		d.want(s, UnitAirflow, "a small split is lost capacity only with all the air through the coil", UnitFaulty, HeatTrapped, ControlOrAirflow)
		return false
	case r.Airflow == AirflowWeak:
		d.favor(ControlOrAirflow, fromReading, only(UnitAirflow), "the air through the coil is weak")
		d.want(s, UnitSplit, "with weak air and a small split nothing can be told: thaw and free the coil, then read the split again", UnitFaulty, ControlOrAirflow)
		return false
	case !r.Intake.Taken:
		d.want(s, CondenserIntake, "a hot condenser costs a sound unit its capacity", UnitFaulty, HeatTrapped)
		return false
	}
	d.faultOrHeat(s)
	return d.envelopeToo(s)
}

// faultOrHeat tells a failed unit from one whose heat cannot get away; the expected
// split has the intake in it already.
func (d *diagnosis) faultOrHeat(s *Sign) {
	r, limit := d.room.Readings, d.room.Unit.IntakeLimit
	if limit.Taken && r.Intake.Value > limit.Value || r.Condenser == No {
		d.trapped(s)
		d.unknown("whether the unit is also weak: read its split again once its heat gets away")
		return
	}
	text := "the condenser draws air of %s"
	if limit.Taken {
		text += ", below the " + d.show.temperature(limit.Value) + " that the maker allows"
	}
	d.oppose(HeatTrapped, fromReading, only(CondenserIntake), text, d.show.temperature(r.Intake.Value))
	d.favor(UnitFaulty, fromReading, only(CondenserIntake), text+": heat rejection does not explain it", d.show.temperature(r.Intake.Value))
	d.favor(UnitFaulty, fromReading, only(UnitAirflow), "the air through the coil is normal: airflow does not explain it")
	if r.Condenser == NotAsked {
		d.finding(UnitFaulty).assumed = true
		d.unknown("whether the condenser is clean: nobody looked, it was taken to be")
	}
	d.name(s, UnitFaulty)
}

// envelopeToo asks, once a fault of the unit is named, whether the room would fail
// with a sound unit too. It returns true when its load is then to be explained, and
// asks for readings when it loses more than its description says.
func (d *diagnosis) envelopeToo(s *Sign) bool {
	b := d.visit
	if b == nil || !b.Rates {
		d.unknown("whether the room would hold with the unit in order: its load or its capacity is not known")
		return false
	}
	if b.Found.Total() > b.Rated*units.Power(d.target(s)) {
		return true
	}
	if why, hidden := d.hiddenLoss(); hidden {
		d.hidden(s, why)
		return false
	}
	for _, c := range append(envelopeCauses, UnitTooSmall) {
		d.oppose(c, fromBalance, only(FaceConstruction, AdjoiningTemperature, UnitSheet), "a sound unit gives %s and the room as found needs %s: it would hold",
			d.show.power(b.Rated), d.show.power(b.Found.Total()))
	}
	return false
}

// hiddenLoss reports whether the room takes in more heat than is accounted for: by
// its warm-up, or by what a unit with all its air takes out.
func (d *diagnosis) hiddenLoss() (why string, hidden bool) {
	if d.losesMore {
		return "the room warms faster with the unit off than its description lets it", true
	}
	removed, load, ok := d.atVisit()
	if ok && d.unit.split != splitHigh && removed-load > removed*units.Power(d.limits.Closing)/100 {
		return fmt.Sprintf("the unit takes out %s and only %s is accounted for", d.show.power(removed), d.show.power(load)), true
	}
	return "", false
}

// target is the share of its capacity that a unit may be asked for.
func (d *diagnosis) target(s *Sign) float64 {
	if s.Symptom == HardlyRests {
		return float64(d.limits.Strained) / 100
	}
	return 1
}

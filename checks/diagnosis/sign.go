package diagnosis

import (
	"fmt"

	"proveout/checks/envelope"
	"proveout/checks/humidair"
	"proveout/checks/units"
)

// lookForSigns goes through the signs of a failing room. A sign is there, or not
// there, or nobody looked: only the first two leave a trace in the report.
func (d *diagnosis) lookForSigns() {
	for _, look := range []func(){
		d.warmth, d.rest, d.condenser, d.seasons, d.humidity, d.cycles, d.evenness, d.sweat, d.wetness, d.water, d.mold, d.air, d.fans,
	} {
		look()
	}
}

// present writes down a sign that was found.
func (d *diagnosis) present(s Symptom, format string, args ...any) {
	d.signs = append(d.signs, &Sign{Symptom: s, Text: fmt.Sprintf(format, args...)})
}

// absent writes down that a sign was looked for.
func (d *diagnosis) absent(s Symptom) { d.report.Looked = append(d.report.Looked, s) }

// has reports whether a sign was found.
func (d *diagnosis) has(s Symptom) bool {
	for _, g := range d.signs {
		if g.Symptom == s {
			return true
		}
	}
	return false
}

func (d *diagnosis) warmth() {
	if !d.in.temperature.Taken {
		return
	}
	above := d.in.temperature.Value.Sub(d.room.Set)
	if above <= d.limits.Warm {
		d.absent(TooWarm)
		return
	}
	d.present(TooWarm, "the room is at %s, %s above its set point of %s (mean of %d places)",
		d.show.temperature(d.in.temperature.Value), d.show.kelvin(above), d.show.temperature(d.room.Set), d.in.places)
}

func (d *diagnosis) rest() {
	duty := d.room.Readings.Duty
	if !duty.Taken {
		return
	}
	limit := d.limits.Strained
	if d.designWeather() {
		limit = d.limits.Always // on the day it was made for a unit may run long
	}
	if duty.Value <= limit {
		d.absent(HardlyRests)
		return
	}
	if !d.has(TooWarm) {
		d.present(HardlyRests, "the unit runs %s of the time to hold the room; above %s it has no reserve",
			percentText(float64(duty.Value)), percentText(float64(limit)))
	}
}

// designWeather reports whether the visit was about as hot as the design day.
func (d *diagnosis) designWeather() bool {
	out, design := d.now.sides[envelope.Outdoors].Temperature, d.hot.sides[envelope.Outdoors].Temperature
	return out.Taken && design.Taken && out.Value >= design.Value-2
}

// condenser looks for an intake above what the maker allows, now or in hot weather.
func (d *diagnosis) condenser() {
	r, limit := d.room.Readings, d.room.Unit.IntakeLimit
	if !limit.Taken {
		return
	}
	for _, intake := range []Reading[units.Temperature]{r.Intake, r.Hottest} {
		if intake.Taken && intake.Value > limit.Value {
			d.present(HotCondenser, "the condenser draws air of %s; the maker allows %s", d.show.temperature(intake.Value), d.show.temperature(limit.Value))
			return
		}
	}
	if r.Intake.Taken {
		d.absent(HotCondenser)
	}
}

func (d *diagnosis) seasons() {
	switch d.room.Readings.BadInSummer {
	case Yes:
		d.present(BadInSummer, "the room holds in winter and fails in hot weather")
	case No:
		d.absent(BadInSummer)
	}
}

func (d *diagnosis) humidity() {
	if !d.in.humidity.Taken {
		return
	}
	rh, band, slack := d.in.humidity.Value, d.room.Band, d.limits.Humidity
	if rh > band.High+slack {
		d.present(TooHumid, "the room reads %s; its band ends at %s", humidityText(rh), humidityText(band.High))
		d.absent(TooDry)
		return
	}
	d.absent(TooHumid)
	if rh >= band.Low-slack {
		d.absent(TooDry)
		return
	}
	cold, ok := d.humidityAtSet()
	switch {
	case !ok: // a warm room reads dry with as much water as ever
	case cold < band.Low-slack:
		d.present(TooDry, "the room reads %s; its band begins at %s", humidityText(rh), humidityText(band.Low))
	default:
		d.absent(TooDry)
	}
}

// humidityAtSet returns what the room's vapor would read with the room no warmer than
// its set point.
func (d *diagnosis) humidityAtSet() (units.RelativeHumidity, bool) {
	if !d.in.temperature.Taken {
		return 0, false
	}
	p, err := humidair.VaporPressure(d.in.temperature.Value, d.in.humidity.Value)
	full, errFull := humidair.SaturationPressure(min(d.in.temperature.Value, d.room.Set))
	if err != nil || errFull != nil {
		return 0, false
	}
	return units.RelativeHumidity(100 * float64(p/full)), true
}

// cycling says whether starts and runs were read, and whether they are too short.
func (d *diagnosis) cycling() (known, short bool) {
	r := d.room.Readings
	if !r.Starts.Taken && !r.Run.Taken {
		return false, false
	}
	return true, r.Starts.Taken && r.Starts.Value > d.limits.Starts || r.Run.Taken && r.Run.Value < d.limits.Run
}

func (d *diagnosis) cyclingText() string {
	r := d.room.Readings
	switch {
	case r.Starts.Taken && r.Run.Taken:
		return fmt.Sprintf("%.0f starts an hour, runs of %s", r.Starts.Value, timeText(r.Run.Value))
	case r.Starts.Taken:
		return fmt.Sprintf("%.0f starts an hour", r.Starts.Value)
	}
	return "runs of " + timeText(r.Run.Value)
}

func (d *diagnosis) cycles() {
	known, short := d.cycling()
	switch {
	case short:
		d.present(ShortCycles, "%s; a compressor wants no more than %.0f starts and %s at a time", d.cyclingText(), d.limits.Starts, timeText(d.limits.Run))
	case known:
		d.absent(ShortCycles)
	}
}

func (d *diagnosis) evenness() {
	if d.in.places < 2 {
		return
	}
	spread := d.in.warmest.Sub(d.in.coldest)
	if spread <= d.limits.Spread {
		d.absent(Uneven)
		return
	}
	d.present(Uneven, "%s at %q, %s at %q: %s apart, more than %s", d.show.temperature(d.in.warmest), d.in.warmestAt,
		d.show.temperature(d.in.coldest), d.in.coldestAt, d.show.kelvin(spread), d.show.kelvin(d.limits.Spread))
}

// wetSurfaces returns the faces whose coldest place on the other side is at or below
// the dew point there, and whether any surface could be judged.
func (d *diagnosis) wetSurfaces() (wet []surface, judged bool) {
	for _, s := range d.faces {
		air, ok := d.now.state(s.Side, d.pressure)
		if !ok || !s.coldest.Taken {
			continue
		}
		judged = true
		if dew, err := dewPoint(air); err == nil && s.coldest.Value <= dew {
			wet = append(wet, s)
		}
	}
	return wet, judged
}

func (d *diagnosis) sweat() {
	wet, judged := d.wetSurfaces()
	switch {
	case len(wet) > 0:
		d.present(Sweating, "the %s side of %q is at or below the dew point of the air there", wet[0].Side, wet[0].Name)
	case d.room.Readings.Sweating == Yes:
		d.present(Sweating, "water was seen on the other side of a face")
	case judged || d.room.Readings.Sweating == No:
		d.absent(Sweating)
	}
}

// wettest returns a face's highest moisture reading.
func (s surface) wettest() (Spot[units.Percent], bool) {
	var worst Spot[units.Percent]
	for i, m := range s.Moisture {
		if i == 0 || m.Value > worst.Value {
			worst = m
		}
	}
	return worst, len(s.Moisture) > 0
}

func (d *diagnosis) wetness() {
	var worst Spot[units.Percent]
	face, read := "", false
	for _, s := range d.faces {
		m, ok := s.wettest()
		if ok && (!read || m.Value > worst.Value) {
			worst, face, read = m, s.Name, true
		}
	}
	switch {
	case read && worst.Value > d.limits.FramingWet:
		d.present(WetFraming, "framing of %q reads %.0f %% at %s; %.0f %% is the most it may hold", face, worst.Value, worst.Place, d.limits.FramingWet)
	case read:
		d.absent(WetFraming)
	}
}

func (d *diagnosis) water() {
	r := d.room.Readings
	switch {
	case r.WaterAtUnit == Yes:
		d.present(WaterAtUnit, "water stands or drips at the unit")
	case r.Drain.Empties == No:
		d.present(WaterAtUnit, "the unit's pan does not empty")
	case r.WaterAtUnit == No:
		d.absent(WaterAtUnit)
	}
}

func (d *diagnosis) mold() {
	var sum units.Area
	for _, m := range d.room.Readings.Mold {
		sum += m.Area
	}
	switch {
	case sum > 0:
		places := "one place"
		if n := len(d.room.Readings.Mold); n > 1 {
			places = fmt.Sprintf("%d places", n)
		}
		d.present(Moldy, "mold on %s in %s", d.show.area(sum), places)
	case d.room.Readings.MoldSought == Yes:
		d.absent(Moldy)
	}
}

// air looks for house air that gets in, by the loggers and by the measured leak.
func (d *diagnosis) air() {
	leaks := d.leak.known && float64(d.leak.total()) > d.limits.Leaks*float64(d.leak.sound)
	switch {
	case d.followed():
		d.present(LetsAirIn, "the room's dew point follows the house's within %s", lagText(d.follow.Lag))
	case leaks:
		d.present(LetsAirIn, "%s of house air leak in; a sound room leaks %s", d.show.flow(d.leak.total()), d.show.flow(d.leak.sound))
	case d.leak.known || d.follow != nil && d.follow.Steady:
		d.absent(LetsAirIn)
	}
}

func (d *diagnosis) fans() {
	switch d.room.Readings.WorseOnFans {
	case Yes:
		d.present(WorseWithFan, "the room gets worse when dryer or hood runs")
	case No:
		d.absent(WorseWithFan)
	}
}

// hasDoor reports whether the room has a door or glass.
func (d *diagnosis) hasDoor() bool {
	for _, s := range d.faces {
		if s.Kind == envelope.Door {
			return true
		}
	}
	return false
}

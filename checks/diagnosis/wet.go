package diagnosis

import (
	"fmt"

	"proveout/checks/envelope"
	"proveout/checks/humidair"
	"proveout/checks/units"
)

const fromGlaser = "ISO 13788 profile; Wood Handbook eq. 4-5 for the wood's moisture"

// explainSweating explains water on the house side of a face: the face is colder
// than a sound one would be, unless the house's air would wet that too.
func (d *diagnosis) explainSweating(s *Sign) {
	wet, judged := d.wetSurfaces()
	switch {
	case !judged && d.anySurface():
		d.want(s, AdjoiningHumidity, "a surface is wet when it is below the dew point of the air there", Insulation, DoorOrGlass)
		return
	case !judged:
		d.want(s, SurfaceTemperatures, "the coldest place says which face it is and how much insulation is missing", Insulation, DoorOrGlass)
		return
	case len(wet) == 0:
		wet = d.wetAtSet()
	}
	if len(wet) == 0 {
		d.want(s, SurfaceTemperatures, "no surface read is below the dew point now, nor would be with the room at its set point; read again on the most humid day", Insulation, DoorOrGlass)
		return
	}
	for _, f := range wet {
		d.sweats(s, f)
	}
}

// wetAtSet returns the faces that would be wet with the room at its set point, by their
// temperature factor as read, with that temperature in place of the one read.
func (d *diagnosis) wetAtSet() []surface {
	var wet []surface
	for _, f := range d.faces {
		air, ok := d.isoAir(d.now.sides[f.Side])
		if !ok || !f.coldest.Taken {
			continue
		}
		factor, err := envelope.TemperatureFactor(f.coldest.Value, air.Temperature, d.from().Temperature)
		if err != nil {
			continue
		}
		if state, err := envelope.PredictSurface(factor, air, d.room.Set); err == nil && state.Wet {
			f.coldest.Value, f.where = state.Temperature, f.where+", with the room at its set point"
			wet = append(wet, f)
		}
	}
	return wet
}

func (d *diagnosis) anySurface() bool {
	for _, f := range d.faces {
		if f.coldest.Taken {
			return true
		}
	}
	return false
}

func (d *diagnosis) sweats(s *Sign, f surface) {
	air, _ := d.now.state(f.Side, d.pressure)
	dew, err := dewPoint(air)
	if err != nil {
		return
	}
	cause := Insulation
	if !f.opaque() {
		cause = DoorOrGlass
	}
	warm, err := envelope.AirAt(air.Temperature, air.Humidity)
	if err != nil {
		return
	}
	d.favor(cause, fromReading, only(SurfaceTemperatures, AdjoiningHumidity), "the %s side of %q is at %s (%s), the dew point there %s", f.Side, f.Name, d.show.temperature(f.coldest.Value), f.where, d.show.temperature(dew))
	sound, err := envelope.WarmSurface(f.sound, f.films.OtherSide, warm, d.from().Temperature)
	if err == nil && sound.Wet {
		d.oppose(cause, "ISO 13788", only(AdjoiningHumidity), "a sound face would be wet too at this humidity: dry the %s", f.Side)
		d.want(s, AdjoiningHumidity, "read again at the house's usual humidity", cause)
		return
	}
	if err == nil {
		d.favor(cause, "ISO 13788", only(FaceConstruction), "a sound %q would be at %s there, %s above the dew point", f.Name, d.show.temperature(sound.Temperature), d.show.kelvin(sound.Margin))
	}
	if f.loses() {
		d.favor(cause, f.films.Source+"; steady conduction", only(SurfaceTemperatures), "the surface of %q says %s where its construction gives %s", f.Name, d.show.transmittance(f.used.Value), d.show.transmittance(f.described.Value))
	}
	d.name(s, cause)
}

// explainWetFraming explains wet framing face by face: by the vapor profile through
// the layers as found, else by water from outside, by the past, or by leaking air.
func (d *diagnosis) explainWetFraming(s *Sign) {
	for _, f := range d.faces {
		m, ok := f.wettest()
		if !ok || m.Value <= d.limits.FramingWet {
			continue
		}
		if f.Retarder == RetarderNotSeen {
			d.want(s, RetarderPlace, "vapor wets a bay whose retarder is missing or on the cold side; a leak wets any", Retarder, DrainOrWater, AirLeakage, PastMoisture)
			continue
		}
		d.wetFace(s, f, m)
	}
}

func (d *diagnosis) wetFace(s *Sign, f surface, m Spot[units.Percent]) {
	wall := d.wall(f.Name)
	d.favor(Retarder, fromReading, only(FramingMoisture), "framing of %q reads %.0f %% at %s", f.Name, float64(m.Value), m.Place)
	if _, known := d.now.state(f.Side, d.pressure); !known {
		d.want(s, AdjoiningHumidity, "the vapor pressure on the other side drives the water", Retarder, DrainOrWater)
		return
	}
	if wall == nil || wall.Side == "" {
		d.want(s, FaceConstruction, "the layers and their vapor values decide whether diffusion can wet the bay", Retarder, DrainOrWater)
		return
	}
	wrong := wall.wrong(f.Retarder)
	if wrong && wall.Worst.wets(m.Value) {
		d.favor(Retarder, "vapor pressures of both sides over the year", only(RetarderPlace), "the retarder was found %s; it belongs on the %s", f.Retarder.words(), wall.Side)
		d.favor(Retarder, fromGlaser, only(RetarderPlace, FaceConstruction, AdjoiningHumidity), "with these layers the plane %s comes to %s (%s), wood there to %s", wall.Worst.Plane, humidityText(wall.Worst.Humidity), wall.Worst.When, wall.Worst.moistureText())
		d.name(s, Retarder)
		return
	}
	if wrong {
		d.oppose(Retarder, fromGlaser, only(RetarderPlace), "diffusion brings the plane %s to %s only, wood to %s: that does not make %.0f %%", wall.Worst.Plane, humidityText(wall.Worst.Humidity), wall.Worst.moistureText(), float64(m.Value))
	} else {
		d.oppose(Retarder, "vapor pressures of both sides over the year", only(RetarderPlace), "the retarder was found %s, where it belongs", f.Retarder.words())
	}
	d.wetByWater(s, f)
}

// wets reports whether the plane is humid enough for wood to hold what was read, within
// the error of a pin meter.
func (p Plane) wets(read units.Percent) bool {
	return p.Humidity > 95 || p.Humidity >= 85 && p.Moisture >= read-4
}

// wetByWater: not by diffusion.
func (d *diagnosis) wetByWater(s *Sign, f surface) {
	r := d.room.Readings
	switch {
	case r.AfterRain == Yes:
		d.favor(DrainOrWater, fromReading, only(WettingHistory), "%q is wetter after rain", f.Name)
		d.favor(DrainOrWater, fromReading, only(FramingMoisture), "its framing is wet and diffusion does not explain it")
		d.name(s, DrainOrWater)
	case r.PastWetting == Yes:
		d.favor(PastMoisture, fromReading, only(WettingHistory), "the room was wetted in the past")
		d.favor(PastMoisture, fromReading, only(FramingMoisture), "its framing is wet and diffusion does not explain it")
		d.name(s, PastMoisture)
	case r.AfterRain == NotAsked || r.PastWetting == NotAsked:
		d.want(s, WettingHistory, "water from outside or from the past wets framing that vapor cannot", DrainOrWater, PastMoisture, AirLeakage)
	case d.followed():
		d.favor(AirLeakage, fromLog, only(BaselineLog), "house air gets in (r %.2f), and it passes the bays", d.follow.Correlation)
		d.name(s, AirLeakage)
	case d.follow == nil:
		d.want(s, BaselineLog, "leaking house air wets bays as well", AirLeakage)
	default:
		d.want(s, FramingMoisture, "map the moisture again: where is it worst, and does it fall?", DrainOrWater, PastMoisture)
	}
}

func (r RetarderFound) words() string {
	switch r {
	case NoRetarder:
		return "missing"
	case RetarderOnOtherSide:
		return "on the other side of the insulation"
	case RetarderOnRoomSide:
		return "on the room side of the insulation"
	}
	return "nowhere: nobody looked"
}

// explainWater explains water at the unit by the pour test.
func (d *diagnosis) explainWater(s *Sign) {
	t := d.room.Readings.Drain
	if t == (Drain{}) {
		d.want(s, DrainTest, "a drain that fails and a coil with too much water to carry look the same", DrainOrWater, AirLeakage)
		return
	}
	if t.Empties == No || t.TrapHolds == No {
		d.drain(s)
		return
	}
	d.oppose(DrainOrWater, fromReading, only(DrainTest), "pan, trap and drain pass the pour test")
	if !d.room.Readings.Condensate.Taken {
		d.want(s, Condensate, "more water than the drain was laid for comes from leaking air", AirLeakage, ControlOrAirflow)
		return
	}
	if d.leak.known && d.leak.total() > 2*d.leak.sound {
		d.leakEvidence(AirLeakage, d.leak.rest.flow)
		d.name(s, AirLeakage)
		return
	}
	d.want(s, UnitAirflow, "a frosted coil drops its water beside the pan", ControlOrAirflow)
}

// drain names the drain on a failed pour test.
func (d *diagnosis) drain(s *Sign) {
	t, r := d.room.Readings.Drain, d.room.Readings
	if t.Empties == No {
		d.favor(DrainOrWater, fromReading, only(DrainTest), "a liter poured into the pan does not run off")
	}
	if t.TrapHolds == No {
		d.favor(DrainOrWater, fromReading, only(DrainTest), "the trap does not hold its water: the fan sucks air through the drain and keeps the pan full")
	}
	if r.WaterAtUnit == Yes {
		d.favor(DrainOrWater, fromReading, only(WettingHistory), "water stands or drips at the unit")
	}
	if d.in.humidity.Taken && !d.has(TooHumid) {
		d.favor(DrainOrWater, fromReading, only(RoomHumidity), "the room itself is at %s: the water is not in its air", humidityText(d.in.humidity.Value))
		d.oppose(AirLeakage, fromReading, only(RoomHumidity), "the room is at %s, within its band", humidityText(d.in.humidity.Value))
	}
	d.name(s, DrainOrWater)
}

// explainMold explains mold in a room whose air is good: growth needs water that is
// not there any more, or that only a cold place sees. Where framing, house side or
// air are wet now, their causes explain the mold.
func (d *diagnosis) explainMold(s *Sign) {
	if d.has(TooHumid) || d.has(WetFraming) || d.has(Sweating) {
		return
	}
	if !d.moistureRead() {
		d.want(s, FramingMoisture, "mold on dry framing is from the past; on wet framing it grows", PastMoisture, Retarder, Insulation)
		return
	}
	if !d.in.stated {
		d.want(s, RoomHumidity, "the room's air says whether mold can grow now", PastMoisture)
		return
	}
	if d.houseSideMold() && !d.anySurface() {
		d.want(s, SurfaceTemperatures, "a cold place on the house side lets mold grow there", Insulation, PastMoisture)
		return
	}
	d.pastMold(s)
}

func (d *diagnosis) moistureRead() bool {
	for _, f := range d.faces {
		if len(f.Moisture) > 0 {
			return true
		}
	}
	return false
}

// houseSideMold reports whether mold was seen on the other side of a face.
func (d *diagnosis) houseSideMold() bool {
	for _, m := range d.room.Readings.Mold {
		if !m.Room && m.Area > 0 {
			return true
		}
	}
	return false
}

// coldPlaces names the insulation where a surface read on the other side would grow
// mold now.
func (d *diagnosis) coldPlaces(s *Sign) bool {
	found := false
	for _, f := range d.faces {
		air, ok := d.now.state(f.Side, d.pressure)
		if !ok || !f.coldest.Taken {
			continue
		}
		p, err := humidair.VaporPressure(air.Temperature, air.Humidity)
		pws, errWs := humidair.SaturationPressure(f.coldest.Value)
		if err != nil || errWs != nil {
			continue
		}
		rh := units.RelativeHumidity(100 * float64(p/pws))
		critical, err := sapwood.CriticalHumidity(f.coldest.Value)
		if err != nil || rh < critical {
			continue
		}
		cause := Insulation
		if !f.opaque() {
			cause = DoorOrGlass
		}
		d.favor(cause, "Hukka and Viitanen 1999", only(SurfaceTemperatures, AdjoiningHumidity), "%s of %q is at %s and %s: mold grows from %s on", f.where, f.Name, d.show.temperature(f.coldest.Value), humidityText(rh), humidityText(critical))
		d.name(s, cause)
		found = true
	}
	return found
}

func (d *diagnosis) pastMold(s *Sign) {
	if d.houseSideMold() && d.coldPlaces(s) {
		return
	}
	r := d.room.Readings
	critical, err := sapwood.CriticalHumidity(d.in.state.Temperature)
	if err != nil || d.in.humidity.Value >= critical {
		d.want(s, BaselineLog, "the room's air is humid enough for mold", AirLeakage, ControlOrAirflow)
		return
	}
	if m := d.wettestFraming(); m > d.limits.FramingDry {
		d.want(s, FramingMoisture, fmt.Sprintf("at %.0f %% the framing is neither wet nor dry: read it again in a month", float64(m)), PastMoisture, Retarder)
		return
	}
	d.favor(PastMoisture, "Hukka and Viitanen 1999", only(RoomTemperature, RoomHumidity), "at %s and %s mold cannot grow; it needs %s", d.show.temperature(d.in.state.Temperature), humidityText(d.in.humidity.Value), humidityText(critical))
	d.favor(PastMoisture, fromReading, only(FramingMoisture), "the framing is dry, %s at most", percentText(float64(d.wettestFraming())))
	d.oppose(Retarder, fromReading, only(FramingMoisture), "the framing is dry")
	switch r.PastWetting {
	case No:
		d.want(s, WettingHistory, "no wetting is known; ask again about cartons, a failed unit, a flood", PastMoisture)
		return
	case NotAsked:
		d.finding(PastMoisture).assumed = true
		d.unknown("when the room was wet: nobody was asked")
	default:
		d.favor(PastMoisture, fromReading, only(WettingHistory), "a past wetting is known")
	}
	d.name(s, PastMoisture)
}

// wettestFraming returns the highest moisture read anywhere.
func (d *diagnosis) wettestFraming() units.Percent {
	var worst units.Percent
	for _, f := range d.faces {
		if m, ok := f.wettest(); ok {
			worst = max(worst, m.Value)
		}
	}
	return worst
}

// explainFans: dryer and hood draw attic, crawl or outdoor air through the room when
// they pull its pressure by more than its own stack.
func (d *diagnosis) explainFans(s *Sign) {
	r := d.room.Readings
	if !r.FansOff.Taken || !r.FansOn.Taken {
		d.want(s, PressureDifference, "fans that pull the room's pressure draw air through it", AirLeakage, DrainOrWater)
		return
	}
	change := float64(r.FansOn.Value - r.FansOff.Value)
	own := 1.0 // Pa, a room of 2.4 m at 13 °C in a house at 24 °C (computed)
	if house, ok := d.now.state("house", d.pressure); ok {
		own = stackPressure(house, d.from(), d.room.Height)
	}
	if change < 0 {
		change = -change
	}
	if change < own {
		d.oppose(AirLeakage, "hydrostatics", only(PressureDifference), "fans change the room's pressure by %s, less than its own stack of %s", d.show.pressure(units.Pressure(change)), d.show.pressure(units.Pressure(own)))
		d.want(s, BaselineLog, "log the room while the fans run", AirLeakage, ControlOrAirflow)
		return
	}
	d.favor(AirLeakage, "hydrostatics", only(PressureDifference), "dryer and hood change the room's pressure by %s; its own stack makes %s", d.show.pressure(units.Pressure(change)), d.show.pressure(units.Pressure(own)))
	d.favor(AirLeakage, fromReading, only(HouseFanHistory), "the room gets worse while they run")
	d.name(s, AirLeakage)
}

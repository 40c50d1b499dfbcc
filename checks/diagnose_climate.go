package checks

import (
	"proveout/checks/diagnosis"
	"proveout/checks/envelope"
	"proveout/checks/units"
)

// surroundings takes from job.yaml the air around the room on the design day and in
// each month of the year.
func (v *visit) surroundings() {
	v.out.Design, v.out.Year = map[envelope.OtherSide]diagnosis.Air{}, map[envelope.OtherSide][]diagnosis.Air{}
	for _, name := range v.c.Room.adjoining() {
		side := envelope.OtherSide(name)
		if air, ok := designAir(v.c.Room.Space(name, "summer")); ok {
			v.out.Design[side] = air
		}
		if year := v.year(name); year != nil {
			v.out.Year[side] = year
		}
	}
}

func designAir(s *Space) (diagnosis.Air, bool) {
	if s == nil || !s.Temperature.Known() || !s.Humidity.Known() {
		return diagnosis.Air{}, false
	}
	return diagnosis.Air{Temperature: s.Temperature.Temperature(), Humidity: s.Humidity.RelativeHumidity()}, true
}

// year is twelve monthly means of a space, January first: outdoors those of the
// place, elsewhere the air of its season. nil when job.yaml does not say.
func (v *visit) year(name string) []diagnosis.Air {
	if months := v.c.Room.Months; name == string(envelope.Outdoors) && len(months) == 12 {
		var year []diagnosis.Air
		for _, m := range months {
			air, ok := designAir(&Space{Temperature: m.Temperature, Humidity: m.Humidity})
			if !ok {
				return nil
			}
			year = append(year, air)
		}
		return year
	}
	summer, ok := designAir(v.c.Room.Space(name, "summer"))
	winter, okWinter := designAir(v.c.Room.Space(name, "winter"))
	if !ok || !okWinter {
		return nil
	}
	year := make([]diagnosis.Air, 12)
	for i := range year {
		year[i] = winter
		if v.c.Room.warmHalf(i) {
			year[i] = summer
		}
	}
	return year
}

// plan takes the room as planned; without any face as planned there is no plan.
func (v *visit) plan() {
	r := v.c.Room
	plan := &diagnosis.Plan{AirChange: known[float64](r.AirChange)}
	planned := false
	for i := range r.Faces {
		face, ok := v.faceAsPlanned(&r.Faces[i])
		planned = planned || ok
		plan.Faces = append(plan.Faces, face)
	}
	if !planned {
		return
	}
	if !r.AirChange.Known() {
		plan.AirChange = diagnosis.DefaultLimits().SoundAirChange
		v.assume("how much air may leak in as planned: job.yaml gives no air changes, %.1f an hour were assumed", plan.AirChange)
	}
	unit := r.UnitAsFound
	if r.UnitAsPlanned != nil {
		unit = r.UnitAsPlanned
		planned, err := unitOf(unit)
		if err != nil {
			v.rejectJob("unit as planned", err)
			return
		}
		plan.Unit = &planned
	}
	if unit != nil {
		if air, ok := designAir(r.Space(unit.Rejects, "summer")); ok {
			plan.Intake = diagnosis.Read(air.Temperature)
		}
	}
	v.out.Planned = plan
}

// faceAsPlanned is a face by its layers as planned, or its design transmittance; one
// that the plan does not change stays as it was found.
func (v *visit) faceAsPlanned(f *Face) (face diagnosis.Face, planned bool) {
	face = bare(f)
	face.Sun = known[units.TemperatureDifference](f.Sun)
	u := f.Design["transmittance"]
	switch {
	case f.AsPlanned != nil:
		face.Assembly = v.assembly(f.Name, f.AsPlanned)
		return face, true
	case u.Known():
		face.Transmittance = u.Transmittance()
		return face, true
	}
	return v.faceAsFound(f), false
}

package checks

import (
	"errors"
	"slices"
	"strings"
	"time"

	"proveout/checks/diagnosis"
	"proveout/checks/envelope"
	"proveout/checks/units"
)

// taken is each measurement of a diagnosis with how it is taken from the records.
// What names no question comes from job.yaml; see surroundings and room.
var taken = []taking{
	{diagnosis.RoomTemperature, []string{"room-temperature"}, roomTemperature},
	{diagnosis.RoomHumidity, []string{"room-humidity"}, roomHumidity},
	{diagnosis.AdjoiningTemperature, []string{"adjoining-temperature"}, adjoiningTemperature},
	{diagnosis.AdjoiningHumidity, []string{"adjoining-humidity"}, adjoiningHumidity},
	{diagnosis.ControlOffset, []string{"control-offset"}, controlOffset},
	{diagnosis.SurfaceTemperatures, []string{"surface-temperatures"}, surfaceTemperatures},
	{diagnosis.BaselineLog, []string{"baseline-log"}, baselineLog},
	{diagnosis.FramingMoisture, []string{"framing-moisture"}, framingMoisture},
	{diagnosis.PressureDifference, []string{"pressure-difference"}, pressureDifference},
	{diagnosis.DoorGap, []string{"door-gap"}, doorGap},
	{diagnosis.UnitSplit, []string{"unit-split"}, unitSplit},
	{diagnosis.UnitDuty, []string{"unit-duty"}, unitDuty},
	{diagnosis.CondenserIntake, []string{"condenser-intake", "condenser-clean"}, condenserIntake},
	{diagnosis.Condensate, []string{"condensate"}, condensate},
	{diagnosis.MoldPatch, []string{"mold-patch"}, moldPatch},
	{diagnosis.UnitSheet, []string{"unit-data-sheet"}, unitSheet},
	{diagnosis.UnitAirflow, []string{"unit-airflow", "coil-frost"}, unitAirflow},
	{diagnosis.UnitCycles, []string{"unit-cycles", "shortest-run"}, unitCycles},
	{diagnosis.UnitCutOut, []string{"unit-cut-out"}, unitCutOut},
	{diagnosis.HottestIntake, []string{"hottest-intake"}, hottestIntake},
	{diagnosis.DesignConditions, nil, func(*visit) {}},
	{diagnosis.FaceConstruction, nil, func(*visit) {}},
	{diagnosis.RetarderPlace, []string{"retarder-place"}, retarderPlace},
	{diagnosis.WettingHistory, []string{"wetting-history", "after-rain"}, wettingHistory},
	{diagnosis.DrainTest, []string{"drain-test", "trap-test", "water-at-unit"}, drainTest},
	{diagnosis.WarmUp, []string{"warm-up"}, warmUp},
	{diagnosis.SeasonHistory, []string{"season-history"}, seasonHistory},
	{diagnosis.HouseFanHistory, []string{"house-fan-history"}, houseFanHistory},
	{diagnosis.SweatingSurfaces, []string{"sweating-surfaces"}, sweatingSurfaces},
	{diagnosis.FanTest, []string{"fan-test"}, fanTest},
	{diagnosis.ThroughWallSearch, []string{"through-wall-search", "wall-opening"}, throughWallSearch},
}

// taking is a measurement with the questions of the assess phase that answer it.
type taking struct {
	measurement diagnosis.Measurement
	questions   []string
	take        func(*visit)
}

// Measurements are all that a diagnosis uses, in the order of the visit.
func Measurements() []diagnosis.Measurement {
	all := make([]diagnosis.Measurement, len(taken))
	for i, t := range taken {
		all[i] = t.measurement
	}
	return all
}

// QuestionsFor returns the questions of the assess phase that a measurement is
// answered by, the first of them the measurement itself; none for what job.yaml says.
func QuestionsFor(m diagnosis.Measurement) []string {
	i := slices.IndexFunc(taken, func(t taking) bool { return t.measurement == m })
	if i < 0 {
		return nil
	}
	return taken[i].questions
}

// spot returns the room's air at a place.
func (v *visit) spot(place string) *diagnosis.AirSpot {
	air := &v.out.Readings.Air
	for i := range *air {
		if (*air)[i].Place == place {
			return &(*air)[i]
		}
	}
	*air = append(*air, diagnosis.AirSpot{Place: place, InSupply: strings.Contains(place, "supply")})
	return &(*air)[len(*air)-1]
}

func roomTemperature(v *visit) {
	for _, f := range v.numbers("room-temperature", -20, 45) {
		v.spot(f.Place).Temperature = diagnosis.Read(f.Quantity.Temperature())
	}
}

func roomHumidity(v *visit) {
	for _, f := range v.numbers("room-humidity", 0, 100) {
		v.spot(f.Place).Humidity = diagnosis.Read(f.Quantity.RelativeHumidity())
	}
}

func adjoiningTemperature(v *visit) {
	for _, f := range v.numbers("adjoining-temperature", -40, 80) {
		side := v.out.Readings.Sides[envelope.OtherSide(f.Place)]
		side.Temperature = diagnosis.Read(f.Quantity.Temperature())
		v.out.Readings.Sides[envelope.OtherSide(f.Place)] = side
	}
}

func adjoiningHumidity(v *visit) {
	for _, f := range v.numbers("adjoining-humidity", 0, 100) {
		side := v.out.Readings.Sides[envelope.OtherSide(f.Place)]
		side.Humidity = diagnosis.Read(f.Quantity.RelativeHumidity())
		v.out.Readings.Sides[envelope.OtherSide(f.Place)] = side
	}
}

func controlOffset(v *visit) {
	v.out.Readings.ControlOffset = one[units.TemperatureDifference](v, "control-offset", -20, 20)
}

// face returns the face that a place names, or nil with the answer rejected.
func (v *visit) face(f Fact) *diagnosis.Face {
	i := slices.IndexFunc(v.out.Faces, func(o diagnosis.Face) bool { return o.Name == FaceOf(f.Place) })
	if i < 0 {
		v.reject(f, "job.yaml has no face of that name")
		return nil
	}
	return &v.out.Faces[i]
}

// placeOnFace is where on its face a place lies: "point 2" of "north wall/point 2".
func placeOnFace(place string) string {
	if _, on, ok := strings.Cut(place, "/"); ok {
		return on
	}
	return place
}

func surfaceTemperatures(v *visit) {
	for _, f := range v.numbers("surface-temperatures", -40, 80) {
		if face := v.face(f); face != nil {
			face.OtherSurface = append(face.OtherSurface, diagnosis.Spot[units.Temperature]{Place: placeOnFace(f.Place), Value: f.Quantity.Temperature()})
		}
	}
}

func framingMoisture(v *visit) {
	for _, f := range v.numbers("framing-moisture", 0, 200) {
		if face := v.face(f); face != nil {
			face.Moisture = append(face.Moisture, diagnosis.Spot[units.Percent]{Place: placeOnFace(f.Place), Value: f.Quantity.Percent()})
		}
	}
}

func pressureDifference(v *visit) {
	for _, f := range v.numbers("pressure-difference", -500, 500) {
		switch f.Place {
		case "fans off":
			v.out.Readings.FansOff = diagnosis.Read(f.Quantity.Pressure())
		case "fans on":
			v.out.Readings.FansOn = diagnosis.Read(f.Quantity.Pressure())
		}
	}
}

func doorGap(v *visit) {
	for _, f := range v.values("door-gap", DoorGapStretch) {
		if why := outOfRange(f, gapRanges); why != "" {
			v.reject(f, why)
			continue
		}
		v.out.Readings.Gaps = append(v.out.Readings.Gaps, diagnosis.DoorGapStretch{
			Stretch: f.Place, Length: f.Values["length"].Length(), Width: f.Values["gap"].Length(), Height: f.Values["height"].Length(),
		})
	}
}

func unitSplit(v *visit) {
	for _, f := range v.numbers("unit-split", -5, 60) {
		v.out.Readings.Split = append(v.out.Readings.Split, f.Quantity.TemperatureDifference())
	}
}

func unitDuty(v *visit) { v.out.Readings.Duty = one[units.Percent](v, "unit-duty", 0, 100) }

// condenserIntake takes the warmest place of the intake: the air there is what the
// coil behind it gets.
func condenserIntake(v *visit) {
	r := &v.out.Readings
	for _, f := range v.numbers("condenser-intake", -40, 80) {
		if t := f.Quantity.Temperature(); !r.Intake.Taken || t > r.Intake.Value {
			r.Intake = diagnosis.Read(t)
		}
	}
	switch v.answer("condenser-clean") {
	case "clean and free":
		r.Condenser = diagnosis.Yes
	case "dirty or blocked":
		r.Condenser = diagnosis.No
	}
}

func condensate(v *visit) { v.out.Readings.Condensate = one[units.Mass](v, "condensate", 0, 200) }

// moldPatch takes patches; one of no area says that somebody looked.
func moldPatch(v *visit) {
	r := &v.out.Readings
	for _, f := range v.numbers("mold-patch", 0, 1000) {
		r.MoldSought = diagnosis.Yes
		if f.Quantity.Base() > 0 {
			room := !strings.Contains(f.Place, "other side") && !strings.Contains(f.Place, "house side")
			r.Mold = append(r.Mold, diagnosis.MoldSeen{Place: f.Place, Area: f.Quantity.Area(), Room: room})
		}
	}
}

// unitSheet takes the data sheet of job.yaml, once somebody has held it beside the
// unit's plate.
func unitSheet(v *visit) {
	if v.yesNo("unit-data-sheet") != diagnosis.Yes {
		return
	}
	if v.c.Room.UnitAsFound == nil {
		v.rejectJob("unit as found", errors.New("it is not there; write down what the data sheet says"))
		return
	}
	unit, err := unitOf(v.c.Room.UnitAsFound)
	if err != nil {
		v.rejectJob("unit as found", err)
		return
	}
	if !unit.Sheet.Split.Taken {
		v.rejectJob("unit as found", errors.New("it lacks the split, or the room temperature, humidity and outdoor temperature that it holds at"))
	}
	if !unit.IntakeLimit.Taken {
		v.rejectJob("unit as found", errors.New("it lacks the highest intake that the maker allows"))
	}
	v.out.Unit = unit
}

func unitAirflow(v *visit) {
	switch v.answer("unit-airflow") {
	case "normal":
		v.out.Readings.Airflow = diagnosis.AirflowNormal
	case "weak":
		v.out.Readings.Airflow = diagnosis.AirflowWeak
	}
	v.out.Readings.Frost = v.yesNo("coil-frost")
}

func unitCycles(v *visit) {
	v.out.Readings.Starts = one[float64](v, "unit-cycles", 0, 600)
	for _, f := range v.numbers("shortest-run", 1, 30*24*3600) {
		v.out.Readings.Run = diagnosis.Read(f.Quantity.Duration())
	}
}

func unitCutOut(v *visit) { v.out.Readings.CutsOut = v.yesNo("unit-cut-out") }

func hottestIntake(v *visit) {
	v.out.Readings.Hottest = one[units.Temperature](v, "hottest-intake", -40, 90)
}

var retarderWords = map[string]diagnosis.RetarderFound{
	"no retarder": diagnosis.NoRetarder, "on the room side": diagnosis.RetarderOnRoomSide, "on the other side": diagnosis.RetarderOnOtherSide,
}

func retarderPlace(v *visit) {
	for _, f := range v.facts("retarder-place") {
		if face := v.face(f); face != nil {
			face.Retarder = retarderWords[f.Answer] // "not seen" is not seen
		}
	}
}

func wettingHistory(v *visit) {
	v.out.Readings.PastWetting, v.out.Readings.AfterRain = v.yesNo("wetting-history"), v.yesNo("after-rain")
}

func drainTest(v *visit) {
	r := &v.out.Readings
	r.Drain = diagnosis.Drain{Empties: v.yesNo("drain-test"), TrapHolds: v.yesNo("trap-test")}
	r.WaterAtUnit = v.yesNo("water-at-unit")
}

func warmUp(v *visit) {
	for _, f := range v.numbers("warm-up", 60, 30*24*3600) {
		v.out.Readings.WarmUp = diagnosis.Read(f.Quantity.Duration().Truncate(time.Second))
	}
}

func seasonHistory(v *visit)    { v.out.Readings.BadInSummer = v.yesNo("season-history") }
func houseFanHistory(v *visit)  { v.out.Readings.WorseOnFans = v.yesNo("house-fan-history") }
func sweatingSurfaces(v *visit) { v.out.Readings.Sweating = v.yesNo("sweating-surfaces") }

func throughWallSearch(v *visit) {
	switch v.answer("through-wall-search") {
	case "none found":
		v.out.Readings.Searched = diagnosis.Yes
	case "found":
		v.out.Readings.Searched = diagnosis.Yes
		v.openings()
	}
}

func (v *visit) openings() {
	for _, f := range v.values("wall-opening", WallOpening) {
		if why := outOfRange(f, openingRanges); why != "" {
			v.reject(f, why)
			continue
		}
		v.out.Readings.Openings = append(v.out.Readings.Openings, diagnosis.Opening{
			Name: f.Place, Side: envelope.OtherSide(f.Answer), Area: f.Values["area"].Area(), Height: f.Values["opening height"].Length(),
		})
	}
}

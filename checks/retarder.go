package checks

import (
	"fmt"

	"proveout/checks/envelope"
)

// RetarderSide asks whether the vapor retarder of a face is on the side that
// the vapor comes from. Which side that is follows from the vapor pressures on
// both sides over the year; rules written for heated houses do not tell.
var RetarderSide = &Check{
	Name:    "retarder-side",
	Doc:     "vapor retarder on the side that the vapor comes from",
	Source:  "vapor pressures on both sides over the year, ISO 13788:2012 Annex E",
	Answers: []string{"other side", "room side"},
	Figures: yearFigures,
	Each:    retarderSide,
}

func retarderSide(c Case, f Fact) Point {
	p := Point{Place: f.Place, Value: "retarder on the " + f.Answer, judged: true}
	face := c.Room.Face(FaceOf(f.Place))
	if face == nil {
		return undecided(f.Place, "job.yaml has no face %q", FaceOf(f.Place))
	}
	months, err := c.Room.year(face)
	if err != nil {
		return undecided(f.Place, "%v", err)
	}
	advice, err := envelope.RetarderSide(months)
	if err != nil {
		return undecided(f.Place, "%v", err)
	}
	p.Limit, p.Steps = "on the "+string(advice.Side), advice.Steps
	switch {
	case advice.Reverses:
		p.Reason = advice.Advice
	case advice.Side == envelope.NeitherSide:
		p.Outcome, p.Limit = Pass, "on either side: "+advice.Advice
	case string(advice.Side) == f.Answer:
		p.Outcome = Pass
	default:
		p.Outcome = Fail
		p.Reason = fmt.Sprintf("it is on the %s of the insulation, but the vapor comes from the %s", f.Answer, advice.Side)
	}
	return p
}

func airOf(s Space) (envelope.Air, error) {
	if !s.Temperature.Known() || !s.Humidity.Known() {
		return envelope.Air{}, fmt.Errorf("job.yaml gives no temperature and humidity for %s", s.Name)
	}
	return envelope.AirAt(s.Temperature.Temperature(), s.Humidity.RelativeHumidity())
}

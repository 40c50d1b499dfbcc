package templates

import (
	"fmt"
	"math"
	"time"

	"proveout/checks"
	"proveout/checks/units"
	"proveout/templates/figure"
)

// predictedPullDown draws how the full room is to come down on the design day; the
// zero Figure where job.yaml does not describe it.
func (d Dossier) predictedPullDown() Figure {
	_, loaded, err := d.Gate.PredictedPullDowns()
	if err != nil {
		return Figure{}
	}
	room := d.Room
	mark := func(words string, t units.Temperature) figure.Mark {
		return figure.Mark{At: d.degrees(t), Text: words + " " + d.computedValue(units.TemperatureKind, float64(t))}
	}
	f := figure.PullDown{
		Title: fmt.Sprintf("How the room with %d bottles is to come down on the design day", room.Bottles),
		Axis:  "Temperature, " + d.degree(), Hours: "Hours after the start", SetPoint: mark("set point", room.SetPoint.Temperature()), Goal: mark("a bottle has arrived at", loaded.Target),
		Notes: []string{"Predicted from the faces, leaks and unit as planned. How closely bottles follow the air is assumed; a probe in a bottle replaces it."},
	}
	span := 72 * time.Hour
	if arrives, ok := loaded.BottleTime(loaded.Target); ok {
		span = time.Duration(1.3 * float64(arrives))
		f.Arrival = figure.Mark{At: arrives.Hours(), Text: fmt.Sprintf("predicted %.0f h", arrives.Hours())}
	} else {
		f.Notes = append(f.Notes, mark("It never arrives: with the unit never off it ends at", loaded.Stall).Text+".")
	}
	if limit := room.PullDownLimit; limit.Known() && room.PullDownLoad == "loaded" {
		span = max(span, time.Duration(1.1*float64(limit.Duration())))
		f.Limit = figure.Mark{At: limit.Duration().Hours(), Text: "limit " + limit.String()}
	}
	f.Air, f.Bottle = d.courseOf(loaded, span)
	return newFigure("predicted-pull-down", "", f)
}

// courseOf are the points of both curves over a span.
func (d Dossier) courseOf(c checks.PullDownCourse, span time.Duration) (air, bottle []figure.Point) {
	const steps = 120
	for i := range steps + 1 {
		after := span * time.Duration(i) / steps
		a, b := c.At(after)
		if math.IsNaN(float64(a)) || math.IsNaN(float64(b)) {
			return nil, nil
		}
		air = append(air, figure.Point{X: after.Hours(), Y: d.degrees(a)})
		bottle = append(bottle, figure.Point{X: after.Hours(), Y: d.degrees(b)})
	}
	return air, bottle
}

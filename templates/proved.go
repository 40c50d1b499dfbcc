package templates

import (
	"fmt"
	"math"
	"strings"
	"time"

	"proveout/checks"
	"proveout/checks/logs"
	"proveout/checks/proof"
	"proveout/checks/units"
	"proveout/templates/figure"
)

// proved is what the loggers of commissioning say of the room.
type proved struct {
	Logs, Days Figure
	Hold       []string // will it hold: the verdict, the number, the limits of the method
	Found      []string // faults of loggers and room that the analysis names
	Left       []string // what proves nothing, with the reason
	Skipped    []string
}

// proofOf analyses the loggers of the empty room; nil without a log that can be
// analysed.
func (d Dossier) proofOf() *proved {
	a, from, err := d.Gate.CommissioningProof(false)
	if err != nil || a == nil {
		return nil
	}
	p := &proved{
		Logs: newFigure("logged", "Measured. Every extreme is kept; a gap in a line is a gap in the record.", d.logged(a, from)),
		Hold: d.willHold(a),
	}
	if a.Signature != nil {
		p.Days = newFigure("daily-cooling", "Measured days, and the line fitted through them.", d.dailyCooling(a))
	}
	for _, f := range a.Findings {
		p.Found = append(p.Found, sentence(capital(strings.TrimSpace(f.Logger+" "+string(f.Fault)+": "+f.Reason)))+" "+sentence(capital(f.Do)))
	}
	for _, l := range from.Left {
		p.Left = append(p.Left, sentence(l.File+": "+l.Why))
	}
	for _, s := range a.Skipped {
		p.Skipped = append(p.Skipped, sentence(s.What+": "+s.Why))
	}
	return p
}

// logged are temperature and humidity of the room with their bands.
func (d Dossier) logged(a *proof.Analysis, from *checks.LogsOfPlaces) figure.Log {
	set, half := d.Room.SetPoint.Temperature(), units.Temperature(1)
	if q, err := d.Room.Value("temperature band", units.TemperatureDifferenceKind); err == nil {
		half = units.Temperature(q.Base())
	}
	low, high := d.Room.LowHumidity, d.Room.HighHumidity
	print := func(t units.Temperature) string { return d.computedValue(units.TemperatureKind, float64(t)) }
	temperature := figure.LogPanel{Axis: "Temperature, " + d.degree(), Band: figure.Band{
		Low: d.degrees(set - half), High: d.degrees(set + half), Text: "allowed " + print(set-half) + " to " + print(set+half)}}
	humidity := figure.LogPanel{Axis: "Humidity, % RH"}
	if low.Known() && high.Known() {
		humidity.Band = figure.Band{Low: low.Base(), High: high.Base(), Text: "allowed " + low.String() + " to " + high.String()}
	}
	for _, l := range from.Input.Loggers {
		if !inRoom(l.Place) {
			continue
		}
		for _, s := range l.Series {
			switch s.Quantity {
			case logs.Temperature:
				temperature.Lines = append(temperature.Lines, line(l, s, func(v float64) float64 { return d.degrees(units.Temperature(v)) }))
			case logs.RelativeHumidity:
				humidity.Lines = append(humidity.Lines, line(l, s, func(v float64) float64 { return v }))
			}
		}
	}
	return figure.Log{
		Title: "The empty room, as its loggers recorded it", From: a.Span.From.In(d.Zone), To: a.Span.To.In(d.Zone),
		Panels: []figure.LogPanel{temperature, humidity}, Gap: time.Hour, Clock: "Local time, days from midnight to midnight",
	}
}

func inRoom(p proof.Place) bool {
	return p == proof.RoomLow || p == proof.RoomMiddle || p == proof.RoomHigh || p == proof.BottleProbe
}

func line(l proof.Logger, s logs.Series, shown func(float64) float64) figure.LogLine {
	values := make([]float64, len(s.Values))
	for i, v := range s.Values {
		values[i] = shown(v)
	}
	return figure.LogLine{Name: string(l.Place), Times: s.Times, Values: values}
}

// dailyCooling is the cooling of each day against the difference of temperatures,
// with what the fitted line says of the design day.
func (d Dossier) dailyCooling(a *proof.Analysis) figure.Signature {
	s := a.Signature
	f := figure.Signature{
		Title: "Cooling of each day against the difference of temperatures",
		X:     "Outside as the walls pass it on, minus room, K", Y: "Cooling, mean of the day, W", Level: "95 %",
	}
	if s.UA.Value == 0 {
		f.Y = "Cooling, share of the running unit"
	}
	for _, day := range s.Days {
		f.Days = append(f.Days, figure.SignatureDay{Point: figure.Point{X: float64(day.Difference), Y: day.Heat}, Unused: !day.Used})
	}
	low, high := s.Line.MinX, s.Line.MaxX
	if h := a.Hold; h != nil && !math.IsNaN(float64(h.Difference)) {
		x := float64(h.Difference)
		low, high = min(low, x), max(high, x)
		f.Design = figure.Mark{At: x, Text: "design day " + d.computedValue(units.TemperatureDifferenceKind, x)}
		if h.Beyond > 0 {
			f.Beyond = fmt.Sprintf("not logged: %.1f times the span of the days seen", h.Beyond)
		}
	}
	for i := range 21 {
		x := low + (high-low)*float64(i)/20
		y, mean, next := s.Line.At(x), s.Line.MeanHalf(x), s.Line.NextHalf(x)
		f.Fit = append(f.Fit, figure.FitPoint{X: x, Y: y, Line: figure.Range{Low: y - mean, High: y + mean}, ForADay: figure.Range{Low: y - next, High: y + next}})
	}
	return f
}

// willHold says whether the room will hold on its design day, how sure that is,
// and what the method cannot know.
func (d Dossier) willHold(a *proof.Analysis) []string {
	h := a.Hold
	if h == nil {
		return []string{"Not answered: these logs do not allow a prediction for the design day. What was proved stands above; what the logs lack stands under the plots."}
	}
	var all []string
	switch {
	case h.Outcome == checks.Pass && h.Provisional:
		all = append(all, "PROVISIONAL: by what was logged, it will hold on the design day. The days seen are unlike that day. A log of the opposite season closes this.")
	case h.Outcome == checks.Pass:
		all = append(all, "By what was logged, it will hold on the design day.")
	case h.Outcome == checks.Fail:
		all = append(all, "By what was logged, it will NOT hold on the design day.")
	default:
		all = append(all, "Whether it will hold on the design day is not decided yet.")
	}
	if h.Reason != "" {
		all = append(all, sentence(capital(h.Reason)))
	}
	if h.Duty.Known() {
		all = append(all, fmt.Sprintf("Computed from measured days: on the design day the unit would run %.0f %% of the time; for that one day 95 %% lies between %.0f %% and %.0f %%.",
			100*h.Duty.Value, 100*h.Duty.Low, 100*h.Duty.High))
	}
	if h.Marginal {
		all = append(all, "That is more than 18 hours of running a day: it holds, with little to spare.")
	}
	return append(all, "Limits of the method: a straight line through daily means. Changed habits, a leak or a dirty coil are not in it.")
}

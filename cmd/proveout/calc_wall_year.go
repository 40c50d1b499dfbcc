package main

import (
	"fmt"

	"proveout/checks/envelope"
	"proveout/checks/units"
	"proveout/phases/strict"
)

// readMonths takes the twelve months beyond the wall from a file.
func (w *wall) readMonths(m *strict.Map) {
	lines := m.OptionalMaps("months")
	if lines == nil {
		return
	}
	if len(lines) != 12 {
		m.Fail("months", "months has %d lines; write twelve, January first, or none", len(lines))
	}
	days := envelope.SteadyYear(envelope.Air{}, envelope.Air{})
	for i, l := range lines {
		t, errT := units.Parse(units.TemperatureKind, l.Text("temperature"))
		rh, errRH := units.Parse(units.HumidityKind, l.Text("humidity"))
		if err := firstError(errT, errRH); err != nil {
			l.Fail("month", "%v", err)
			continue
		}
		air, err := envelope.AirAt(t.Temperature(), rh.RelativeHumidity())
		if err != nil {
			l.Fail("month", "%v", err)
		}
		w.months = append(w.months, envelope.Month{Name: l.Text("month"), Days: days[i%12].Days, Other: air})
	}
}

// year is the year on both sides of the wall, nil where humidities are not given.
func (a *asking) year(w wall) ([]envelope.Month, error) {
	_, room := a.values["room-rh"]
	_, other := a.values["other-rh"]
	switch {
	case !room && !other && w.months == nil:
		return nil, nil
	case !room:
		return nil, &usageError{"the balance of a year needs the room's humidity as well: --room-rh \"60 % RH\""}
	case w.months == nil && !other:
		return nil, &usageError{"the balance of a year needs the humidity on the other side as well: --other-rh \"50 % RH\", or months in the file"}
	case w.months == nil:
		return a.seasons()
	}
	inside, err := a.envelopeAir("room-temp", "room-rh")
	for i := range w.months {
		w.months[i].Room = inside
	}
	return w.months, err
}

// balance is the vapor balance of the wall's year, nil where humidities are not
// given.
func (a *asking) balance(w wall, assembly envelope.Assembly) (*envelope.YearBalance, error) {
	months, err := a.year(w)
	if err != nil || months == nil {
		return nil, err
	}
	face := envelope.Face{Kind: envelope.FaceKind(w.kind), Other: envelope.OtherSide(w.other)}
	b, err := envelope.Year(assembly, face, months)
	return &b, err
}

// addYear adds the balance of a year, with its verdict, to the wall's resistance.
func (a *asking) addYear(r *answer, w wall, assembly envelope.Assembly) error {
	b, err := a.balance(w, assembly)
	if err != nil || b == nil {
		return err
	}
	r.addText("vapor over the year", b.Verdict.String())
	if b.Verdict != envelope.SurfaceWet {
		r.addNumber("most condensate at a time", fmt.Sprintf("%.3f kg/m²", float64(b.Peak)), float64(b.Peak), "kg/m²")
		r.add("dampest plane, mean of a month", a.of(units.HumidityKind, min(100, float64(b.Wettest.Humidity))))
		r.addText("where", b.Assembly.PlaceName(b.Wettest.Place))
		r.below("dampest plane, mean of a month")
	}
	r.note("%s.", b.Summary())
	r.note("The method knows no air that moves through the wall: what passes here can still fail by leaks.")
	r.Steps = append(r.Steps, b.Steps()...)
	if failed := r.Outcome != "" && r.exit() != nil; !failed {
		reason := b.Verdict.String()
		if !b.Mild() {
			reason += fmt.Sprintf(", and the dampest plane is above %.0f %% as a monthly mean", float64(envelope.CriticalHumidity))
		}
		r.judge(b.Verdict.Passes() && b.Mild(), reason)
	}
	return nil
}

package templates

import (
	"strings"

	"proveout/checks"
	"proveout/checks/humidair"
	"proveout/checks/units"
	"proveout/jobs"
	"proveout/phases"
)

// air is the air at one place, with its dew point.
type air struct{ Place, Temperature, Humidity, DewPoint, With, At string }

// dewPointSource is where the dew points of a document come from.
const dewPointSource = "dew point from temperature and relative humidity: ASHRAE Fundamentals 2017 ch. 1, eq. 5, 6 and 22"

// pairs are the checks of a phase that read temperature and humidity at the
// same places: room-temperature and room-humidity.
func pairs(ph *phases.Phase) [][2]*checks.Question {
	byName := map[string]*checks.Question{}
	for _, h := range ph.Holds {
		for _, q := range h.Checks {
			byName[q.Name] = q
		}
	}
	var all [][2]*checks.Question
	for _, h := range ph.Holds {
		for _, q := range h.Checks {
			name, ok := strings.CutSuffix(q.Name, "-temperature")
			if humidity := byName[name+"-humidity"]; ok && humidity != nil && humidity.Measures == units.HumidityKind {
				all = append(all, [2]*checks.Question{q, humidity})
			}
		}
	}
	return all
}

// airOf returns the air at the places of a pair of checks.
func (d Dossier) airOf(pair [2]*checks.Question) []air {
	temperatures, humidities := d.readings(pair[0].ID()), map[string]reading{}
	for _, r := range d.readings(pair[1].ID()) {
		humidities[r.Place] = r
	}
	var all []air
	for _, t := range temperatures {
		a := air{Place: t.Place, Temperature: t.Value, With: t.With, At: t.At}
		if h, ok := humidities[t.Place]; ok {
			a.Humidity, a.DewPoint = h.Value, d.dewPoint(t.quantity, h.quantity)
		}
		all = append(all, a)
	}
	return all
}

// dewPoint is computed; "" where the air is outside the formula's range.
func (d Dossier) dewPoint(t, rh units.Quantity) string {
	if !t.Known() || !rh.Known() {
		return ""
	}
	dew, err := humidair.DewPoint(t.Temperature(), rh.RelativeHumidity())
	if err != nil {
		return ""
	}
	return units.Of(units.TemperatureKind, float64(dew), d.Room.Units).String()
}

// reading is one measured value.
type reading struct {
	Place, Value, By, At, With, Note string
	quantity                         units.Quantity
}

// readings are the current values of a check, in the order of their places.
func (d Dossier) readings(check string) []reading {
	h := d.Plan.HoldOf(check)
	if h == nil {
		return nil
	}
	q := d.Plan.Questions()[check]
	quantities := map[string]units.Quantity{}
	for _, p := range points(d.Gate.State(h), check) {
		for _, id := range p.Facts {
			quantities[id] = p.Quantity
		}
	}
	var all []reading
	for _, r := range d.inOrder(d.answers(check)) {
		v := reading{Place: d.place(q, r.Place), Value: r.Shown(), By: r.By, At: d.moment(r.Measured), Note: r.Note, quantity: quantities[r.ID]}
		if v.quantity.Known() {
			v.Value = v.quantity.Understood(d.Room.Units)
		}
		if r.Instrument != nil {
			v.With = r.Instrument.ID
		}
		all = append(all, v)
	}
	return all
}

// readingGroup are the readings of one check.
type readingGroup struct {
	Ask, Limit, Ref, Note string
	Readings              []reading
}

// readingGroups are the readings of a phase, check by check, without the checks
// in leave.
func (d Dossier) readingGroups(ph *phases.Phase, refs *references, leave map[string]bool) []readingGroup {
	var all []readingGroup
	for _, h := range ph.Holds {
		for _, q := range h.Checks {
			if q.Kind != checks.Reading || leave[q.ID()] || !d.Gate.Asked(q) {
				continue
			}
			if list := d.readings(q.ID()); list != nil {
				all = append(all, readingGroup{q.Ask, limitText(q, d.Room), refs.number(q.Source, q.Mark), q.Note, list})
			}
		}
	}
	return all
}

// note is something that a person wrote down beside an answer or by itself.
type note struct{ About, Place, Text, By, At string }

// notes are the current notes of a phase.
func (d Dossier) notes(phase string) []note {
	var all []note
	for _, r := range d.inOrder(d.Records) {
		noted := r.Kind == jobs.AnswerRecord || r.Kind == jobs.NoteRecord
		if r.Phase != phase || r.Note == "" || !noted || !d.Current(r) {
			continue
		}
		n := note{Place: d.place(d.Plan.Questions()[r.CheckID()], r.Place), Text: r.Note, By: r.By, At: d.moment(r.Measured)}
		if r.Check != "" {
			n.About = r.CheckID()
			if q := d.Plan.Questions()[n.About]; q != nil {
				n.About = q.Ask
			}
		}
		all = append(all, n)
	}
	return all
}

package checks

import (
	"fmt"

	"proveout/checks/envelope"
	"proveout/checks/units"
)

// GlassStress asks how far glass or a frame stays above the dew point of the most
// humid day, from what was measured on another day.
var GlassStress = &Check{
	Name:    "glass-stress",
	Doc:     "margin of glass or frame over the dew point of a humid day, from a measured factor",
	Source:  "temperature factor f = (θs − θroom)/(θhouse − θroom), ISO 13788:2012, 5.2 and Annex E (clause numbers from memory)",
	Result:  units.TemperatureDifferenceKind,
	Figures: []string{"set point"},
	Needs: []Need{
		{Name: "surface temperature", Kind: units.TemperatureKind, Example: "70 °F", Doc: "house side, coldest place: bottom corner of the glass, or the frame"},
		{Name: "house temperature", Kind: units.TemperatureKind, Example: "75 °F", Doc: "air, at that moment"},
		{Name: "room temperature", Kind: units.TemperatureKind, Doc: "air, at that moment; at least 4 K below the house"},
	},
	Each: glassStress,
}

// leastDifference is between house and room while a factor is measured: at less an
// error of 0.2 K in each reading moves the factor by more than a tenth (computed).
const leastDifference = 4

func glassStress(c Case, f Fact) Point {
	surface, house, room := f.Values["surface temperature"], f.Values["house temperature"], f.Values["room temperature"]
	if d := house.Base() - room.Base(); !(d >= leastDifference*(1-units.Slack)) {
		return undecided(f.Place, "house and room are %s apart; it takes %s", c.kelvins(d), c.kelvins(leastDifference))
	}
	factor, err := envelope.TemperatureFactor(surface.Temperature(), house.Temperature(), room.Temperature())
	if err != nil {
		return undecided(f.Place, "%v", err)
	}
	if !c.Room.SetPoint.Known() {
		return undecided(f.Place, "job.yaml gives no set point")
	}
	airs := c.Room.stress(c.otherSide(f.Place))
	if len(airs) == 0 {
		return undecided(f.Place, "job.yaml gives no design conditions for %s; add {space: %s, season: stress, temperature: 79 °F, humidity: 70 %% RH}", c.otherSide(f.Place), c.otherSide(f.Place))
	}
	least := Point{}
	for i, s := range airs {
		p := c.stressed(f.Place, factor, s)
		if p.judged {
			return p
		}
		if i == 0 || p.Quantity.Base() < least.Quantity.Base() {
			least = p
		}
	}
	first := Step{Name: "measured", Value: fmt.Sprintf("surface %s, house %s, room %s", surface, house, room), Source: "reading"}
	least.Steps = append([]Step{first, {Name: "temperature factor", Formula: "(θs − θroom)/(θhouse − θroom)", Value: fmt.Sprintf("%.3f", factor), Source: "ISO 13788:2012, 5.2 (clause number from memory)"}}, least.Steps...)
	return least
}

// otherSide is what lies beyond the face of a place; a door's frame is on the house.
func (c Case) otherSide(place string) string {
	if f := c.Room.Face(FaceOf(place)); f != nil {
		return f.OtherSide
	}
	return "house"
}

func (c Case) stressed(place string, factor float64, s Space) Point {
	air, err := airOf(s)
	if err != nil {
		return undecided(place, "%v", err)
	}
	state, err := envelope.PredictSurface(factor, air, c.Room.SetPoint.Temperature())
	if err != nil {
		return undecided(place, "%v", err)
	}
	q := units.Of(units.TemperatureDifferenceKind, float64(state.Margin), c.Room.Units)
	return Point{
		Place: place, Quantity: q, Value: fmt.Sprintf("%s over the dew point, in %s", q, s.describe()),
		Steps: append([]Step{{Name: "humid day", Value: fmt.Sprintf("%s, %s; room at %s", s.Temperature, s.Humidity, c.Room.SetPoint), Source: "job.yaml, " + s.describe()}}, state.Steps...),
	}
}

func (c Case) kelvins(k float64) units.Quantity {
	return units.Of(units.TemperatureDifferenceKind, k, c.Room.Units)
}

package checks

import (
	"proveout/checks/humidair"
	"proveout/checks/refrigerant"
	"proveout/checks/units"
)

// LineSweating asks how far the surface of the suction line's insulation stays above
// the dew point of the air round it.
var LineSweating = &Check{
	Name:   "line-sweating",
	Doc:    "surface of the line's insulation over the dew point of the air round it",
	Source: "radial steady state, ISO 12241 (text from memory); outside 5 W/(m²·K), boxed in or shiny, unless the record says more (assumed)",
	Result: units.TemperatureDifferenceKind,
	Needs: []Need{
		{Name: "tube", Kind: units.LengthKind, Example: "3/8 in", Doc: "outside diameter"},
		{Name: "insulation", Kind: units.LengthKind, Example: "3/4 in", Doc: "thickness of its wall, as it sits"},
		{Name: "tube temperature", Kind: units.TemperatureKind, Example: "35 °F", Doc: "coldest suction gas, the evaporating temperature"},
		{Name: "air temperature", Kind: units.TemperatureKind, Example: "85 °F", Doc: "where the line is most in damp air, on the worst day"},
		{Name: "air humidity", Kind: units.HumidityKind, Doc: "there, on that day"},
		{Name: "conductivity", Kind: units.ConductivityKind, Doc: "by its data sheet; 0.036 W/(m·K) without one", Optional: true},
		{Name: "outside film", Kind: units.TransmittanceKind, Doc: "of the air outside; 9 W/(m²·K) in the open, 5 boxed in, which counts without it", Optional: true},
	},
	Each: lineSweating,
}

// usualConductivity is that of closed-cell rubber at 10 °C (from memory of data
// sheets).
const usualConductivity units.Conductivity = 0.036

func lineSweating(c Case, f Fact) Point {
	air := f.Values["air temperature"].Temperature()
	dew, err := humidair.DewPoint(air, f.Values["air humidity"].RelativeHumidity())
	if err != nil {
		return undecided(f.Place, "%v", err)
	}
	in := refrigerant.Insulation{
		Outside: f.Values["tube"].Length(), Tube: f.Values["tube temperature"].Temperature(),
		Conductivity: usualConductivity, Surface: refrigerant.BoxedSurface, Ambient: air, DewPoint: dew,
	}
	if q := f.Values["outside film"]; q.Known() {
		in.Surface = q.Base()
	}
	if q := f.Values["conductivity"]; q.Known() {
		in.Conductivity = q.Conductivity()
	}
	w, err := in.At(f.Values["insulation"].Length())
	if err != nil {
		return undecided(f.Place, "%v", err)
	}
	p := Point{Place: f.Place, Steps: w.Steps, Quantity: units.Of(units.TemperatureDifferenceKind, float64(w.Margin), c.Room.Units)}
	if least, err := in.Least(); err == nil {
		thickness := units.Of(units.LengthKind, float64(least), c.Room.Units).String()
		p.Steps = append(p.Steps, Step{Name: "thinnest that does not sweat", Value: thickness, Source: "ISO 12241, solved for the thickness"})
	}
	return p
}

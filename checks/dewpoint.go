package checks

import (
	"proveout/checks/humidair"
	"proveout/checks/units"
)

// SurfaceDewPoint asks how far a surface is above the dew point of the air it
// faces. A margin of nothing means drops.
var SurfaceDewPoint = &Check{
	Name:   "surface-dew-point",
	Doc:    "margin of a surface over the dew point of the air it faces",
	Source: "dew point: ASHRAE Fundamentals 2017 ch. 1, eq. 5, 6 and 22",
	Result: units.TemperatureDifferenceKind,
	Needs: []Need{
		{Name: "air temperature", Kind: units.TemperatureKind, Doc: "of the air in front of the surface"},
		{Name: "air humidity", Kind: units.HumidityKind, Doc: "read beside that temperature"},
		{Name: "surface temperature", Kind: units.TemperatureKind, Doc: "by a contact probe"},
	},
	Each: surfaceDewPoint,
}

func surfaceDewPoint(c Case, f Fact) Point {
	air, rh, surface := f.Values["air temperature"], f.Values["air humidity"], f.Values["surface temperature"]
	dew, err := humidair.DewPoint(air.Temperature(), rh.RelativeHumidity())
	if err != nil {
		return undecided(f.Place, "%v", err)
	}
	margin := surface.Temperature().Sub(dew)
	q := units.Of(units.TemperatureDifferenceKind, float64(margin), c.Room.Units)
	return Point{
		Place: f.Place, Quantity: q,
		Value: surface.String() + ", " + q.String() + " over the dew point",
		Steps: []Step{
			{Name: "air", Value: air.String() + ", " + rh.String(), Source: "reading"},
			{Name: "dew point", Formula: "inverse of saturation pressure at φ·pws(t)", Value: units.Of(units.TemperatureKind, float64(dew), c.Room.Units).String(), Source: "ASHRAE Fundamentals 2017 ch. 1"},
			{Name: "surface", Value: surface.String(), Source: "reading"},
			{Name: "margin", Formula: "surface − dew point", Value: q.String()},
		},
	}
}

package jobs

import "proveout/checks/units"

// Example fills an outline with an invented room: a complete job.yaml to edit.
// What is set already stays.
func (o Outline) Example() Outline {
	o.ID, o.Title = "birch-stair", "Wine room under the stair"
	o.YearBuilt, o.Bottles, o.PullDownLoad = "1964", "520", "empty"
	o.Altitude = o.pick("600 ft", "200 m")
	o.Length, o.Width, o.Height = o.pick("10 ft", "3 m"), o.pick("8 ft", "2.4 m"), o.pick("8 ft 6 in", "2.6 m")
	o.SetPoint, o.LowHumidity, o.HighHumidity = o.pick("55 °F", "13 °C"), "50 % RH", "70 % RH"
	o.PullDownLimit = "48 h"
	for _, w := range propertyWords {
		o.Properties = append(o.Properties, NamedText{w.name, Properties[w.name][0]})
	}
	o.Spaces = []OutlineSpace{
		{Name: "house", Temperature: o.pick("75 °F", "24 °C"), Humidity: "50 % RH"},
		{"attic", "summer", o.pick("120 °F", "50 °C"), "20 % RH"},
		{"attic", "winter", o.pick("40 °F", "4 °C"), "60 % RH"},
		{Name: "ground", Temperature: o.pick("55 °F", "13 °C")},
	}
	wall, lid := o.pick("80 ft²", "7.4 m²"), o.pick("80 ft²", "7.2 m²")
	o.Faces = []OutlineFace{
		o.insulated("north wall", "wall", "house", wall, "6"),
		o.insulated("east wall", "wall", "house", wall, "5"),
		o.insulated("ceiling", "ceiling", "attic", lid, "6"),
		o.slab(lid),
		{Name: "door", Kind: "door", OtherSide: "house", Area: o.pick("20 ft²", "1.9 m²")},
	}
	return o
}

// insulated is a face of the example with its design and layers.
func (o Outline) insulated(name, kind, otherSide, area, bays string) OutlineFace {
	depth, board := o.pick("5 in", "125 mm"), o.pick("1/2 in", "12.7 mm")
	return OutlineFace{
		Name: name, Kind: kind, OtherSide: otherSide, Area: area, Bays: bays,
		Design: []NamedText{{"depth", depth}, {"resistance", o.pick("R-18", "RSI 3.2")}, {"installed resistance", o.pick("R-29", "RSI 5.1")}, {"permeance", o.pick("0.1 perm", "5.7 ng/(s·m²·Pa)")}},
		Layers: []OutlineLayer{
			{Material: "gypsum board", Thickness: board},
			{Material: "polyethylene 6 mil", Is: "retarder"},
			{Material: "closed-cell spray foam", Thickness: depth, Framing: "15 %", Is: "insulation"},
			{Material: "gypsum board", Thickness: board},
		},
	}
}

// slab is the example's floor.
func (o Outline) slab(area string) OutlineFace {
	return OutlineFace{
		Name: "floor", Kind: "floor", OtherSide: "ground", Area: area,
		Design: []NamedText{{"depth", o.pick("2 in", "50 mm")}, {"resistance", o.pick("R-9", "RSI 1.6")}, {"installed resistance", o.pick("R-9", "RSI 1.6")}},
		Layers: []OutlineLayer{
			{Material: "concrete", Thickness: o.pick("4 in", "100 mm")},
			{Material: "XPS", Thickness: o.pick("2 in", "50 mm"), Is: "insulation and retarder"},
			{Material: "plywood", Thickness: o.pick("3/4 in", "18 mm")},
		},
	}
}

// NewOutline begins an outline with what the company says for all its jobs; a
// nil company is one of the United States.
func NewOutline(c *Company) Outline {
	if c == nil {
		return Outline{Units: units.US, Zone: "America/Chicago", Region: "us", Scheme: "epa"}
	}
	return Outline{Units: c.Units, Zone: c.Zone.String(), Region: c.Region, Scheme: c.Scheme, PhotoSize: c.PhotoSize, Products: c.Products}
}

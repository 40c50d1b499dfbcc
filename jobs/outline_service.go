package jobs

import (
	"time"

	"proveout/phases/strict"
)

// service writes what the cooling load is computed from, all of it as lines to
// fill in: a figure that nobody looked up would be taken for advice.
func (p *page) service(o Outline) {
	p.gap()
	p.say(`The cooling unit as found and, if it changes, as planned, from its data sheet: one
rated point, or a table: of points {room, outdoor, capacity}. "difference" is room
less coil temperature at that point, "split" return less supply air.`)
	for _, key := range []string{"unit as found", "unit as planned"} {
		p.say("%s:\n  model: from its plate\n  refrigerant: R134a\n  capacity: %s\n  room: %s\n  outdoor: %s\n  rejects heat to: house\n  highest intake: %s",
			key, o.pick("3400 Btu/h", "1000 W"), o.pick("55 °F", "13 °C"), o.pick("90 °F", "32 °C"), o.pick("110 °F", "43 °C"))
	}
	p.gap()
	p.say(`What goes on in the room in a day; the load is computed from it. A lamp is an
appliance with light: "yes".
use:
  people: 1
  people stay: 30 min`)
	if door := o.door(); door != "" {
		p.say("  doors:\n  - {door: %s, width: %s, height: %s, passages: 6, each: 20 s}", door, o.pick("32 in", "810 mm"), o.pick("80 in", "2030 mm"))
	}
	p.say("  appliances:\n  - {appliance: lights, power: 40 W, runs: 3 h, light: \"yes\"}\n  restock: {bottles: 12, temperature: %s, over: 24 h}", o.pick("75 °F", "24 °C"))
	p.gap()
	p.say(`Prices, to count what it costs to leave the room as it is. electricity is the price
of a kWh, cooling unit that of one installed.
costs:
  currency: $
  electricity: 0.17
  cooling unit: 2800
  units replaced a year: 0.5`)
	p.gap()
	p.say("Mean air outdoors of each month, from a published table of the place. The year's\nmoisture and the year's cost are computed from it.\noutdoor months:")
	for m := time.January; m <= time.December; m++ {
		p.say("  - {month: %s, temperature: , humidity: }", m)
	}
}

// door is the name of the first door, "" without one.
func (o Outline) door() string {
	for _, f := range o.Faces {
		if f.Kind == "door" {
			return f.Name
		}
	}
	return ""
}

// products writes the company's own materials, or how one is written.
func (p *page) products(products []Product) {
	p.gap()
	p.say(`Materials of your own, as their data sheets give them; they beat the library. For
vapor: permeance, or equivalent air layer (both of the thickness), or vapor factor.`)
	if len(products) == 0 {
		p.say("products:\n  - {product: white foam, conductivity: 0.026 W/(m·K), vapor factor: 60, data sheet: maker's sheet and its date}")
		return
	}
	var list [][]strict.Field
	for _, one := range products {
		list = append(list, one.fields())
	}
	p.items("products", list, nil)
}

package checks

import (
	"proveout/checks/units"
	"proveout/checks/wiring"
)

// VoltageDrop asks what share of its voltage a dedicated circuit loses on the
// way to the unit.
var VoltageDrop = &Check{
	Name:   "voltage-drop",
	Doc:    "share of the supply voltage lost in a two-wire circuit",
	Source: "2·L·r·I/U; r: NEC Chapter 9 Table 8, uncoated copper at 75 °C; BS 7671 Appendix 4 for metric sizes (from memory)",
	Result: units.PercentKind,
	Needs: []Need{
		{Name: "voltage", Kind: units.VoltageKind, Doc: "of the supply, at the panel"},
		{Name: "current", Kind: units.CurrentKind, Doc: "of the load, from its nameplate"},
		{Name: "length", Kind: units.LengthKind, Doc: "of the cable, one way"},
		{Name: "wire size", Kind: units.WireSizeKind, Doc: "of the conductor"},
	},
	Each: voltageDrop,
}

func voltageDrop(c Case, f Fact) Point {
	size, err := wiring.SizeNamed(f.Values["wire size"].String())
	if err != nil {
		return undecided(f.Place, "%v", err)
	}
	drop, err := wiring.Circuit{
		Supply: f.Values["voltage"].Voltage(), Current: f.Values["current"].Current(),
		Length: f.Values["length"].Length(), Size: size,
	}.Drop()
	if err != nil {
		return undecided(f.Place, "%v", err)
	}
	return Point{Place: f.Place, Quantity: units.Of(units.PercentKind, float64(drop.Share), c.Room.Units), Steps: drop.Steps}
}

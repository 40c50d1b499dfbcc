package checks

import (
	"fmt"

	"proveout/checks/units"
	"proveout/checks/wiring"
)

// VoltageDrop asks what share of its voltage a dedicated circuit loses on the
// way to the unit.
var VoltageDrop = &Check{
	Name:   "voltage-drop",
	Doc:    "share of the supply voltage lost on the way to the load",
	Source: "2·L·r·I/U, √3 for three phases; r: NEC Chapter 9 Table 8, uncoated copper at 75 °C; IEC 60228 at 70 °C for metric sizes (from memory)",
	Result: units.PercentKind,
	Needs: []Need{
		{Name: "voltage", Kind: units.VoltageKind, Doc: "of the supply, at the panel"},
		{Name: "current", Kind: units.CurrentKind, Doc: "of the load, from its nameplate"},
		{Name: "length", Kind: units.LengthKind, Example: "60 ft", Doc: "of the cable, one way"},
		{Name: "wire size", Kind: units.WireSizeKind, Doc: "of the conductor"},
		{Name: "phases", Kind: units.CountKind, Doc: "1, or 3 for a balanced load on three; 1 if not given, also for direct current", Optional: true},
	},
	Each: voltageDrop,
}

func voltageDrop(c Case, f Fact) Point {
	size, err := wiring.SizeNamed(f.Values["wire size"].String())
	if err != nil {
		return undecided(f.Place, "%v", err)
	}
	three, err := threePhase(f)
	if err != nil {
		return undecided(f.Place, "%v", err)
	}
	drop, err := wiring.Circuit{
		ThreePhase: three,
		Supply:     f.Values["voltage"].Voltage(), Current: f.Values["current"].Current(),
		Length: f.Values["length"].Length(), Size: size,
	}.Drop()
	if err != nil {
		return undecided(f.Place, "%v", err)
	}
	return Point{Place: f.Place, Quantity: units.Of(units.PercentKind, float64(drop.Share), c.Room.Units), Steps: drop.Steps}
}

func threePhase(f Fact) (bool, error) {
	q, ok := f.Values["phases"]
	switch {
	case !ok || q.Known() && q.Base() == 1:
		return false, nil
	case q.Known() && q.Base() == 3:
		return true, nil
	}
	return false, fmt.Errorf("%q is not a number of phases; wanted is 1 or 3", q)
}

package wiring

import (
	"fmt"
	"slices"
	"strings"

	"proveout/checks/units"
)

const foot = 0.3048 // m

// Size is a conductor that can be bought.
type Size struct {
	Name string
	// PerMetre is the resistance of one conductor, Ω per metre at its working
	// temperature.
	PerMetre units.Resistance
	Source   string
}

// AWG returns the American copper sizes, thinnest first.
func AWG() []Size { return slices.Clone(awg) }

// Metric returns the metric copper sizes, thinnest first.
func Metric() []Size { return slices.Clone(metric) }

// SizeNamed returns the conductor of that name, as in "12 AWG" or "2.5 mm2".
func SizeNamed(name string) (Size, error) {
	if s, ok := byName[plain(name)]; ok {
		return s, nil
	}
	var known []string
	for _, s := range slices.Concat(awg, metric) {
		known = append(known, s.Name)
	}
	return Size{}, fmt.Errorf("conductor %q is not in the tables; write one of %s", name, strings.Join(known, ", "))
}

// byName finds sizes by their plain names.
var byName = func() map[string]Size {
	sizes := map[string]Size{}
	for _, s := range slices.Concat(awg, metric) {
		sizes[plain(s.Name)] = s
	}
	return sizes
}()

// plain reduces a name to what spellings have in common: "#12 awg" is "12 AWG",
// "2.5mm2" is "2.5 mm²".
func plain(name string) string {
	return spelling.Replace(strings.ToLower(name))
}

var spelling = strings.NewReplacer(" ", "", "#", "", "²", "2")

var (
	awg = american([]tabulated{
		{"18 AWG", 7.77}, {"16 AWG", 4.89},
		{"14 AWG", 3.07}, {"12 AWG", 1.93}, {"10 AWG", 1.21}, {"8 AWG", 0.764},
	}, []tabulated{
		{"6 AWG", 0.491}, {"4 AWG", 0.308}, {"3 AWG", 0.245}, {"2 AWG", 0.194},
	})
	metric = european([]tabulated{
		{"1 mm²", 18.1}, {"1.5 mm²", 12.1}, {"2.5 mm²", 7.41}, {"4 mm²", 4.61},
		{"6 mm²", 3.08}, {"10 mm²", 1.83}, {"16 mm²", 1.15},
	})
)

type tabulated struct {
	name  string
	value float64
}

// american takes Ω per 1000 ft of one conductor. 14 to 8 AWG were read in a copy
// of the table and recomputed from the wire's diameter; the others are from
// memory and recomputed.
func american(solid, stranded []tabulated) []Size {
	const source = "NEC Chapter 9 Table 8, uncoated copper, 75 °C, "
	var sizes []Size
	for _, s := range solid {
		sizes = append(sizes, Size{s.name, units.Resistance(s.value / (1000 * foot)), source + "solid"})
	}
	for _, s := range stranded {
		sizes = append(sizes, Size{s.name, units.Resistance(s.value / (1000 * foot)), source + "stranded (from memory)"})
	}
	return sizes
}

// warming is how much the resistance of copper grows per kelvin above 20 °C,
// IEC 60028 (from memory).
const warming = 0.00393

// european takes Ω per km of one conductor at 20 °C and returns it at 70 °C, what
// PVC insulation bears.
func european(at20 []tabulated) []Size {
	const source = "IEC 60228:2004, tables 1 and 2, copper, from 20 to 70 °C by 0.393 % per kelvin (from memory)"
	var sizes []Size
	for _, s := range at20 {
		sizes = append(sizes, Size{s.name, units.Resistance(s.value / 1000 * (1 + warming*50)), source})
	}
	return sizes
}

package envelope_test

import (
	"fmt"

	"proveout/checks/envelope"
	"proveout/checks/units"
)

func solid(name string, mm float64, conductivity units.Conductivity) envelope.Layer {
	return envelope.Layer{Name: name, Thickness: units.Length(mm / 1000), Conductivity: conductivity}
}

func rated(name string, r units.ThermalResistance) envelope.Layer {
	return envelope.Layer{Name: name, Resistance: r}
}

func ratedIP(name string, r float64) envelope.Layer {
	return envelope.Layer{Name: name, Resistance: envelope.ResistanceFromRValue(r)}
}

func show(a envelope.Assembly, films envelope.Films) {
	r, err := a.Resistance(films)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("upper %.4f lower %.4f total %.4f U %.4f, ±%.1f %%\n",
		r.Upper, r.Lower, r.Total, r.Transmittance, r.ErrorBound)
}

// Approved Document L1 (England and Wales, 2002) appendix B and the Scottish
// Technical Handbook 6.B.2 print U = 0.30 for this timber-framed wall (inputs
// from memory). The gap correction stays below 3 % and is ignored there too.
func ExampleAssembly_Resistance_timberFrame() {
	wall := envelope.Assembly{Layers: []envelope.Layer{
		solid("brick", 102, 0.77),
		rated("cavity", 0.090),
		solid("plywood", 9, 0.13),
		solid("mineral wool", 140, 0.038).WithFraming(0.15, solid("timber", 0, 0.13)),
		solid("plasterboard", 12.5, 0.25),
	}}
	r, err := wall.Resistance(envelope.Films{OtherSide: 0.04, Room: 0.13, Direction: envelope.Horizontal})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range r.Paths {
		fmt.Printf("%s %.0f %%: %.4f\n", p.Name, 100*p.Fraction, p.Resistance)
	}
	wool, err := r.Plane("mineral wool")
	if err != nil {
		fmt.Println(err)
		return
	}
	c, err := r.Corrected(envelope.Correction{Insulation: wool, Gaps: envelope.GapsBridging})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("upper %.4f lower %.4f total %.4f U %.4f\n", r.Upper, r.Lower, r.Total, r.Transmittance)
	fmt.Printf("ΔUg %.6f applied %v: U %.2f\n", c.Gaps, c.Applied, c.Transmittance)
	// Output:
	// mineral wool 85 %: 4.1959
	// timber 15 %: 1.5886
	// upper 3.3670 lower 3.2144 total 3.2907 U 0.3039
	// ΔUg 0.006746 applied false: U 0.30
}

// Approved Document L1 (2002) appendix B prints U = 0.32 for this cavity wall
// with two inhomogeneous layers (inputs from memory).
func ExampleAssembly_Resistance_blockwork() {
	wall := envelope.Assembly{Layers: []envelope.Layer{
		rated("brick", 102/0.77/1000),
		rated("cavity", 0.180),
		solid("block", 100, 0.11).WithFraming(0.07, solid("mortar", 0, 0.88)),
		solid("wool", 89, 0.038).WithFraming(0.12, solid("timber", 0, 0.13)),
		solid("plasterboard", 12.5, 0.25),
	}}
	films := envelope.Films{OtherSide: 0.04, Room: 0.13, Direction: envelope.Horizontal}
	r, err := wall.Resistance(films)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range r.Paths {
		fmt.Printf("%s %.4f: %.4f\n", p.Name, p.Fraction, p.Resistance)
	}
	wool, err := r.Plane("wool")
	if err != nil {
		fmt.Println(err)
		return
	}
	c, err := r.Corrected(envelope.Correction{Insulation: wool, Gaps: envelope.GapsBridging})
	if err != nil {
		fmt.Println(err)
		return
	}
	show(wall, films)
	fmt.Printf("ΔUg %.6f applied %v: U %.2f\n", c.Gaps, c.Applied, c.Transmittance)
	// Output:
	// block + wool 0.8184: 3.7837
	// block + timber 0.1116: 2.1262
	// mortar + wool 0.0616: 2.9882
	// mortar + timber 0.0084: 1.3307
	// upper 3.3816 lower 2.9574 total 3.1695 U 0.3155, ±6.7 %
	// ΔUg 0.003279 applied false: U 0.32
}

// ASHRAE Fundamentals ch. 27, wood-frame wall: 0.063 by parallel paths and
// 0.067 by isothermal planes, Btu/(h·ft²·°F) (inputs, results and edition from
// memory).
func ExampleAssembly_ParallelPath_ashrae() {
	wood := ratedIP("wood", 4.38)
	batt := ratedIP("R-13 batt", 13)
	batt.Beside = []envelope.Section{{Fraction: 0.19, Layer: wood}, {Fraction: 0.04, Layer: wood}}
	wall := envelope.Assembly{Layers: []envelope.Layer{
		ratedIP("vinyl siding", 0.62), ratedIP("foam sheathing", 4.0), batt, ratedIP("gypsum", 0.45),
	}}
	films := envelope.Films{
		OtherSide: envelope.ResistanceFromRValue(0.17), Room: envelope.ResistanceFromRValue(0.68),
		Direction: envelope.Horizontal,
	}
	parallel, err := wall.ParallelPath(films)
	if err != nil {
		fmt.Println(err)
		return
	}
	planes, err := wall.IsothermalPlanes(films)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("parallel path    R-%.3f U %.3f (%.5f W/m²K)\n", envelope.RValue(parallel), 1/envelope.RValue(parallel), 1/parallel)
	fmt.Printf("isothermal planes R-%.4f U %.3f (%.5f W/m²K)\n", envelope.RValue(planes), 1/envelope.RValue(planes), 1/planes)
	// Output:
	// parallel path    R-15.866 U 0.063 (0.35789 W/m²K)
	// isothermal planes R-14.8692 U 0.067 (0.38188 W/m²K)
}

// A public worked sheet for a framed house wall, R-value page of a trade primer
// (read): films 0.17 and 0.68, siding 0.80, sheathing, 15 % framing; its totals
// 7.12 and 13.73 give R 12.05. The layers it lists, with plywood at 0.63, sum
// to 7.11 and 13.73; with the corrugated steel it swaps in at 0.33, to 6.81 and
// 13.43 without changing its totals.
func ExampleAssembly_ParallelPath_inchPound() {
	for _, sheathing := range []float64{0.63, 0.33} {
		wall := envelope.Assembly{Layers: []envelope.Layer{
			ratedIP("siding", 0.80), ratedIP("sheathing", sheathing),
			ratedIP("R-11 batt", 11).WithFraming(0.15, ratedIP("stud", 4.38)),
			ratedIP("drywall", 0.45),
		}}
		r, err := wall.Resistance(envelope.Films{
			OtherSide: envelope.ResistanceFromRValue(0.17), Room: envelope.ResistanceFromRValue(0.68),
			Direction: envelope.Horizontal,
		})
		if err != nil {
			fmt.Println(err)
			return
		}
		for _, p := range r.Paths {
			fmt.Printf("%s R-%.2f, ", p.Name, envelope.RValue(p.Resistance))
		}
		fmt.Printf("parallel path R-%.2f\n", envelope.RValue(r.Upper))
	}
	// Output:
	// R-11 batt R-13.73, stud R-7.11, parallel path R-12.05
	// R-11 batt R-13.43, stud R-6.81, parallel path R-11.72
}

// A published calculation sheet for a brick wall with cork (UNI EN ISO 13788
// print-out, read) prints R_T 2.144 and U 0.466.
func ExampleAssembly_Resistance_brickAndCork() {
	wall := envelope.Assembly{Layers: []envelope.Layer{
		solid("facing brick", 120, 0.293),
		solid("mortar", 10, 0.900),
		solid("cork", 50, 0.045),
		rated("unventilated air 70 mm", 0.180),
		solid("perforated brick", 80, 0.400),
		solid("gypsum plaster", 10, 0.400),
	}}
	show(wall, envelope.Films{OtherSide: 0.077, Room: 0.130, Direction: envelope.Horizontal})
	// Output:
	// upper 2.1438 lower 2.1438 total 2.1438 U 0.4665, ±0.0 %
}

// A bare number on the batt against the whole wall of a wine room: 25 % wood
// framing, 12.7 mm gypsum on both faces, indoor films on both sides. No
// published figure for this wall; computed a second time outside this project.
func ExampleAssembly_Resistance_winePartition() {
	lib, err := envelope.NewLibrary()
	if err != nil {
		fmt.Println(err)
		return
	}
	layer := func(name string) envelope.Layer {
		m, err := lib.Find(name)
		if err != nil {
			panic(err)
		}
		l, err := m.Layer(0)
		if err != nil {
			panic(err)
		}
		return l
	}
	films, err := envelope.SurfaceResistances(envelope.Face{Kind: envelope.Wall, Other: envelope.House}, 24, 13)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, batt := range []string{"R-11 batt", "R-13 batt", "R-15 batt", "R-19 batt"} {
		wall := envelope.Assembly{Layers: []envelope.Layer{
			layer("gypsum board"), layer(batt).WithFraming(0.25, layer("softwood framing")), layer("gypsum board"),
		}}
		r, err := wall.Resistance(films)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%s: R' %.5f R'' %.5f RT %.5f U %.5f R-%.2f\n",
			batt, r.Upper, r.Lower, r.Total, r.Transmittance, envelope.RValue(r.Total))
	}
	// Output:
	// R-11 batt: R' 1.89545 R'' 1.82793 RT 1.86169 U 0.53715 R-10.57
	// R-13 batt: R' 2.05552 R'' 1.95592 RT 2.00572 U 0.49857 R-11.39
	// R-15 batt: R' 2.19482 R'' 2.06293 RT 2.12888 U 0.46973 R-12.09
	// R-19 batt: R' 2.82965 R'' 2.73753 RT 2.78359 U 0.35925 R-15.81
}

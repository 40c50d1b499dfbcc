package humidair

import (
	"testing"

	"proveout/checks/units"
)

var sink float64

// BenchmarkProperties gives nanoseconds per property over the points of
// testdata/tables/psychrolib-points.csv; testdata/psychrolib/bench.mjs runs the
// same properties in psychrolib and compares.
func BenchmarkProperties(b *testing.B) {
	type point struct {
		t  units.Temperature
		rh units.RelativeHumidity
		p  units.Pressure
		W  HumidityRatio
	}
	var points []point
	for _, r := range readTable(b, "psychrolib-points.csv") {
		points = append(points, point{units.Temperature(r["t"]), units.RelativeHumidity(r["rh"]), units.Pressure(r["p"]), HumidityRatio(r["W"])})
	}
	run := func(name string, f func(q *point) float64) {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			i := 0
			for b.Loop() {
				sink = f(&points[i])
				if i++; i == len(points) {
					i = 0
				}
			}
		})
	}
	run("pws", func(q *point) float64 { v, _ := SaturationPressure(q.t); return float64(v) })
	run("pw", func(q *point) float64 { v, _ := VaporPressure(q.t, q.rh); return float64(v) })
	run("W", func(q *point) float64 { v, _ := HumidityRatioFromRelativeHumidity(q.t, q.rh, q.p); return float64(v) })
	run("td", func(q *point) float64 { v, _ := DewPoint(q.t, q.rh); return float64(v) })
	run("tw", func(q *point) float64 { v, _ := WetBulb(q.t, q.rh, q.p); return float64(v) })
	run("h", func(q *point) float64 { v, _ := Enthalpy(q.t, q.W); return float64(v) })
	run("v", func(q *point) float64 { v, _ := SpecificVolume(q.t, q.W, q.p); return float64(v) })
	run("rho", func(q *point) float64 { v, _ := Density(q.t, q.W, q.p); return float64(v) })
	run("rh", func(q *point) float64 {
		v, _ := RelativeHumidityFromHumidityRatio(q.t, q.W*0.99, q.p)
		return float64(v)
	})
}

package envelope

import (
	"fmt"
	"math"

	"proveout/checks/units"
)

// tighten pulls the vapor pressure line tight between the two sides under the
// saturation pressures: the lower convex envelope, which is the tangent
// construction of ISO 13788:2012, 6.3 for any number of planes. Sites with
// condensate are held at saturation, so they may lie above it and dry.
// It sets p and rate of every site, rate in kg/(m²·s), positive for wetting.
func (w *Workspace) tighten(other, room float64) {
	last := len(w.x) - 1
	copy(w.p, w.limit)
	w.p[0], w.p[last] = other, room
	hull := w.hull[:0]
	for i := range w.x {
		for len(hull) >= 2 && w.mass[hull[len(hull)-1]] == 0 && !w.below(hull[len(hull)-2], hull[len(hull)-1], i) {
			hull = hull[:len(hull)-1]
		}
		hull = append(hull, i)
	}
	w.hull = hull
	w.between()
	w.rates()
}

// below reports whether site b lies below the line from a to c by more than
// float noise.
func (w *Workspace) below(a, b, c int) bool {
	line := w.p[a] + (w.p[c]-w.p[a])*(w.x[b]-w.x[a])/(w.x[c]-w.x[a])
	return w.p[b] < line-1e-12*math.Abs(line)
}

// between puts the sites that the string passes under on it.
func (w *Workspace) between() {
	for h := 1; h < len(w.hull); h++ {
		a, b := w.hull[h-1], w.hull[h]
		slope := (w.p[b] - w.p[a]) / (w.x[b] - w.x[a])
		for i := a + 1; i < b; i++ {
			w.p[i] = w.p[a] + slope*(w.x[i]-w.x[a])
		}
	}
}

// rates is g_c = δ0[(p_a − p_j)/(x_j − x_a) − (p_j − p_b)/(x_b − x_j)].
func (w *Workspace) rates() {
	clear(w.rate)
	for h := 1; h < len(w.hull)-1; h++ {
		j := w.hull[h]
		w.rate[j] = w.flux(w.hull[h-1], j) - w.flux(j, w.hull[h+1])
	}
}

// flux is the vapor flow from site a to site b, kg/(m²·s).
func (w *Workspace) flux(a, b int) float64 {
	return StillAirPermeability * (w.p[a] - w.p[b]) / (w.x[b] - w.x[a])
}

// in and out are the flows from the other side into the assembly and from the
// assembly into the room.
func (w *Workspace) in() float64  { return w.flux(0, w.hull[1]) }
func (w *Workspace) out() float64 { return w.flux(w.hull[len(w.hull)-2], w.hull[len(w.hull)-1]) }

// balance pulls the string, and again while resistances that vary with humidity
// still change.
func (w *Workspace) balance(other, room float64) error {
	if !w.varies {
		w.tighten(other, room)
		return nil
	}
	w.startSD()
	w.tighten(other, room)
	for range 200 {
		change := w.varySD()
		w.tighten(other, room)
		if change < 0.01 {
			return nil
		}
	}
	return fmt.Errorf("assembly %q: the vapor resistances that vary with humidity do not settle; give fixed values", w.assembly.Name)
}

// varySD moves s_d of varying slabs halfway to its value at the mean humidity
// in each and returns the greatest relative change in percent.
func (w *Workspace) varySD() float64 {
	var greatest float64
	for j, i := range w.layers {
		l := &w.assembly.Layers[i]
		if !l.Vapor.Varies() {
			continue
		}
		mean := 50 * (w.humidity(j) + w.humidity(j+1))
		parts := float64(w.places[j+1].Parts)
		sd := float64(l.Vapor.sd(l.Thickness, units.RelativeHumidity(mean))) / parts
		next := (w.sd[j] + sd) / 2 // damped, a plain step can swing
		greatest = max(greatest, 100*math.Abs(next-w.sd[j])/next)
		w.sd[j] = next
	}
	w.moveSites()
	return greatest
}

// startSD takes varying slabs at 50 %, so that a month's answer does not hang on
// the month before it.
func (w *Workspace) startSD() {
	for j, i := range w.layers {
		l := &w.assembly.Layers[i]
		w.sd[j] = float64(l.Vapor.sd(l.Thickness, 50)) / float64(w.places[j+1].Parts)
	}
	w.moveSites()
}

func (w *Workspace) moveSites() {
	for j, sd := range w.sd {
		if s := w.site[j+1]; s > w.site[j] {
			w.x[s] = w.x[s-1] + sd
		}
	}
}

// humidity is p/p_sat at a node, as a fraction.
func (w *Workspace) humidity(node int) float64 { return w.p[w.site[node]] / w.psat[node] }

// surfaceWet reports which surfaces are below the dew point of their air.
func (w *Workspace) surfaceWet(other, room Air) (onOther, onRoom bool) {
	last := len(w.x) - 1
	return float64(other.VaporPressure) > w.limit[0]*(1+slack), float64(room.VaporPressure) > w.limit[last]*(1+slack)
}

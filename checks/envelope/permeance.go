package envelope

import (
	"fmt"
	"math"

	"proveout/checks/units"
)

// PermeanceLimit is the greatest permeance of a retarder.
type PermeanceLimit struct {
	// Needed is false when the target holds without a retarder; then SD and
	// Permeance are zero and mean nothing.
	Needed    bool
	SD        units.Length    // least s_d
	Permeance units.Permeance // greatest permeance
	Place     Place           // the plane that decides
	Name      string
	// Planes lists what each plane behind the retarder asks for by itself, from
	// the other side inwards; an sd of 0 or less asks for nothing.
	Planes []PlaneNeed
	// Before is the greatest humidity on the side the vapor comes from, were
	// the retarder perfectly tight: above 100 % it is on the wrong side.
	Before units.RelativeHumidity
	Steps  []Step
}

// PlaneNeed is the least s_d of a retarder that one plane asks for.
type PlaneNeed struct {
	Place Place
	Name  string
	SD    units.Length
}

// GreatestPermeance returns the greatest permeance of a retarder that keeps all
// concealed planes behind it, on the side the vapor flows to, at or below the
// target humidity in steady conditions. The retarder lies before layer index at
// (0 is the face on the other side, len(Layers) the face of the room) and has no
// thermal resistance. Closed form for the plane c with f = (φ·p_sat,c −
// p_low)/(p_high − p_low): s_d ≥ s_d,cold/f − s_d,cold − s_d,rest. Vapor
// resistances that vary with humidity are refused. It is an error when no
// retarder can reach the target.
func GreatestPermeance(a Assembly, at int, films Films, other, room Air, target units.RelativeHumidity) (PermeanceLimit, error) {
	if at < 0 || at > len(a.Layers) {
		return PermeanceLimit{}, fmt.Errorf("retarder before layer %d; the assembly has layers 0 to %d", at, len(a.Layers)-1)
	}
	if !(target > 0 && target <= 100) {
		return PermeanceLimit{}, fmt.Errorf("target humidity %v %% is outside 0 to 100", float64(target))
	}
	var w Workspace
	if err := w.load(a); err != nil {
		return PermeanceLimit{}, err
	}
	if w.varies {
		return PermeanceLimit{}, fmt.Errorf("assembly %q has a vapor resistance that varies with humidity; take a fixed value", a.Name)
	}
	if _, _, err := w.heat(films, other, room); err != nil {
		return PermeanceLimit{}, err
	}
	return w.greatestPermeance(at, float64(other.VaporPressure), float64(room.VaporPressure), target)
}

// greatestPermeance walks over the planes behind the retarder, which lies at
// node k.
func (w *Workspace) greatestPermeance(at int, pOther, pRoom float64, target units.RelativeHumidity) (PermeanceLimit, error) {
	k := 0
	for j, place := range w.places {
		if j > 0 && place.Layer < at {
			k = j
		}
	}
	d := drive{high: max(pOther, pRoom), low: min(pOther, pRoom), total: w.x[len(w.x)-1], target: target.Fraction()}
	inward := pOther >= pRoom
	var limit PermeanceLimit
	for j := range w.places {
		if before := j <= k; before == inward || j == k {
			limit.Before = max(limit.Before, units.RelativeHumidity(100*d.high/w.psat[j]))
		}
		behind, surface, cold := j >= k, len(w.places)-1, d.total-w.x[w.site[j]]
		if !inward {
			behind, surface, cold = j <= k, 0, w.x[w.site[j]]
		}
		if !behind || j == surface {
			continue // the far surface is in the air of its own side
		}
		if err := limit.need(d, cold, w.psat[j], w.places[j], w.assembly); err != nil {
			return PermeanceLimit{}, err
		}
	}
	if limit.Needed {
		limit.Permeance = PermeanceFromSD(limit.SD)
	}
	return limit, nil
}

// drive is what pulls vapor through: pressures on the two sides, s_d of the
// assembly without the retarder, target humidity as a fraction.
type drive struct {
	high, low, total, target float64
}

// need raises the limit to what one plane needs, given s_d from there to the
// far side and the plane's saturation pressure.
func (l *PermeanceLimit) need(d drive, cold, psat float64, place Place, a Assembly) error {
	bound := d.target * psat
	if d.low > bound*(1+slack) || d.low == bound && cold > 0 && d.high > d.low {
		return fmt.Errorf("no retarder keeps the plane %s at or below %v %% RH: the air on the far side alone is above it", a.PlaceName(place), 100*d.target)
	}
	f := (bound - d.low) / (d.high - d.low)
	sd := cold/f - d.total
	if math.IsNaN(sd) {
		return nil // no drive and no room to spare: nothing flows
	}
	l.Planes = append(l.Planes, PlaneNeed{place, a.PlaceName(place), units.Length(sd)})
	if !(f < 1 && sd > float64(l.SD)) {
		return nil
	}
	l.Needed, l.SD, l.Place, l.Name = true, units.Length(sd), place, a.PlaceName(place)
	l.Steps = []Step{
		{Name: "share of the drive allowed " + l.Name, Formula: fmt.Sprintf("f = (φ psat − plow)/(phigh − plow) = (%.2f × %.1f − %.1f)/(%.1f − %.1f)", d.target, psat, d.low, d.high, d.low), Value: fmt.Sprintf("%.4f", f), Source: permeanceSource},
		{Name: "least sd of the retarder", Formula: fmt.Sprintf("sd = sd,cold/f − sd,wall = %.4f/%.4f − %.4f", cold, f, d.total), Value: fmt.Sprintf("%.4f m (%.3f perm)", sd, Perms(PermeanceFromSD(l.SD))), Source: permeanceSource},
	}
	return nil
}

const permeanceSource = "straight vapor pressure line of ISO 13788:2012, 6.3, solved for the retarder"

package envelope

import (
	"fmt"

	"proveout/checks/units"
)

// VaporFlux is in kg/(m²·s).
type VaporFlux float64

// SurfaceMass is condensate in kg/m².
type SurfaceMass float64

// VaporNode is one plane of a vapor profile.
type VaporNode struct {
	Place         Place
	Name          string
	Depth         units.Length // from the other side, of the material
	SD            units.Length // from the other side
	Temperature   units.Temperature
	Saturation    units.Pressure
	VaporPressure units.Pressure
	Humidity      units.RelativeHumidity
	Concealed     bool // not one of the two surfaces
}

// CondensationPlane is a plane where vapor condenses in a steady profile.
type CondensationPlane struct {
	Place Place
	Name  string
	Rate  VaporFlux
}

// VaporProfile is the steady profile of temperature and vapor pressure through
// an assembly.
type VaporProfile struct {
	// OtherSideWet and RoomWet say that a surface lies below the dew point of
	// its air. Then there is no profile inside: the nodes have temperatures and
	// saturation pressures only, and Planes is empty.
	OtherSideWet, RoomWet bool
	Planes                []CondensationPlane
	Nodes                 []VaporNode
	Wettest               VaporNode // highest humidity of the concealed nodes
	In, Out               VaporFlux // other side into the assembly; assembly into the room
	HeatFlux              float64   // W/m², from the other side to the room
	Resistance            units.ThermalResistance
	Films                 Films
	Steps                 []Step
}

// Profile computes the steady profile through the layers of an assembly, from
// the other side to the room, by ISO 13788:2012, 6.3, whichever side is warmer
// or moister. Layers above 0.25 m²·K/W are divided. Every layer needs a known
// vapor resistance; air temperatures and surfaces lie from −40 to 80 °C.
func Profile(a Assembly, films Films, other, room Air) (VaporProfile, error) {
	var w Workspace
	if err := w.load(a); err != nil {
		return VaporProfile{}, err
	}
	total, flux, err := w.heat(films, other, room)
	if err != nil {
		return VaporProfile{}, err
	}
	p := VaporProfile{HeatFlux: flux, Resistance: units.ThermalResistance(total), Films: films}
	p.OtherSideWet, p.RoomWet = w.surfaceWet(other, room)
	dry := !p.OtherSideWet && !p.RoomWet
	if dry {
		if err := w.balance(float64(other.VaporPressure), float64(room.VaporPressure)); err != nil {
			return VaporProfile{}, err
		}
		p.In, p.Out = VaporFlux(w.in()), VaporFlux(w.out())
		p.Planes = w.planes()
	}
	p.Nodes = w.nodes(dry)
	for _, n := range p.Nodes {
		if n.Concealed && n.Humidity > p.Wettest.Humidity {
			p.Wettest = n
		}
	}
	p.Steps = p.steps(other, room)
	return p, nil
}

// planes lists the sites that take up condensate.
func (w *Workspace) planes() []CondensationPlane {
	var planes []CondensationPlane
	for s, g := range w.rate {
		if g > 0 {
			place := w.placeOf(s)
			planes = append(planes, CondensationPlane{place, w.assembly.PlaceName(place), VaporFlux(g)})
		}
	}
	return planes
}

// placeOf returns the coldest node of a site, where its condensate forms.
func (w *Workspace) placeOf(site int) Place {
	for j, s := range w.site {
		if s == site && w.psat[j] == w.limit[site] {
			return w.places[j]
		}
	}
	return Place{}
}

func (w *Workspace) nodes(withVapor bool) []VaporNode {
	nodes := make([]VaporNode, len(w.places))
	var depth units.Length
	for j, place := range w.places {
		if j > 0 {
			depth += w.assembly.Layers[place.Layer].Thickness / units.Length(place.Parts)
		}
		nodes[j] = VaporNode{
			Place: place, Name: w.assembly.PlaceName(place), Depth: depth, SD: units.Length(w.x[w.site[j]]),
			Temperature: units.Temperature(w.θ[j]), Saturation: units.Pressure(w.psat[j]),
			Concealed: j > 0 && j < len(w.places)-1,
		}
		if withVapor {
			nodes[j].VaporPressure = units.Pressure(w.p[w.site[j]])
			nodes[j].Humidity = units.RelativeHumidity(100 * w.humidity(j))
		}
	}
	return nodes
}

const vaporSource = "ISO 13788:2012, 6.3 and Annex E (clause number from memory)"

func (p VaporProfile) steps(other, room Air) []Step {
	steps := []Step{
		{Name: "resistance of the path", Formula: "RT = Rs + ΣR + Rs", Value: showR(p.Resistance), Source: combinedSource},
		{Name: "heat flux", Formula: fmt.Sprintf("q = (%.2f − %.2f)/%.4f", float64(other.Temperature), float64(room.Temperature), float64(p.Resistance)),
			Value: fmt.Sprintf("%.3f W/m² into the room", p.HeatFlux), Source: vaporSource},
	}
	for _, n := range p.Nodes {
		if n.Place.Part < n.Place.Parts && n.Place.Part > 0 {
			continue
		}
		steps = append(steps, Step{Name: n.Name, Formula: fmt.Sprintf("sd %.3f m from the other side, %.2f °C, psat %.1f Pa", float64(n.SD), float64(n.Temperature), float64(n.Saturation)),
			Value: fmt.Sprintf("p %.1f Pa, %.1f %% RH", float64(n.VaporPressure), float64(n.Humidity)), Source: vaporSource})
	}
	if p.OtherSideWet || p.RoomWet {
		return append(steps, Step{Name: "surface condensation", Formula: "vapor pressure of the air above saturation at its surface", Value: "wet surface: no profile inside", Source: vaporSource})
	}
	for _, c := range p.Planes {
		steps = append(steps, Step{Name: "condensation " + c.Name, Formula: "gc = δ0[(pa − pj)/(xj − xa) − (pj − pb)/(xb − xj)]",
			Value: fmt.Sprintf("%.4g g/(m²·day)", float64(c.Rate)*86400*1000), Source: vaporSource})
	}
	if len(p.Planes) == 0 {
		steps = append(steps, Step{Name: "condensation", Formula: "the vapor pressure line stays below saturation", Value: "none", Source: vaporSource})
	}
	return steps
}

package envelope

import (
	"errors"
	"fmt"

	"proveout/checks/units"
)

// CatalogueFilms are the films inside a catalogue's glass or window value: a
// pane between a room and outdoor air (ISO 6946 horizontal, EN 673; from
// memory).
var CatalogueFilms = Films{OtherSide: 0.04, Room: 0.13, Direction: Horizontal, Source: "EN 673 (from memory)"}

// StillAirFilms are those of a pane between house and room.
var StillAirFilms = Films{OtherSide: ISO6946.Indoor[Horizontal], Room: ISO6946.Indoor[Horizontal], Direction: Horizontal, Source: ISO6946.Source}

// RebasedTransmittance returns a catalogue transmittance with other films: a
// pane between house and room has indoor films on both sides,
// 1/U' = 1/U − Rs(catalogue) + Rs(here).
func RebasedTransmittance(catalogue units.Transmittance, from, to Films) (units.Transmittance, error) {
	if err := errors.Join(from.check(), to.check()); err != nil {
		return 0, err
	}
	if !(catalogue > 0 && catalogue <= 10) {
		return 0, fmt.Errorf("transmittance %v W/(m²·K) is outside 0 to 10", float64(catalogue))
	}
	own := 1/float64(catalogue) - float64(from.OtherSide+from.Room)
	if own < 0 {
		return 0, fmt.Errorf("transmittance %v W/(m²·K) is more than its own films let through; check which films it was stated with", float64(catalogue))
	}
	r := own + float64(to.OtherSide+to.Room)
	if r <= 0 {
		return 0, errors.New("the pane has no resistance at all; check the films")
	}
	return units.Transmittance(1 / r), nil
}

// Pane is an area of glass, frame or door leaf with its transmittance.
type Pane struct {
	Area          units.Area
	Transmittance units.Transmittance
}

// Edge is a length of glass edge with its linear transmittance ψ, W/(m·K).
type Edge struct {
	Length              units.Length
	LinearTransmittance float64
}

// WindowTransmittance weighs glass, frame and edges by area and length,
// U_w = (ΣA U + Σl ψ)/ΣA (ISO 10077-1, from memory). Dew shows first at the
// edge of the glass, which this mean hides: measure there.
func WindowTransmittance(panes []Pane, edges []Edge) (units.Transmittance, error) {
	var area, flow float64
	for _, p := range panes {
		if !(p.Area > 0 && p.Area <= 1000 && p.Transmittance > 0 && p.Transmittance <= 10) {
			return 0, fmt.Errorf("pane of %v m² with %v W/(m²·K): give an area above 0 and a transmittance from 0 to 10", float64(p.Area), float64(p.Transmittance))
		}
		area += float64(p.Area)
		flow += float64(p.Area) * float64(p.Transmittance)
	}
	for _, e := range edges {
		if !(e.Length > 0 && e.Length <= 1000 && e.LinearTransmittance >= 0 && e.LinearTransmittance <= 2) {
			return 0, fmt.Errorf("edge of %v m with %v W/(m·K): give a length above 0 and ψ from 0 to 2", float64(e.Length), e.LinearTransmittance)
		}
		flow += float64(e.Length) * e.LinearTransmittance
	}
	if area == 0 {
		return 0, errors.New("a window needs at least one pane with its area")
	}
	return units.Transmittance(flow / area), nil
}

package envelope

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"proveout/checks/humidair"
	"proveout/checks/units"
)

// Side is a side of a face.
type Side string

// Sides a vapor retarder can belong on.
const (
	OtherSideOf Side = "other side"
	RoomSideOf  Side = "room side"
	NeitherSide Side = "neither side"
)

// CriticalHumidity is the monthly mean at which mold may grow on a surface;
// ISO 13788:2012, 5.1 (from memory).
const CriticalHumidity units.RelativeHumidity = 80

// RetarderAdvice says on which side of the insulation a vapor retarder belongs.
type RetarderAdvice struct {
	Side Side
	// Reverses is set when months of both directions could wet a plane: then a
	// retarder on either side can itself be the wet plane, and foam that is
	// insulation and retarder in one, or a yearly balance of the layers, is
	// needed.
	Reverses bool
	// Inward and Outward are the months (indexes) whose vapor, driven into the
	// room or out of it, would bring a plane at the temperature of the far side
	// above the critical humidity.
	Inward, Outward []int
	// Pull is the sum over those months of vapor pressure difference times
	// days, Pa·day.
	InwardPull, OutwardPull float64
	Advice                  string
	Steps                   []Step
}

// RetarderSide computes from the two vapor pressures over the year on which
// side of the insulation a retarder belongs: the side the vapor comes from, in
// the months when it could raise a plane on the far side above 80 %. Code
// tables for heated houses do not decide this: they place it for heating.
// Ontario Building Code appendix B-5.5.1.2.(1) asks for an analysis over the
// year for rooms held below outdoor temperature; ASTM C755 (scope) covers
// them.
func RetarderSide(months []Month) (RetarderAdvice, error) {
	if len(months) == 0 {
		return RetarderAdvice{}, errors.New("no months; give the conditions on both sides over a year")
	}
	var r RetarderAdvice
	for i, m := range months {
		if err := r.weigh(i, m); err != nil {
			return RetarderAdvice{}, fmt.Errorf("month %d, %q: %w", i+1, m.Name, err)
		}
	}
	r.decide(months)
	return r, nil
}

func (r *RetarderAdvice) weigh(i int, m Month) error {
	if err := errors.Join(m.Other.check("other side"), m.Room.check("room side")); err != nil {
		return err
	}
	if !(m.Days > 0 && m.Days <= 366) {
		return fmt.Errorf("%v days; give the number of days, 28 to 31", m.Days)
	}
	inward := m.Other.VaporPressure > m.Room.VaporPressure
	from, to := m.Other, m.Room
	if !inward {
		from, to = m.Room, m.Other
	}
	sat, err := humidair.ISOSaturationPressure(to.Temperature)
	if err != nil {
		return err
	}
	pull := float64(from.VaporPressure-to.VaporPressure) * m.Days
	direction := "inward, harmless"
	if float64(from.VaporPressure) > CriticalHumidity.Fraction()*float64(sat)*(1+slack) && pull > 0 {
		if inward {
			r.Inward, r.InwardPull, direction = append(r.Inward, i), r.InwardPull+pull, "inward"
		} else {
			r.Outward, r.OutwardPull, direction = append(r.Outward, i), r.OutwardPull+pull, "outward"
		}
	} else if !inward {
		direction = "outward, harmless"
	}
	r.Steps = append(r.Steps, Step{Name: m.Name,
		Formula: fmt.Sprintf("p other side %.0f Pa, p room %.0f Pa; 80 %% of psat on the far side %.0f Pa", float64(m.Other.VaporPressure), float64(m.Room.VaporPressure), 0.8*float64(sat)),
		Value:   direction, Source: "ISO 13788:2012 Annex E; own rule"})
	return nil
}

func (r *RetarderAdvice) decide(months []Month) {
	inward, outward := len(r.Inward) > 0, len(r.Outward) > 0
	r.Reverses = inward && outward
	switch {
	case !inward && !outward:
		r.Side = NeitherSide
		r.Advice = "vapor on neither side can bring the far side to 80 %: no retarder is needed for diffusion, an air barrier still is"
		return
	case r.InwardPull >= r.OutwardPull:
		r.Side = OtherSideOf
	default:
		r.Side = RoomSideOf
	}
	if !r.Reverses {
		r.Advice = fmt.Sprintf("put the retarder on the %s of the insulation and keep the far side open to vapor", r.Side)
		return
	}
	against := r.Outward
	if r.Side == RoomSideOf {
		against = r.Inward
	}
	r.Advice = fmt.Sprintf("the drive reverses in %s: a film on the %s can itself get wet then; use foam that is insulation and retarder in one, or prove the layers by the yearly balance", nameMonths(months, against), r.Side)
}

func nameMonths(months []Month, indexes []int) string {
	var names []string
	for _, i := range indexes {
		names = append(names, months[i].Name)
	}
	return strings.Join(slices.Compact(names), ", ") // a season's months have one name
}

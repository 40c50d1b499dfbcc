package diagnosis

import (
	"fmt"
	"math"
	"time"

	"proveout/checks/envelope"
	"proveout/checks/mold"
	"proveout/checks/units"
	"proveout/checks/wood"
)

// sapwood is what framing lumber counts as for mold, the most sensitive class.
var sapwood = mold.Sapwood(mold.Pine, mold.Resawn)

// Wall is what vapor does in one face as it was found.
type Wall struct {
	Face string
	// Why says why there is no result; empty when there is one.
	Why string
	// Side is where a vapor retarder belongs, by the vapor pressures; Found where
	// it is.
	Side     envelope.Side
	Reverses bool
	Advice   string
	Found    RetarderFound
	// Year is the balance over twelve months; Undecided without the months of its
	// other side.
	Year    envelope.YearVerdict
	Summary string
	// Surface is the other side's surface at the visit, by the transmittance as found;
	// at 100 % and above it is wet.
	Surface Plane
	// Profile is the one in the visit's air, between Other and Room; nil when there is
	// none.
	Profile     *envelope.VaporProfile
	Other, Room envelope.Air
	// Worst is the most humid plane inside, in the visit's air or in a month.
	Worst Plane
	Steps []units.Step
}

// Plane is a plane inside a face in its most humid time.
type Plane struct {
	Plane       string
	When        string
	Temperature units.Temperature
	Humidity    units.RelativeHumidity
	// Moisture is that of wood in equilibrium with it; at 95 % RH and above it
	// stands for that and more.
	Moisture units.Percent
	// MoldIn is the time in which mold shows on sapwood there; 0 when it never
	// does.
	MoldIn time.Duration
}

// moistureText prints the equilibrium moisture.
func (p Plane) moistureText() string {
	if p.Humidity > 95 {
		return fmt.Sprintf("above %.0f %%", float64(p.Moisture))
	}
	return fmt.Sprintf("%.0f %%", float64(p.Moisture))
}

// wrong reports whether a retarder found there is missing or on the wrong side.
func (w *Wall) wrong(found RetarderFound) bool {
	switch w.Side {
	case envelope.OtherSideOf:
		return found == NoRetarder || found == RetarderOnRoomSide
	case envelope.RoomSideOf:
		return found == NoRetarder || found == RetarderOnOtherSide
	}
	return false
}

func (d *diagnosis) wall(face string) *Wall {
	for i := range d.report.Walls {
		if d.report.Walls[i].Face == face {
			return &d.report.Walls[i]
		}
	}
	return nil
}

// walls works out each face: its surface on the other side, and the planes inside of
// those that have layers.
func (d *diagnosis) walls() {
	for _, s := range d.faces {
		w := Wall{Face: s.Name, Found: s.Retarder}
		d.surfaceOf(&w, s)
		if len(s.Assembly.Layers) == 0 {
			w.Why = "its layers are not described"
		} else if err := d.vapor(&w, s); err != nil {
			w.Why = err.Error()
		}
		d.report.Walls = append(d.report.Walls, w)
	}
}

// surfaceOf computes the surface on the other side at the visit.
func (d *diagnosis) surfaceOf(w *Wall, s surface) {
	other, ok := d.isoAir(d.now.sides[s.Side])
	if !ok || !s.used.Taken || s.used.Value <= 0 || s.films.OtherSide <= 0 {
		return
	}
	state, err := envelope.WarmSurface(s.used.Value, s.films.OtherSide, other, d.from().Temperature)
	if err != nil {
		return
	}
	w.Surface = Plane{Plane: "surface on the " + string(s.Side) + " side", When: "the visit's air", Temperature: state.Temperature, Humidity: state.Humidity}
	w.Steps = append(w.Steps, state.Steps...)
	w.growth(&w.Surface)
}

// vapor computes profile, year and retarder side of a face.
func (d *diagnosis) vapor(w *Wall, s surface) error {
	months, yearly, err := d.months(s.Side)
	if err != nil {
		return err
	}
	if advice, err := envelope.RetarderSide(months); err == nil {
		w.Side, w.Reverses, w.Advice = advice.Side, advice.Reverses, advice.Advice
		w.Steps = append(w.Steps, advice.Steps...)
	}
	room := months[0].Room
	if d.in.stated {
		if a, err := envelope.AirAt(d.in.state.Temperature, d.in.state.Humidity); err == nil {
			room = a
		}
	}
	if other, ok := d.isoAir(d.now.sides[s.Side]); ok {
		if err := w.profile(s, other, room); err != nil {
			return err
		}
	}
	year, err := envelope.Year(s.Assembly, envelope.Face{Kind: s.Kind, Other: s.Side}, months)
	if err != nil {
		return err
	}
	w.balance(year, yearly)
	w.growth(&w.Worst)
	return nil
}

// isoAir returns a side's air for vapor calculations.
func (d *diagnosis) isoAir(a SideAir) (envelope.Air, bool) {
	if !a.Temperature.Taken || !a.Humidity.Taken {
		return envelope.Air{}, false
	}
	air, err := envelope.AirAt(a.Temperature.Value, a.Humidity.Value)
	return air, err == nil
}

// months returns the year of a face: its own months, or the air at the visit all
// year, which says nothing about drying.
func (d *diagnosis) months(side envelope.OtherSide) (months []envelope.Month, yearly bool, err error) {
	room, err := envelope.AirAt(d.room.Set, (d.room.Band.Low+d.room.Band.High)/2)
	if err != nil {
		return nil, false, err
	}
	if year := d.room.Year[side]; len(year) == 12 {
		months = envelope.SteadyYear(room, room)
		for i, a := range year {
			if months[i].Other, err = envelope.AirAt(a.Temperature, a.Humidity); err != nil {
				return nil, false, err
			}
		}
		return months, true, nil
	}
	other, ok := d.isoAir(d.now.sides[side])
	if !ok {
		return nil, false, fmt.Errorf("temperature and humidity of the %s were not read", side)
	}
	return []envelope.Month{{Name: "the visit's air", Days: 365, Other: other, Room: room}}, false, nil
}

// profile adds the planes at the visit; with a wet surface there are none inside.
func (w *Wall) profile(s surface, other, room envelope.Air) error {
	p, err := envelope.Profile(s.Assembly, s.films, other, room)
	if err != nil {
		return err
	}
	w.Profile, w.Other, w.Room = &p, other, room
	w.Steps = append(w.Steps, p.Steps...)
	if !p.OtherSideWet && !p.RoomWet {
		w.worst(Plane{Plane: p.Wettest.Name, When: "the visit's air", Temperature: p.Wettest.Temperature, Humidity: p.Wettest.Humidity})
	}
	return nil
}

// balance adds the year.
func (w *Wall) balance(y envelope.YearBalance, yearly bool) {
	w.Steps = append(w.Steps, y.Steps()...)
	at := "the visit's air, room at its set point"
	w.Summary = "one state of air all year: " + y.Summary()
	if yearly {
		at = y.Given[y.Wettest.Month].Name
		w.Year, w.Summary = y.Verdict, y.Summary()
	}
	if y.Verdict == envelope.SurfaceWet || y.Wettest.Month >= len(y.Months) {
		return
	}
	m := y.Given[y.Wettest.Month]
	p, err := envelope.Profile(y.Assembly, y.Months[y.Wettest.Month].Films, m.Other, m.Room)
	if err != nil {
		return
	}
	for _, n := range p.Nodes {
		if n.Place == y.Wettest.Place {
			w.worst(Plane{Plane: n.Name, When: at, Temperature: n.Temperature, Humidity: y.Wettest.Humidity})
		}
	}
}

// worst keeps the more humid plane.
func (w *Wall) worst(p Plane) {
	if p.Humidity > w.Worst.Humidity {
		w.Worst = p
	}
}

// growth adds the wood's moisture and the mold at a plane.
func (w *Wall) growth(p *Plane) {
	if p.Humidity == 0 {
		return
	}
	if mc, err := wood.EquilibriumMoisture(p.Temperature, min(p.Humidity, 95)); err == nil {
		p.Moisture = mc
	}
	rh := min(p.Humidity, 100)
	critical, err := sapwood.CriticalHumidity(p.Temperature)
	greatest, errGreatest := sapwood.Greatest(p.Temperature, rh)
	if err != nil || errGreatest != nil || rh < critical || greatest < mold.Visible {
		return
	}
	weeks, err := sapwood.WeeksToVisible(p.Temperature, rh)
	if err != nil || math.IsInf(weeks, 0) {
		return
	}
	p.MoldIn = time.Duration(weeks * float64(7*24*time.Hour))
	w.Steps = append(w.Steps, units.Step{Name: "mold on sapwood at " + p.Plane, Formula: fmt.Sprintf("t_v at %.1f °C, %.0f %% RH", float64(p.Temperature), float64(rh)),
		Value: fmt.Sprintf("visible in %.0f weeks", weeks), Source: "Hukka and Viitanen 1999, eq. 4"})
}

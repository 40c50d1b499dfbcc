package cooling

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"

	"proveout/checks/units"
)

// Capacity gives the cooling that a unit does at a room and an outdoor (condenser
// intake) temperature. Rating and Table are the two kinds.
type Capacity interface {
	At(room, outdoor units.Temperature) (units.Power, error)
}

// Slopes say how a compressor's capacity changes with its temperatures, as a share
// per kelvin: a = dlnQ/dT_evap, b = −dlnQ/dT_cond.
type Slopes struct{ Evaporating, Condensing float64 }

// RefrigerantSlopes returns the slopes of a refrigerant at 4 °C evaporating, 45 °C
// condensing, 8 K superheat, 4 K subcooling (CoolProp, computed, for a compressor
// of 4 % clearance volume; a real unit also loses at its coil and fans).
func RefrigerantSlopes(name string) (Slopes, error) {
	switch name {
	case "R134a":
		return Slopes{0.0421, 0.0131}, nil
	case "R513A":
		return Slopes{0.0414, 0.0145}, nil
	case "R448A":
		return Slopes{0.0401, 0.0142}, nil
	case "R404A":
		return Slopes{0.0389, 0.0172}, nil
	case "R454B":
		return Slopes{0.0362, 0.0124}, nil
	case "R454C":
		return Slopes{0.0404, 0.0147}, nil
	case "R32":
		return Slopes{0.0353, 0.0111}, nil
	case "R290":
		return Slopes{0.0357, 0.0125}, nil
	}
	return Slopes{}, fmt.Errorf("refrigerant %q has no slopes of capacity; write R134a, R513A, R448A, R404A, R454B, R454C, R32 or R290, or give the maker's table", name)
}

// Rating is a capacity at one condition, corrected to others by the balance of
// compressor and coil:
//
//	Q = Q0·{1 + [a·(T_r − T_r0) − b·(T_o − T_o0)]/(1 + a·TD0)}
//
// where TD0 is the room's temperature above the evaporating one, a coil of fixed
// conductance is assumed, and the condensing temperature follows the outdoor one
// kelvin for kelvin. A straight line, good within about 15 K of the rating.
type Rating struct {
	Capacity   units.Power                 // Q0, above 0 to 100 kW
	Room       units.Temperature           // T_r0
	Outdoor    units.Temperature           // T_o0
	Difference units.TemperatureDifference // TD0, 2 to 20 K
	Slopes     Slopes
}

// reach is how far from its rating a capacity is still corrected, K.
const reach = 15

// At returns the capacity at other temperatures. It returns an error more than 15 K
// of room or 25 K of outdoor temperature away from the rating.
func (r Rating) At(room, outdoor units.Temperature) (units.Power, error) {
	err := errors.Join(
		r.valid(),
		within("room", float64(room), float64(r.Room)-reach, float64(r.Room)+reach, "°C"),
		within("outdoors", float64(outdoor), float64(r.Outdoor)-25, float64(r.Outdoor)+25, "°C"),
	)
	if err != nil {
		return 0, fmt.Errorf("capacity away from its rating: %w", err)
	}
	change := r.Slopes.Evaporating*float64(room.Sub(r.Room)) - r.Slopes.Condensing*float64(outdoor.Sub(r.Outdoor))
	return r.Capacity * units.Power(1+change/(1+r.Slopes.Evaporating*float64(r.Difference))), nil
}

// PerKelvin returns q1, the capacity gained per kelvin of room temperature:
// Q0·a/(1 + a·TD0).
func (r Rating) PerKelvin() (units.Conductance, error) {
	if err := r.valid(); err != nil {
		return 0, fmt.Errorf("capacity: %w", err)
	}
	a := r.Slopes.Evaporating
	return units.Conductance(float64(r.Capacity) * a / (1 + a*float64(r.Difference))), nil
}

func (r Rating) valid() error {
	return errors.Join(
		within("rated capacity", float64(r.Capacity), 1, 1e5, "W"),
		airTemperature("rated room", r.Room),
		airTemperature("rated outdoors", r.Outdoor),
		within("coil difference", float64(r.Difference), 2, 20, "K"),
		within("slope with evaporating temperature", r.Slopes.Evaporating, 0.01, 0.1, "1/K"),
		within("slope with condensing temperature", r.Slopes.Condensing, 0, 0.05, "1/K"),
	)
}

// RatedPoint is one entry of a maker's capacity table.
type RatedPoint struct {
	Room, Outdoor units.Temperature
	Capacity      units.Power
}

// Table is a maker's capacity table with the plane through it,
// Q = c0 + cr·T_r + co·T_o by least squares.
type Table struct {
	Points          []RatedPoint
	PerRoom         units.Conductance // cr, W per K of room temperature
	PerOutdoor      units.Conductance // co, negative in a real unit
	Worst           units.Power       // largest distance of a point from the plane
	base            float64
	rooms, outdoors [2]float64
}

// NewTable fits the plane. It needs three points that do not lie on one line.
func NewTable(points []RatedPoint) (*Table, error) {
	t := &Table{Points: points}
	a, q := mat.NewDense(max(len(points), 1), 3, nil), mat.NewVecDense(max(len(points), 1), nil)
	t.rooms, t.outdoors = [2]float64{math.Inf(1), math.Inf(-1)}, [2]float64{math.Inf(1), math.Inf(-1)}
	for i, p := range points {
		err := errors.Join(within("capacity", float64(p.Capacity), 1, 1e5, "W"), airTemperature("room", p.Room), airTemperature("outdoors", p.Outdoor))
		if err != nil {
			return nil, fmt.Errorf("capacity table, point %d: %w", i+1, err)
		}
		widen(&t.rooms, float64(p.Room))
		widen(&t.outdoors, float64(p.Outdoor))
		a.SetRow(i, []float64{1, float64(p.Room), float64(p.Outdoor)})
		q.SetVec(i, float64(p.Capacity))
	}
	var c mat.VecDense
	if len(points) < 3 || c.SolveVec(a, q) != nil {
		return nil, fmt.Errorf("capacity table: %d points do not fix its slopes; give at least three, with two room and two outdoor temperatures", len(points))
	}
	t.base, t.PerRoom, t.PerOutdoor = c.AtVec(0), units.Conductance(c.AtVec(1)), units.Conductance(c.AtVec(2))
	for _, p := range points {
		t.Worst = max(t.Worst, units.Power(math.Abs(t.plane(p.Room, p.Outdoor)-float64(p.Capacity))))
	}
	return t, nil
}

func widen(r *[2]float64, x float64) { r[0], r[1] = min(r[0], x), max(r[1], x) }

func (t *Table) plane(room, outdoor units.Temperature) float64 {
	return t.base + float64(t.PerRoom)*float64(room) + float64(t.PerOutdoor)*float64(outdoor)
}

// At returns the capacity on the plane. It returns an error more than 5 K outside
// the table.
func (t *Table) At(room, outdoor units.Temperature) (units.Power, error) {
	err := errors.Join(
		within("room", float64(room), t.rooms[0]-5, t.rooms[1]+5, "°C"),
		within("outdoors", float64(outdoor), t.outdoors[0]-5, t.outdoors[1]+5, "°C"),
	)
	if err != nil {
		return 0, fmt.Errorf("capacity outside its table: %w", err)
	}
	return units.Power(t.plane(room, outdoor)), nil
}

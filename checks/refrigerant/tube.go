package refrigerant

import (
	"fmt"
	"math"
	"strings"

	"proveout/checks/units"
)

// Tube is annealed copper tube for refrigeration, in coils.
type Tube struct {
	Size          string // outside diameter in inches, as it is sold
	Outside, Wall units.Length
}

const inch units.Length = 0.0254 // m

// tubes are those of ASTM B280, annealed coils (read). Drawn tube has other walls.
var tubes = []Tube{
	{"1/4", 0.25 * inch, 0.030 * inch}, {"5/16", 0.3125 * inch, 0.032 * inch},
	{"3/8", 0.375 * inch, 0.032 * inch}, {"1/2", 0.5 * inch, 0.032 * inch},
	{"5/8", 0.625 * inch, 0.035 * inch}, {"3/4", 0.75 * inch, 0.035 * inch},
	{"7/8", 0.875 * inch, 0.045 * inch}, {"1-1/8", 1.125 * inch, 0.050 * inch},
}

// Tubes lists the sizes, smallest first.
func Tubes() []Tube { return append([]Tube(nil), tubes...) }

// TubeOf returns the tube of an outside diameter, within 0.3 mm: 9.5 mm is sold for
// 3/8 in.
func TubeOf(outside units.Length) (Tube, error) {
	var sizes []string
	for _, t := range tubes {
		if math.Abs(float64(t.Outside-outside)) <= 0.0003 {
			return t, nil
		}
		sizes = append(sizes, t.Size)
	}
	return Tube{}, fmt.Errorf("tube of %.1f mm (%.3f in) outside is not in ASTM B280's coils; there are %s in",
		1000*float64(outside), float64(outside/inch), strings.Join(sizes, ", "))
}

// Inside returns the inside diameter.
func (t Tube) Inside() units.Length { return t.Outside - 2*t.Wall }

// Bore returns the area inside.
func (t Tube) Bore() units.Area { return units.Area(math.Pi / 4 * t.Inside() * t.Inside()) }

// Fittings are those of a line, each worth a number of diameters of tube.
type Fittings struct {
	Elbows, Sweeps, LongElbows, TeesThrough, TeesBranch, Traps, Valves int
}

// diameters adds up the equivalent length: 90° elbow 30, 45° elbow or sweep 16, tee
// 20 through and 60 branch (a fitting maker's technical page, read); long-radius
// elbow 20, trap 60, ball valve 3 (Crane TP-410, from memory).
func (f Fittings) diameters() float64 {
	return float64(30*f.Elbows + 16*f.Sweeps + 20*f.LongElbows + 20*f.TeesThrough + 60*f.TeesBranch + 60*f.Traps + 3*f.Valves)
}

// roughness of drawn copper tube, m (Moody, from memory).
const roughness = 1.5e-6

// Reynolds numbers below laminar flow without eddies.
const laminar = 2300

// frictionFactor is Darcy's: 64/Re below 2300, Haaland's formula above.
func frictionFactor(reynolds, relative float64) float64 {
	if reynolds < laminar {
		return 64 / reynolds
	}
	root := -1.8 * math.Log10(math.Pow(relative/3.7, 1.11)+6.9/reynolds)
	return 1 / (root * root)
}

// Flow is what moves in a tube.
type Flow struct {
	Velocity   float64 // m/s
	Reynolds   float64
	Friction   float64 // Darcy's factor
	Equivalent units.Length
	Loss       units.Pressure
	Steps      []Step
}

// flow returns the loss of a mass rate in kg/s of a fluid of a density in kg/m³ and
// a viscosity in Pa·s.
func (t Tube) flow(rate, density, viscosity float64, length units.Length, fittings Fittings) Flow {
	d := float64(t.Inside())
	f := Flow{Velocity: rate / (density * float64(t.Bore()))}
	f.Reynolds = density * f.Velocity * d / viscosity
	f.Friction = frictionFactor(f.Reynolds, roughness/d)
	f.Equivalent = length + units.Length(fittings.diameters()*d)
	f.Loss = units.Pressure(f.Friction * float64(f.Equivalent) / d * density * f.Velocity * f.Velocity / 2)
	f.Steps = []Step{
		{Name: "tube", Value: fmt.Sprintf("%s in, %.3f mm inside", t.Size, 1000*d), Source: "ASTM B280, annealed coils"},
		{Name: "mass flow", Value: fmt.Sprintf("%.3f g/s", 1000*rate)},
		{Name: "density, viscosity", Value: fmt.Sprintf("%.3f kg/m³, %.2f µPa·s", density, 1e6*viscosity), Source: "CoolProp 8.0.1dev tables (computed)"},
		{Name: "velocity", Formula: "ṁ / (ρ·A)", Value: velocityText(f.Velocity)},
		{Name: "Reynolds number", Formula: "ρ·v·D/µ", Value: fmt.Sprintf("%.0f", f.Reynolds)},
		{Name: "friction factor", Formula: "f^−½ = −1.8·lg[(ε/D/3.7)^1.11 + 6.9/Re]; 64/Re below 2300", Value: fmt.Sprintf("%.5f", f.Friction), Source: "Haaland 1983; ε 1.5 µm (Moody, from memory)"},
		{Name: "equivalent length", Formula: "length + Σ(L/D)·D", Value: fmt.Sprintf("%.2f m (%.1f ft)", float64(f.Equivalent), float64(f.Equivalent)/0.3048)},
		{Name: "friction", Formula: "f·(L/D)·ρv²/2", Value: pressureText(f.Loss), Source: "Darcy and Weisbach"},
	}
	return f
}

func velocityText(v float64) string { return fmt.Sprintf("%.2f m/s (%.0f ft/min)", v, v/0.3048*60) }

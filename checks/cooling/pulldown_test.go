package cooling

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"proveout/checks/units"
)

// round is the room of round numbers of two-node-round.csv.
func round() PullDown {
	return PullDown{
		Light: 400e3, Bottles: 3.0e6, Coupling: 200, Gain: 20, Source: 25, Inside: 50,
		Capacity: 600, PerKelvin: 20, Set: 13, Air: 25, Contents: 25,
	}
}

// cellar is 15 m³ with 800 bottles: 18.26 kJ/K of air (15 · 1.21 · 1006), 420 kJ/K of
// board and racks, 171.94 W/K between bottles and air, 14 W/K to 24 °C, 60 W inside, a unit of slope 0.041/K at a coil difference of 9 K
// (assumed inputs of the worked case).
func cellar(t testing.TB, capacity units.Power) PullDown {
	t.Helper()
	coupling, err := StandardBottle.Coupling(800, 6, 0.6)
	if err != nil {
		t.Fatal(err)
	}
	rating := Rating{Capacity: capacity, Room: 13, Outdoor: 35, Difference: 9, Slopes: Slopes{0.041, 0.0145}}
	perKelvin, err := rating.PerKelvin()
	if err != nil {
		t.Fatal(err)
	}
	return PullDown{
		Light: 15*1.21*1006 + 420e3, Bottles: 800 * StandardBottle.HeatCapacity(), Coupling: coupling,
		Gain: 14, Source: 24, Inside: 60, Capacity: capacity, PerKelvin: perKelvin,
		Set: 13, Air: 24, Contents: 24,
	}
}

func hours(h float64) time.Duration { return time.Duration(h * float64(time.Hour)) }

// The constants of the round case, solved by hand from the model's own equations.
func TestRoundConstants(t *testing.T) {
	c, err := round().Course()
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		name            string
		got, want, last float64 // last printed digit
	}{
		{"stall", float64(c.Stall), 5.25, 1e-12},
		{"λ1", c.air.λ[0], -1.0154676172e-5, 1e-15},
		{"λ2", c.air.λ[1], -6.5651199049e-4, 1e-14},
		{"v1", c.bottles.k[0] / c.air.k[0], 1.1796906477, 1e-10},
		{"v2", c.bottles.k[1] / c.air.k[1], -0.1130239810, 1e-10},
		{"k1", c.air.k[0], 17.0046993648, 1e-10},
		{"k2", c.air.k[1], 2.7453006352, 1e-10},
	} {
		if math.Abs(tt.got-tt.want) > 0.51*tt.last {
			t.Errorf("%s = %.14g, want %.14g", tt.name, tt.got, tt.want)
		}
	}
}

func TestRoundCourse(t *testing.T) {
	c, err := round().Course()
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range table(t, "two-node-round.csv") {
		air, bottles := c.At(hours(r.number("hours")))
		r.wantWithin("air", float64(air), 1e-12)
		r.wantWithin("bottles", float64(bottles), 1e-12)
	}
}

func TestCellarCourse(t *testing.T) {
	c, err := cellar(t, 600).Course()
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range table(t, "two-node-800-bottles.csv") {
		air, bottles := c.At(hours(r.number("hours")))
		r.want("air", float64(air))
		r.want("bottles", float64(bottles))
	}
	for _, tt := range []struct {
		name                 string
		got, want, tolerance float64
	}{
		{"stall °C", float64(c.Stall), 0.926, 0.0005},
		{"slow h", c.Slow.Hours(), 32.44, 0.005},
		{"fast h", c.Fast.Hours(), 0.537, 0.0005},
		{"v1", c.bottles.k[0] / c.air.k[0], 1.164112, 5e-7},
		{"v2", c.bottles.k[1] / c.air.k[1], -0.132992, 5e-7},
		{"k1", c.air.k[0], 20.154706, 5e-7},
		{"k2", c.air.k[1], 2.919369, 5e-7},
	} {
		if math.Abs(tt.got-tt.want) > tt.tolerance {
			t.Errorf("%s = %v, want %v", tt.name, tt.got, tt.want)
		}
	}
	p := cellar(t, 600)
	if heat := float64(p.Light+p.Bottles) * 11; math.Abs(heat/1e6-36.0) > 0.05 || math.Abs(Energy(heat).KilowattHours()-9.99) > 0.005 {
		t.Errorf("heat to remove %v J, want 36.0 MJ, 9.99 kWh", heat)
	}
	half, ok := c.BottleTime(13.5)
	if !ok || math.Abs(half.Hours()-22.92) > 0.005 {
		t.Errorf("BottleTime(13.5) = %v, %v, want 22.92 h", half, ok)
	}
	lump, ok := c.OneLump()
	if !ok || math.Abs(lump.Hours()-18.4) > 0.05 {
		t.Errorf("OneLump() = %v, %v, want 18.4 h", lump, ok)
	}
}

func TestSizes(t *testing.T) {
	rows := table(t, "two-node-sizes.csv")
	var capacities []units.Power
	for _, r := range rows {
		capacities = append(capacities, units.Power(r.number("capacity")))
	}
	sizes, err := cellar(t, 600).Sizes(capacities, 14)
	if err != nil {
		t.Fatal(err)
	}
	for i, r := range rows {
		s := sizes[i]
		if !s.Arrives || !s.Proves {
			t.Errorf("%v W never arrives", s.Capacity)
		}
		r.want("stall", float64(s.Stall))
		r.want("air", s.Air.Hours())
		r.want("bottles_then", float64(s.Bottles))
		r.want("bottles", s.Proven.Hours())
	}
}

func TestWarmUp(t *testing.T) {
	p := cellar(t, 600)
	p.Inside, p.Air, p.Contents = 0, 13, 13
	c, err := p.Off()
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range table(t, "two-node-warm-up.csv") {
		air, _ := c.At(hours(r.number("hours")))
		r.want("air", float64(air))
	}
	if slow, fast := c.Slow.Hours(), c.Fast.Hours(); math.Abs(slow-68.858) > 0.0005 || math.Abs(fast-0.5775) > 0.00005 {
		t.Errorf("time constants %v, %v h, want 68.858, 0.5775", slow, fast)
	}
}

// integrate follows the equations with a thermostat by Runge–Kutta of fourth order,
// a second road to the closed form.
func integrate(p PullDown, until, step float64) (air, contents float64) {
	a, b := float64(p.Air), float64(p.Contents)
	held := false
	slope := func(a, b float64) (float64, float64) {
		q := float64(p.Capacity) + float64(p.PerKelvin)*(a-float64(p.Set))
		da := (float64(p.Gain)*(float64(p.Source)-a) + float64(p.Coupling)*(b-a) + float64(p.Inside) - q) / float64(p.Light)
		if held {
			da = 0
		}
		return da, float64(p.Coupling) * (a - b) / float64(p.Bottles)
	}
	for t := 0.0; t < until-step/2; t += step {
		a1, b1 := slope(a, b)
		a2, b2 := slope(a+step/2*a1, b+step/2*b1)
		a3, b3 := slope(a+step/2*a2, b+step/2*b2)
		a4, b4 := slope(a+step*a3, b+step*b3)
		a, b = a+step/6*(a1+2*a2+2*a3+a4), b+step/6*(b1+2*b2+2*b3+b4)
		if !held && a <= float64(p.Set) {
			held, a = true, float64(p.Set)
		}
	}
	return a, b
}

func random(r *rand.Rand) PullDown {
	p := PullDown{
		Light: HeatCapacity(1e5 + 1e6*r.Float64()), Bottles: HeatCapacity(5e5 + 6e6*r.Float64()),
		Coupling: units.Conductance(30 + 400*r.Float64()), Gain: units.Conductance(5 + 40*r.Float64()),
		Source: units.Temperature(20 + 15*r.Float64()), Inside: units.Power(200 * r.Float64()),
		Capacity: units.Power(200 + 1500*r.Float64()), Set: units.Temperature(10 + 5*r.Float64()),
		Air: units.Temperature(14 + 14*r.Float64()), Contents: units.Temperature(8 + 20*r.Float64()),
	}
	p.PerKelvin = units.Conductance(float64(p.Capacity) * 0.03)
	return p
}

// The closed form agrees with an integration in steps of 20 s before the air arrives
// to 1e-6 K, and afterwards within what one step of the arrival is worth.
func TestCourseAgainstIntegration(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	arrived := 0
	for range 60 {
		p := random(r)
		c, err := p.Course()
		if err != nil {
			t.Fatal(err)
		}
		until := 3600 * (1 + 40*r.Float64())
		tolerance := 1e-6
		if after, ok := c.AirTime(); ok && after.Seconds() <= until+20 {
			arrived++
			tolerance = 0.01
		}
		air, contents := c.At(seconds(until))
		steps := math.Ceil(until / 20)
		wantAir, want := integrate(p, until, until/steps)
		if math.Abs(float64(air)-wantAir) > tolerance || math.Abs(float64(contents)-want) > tolerance {
			t.Errorf("%+v after %.0f s: %v, %v, want %v, %v", p, until, air, contents, wantAir, want)
		}
	}
	if arrived < 10 || arrived > 55 {
		t.Errorf("%d of 60 had arrived: one branch is hardly tested", arrived)
	}
}

// At the times it names, the course is at the temperatures it names; before the
// time of the bottles they are warmer at some later moment, after it never.
func TestTimesMeanWhatTheySay(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	for range 2000 {
		p := random(r)
		target := p.Set + units.Temperature(3*r.Float64()-0.5)
		c, err := p.Course()
		if err != nil {
			t.Fatal(err)
		}
		if after, ok := c.AirTime(); ok {
			if a, _ := c.running(after.Seconds()); after > 0 && math.Abs(float64(a-p.Set)) > 1e-6 {
				t.Fatalf("%+v: air %v at its arrival", p, a)
			}
			if d := c.Duty(after); d > 1+1e-9 {
				t.Fatalf("%+v: duty %v at arrival", p, d)
			}
		}
		after, ok := c.BottleTime(target)
		if !ok {
			if _, b := c.At(9 * 366 * 24 * time.Hour); b <= target-1e-6 && target != p.Set {
				t.Fatalf("%+v: bottles never at %v, yet at %v in the end", p, target, b)
			}
			continue
		}
		if _, b := c.At(after); after > 0 && math.Abs(float64(b-target)) > 1e-6 {
			t.Fatalf("%+v: bottles %v at %v, want %v", p, b, after, target)
		}
		for i := range 200 {
			if _, b := c.At(after + time.Duration(i)*time.Hour); b > target+1e-6 {
				t.Fatalf("%+v: bottles %v again after %v, want at most %v", p, b, after, target)
			}
		}
		if after > time.Minute {
			if _, b := c.At(after - time.Minute); b < target {
				t.Fatalf("%+v: bottles %v a minute early, want above %v", p, b, target)
			}
		}
	}
}

// A unit too small stalls: 600 W at 13 °C against twice the room of the round case
// at 35 °C.
func TestStall(t *testing.T) {
	p := round()
	p.Gain, p.Source, p.Air, p.Contents = 40, 35, 25, 25
	c, err := p.Course()
	if err != nil {
		t.Fatal(err)
	}
	// (40·35 + 50 − 600 + 20·13)/(40 + 20), by hand.
	if math.Abs(float64(c.Stall)-18.5) > 1e-9 {
		t.Errorf("stall %v, want 18.5", c.Stall)
	}
	if _, ok := c.AirTime(); ok || c.Arrives() {
		t.Error("arrives at 13 °C, want never")
	}
	if _, ok := c.BottleTime(14); ok {
		t.Error("bottles at 14 °C, want never")
	}
	if after, ok := c.BottleTime(20); !ok || after <= 0 {
		t.Errorf("BottleTime(20) = %v, %v, want a time", after, ok)
	}
	if d := c.Duty(1000 * time.Hour); d != 1 {
		t.Errorf("duty %v, want 1", d)
	}
}

// A room at its set point stays there, and warm bottles put in later push the air up
// only when the unit cannot carry them.
func TestStartsCold(t *testing.T) {
	p := round()
	p.Air, p.Contents = 13, 14
	c, err := p.Course()
	if after, ok := c.AirTime(); err != nil || !ok || after != 0 {
		t.Errorf("AirTime() = %v, %v, %v, want 0", after, ok, err)
	}
	// (20·12 + 200·1 + 50)/600, by hand.
	if d := c.Duty(0); math.Abs(d-490.0/600) > 1e-12 {
		t.Errorf("duty %v, want %v", d, 490.0/600)
	}
	p.Contents = 25
	c, err = p.Course()
	if err != nil {
		t.Fatal(err)
	}
	if air, _ := c.At(time.Hour); air <= 13 {
		t.Errorf("air %v after an hour with warm bottles, want above 13", air)
	}
	if after, ok := c.AirTime(); !ok || after <= time.Hour {
		t.Errorf("AirTime() = %v, %v, want later than an hour", after, ok)
	}
}

func TestSizeFor(t *testing.T) {
	p := cellar(t, 600)
	q, err := p.SizeFor(14, hours(19.75))
	if err != nil || math.Abs(float64(q)-600) > 1 {
		t.Errorf("SizeFor(14, 19.75 h) = %v, %v, want 600", q, err)
	}
	// Even with the air at 13 °C at once, bottles take τ·ln(11) = 4.57·2.40 h.
	if q, err := p.SizeFor(14, hours(10.9)); err == nil {
		t.Errorf("SizeFor(14, 10.9 h) = %v, want an error", q)
	}
}

func TestPullDownRefuses(t *testing.T) {
	for i, spoil := range []func(*PullDown){
		func(p *PullDown) { p.Light = 0 },
		func(p *PullDown) { p.Bottles = HeatCapacity(math.NaN()) },
		func(p *PullDown) { p.Coupling = 0 },
		func(p *PullDown) { p.Gain = units.Conductance(math.Inf(1)) },
		func(p *PullDown) { p.Source = 200 },
		func(p *PullDown) { p.Inside = units.Power(math.NaN()) },
		func(p *PullDown) { p.Capacity = -1 },
		func(p *PullDown) { p.PerKelvin = units.Conductance(math.NaN()) },
		func(p *PullDown) { p.Set = units.Temperature(math.NaN()) },
		func(p *PullDown) { p.Air = -300 },
		func(p *PullDown) { p.Contents = units.Temperature(math.Inf(-1)) },
	} {
		p := round()
		spoil(&p)
		if c, err := p.Course(); err == nil {
			t.Errorf("case %d: %+v, want an error", i, c)
		}
	}
}

func ExamplePullDown_Course() {
	c, err := round().Course()
	if err != nil {
		panic(err)
	}
	air, bottles := c.At(20 * time.Hour)
	fmt.Printf("stall %.2f °C; after 20 h air %.2f °C, bottles %.2f °C\n", c.Stall, air, bottles)
	// Output: stall 5.25 °C; after 20 h air 13.44 °C, bottles 14.91 °C
}

func BenchmarkPullDown(b *testing.B) {
	p := cellar(b, 600)
	for b.Loop() {
		c, err := p.Course()
		if err != nil {
			b.Fatal(err)
		}
		c.BottleTime(14)
	}
}

func BenchmarkSizeFor(b *testing.B) {
	p := cellar(b, 600)
	for b.Loop() {
		if _, err := p.SizeFor(14, hours(20)); err != nil {
			b.Fatal(err)
		}
	}
}

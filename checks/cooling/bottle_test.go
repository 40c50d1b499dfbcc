package cooling

import (
	"math"
	"testing"
	"time"

	"proveout/checks/units"
)

func TestBottle(t *testing.T) {
	values := named(t, "bottles-and-slopes.csv")
	b := StandardBottle
	values["bottle J/K"].want("value", float64(b.HeatCapacity()))
	values["bottle kg"].want("value", float64(b.Mass()))
	values["bottle J/kgK"].want("value", b.SpecificHeat())
	values["bottle Btu/lbF"].want("value", b.SpecificHeat()/4186.8) // 1 Btu/(lb·°F), NIST SP 811
	tau, err := b.TimeConstant(6, 0.60)
	if err != nil {
		t.Fatal(err)
	}
	values["tau in a rack h"].want("value", tau.Hours())

	q, err := Restock{b, 12, 24, 24 * time.Hour}.Heat(13)
	if err != nil {
		t.Fatal(err)
	}
	values["12 bottles a day from 24 W"].want("value", float64(q))
	q, err = Restock{b, 144, 24, 24 * time.Hour}.Heat(13)
	if err != nil {
		t.Fatal(err)
	}
	values["144 bottles W"].want("value", float64(q))
	values["144 bottles kWh"].want("value", float64(q)*24/1000)
}

func TestFirstTerm(t *testing.T) {
	for _, r := range table(t, "cylinder-one-term.csv") {
		ζ, c := firstTerm(r.number("biot"))
		r.want("zeta", ζ)
		r.want("C", c)
	}
}

func TestBottleCylinder(t *testing.T) {
	for _, r := range table(t, "bottle-cylinder.csv") {
		c, err := StandardBottle.Cylinder(r.number("film"))
		if err != nil {
			t.Fatal(err)
		}
		r.want("biot", c.Biot)
		r.want("zeta", c.Root)
		r.want("C", c.Start)
		r.want("tau", c.TimeConstant.Hours())
		bare, err := StandardBottle.TimeConstant(r.number("film"), 1)
		if err != nil {
			t.Fatal(err)
		}
		r.want("tau_bare", bare.Hours())
		// The same cylinder with its wine at one temperature: ρ·c·r/(2h).
		b := StandardBottle
		lumped := b.WineDensity * b.WineHeat * float64(b.Radius) / 2 / r.number("film") / 3600
		r.want("tau_lumped", lumped)
		r.want("ratio", c.TimeConstant.Hours()/lumped)
		for column, after := range map[string]time.Duration{"after2": 2, "after4": 4, "after8": 8} {
			axis, err := c.Axis(24, 13, after*time.Hour)
			if err != nil {
				t.Fatal(err)
			}
			r.want(column, float64(axis))
		}
		if axis, err := c.Axis(24, 13, 30*time.Minute); err == nil {
			t.Errorf("axis after half an hour = %v, want an error", axis)
		}
	}
}

func TestBottleRefuses(t *testing.T) {
	nan := math.NaN()
	bad := StandardBottle
	bad.Glass = units.Mass(nan)
	for i, f := range []func() error{
		func() error { _, err := bad.TimeConstant(6, 1); return err },
		func() error { _, err := bad.Cylinder(6); return err },
		func() error { _, err := StandardBottle.TimeConstant(nan, 1); return err },
		func() error { _, err := StandardBottle.TimeConstant(6, 0); return err },
		func() error { _, err := StandardBottle.Cylinder(0); return err },
		func() error { _, err := StandardBottle.Coupling(nan, 6, 0.6); return err },
		func() error { _, err := Restock{StandardBottle, 12, 24, 0}.Heat(13); return err },
		func() error { _, err := Restock{StandardBottle, nan, 24, time.Hour}.Heat(13); return err },
		func() error { _, err := Restock{bad, 12, 24, time.Hour}.Heat(13); return err },
	} {
		if f() == nil {
			t.Errorf("case %d: no error", i)
		}
	}
}

func BenchmarkCylinder(b *testing.B) {
	for b.Loop() {
		if _, err := StandardBottle.Cylinder(6); err != nil {
			b.Fatal(err)
		}
	}
}

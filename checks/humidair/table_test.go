package humidair

import (
	"encoding/csv"
	"errors"
	"math"
	"os"
	"strconv"
	"testing"

	"proveout/checks/units"
)

// A row of a table in testdata/tables by column name; an empty cell is absent.
type row map[string]float64

func readTable(t testing.TB, name string) []row {
	t.Helper()
	f, err := os.Open("../../testdata/tables/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	lines, err := r.ReadAll()
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	var rows []row
	for _, line := range lines[1:] {
		m := row{}
		for i, cell := range line {
			if cell == "" {
				continue
			}
			if m[lines[0][i]], err = strconv.ParseFloat(cell, 64); err != nil {
				t.Fatalf("%s: %v", name, err)
			}
		}
		rows = append(rows, m)
	}
	return rows
}

// value fails the test when a function that should give a number gives an error.
func value[T ~float64](t testing.TB) func(v T, err error) float64 {
	return func(v T, err error) float64 {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return float64(v)
	}
}

func near(t testing.TB, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s = %v, want %v ± %.3g (off by %.3g)", what, got, want, tolerance, got-want)
	}
}

// outOfRange asks for a *RangeError about quantity, no number with it, and
// returns it.
func outOfRange[T ~float64](t testing.TB, quantity string, v T, err error) *RangeError {
	t.Helper()
	var e *RangeError
	if !errors.As(err, &e) {
		t.Errorf("got %v, %v; want a range error about the %s", v, err, quantity)
		return &RangeError{}
	}
	if v != 0 || e.Quantity != quantity {
		t.Errorf("got %v, %v; want 0 and a range error about the %s", v, err, quantity)
	}
	return e
}

// celsius and pascal convert the I-P values of the tests.
func celsius(f float64) units.Temperature { return units.Temperature((f - 32) / 1.8) }

func pascal(psi float64) units.Pressure { return units.Pressure(psi * 6894.757293168) }

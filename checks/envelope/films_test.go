package envelope_test

import (
	"math"
	"testing"

	"proveout/checks/envelope"
	"proveout/checks/units"
)

var directions = map[string]envelope.Direction{
	"upward": envelope.Upward, "horizontal": envelope.Horizontal, "downward": envelope.Downward,
}

// Every face, both ways of heat, against ISO 6946 table 7.
func TestSurfaceResistances(t *testing.T) {
	indoor := map[string]float64{}
	outdoor := map[string]float64{}
	for _, row := range table(t, "iso6946-surface-resistances.csv") {
		indoor[row["direction"]] = number(t, row["indoor"])
		outdoor[row["direction"]] = number(t, row["outdoor"])
	}
	for _, tt := range []struct {
		face        envelope.Face
		other, room units.Temperature
		direction   string
	}{
		{envelope.Face{Kind: envelope.Wall, Other: envelope.House}, 24, 13, "horizontal"},
		{envelope.Face{Kind: envelope.Door, Other: envelope.House}, 24, 13, "horizontal"},
		{envelope.Face{Kind: envelope.Glass, Other: envelope.Outdoors}, -5, 13, "horizontal"},
		{envelope.Face{Kind: envelope.Ceiling, Other: envelope.Attic}, 45, 13, "downward"},
		{envelope.Face{Kind: envelope.Ceiling, Other: envelope.Attic}, 2, 13, "upward"},
		{envelope.Face{Kind: envelope.Ceiling, Other: envelope.House}, 13, 13, "upward"},
		{envelope.Face{Kind: envelope.Floor, Other: envelope.House}, 22, 13, "upward"},
		{envelope.Face{Kind: envelope.Floor, Other: envelope.CrawlSpace}, 8, 13, "downward"},
		{envelope.Face{Kind: envelope.Wall, Other: envelope.Garage}, 30, 13, "horizontal"},
		{envelope.Face{Kind: envelope.Floor, Other: envelope.Ground}, 15, 13, "upward"},
	} {
		films, err := envelope.SurfaceResistances(tt.face, tt.other, tt.room)
		if err != nil {
			t.Errorf("SurfaceResistances(%v, %v, %v): %v", tt.face, tt.other, tt.room, err)
			continue
		}
		other := indoor[tt.direction]
		switch tt.face.Other {
		case envelope.Outdoors:
			other = outdoor[tt.direction]
		case envelope.Ground:
			other = 0
		}
		if films.Direction != directions[tt.direction] || float64(films.OtherSide) != other || float64(films.Room) != indoor[tt.direction] {
			t.Errorf("SurfaceResistances(%v, %v, %v) = %+v, want %s, %v and %v", tt.face, tt.other, tt.room, films, tt.direction, other, indoor[tt.direction])
		}
	}
}

func TestSurfaceResistancesRefuse(t *testing.T) {
	house := envelope.Face{Kind: envelope.Wall, Other: envelope.House}
	for _, tt := range []struct {
		face        envelope.Face
		other, room units.Temperature
	}{
		{envelope.Face{Other: envelope.House}, 24, 13},
		{envelope.Face{Kind: "wal", Other: envelope.House}, 24, 13},
		{envelope.Face{Kind: envelope.Wall}, 24, 13},
		{house, units.Temperature(math.NaN()), 13},
		{house, 24, units.Temperature(math.Inf(1))},
		{house, 75 + 32, 13},
	} {
		if films, err := envelope.SurfaceResistances(tt.face, tt.other, tt.room); err == nil {
			t.Errorf("SurfaceResistances(%v, %v, %v) = %v, want an error", tt.face, tt.other, tt.room, films)
		}
	}
}

// ASHRAE's films in both unit systems, as its table prints them.
func TestASHRAEFilms(t *testing.T) {
	for _, row := range table(t, "ashrae-2005-films.csv") {
		got := envelope.ASHRAEStillAir.Outdoor
		if row["place"] != "outdoor" {
			got = envelope.ASHRAEStillAir.Indoor[directions[row["place"]]]
		}
		if !near(envelope.RValue(got), number(t, row["ip"]), 1e-12) || !near(float64(got), number(t, row["si"]), 0.0005) {
			t.Errorf("film %s = %v (R-%v), want %s (R-%s)", row["place"], got, envelope.RValue(got), row["si"], row["ip"])
		}
	}
}

func TestAirLayerResistance(t *testing.T) {
	for _, row := range table(t, "iso6946-air-layers.csv") {
		for name, direction := range directions {
			got, err := envelope.AirLayerResistance(units.Length(number(t, row["thickness_mm"])/1000), direction)
			if err != nil || !near(float64(got), number(t, row[name]), 1e-12) {
				t.Errorf("AirLayerResistance(%s mm, %s) = %v, %v, want %s", row["thickness_mm"], name, got, err, row[name])
			}
		}
	}
	for _, d := range []units.Length{-0.001, 0.3001, units.Length(math.NaN())} {
		if r, err := envelope.AirLayerResistance(d, envelope.Upward); err == nil {
			t.Errorf("AirLayerResistance(%v) = %v, want an error", d, r)
		}
	}
}

func TestUnitFactors(t *testing.T) {
	got := map[string]float64{
		"resistance":    float64(envelope.ResistanceFromRValue(1)),
		"conductivity":  float64(envelope.ConductivityFromIP(1)),
		"transmittance": float64(envelope.TransmittanceFromIP(1)),
		"perm":          float64(envelope.PermeanceFromPerms(1)),
		"perm inch":     float64(envelope.PermeanceFromPerms(1)) * 0.0254,
	}
	for _, row := range table(t, "unit-factors-envelope.csv") {
		if !near(got[row["quantity"]], number(t, row["si"]), number(t, row["tolerance"])) {
			t.Errorf("one IP unit of %s = %v, want %s", row["quantity"], got[row["quantity"]], row["si"])
		}
	}
	for _, v := range []float64{0.03, 1, 19, 38.5} {
		for name, back := range map[string]float64{
			"R":     envelope.RValue(envelope.ResistanceFromRValue(v)),
			"U":     envelope.IPTransmittance(envelope.TransmittanceFromIP(v)),
			"k":     envelope.IPConductivity(envelope.ConductivityFromIP(v)),
			"perms": envelope.Perms(envelope.PermeanceFromPerms(v)),
			"sd":    float64(envelope.SDFromPermeance(envelope.PermeanceFromSD(units.Length(v)))),
		} {
			if !near(back, v, 1e-13*v) {
				t.Errorf("%s of %v comes back as %v", name, v, back)
			}
		}
	}
}

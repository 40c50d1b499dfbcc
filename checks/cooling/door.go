package cooling

import (
	"errors"
	"fmt"
	"math"
	"time"

	"proveout/checks/airflow"
	"proveout/checks/units"
)

// Doorway is the clear opening of a door.
type Doorway struct {
	Area   units.Area   // above 0 to 20 m²
	Height units.Length // above 0 to 6 m
}

// DoorUse says how long a door stands open in a period, normally 24 h.
type DoorUse struct {
	Passages   float64       // in the period
	PerPassage time.Duration // open time of one passage
	Standing   time.Duration // open otherwise, in the period
	Period     time.Duration
	// Protection is the share of the flow that a curtain stops: 0 none, 0.5 air
	// curtain, 0.9 strip curtain (ASHRAE Refrigeration, as read in the EnergyPlus
	// Engineering Reference).
	Protection float64
}

// Established returns what the open doorway brings in once the flow is fully
// established:
//
//	ṁ = 0.221·A·ρ_r·√(1 − ρ_i/ρ_r)·√(g·H)·F_m
//	F_m = [2/(1 + (ρ_r/ρ_i)^(1/3))]^1.5
//
// Gosney and Olama 1975; ASHRAE Refrigeration 2006 ch. 13, later ch. 24. The
// source has the room as the heavier side; when it is the lighter one, the sides
// change places.
func (d Doorway) Established(outside, room airflow.State) (airflow.Carried, error) {
	err := errors.Join(
		within("doorway area", float64(d.Area), 1e-3, 20, "m²"),
		within("doorway height", float64(d.Height), 1e-2, 6, "m"),
	)
	if err != nil {
		return airflow.Carried{}, fmt.Errorf("open door: %w", err)
	}
	heavy, lightRatio := float64(room.Density), float64(outside.Density/room.Density)
	if lightRatio > 1 {
		heavy, lightRatio = float64(outside.Density), 1/lightRatio
	}
	m := 0.221 * float64(d.Area) * heavy * math.Sqrt(1-lightRatio) *
		math.Sqrt(gravity*float64(d.Height)) * densityFactor(lightRatio)
	return airflow.Exchange(airflow.MassRate(m), outside, room)
}

// densityFactor is F_m, from the lighter over the heavier density.
func densityFactor(ratio float64) float64 {
	return math.Pow(2/(1+math.Cbrt(1/ratio)), 1.5)
}

// Average returns what a door brings in as it is used: the established flow,
// times the share of time open, the doorway flow factor, and what a curtain lets
// through.
func (d Doorway) Average(use DoorUse, outside, room airflow.State) (airflow.Carried, error) {
	open, err := use.Share()
	if err != nil {
		return airflow.Carried{}, err
	}
	full, err := d.Established(outside, room)
	if err != nil {
		return airflow.Carried{}, err
	}
	share := open * FlowFactor(outside.Temperature.Sub(room.Temperature)) * (1 - use.Protection)
	return airflow.Exchange(full.DryAir*airflow.MassRate(share), outside, room)
}

// Share returns D_t, the share of the period that the door is open, at most 1:
// (P·θ_p + θ_o)/θ_d. ASHRAE Refrigeration ch. 24 (from memory).
func (u DoorUse) Share() (float64, error) {
	err := errors.Join(
		within("door passages", u.Passages, 0, 1e4, ""),
		within("time of a passage", u.PerPassage.Seconds(), 0, day, "s"),
		within("door standing open", u.Standing.Hours(), 0, u.Period.Hours(), "h"),
		within("period", u.Period.Hours(), 0.1, 24*31, "h"),
		within("door protection", u.Protection, 0, 1, ""),
	)
	if err != nil {
		return 0, fmt.Errorf("door use: %w", err)
	}
	open := u.Passages*u.PerPassage.Seconds() + u.Standing.Seconds()
	return min(1, open/u.Period.Seconds()), nil
}

// FlowFactor returns D_f, the share of the established flow that an opening door
// reaches: 1.1 up to a difference of 11 K, 0.8 above. ASHRAE Refrigeration, as read
// in the EnergyPlus Engineering Reference (US DOE). The step
// is the source's.
func FlowFactor(difference units.TemperatureDifference) float64 {
	if math.Abs(float64(difference)) <= 11*(1+slack) {
		return 1.1
	}
	return 0.8
}

// TrafficAirChange returns the air changes per 24 h that food-service coolers of
// a volume see by door traffic, from 5.7 to 142 m³: a fit to the usage table of
// ASHRAE and RSES (from memory), within 2 % of its entries. A wine room sees far
// less; it is an upper bound.
func TrafficAirChange(volume units.Volume) (float64, error) {
	if err := within("volume", float64(volume), 5.6, 142, "m³"); err != nil {
		return 0, fmt.Errorf("traffic air change: %w", err)
	}
	return 113.96 * math.Pow(float64(volume), -0.5583), nil
}

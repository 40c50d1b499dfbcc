// Package airflow computes the air that leaks through a cold room inside a warm
// house, and the heat and water that it brings.
//
// The room's air is heavier than the house's, so that it presses outwards at the
// floor and the house's air comes in at the top: the stack of a heated house
// turned upside down.
//
//	Δp = (ρ_r − ρ_h)·g·H                     over the height H
//	V̇  = C_d·A_e·√(2Δp/ρ)                    two openings, one above the other
//	V̇  = (C/2)·(Δp/2)^n                      cracks half at the floor, half at the ceiling
//	V̇  = (C/H)·(Δρ·g)^n·(H/2)^(n+1)/(n+1)    cracks spread over the height
//	V̇  = (A_L/1000)·√(C_s·ΔT + C_w·v²)       effective leakage area, in cm² and m³/s
//
// The first four are the hydrostatic and orifice laws; the last is the basic
// model of the ASHRAE Handbook—Fundamentals, chapter 16 (Sherman and Grimsrud),
// made for houses in weather: for a room inside a house its wind term is 0. Rules
// that divide a blower-door result by 20 are for houses in weather too and are
// not here.
//
// # Validity
//
// Pressures of a few pascals, openings that stay as they are, no fan or wind.
// The flow in equals the flow out by volume at the mean density, which is off by
// half the difference in density: 2 % at 24 and 13 °C. The discharge
// coefficient of 0.6 is that of a sharp-edged opening; a deep, narrow gap has
// less, so that the flow is on the high side. House and room should be steady.
package airflow

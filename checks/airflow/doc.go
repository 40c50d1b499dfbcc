// Package airflow computes the air that leaks through a cold room inside a warm
// house, the heat and water that it brings, and the fan test that measures it.
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
// # Fan test
//
//	Δp = Δp_read − (Δp_01 + Δp_02)/2     q_env = q_fan·ρ_int/ρ_ext, or ρ_ext/ρ_int blown in
//	ln q = ln C + n·ln Δp                least squares, 95 % interval by Student's t
//	C_L = C·(ρ/ρ0)^(1−n)                 ISO 9972:2015, ρ0 1.20 kg/m³
//	C_0 = C·(μ/μ0)^(2n−1)·(ρ/ρ0)^(1−n)   ASTM E779-19, ρ0 1.2041 kg/m³ (from memory)
//	ELA = C·√(ρ0/2)·Δp^(n−½)             at 4 Pa (E779) or 10 Pa
//
// Int is the room, ext the house around it. FanTest, FanResult, Leakage and Refusals
// hold what goes in, what comes out, and why the standard does not accept data. The
// standards themselves could not be read; the limits are from guides to them, each
// marked beside its constant.
//
// # Validity
//
// Pressures of a few pascals, openings that stay as they are, no fan or wind.
// The flow in equals the flow out by volume at the mean density, which is off by
// half the difference in density: 2 % at 24 and 13 °C. The discharge
// coefficient of 0.6 is that of a sharp-edged opening; a deep, narrow gap has
// less, so that the flow is on the high side. House and room should be steady.
package airflow

// Package envelope computes heat and water vapor through the faces of a room
// that is colder than the house around it.
//
// A face is an Assembly: layers listed from the other side (house, outdoors,
// attic, garage, crawl space, ground) inwards to the room. Nothing in the
// package assumes which side is warmer. The direction of heat is computed from
// the two temperatures, and with it the surface resistances and the air layers;
// the vapor calculation is free of direction altogether.
//
// # Thermal: ISO 6946:2017 (clause numbers from memory)
//
//	symbol   name here                     unit
//	R        ThermalResistance             m²·K/W
//	Rs       Films.OtherSide, Films.Room   m²·K/W
//	R'_T     AssemblyResistance.Upper      m²·K/W, ASHRAE: parallel path
//	R''_T    AssemblyResistance.Lower      m²·K/W, ASHRAE: isothermal planes
//	R_T      AssemblyResistance.Total      m²·K/W, combined method
//	U        Transmittance                 W/(m²·K)
//	λ        Conductivity                  W/(m·K)
//	f        Section.Fraction              1, share of the area
//
// The combined method holds while R'_T ≤ 1.5 R”_T and no metal bridges the
// insulation; outside of that there is an error and no number. Known
// deviations: the correction for rain on inverted roofs is left out, air layers
// are those between surfaces of high emittance, and a partition or an unheated
// space gets indoor surface resistances on both sides.
//
// # Vapor: ISO 13788:2012 (clause numbers from memory)
//
//	symbol   name here                     unit
//	δ0       StillAirPermeability          kg/(m·s·Pa)
//	μ        Mu                            1
//	s_d      SD                            m
//	p, p_sat Air.VaporPressure, …         Pa
//	g_c      PlaneBalance rates            kg/(m²·s)
//	M_a      PlaneBalance.Mass             kg/m²
//
// Saturation pressures are those of ISO 13788 Annex E throughout. The method
// knows no air movement, no liquid transport and no sorption: a pass is
// necessary, not sufficient. Known deviation: a plane that dries within a month
// is dry for the rest of that month, so that mass is conserved. The standard's
// rule, to take it as wet for the whole month and to set a negative mass to
// zero, gives that plane the same masses but lets it wet its neighbors with
// water that is not there.
package envelope

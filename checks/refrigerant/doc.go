// Package refrigerant holds tables of refrigerants and judges the refrigerant line:
// whether it is tight and dry, sized, insulated and charged as it should be.
//
//	fluid, saturation   tables of fifteen refrigerants, p(T) and T(p), vapor, liquid
//	superheat           superheat from dew, subcooling from bubble
//	circuit, liquid     line sizing, oil return, flash at the valve, added charge
//	standing, filling   standing nitrogen test, highest pressure to fill to
//	evacuation, rise    vacuum after isolation, leak or moisture
//	sweat, drain        insulation against sweating, slope and trap of the drain
//	roomcharge          charge against the size of a room; the listing governs
//
// # Line sizing
//
//	ṁ = Q/(h_coil − h_liquid)   v = ṁ/(ρA)   Re = ρvD/µ
//	f = 64/Re below 2300, else Haaland      Δp = f·(L_e/D)·ρv²/2
//	ΔT_sat = Δp/(dp/dT of dew)              v_min = 0.7225·√(ρ_g(ρ_l − ρ_g)gD)/ρ_g
//
// Between rows ln p is straight in 1/T, densities and enthalpies in T. Liquid is that
// of saturation at its own temperature; 5 K of subcooling change its density by about
// 0.1 % (R513A at 40 °C, CoolProp, computed).
//
// # Standing test
//
// The standing test compares the pressure of dry nitrogen at the end of a hold
// with the pressure that the temperature of the line alone would give:
//
//	p2 = p1·T2/T1        absolute pressures, absolute temperatures
//
// which is the formula p2 = (p1 + 14.7)(t2 + 460)/(t1 + 460) − 14.7 of the
// United States federal guide specification for compressed-gas piping (UFGS
// 15217), with the barometer in place of the fixed 14.7 psi. A fixed correction
// of 0.3 psi per °F, found in a sister specification (UFGS 15182), holds near
// 150 psig only and is not used.
//
// # Decision rule
//
// L is the allowed loss, U the expanded uncertainty (k = 2) of the difference
// between expected and read pressure, ILAC-G8:09/2019 the source of the idea
// that acceptance keeps a guard band of U below the limit.
//
//	pass       loss + U ≤ L, a gain counted as no loss; so never when U > L
//	fail       loss > L and loss > U: more than allowed, and not explained by
//	           the instruments
//	undecided  everything between; also a gain beyond U, a hold not finished,
//	           a start below the pressure that was asked for
//
// A coarse gauge therefore never makes a test easier to pass. A reading above
// the nameplate fails whatever the loss.
//
// # Validity
//
// Dry nitrogen, no liquid, gauge readings up to 600 psig (4.14 MPa), line
// temperature −20 to 60 °C measured on the tube in shade. Nitrogen is not quite
// ideal: at constant volume its pressure follows temperature more steeply, by
// 2.7 % at 150 psig and 9.9 % at 600 psig (Lemmon and others' reference equation
// as evaluated by CoolProp, 24 °C, computed). The expected pressure stays the
// published ideal-gas one, which can be checked with a pencil; the difference
// is added to U in full. Away from 24 °C that difference itself changes by
// about 1.2 % of its value per kelvin (estimated from second virial
// coefficients, from memory), which is left out.
package refrigerant

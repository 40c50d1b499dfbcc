// Package proof tells what the logs of a cooled room prove.
//
// Analyse takes the loggers with their places, what is known of the room, its
// unit and its design day, and returns one Analysis. The single analyses stand
// beside it and can be used alone. Loggers are looked at first: what sits in the
// supply air, stands still, jumps, drifts, counts in °F or runs on another clock
// is named and kept out of every proof, with the reason.
//
//	Sound, Analysis.Findings   faults of loggers and of the room, named
//	States, Cycles             duty and cycling, from power, current, counter, events
//	FitLine, Signature, Hold   heat removed a day over temperature difference; will it hold
//	Decay                      time constant with the unit off
//	Plate.Resistance           ISO 9869-1 average method
//	Growth, Overlay            mold index of a place; does the room's air follow the house
//	Fit                        bottle conductance and UA from the pull-down
//	Compare                    a later log against the commissioning baseline
//
// # Energy signature
//
//	x = Σ w_j·T_j − T_r           w_j = U_jA_j/ΣUA, T_j beside the faces, daily means
//	y = duty·Q(T_r, T_o) − latent − ΣC·dT/dt
//	y = b0 + b1·x                 b1 is UA with leaks, b0 heat inside
//
// Least squares; s is widened for autocorrelation by √((n − 2)/(n′ − 2)), n′ =
// n(1 − ρ1)/(1 + ρ1) (ASHRAE Guideline 14, from memory). When the heat inside is
// known from labels and the water from the drain, b0 is known within its own
// uncertainty and the line is held there as a measured point is (generalized
// least squares); where the days disagree with it the days alone count. What is
// not scatter, offsets of loggers, shares of faces, the maker's capacity, heat
// capacities, is moved one at a time by its standard uncertainty and the fit done
// again (JCGM 100:2008, 5.1.3 note 2, from memory). Expanded uncertainties and
// intervals are for 95 %.
//
// # Symbols and names
//
//	b0, b1, s, ρ1, n′   Line.Intercept, Slope, S, Lag1, Effective
//	UA, ΣC, τ           Signature.UA, Room.Light + Room.Bottles, Decay.TimeConstant
//	H                   Fit.Coupling
//	R, Σq               Resistance.Value
//
// # Validity
//
// Rooms of one air temperature whose heat flows are steady over a day: light and
// ordinary walls. A day's mean does not see heat that a heavy wall keeps for
// longer; that shows as autocorrelation. Limits are common practice or this
// project's own, as said beside each; none of them is a standard's unless named.
package proof

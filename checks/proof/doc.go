// Package proof tells what the logs of a cooled room prove.
//
// Analyse takes the loggers with their places, what is known of the room, its
// unit and its design day, and returns one Analysis. The single analyses stand
// beside it and can be used alone. Loggers are looked at first: what sits in the
// supply air, stands still, jumps, drifts, counts in °F or runs on another clock
// is named and kept out of every proof, with the reason.
//
//	Analysis.Findings          faults of loggers and of the room, named
//	Analysis.PullDowns         and Keeping, Spread: by package logs, of sound places
//	StatesOf, States.Cycles    duty and cycling, from power, current, counter, events
//	Analysis.Signature         heat removed a day over temperature difference: UA
//	Analysis.Hold              will it hold on the design day
//	Analysis.Decay             time constant with the unit off
//	Analysis.Fit               bottle conductance and UA from the pull-down
//	Plate.Resistance           ISO 9869-1 average method
//	Growth                     mold index of a place
//	Analysis.Overlay           does the room's moisture follow the house's
//	SaltPoints.Correction      a hygrometer put right at two points
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
// not scatter is moved one at a time by its standard uncertainty and the fit done
// again (JCGM 100:2008, 5.1.3 note 2, from memory): offsets of loggers, shares of
// faces, how late walls answer, the maker's capacity, heat capacities. Intervals
// are for 95 %. Over rooms of known truth in the tests they hold it in 94 to 97 of
// a hundred.
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
// longer; that shows as autocorrelation. Clocks are compared among the room's
// loggers and with the unit; that of a logger elsewhere cannot be. Limits are
// common practice or this project's own, as said beside each; none of them is a
// standard's unless named.
package proof

// Package wiring computes the voltage that a circuit loses between its panel and
// its load.
//
// For two conductors carrying current I over a one-way length L,
//
//	drop = 2·L·r·I        share = drop/U
//
// with r the resistance of one conductor per length and U the voltage at the
// panel. The formula serves direct current and single-phase alternating current
// alike. Reactance x is left out: whatever the power factor, it raises the drop
// by at most √(1 + (x/r)²) − 1, with x of about 0.05 Ω per 1000 ft (NEC Chapter 9
// Table 9, from memory) 0.5 % at 6 AWG and 3 % at 2 AWG. Three-phase circuits are
// not covered.
//
// Resistances are those of copper at its working temperature: 75 °C in NEC
// Chapter 9 Table 8, 70 °C in BS 7671 Appendix 4. A circuit that runs cooler
// loses less, by 0.4 % per kelvin.
//
// The drop says nothing of what current a conductor may carry, how it must be
// protected, or what its terminals take: a licensed electrician decides. The
// limits in use, 3 % for a branch circuit and 5 % from the service on, are
// informational notes in the NEC.
package wiring

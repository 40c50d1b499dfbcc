// Package wiring computes the voltage that a circuit loses between its panel and
// its load, what current a conductor may carry where it lies, whether a circuit
// suits the plate of its unit, and what its insulation must read.
//
// For two conductors carrying current I over a one-way length L,
//
//	drop = 2·L·r·I        share = drop/U
//
// with r the resistance of one conductor per length and U the voltage at the
// panel. The formula serves direct current, lights at 12 or 24 V among it, and
// single-phase alternating current alike. A balanced three-phase load loses √3
// in place of 2, with U between two phases. Reactance x is left out: whatever the
// power factor, it raises the drop by at most √(1 + (x/r)²) − 1, with x of about
// 0.05 Ω per 1000 ft (NEC Chapter 9 Table 9, from memory) 0.5 % at 6 AWG and 3 %
// at 2 AWG.
//
// Resistances are those of copper at its working temperature: 75 °C in NEC
// Chapter 9 Table 8; IEC 60228 at 20 °C brought to 70 °C for metric sizes. A
// circuit that runs cooler loses less, by 0.4 % per kelvin.
//
// The drop says nothing of what current a conductor may carry, nor of what its
// terminals take. Ampacity does, by the tables of an Edition. All of it is for
// the crew that plans and checks: a licensed electrician decides, by the edition
// the place has adopted. The limits in use for the drop, 3 % for a branch circuit
// and 5 % from the service on, are informational notes in the NEC.
package wiring

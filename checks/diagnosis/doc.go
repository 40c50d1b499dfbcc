// Package diagnosis says why a cooled room in a warm house fails, from what was read
// on the visit: the causes with the evidence for and against each, how certain they
// are, and which reading would decide between those that remain.
//
// It reasons as a careful mechanic does. First it lists the signs that something is
// wrong: a room above its set point, a unit that hardly rests, humidity outside its
// band, a room that follows the house, short cycles, an uneven room, sweating
// surfaces, wet framing, water at the unit, mold, trouble in summer only or when a
// dryer runs. Each sign has a short list of causes that can make it. Then it asks,
// in this order, what tells them apart:
//
//	does the unit rest?       warm and resting: control; warm and never resting: go on
//	does it do its work?      split against the data sheet's, corrected for room,
//	                          humidity and intake; with airflow, frost and intake this
//	                          tells air, heat rejection and the unit itself apart
//	where is the heat from?   load as found item by item against the capacity; what
//	                          leak, insulation, door and glass, hot condenser and size
//	                          each account for; heat taken out against heat coming in
//	where is the water from?  house followed or not, coil wet or dry, condensate,
//	                          vapor profile of each face, pour test, history
//
// A cause is named only on a reading. The unit is blamed only when its split says so
// after correction, or when even a sound room would be too much for it; the envelope
// only when a sound unit could not hold the room as found, or when a surface, the
// condensate, the loggers or the framing show the fault by themselves. A sign whose
// deciding reading is missing leaves the answer undecided, with that reading named.
// A room is sound only when every sign was looked for.
//
// # Formulas
//
//	split expected   ΔT_sheet · Q/Q_sheet · SHR/SHR_sheet
//	heat taken out   sensible by split and the sheet's airflow, + condensate · 2501 kJ/kg
//	leak             condensate / (W_house − W_room), or a fan test; the door's gap and
//	                 old holes by the orifice law and the cold room's stack
//	leak elsewhere   flow · √(ΔT'/ΔT), the law of a stack
//	U by a surface   (θ_other − θ_s) / (Rs · (θ_other − θ_room))
//	shortage         load at the set point − capacity at the set point and the intake
//	share            what the shortage would be smaller by, were that one thing sound
//	gain             slope of the room's vapor pressure on the house's, room temperature
//	                 held; M/(M + R) in a steady room with a wet coil
//
// Sound is as planned; without a plan an ordinary room stands for it and the report
// says so. The rest is that of packages cooling (load, capacity, coil), envelope (ISO
// 6946, ISO 13788), airflow, humidair, wood and mold, with their sources.
//
// # Validity and known deviations
//
// Readings stand for a steady day. Limits are common practice or assumed (see Limits);
// no published pass limits for such rooms were found. The split is judged by a coil of
// fixed conductance whose dew point is its temperature. Vapor profiles know neither
// moving air nor storage; framing moisture of a profile is that of wood in equilibrium
// with its most humid plane. Which observation points to what is common practice of
// the trade, held in a table beside the tests; that the table's rows lead to the right
// cause is shown on invented rooms stepped through time by a simulation that shares no
// code with this package.
package diagnosis

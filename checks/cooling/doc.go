// Package cooling computes what a cold room in a warm house asks of its cooling
// unit: the load, the capacity that carries it, the humidity that results, how
// long a warm room full of bottles takes to come down, and what a year costs.
//
// # Load
//
//	transmission   Q = U·A·(T_other − T_r), each face with its own other side
//	open door      Gosney and Olama 1975, as in ASHRAE Refrigeration
//	leaks          ṁ·(h_other − h_r), split in sensible and latent
//	diffusion      permeance·A·(p_other − p_r)·h_g, latent
//	bottles        n·C_b·(T_in − T_r)/86400
//	lights, fan, people
//	required       safety · total · 24/hours of running a day
//
// # Pull-down
//
// Two nodes, the air with what is light in the room (a) and the bottles (p), with
// a capacity that rises with the room's temperature:
//
//	C_a·dT_a/dt = UA·(T_e − T_a) + H·(T_p − T_a) + Q_i − [Q0 + q1·(T_a − T_set)]
//	C_p·dT_p/dt = H·(T_a − T_p)
//
// solved exactly by its two exponentials; after the air first meets the set
// point the thermostat holds it there and the bottles follow by e^(−t·H/C_p). The
// air is at its set point hours before the bottles: judge by the bottles.
//
// # Symbols and names
//
//	U, A, UA     Face.Transmittance, Face.Area, Conductance
//	T_r, T_e     Room.Air.Temperature, PullDown.Source
//	Q0, q1       PullDown.Capacity, PullDown.PerKelvin
//	C_a, C_p, H  PullDown.Light, PullDown.Bottles, PullDown.Coupling
//	T_ss         Course.Stall
//	T_ADP        Coil.DewPoint, the apparatus dew point
//	M, R, G      Moisture.Exchange, coil flow, Moisture.Inside
//
// # Validity
//
// Rooms of one air temperature between about 0 and 25 °C, air-cooled units with a
// coil above freezing, heat flows in step with temperatures (no storage in walls
// but what is counted in C_a). Air properties by package humidair, whose deviation
// in humidity ratio, 0.5 %, carries over. Slopes of capacity are thermodynamic
// ones of the refrigerant (CoolProp, computed) and do not replace a maker's table.
// Figures from ASHRAE Refrigeration ch. 24 are from memory throughout.
package cooling

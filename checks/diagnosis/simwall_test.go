package diagnosis_test

import "math"

// Walls of the simulation: steady heat, and vapor stepped through a year. Like the room
// it shares no code with what it tests.

// simSurface is the temperature of the other side of a face with film resistance rs.
func simSurface(u, rs, other, room float64) float64 { return other - u*rs*(other-room) }

// simLayer is a layer of a wall in the vapor simulation: its thermal resistance, its
// diffusion resistance as a length of still air, and the water that it holds, kg/m²
// between dry and saturated.
type simLayer struct{ r, sd, holds float64 }

// simBay steps vapor through a wall for a year and returns the highest moisture of
// wood, %, at any of its planes, and where: 0 at the other side's first plane.
func simBay(layers []simLayer, film, other, otherRH, room, roomRH float64) (moisture float64, plane int) {
	temperature, holds := simPlanes(layers, film, other, room)
	n := len(holds)
	water := make([]float64, n)
	for i := range n {
		water[i] = 0.5 * holds[i]
	}
	p := func(i int) float64 {
		switch i {
		case 0:
			return otherRH / 100 * magnus(other)
		case n - 1:
			return roomRH / 100 * magnus(room)
		}
		return math.Min(1, water[i]/holds[i]) * magnus(temperature[i])
	}
	const still, step = 2e-10, 300.0 // kg/(m·s·Pa), s
	flow := make([]float64, len(layers))
	for range int(365 * 86400 / step) {
		for i, l := range layers {
			flow[i] = still * (p(i) - p(i+1)) / math.Max(l.sd, 0.02)
		}
		for i := 1; i < n-1; i++ {
			water[i] += step * (flow[i-1] - flow[i])
		}
	}
	for i := 1; i < n-1; i++ {
		if m := woodAt(water[i] / holds[i]); m > moisture {
			moisture, plane = m, i
		}
	}
	return moisture, plane
}

// simPlanes returns the temperature of each plane and the water that it holds.
func simPlanes(layers []simLayer, film, other, room float64) (temperature, holds []float64) {
	total := 2 * film
	for _, l := range layers {
		total += l.r
	}
	n := len(layers) + 1
	temperature, holds = make([]float64, n), make([]float64, n)
	at := other - (other-room)/total*film
	for i := range n {
		temperature[i] = at
		if i < len(layers) {
			at -= (other - room) / total * layers[i].r
			holds[i] += layers[i].holds / 2
			holds[i+1] += layers[i].holds / 2
		}
	}
	for i := range n {
		holds[i] = math.Max(holds[i], 0.05)
	}
	return temperature, holds
}

// woodAt is the moisture of wood at a relative humidity from 0 to 1, from table 4-2
// of the Wood Handbook at 50 °F (from memory), and more above 95 %.
func woodAt(phi float64) float64 {
	rh := []float64{0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.85, 0.9, 0.95, 1}
	mc := []float64{0, 2.6, 4.6, 6.3, 7.9, 9.5, 11.2, 13.4, 16.4, 18.4, 20.9, 24.3, 28}
	for i := 1; i < len(rh); i++ {
		if phi <= rh[i] {
			return mc[i-1] + (mc[i]-mc[i-1])*(phi-rh[i-1])/(rh[i]-rh[i-1])
		}
	}
	return 28 + math.Min(10, 10*(phi-1)) // free water beside the wood
}

package proof_test

import (
	"math"
	"math/rand/v2"
)

// The rooms of these tests are stepped through time by a model that shares nothing
// with the analysis: an air node, one for boards and racks, one for the bottles, a
// node of mass in each wall, moisture with a buffer, a thermostat with a lagging
// sensor, doors that people open, weather with a memory. Its figures are drawn
// from ranges of real rooms (assumed) and not from what suits a method: walls
// differ from their design, makers' capacities from the units, loggers from the
// truth, and all of that by as much as the input says it may.

// simSide is what lies beyond some walls.
type simSide struct {
	name    string
	design  float64 // W/K, leaks included
	ua      float64 // through the walls, true
	mass    float64 // J/K in the middle of the wall
	node    float64 // °C
	now     float64 // °C beyond it
	climate func(t float64) float64
	hot     float64 // design day, daily mean
}

// simRoom is a room with its unit and people.
type simRoom struct {
	rng                            *rand.Rand
	sides                          []simSide
	leak                           float64 // kg/s of house air
	diffusion                      float64 // kg/s of air that brings the same vapor
	airC, lightC, bottleC          float64 // J/K
	airLight, airBottle            float64 // W/K
	lights, fan                    float64 // W, mean of the lights; fan
	fanAlways                      bool
	capacity                       float64 // at 13 °C room, 35 °C intake, W, net of a fan that cycles
	nominal                        float64 // what the maker says
	perRoom, perIntake             float64 // true slopes, share per K
	adp                            float64 // °C, of the coil
	running                        float64 // W electric
	set, band, lag, minOff, minOn  float64
	houseDew                       func(t float64) float64
	outdoors                       func(t float64) float64
	doors                          [][2]float64 // s
	switchOn, offFrom, offTo, ends float64      // s
	air, light, bottle, sensed, w  float64      // state; w kg/kg
	on, defrosting                 bool
	since                          float64 // s since the last switch
	drained                        float64 // kg
	cooled                         float64 // s of running
	defrostEvery, defrostFor       float64 // s
	bottles                        int
	testEnds                       float64
	minute                         int
	open                           bool
	wHouse, wCoil, intake          float64
	expected                       float64 // kg of condensate a day, by the design
}

const simStep = 15.0 // s

const simDoorFlow = 0.12 // kg/s through the open door (Gosney and Olama give 0.1 to 0.2)

// satRatio is the humidity ratio of saturation by the Magnus form (WMO, from memory).
func satRatio(t float64) float64 {
	p := 611.2 * math.Exp(17.62*t/(243.12+t))
	return 0.622 * p / (101325 - p)
}

func (r *simRoom) opened(t float64) bool {
	for _, d := range r.doors {
		if t >= d[0] && t < d[1] {
			return true
		}
	}
	return false
}

// rests reports whether the unit is off for the test, which ends with the log
// unless it is said when.
func (r *simRoom) rests(t float64) bool {
	until := r.offTo
	if r.testEnds > 0 {
		until = r.testEnds
	}
	return t >= r.offFrom && t < until
}

// thermostat switches the unit.
func (r *simRoom) thermostat(t float64) {
	r.sensed += simStep / r.lag * (r.air - r.sensed)
	r.since += simStep
	off := t < r.switchOn || r.rests(t)
	r.defrosting = r.defrostEvery > 0 && t > r.switchOn && math.Mod(t-r.switchOn, r.defrostEvery) > r.defrostEvery-r.defrostFor
	want := r.on
	switch {
	case off || r.defrosting:
		want = false
	case r.sensed > r.set+r.band/2 && r.since >= r.minOff:
		want = true
	case r.sensed < r.set-r.band/2 && r.since >= r.minOn:
		want = false
	}
	if want != r.on {
		r.on, r.since = want, 0
	}
}

// surroundings renews what changes slowly once a minute.
func (r *simRoom) surroundings(t float64) {
	if r.minute--; r.minute > 0 {
		return
	}
	r.minute = 4
	for i := range r.sides {
		r.sides[i].now = r.sides[i].climate(t)
	}
	r.wHouse, r.wCoil, r.intake = satRatio(r.houseDew(t)), satRatio(r.adp), max(15, r.outdoors(t))
	r.open = r.opened(t) || r.opened(t+simStep) || r.opened(t+2*simStep)
}

// step moves the room on by simStep.
func (r *simRoom) step(t float64) {
	r.thermostat(t)
	r.surroundings(t)
	house, wHouse := r.sides[0].now, r.wHouse
	flow := r.leak
	if r.open {
		flow += simDoorFlow
	}
	heat := flow * 1006 * (house - r.air)
	for i := range r.sides {
		s := &r.sides[i]
		// Half of the wall's resistance on either side of its mass.
		in, out := 2*s.ua*(s.node-r.air), 2*s.ua*(s.now-s.node)
		s.node += simStep / s.mass * (out - in)
		heat += in
	}
	heat += r.lights
	powered := t >= r.switchOn && !r.rests(t)
	if r.fanAlways && powered {
		heat += r.fan
	}
	if !powered {
		heat -= r.lights // nobody goes in while the test runs
	}
	if r.defrosting {
		heat += 700 // heater, and the coil gives off its warmth
	}
	water := (flow + r.diffusion) * (wHouse - r.w)
	if r.on {
		sensible, latent := r.coil()
		heat -= sensible
		water -= latent / 2501e3
		r.drained += latent / 2501e3 * simStep
		r.cooled += simStep
	}
	toLight, toBottle := r.airLight*(r.air-r.light), r.airBottle*(r.air-r.bottle)
	r.air += simStep / r.airC * (heat - toLight - toBottle)
	r.light += simStep / r.lightC * toLight
	r.bottle += simStep / r.bottleC * toBottle
	const buffer = 180 // kg of air that holds as much water as air, paper and wood do
	r.w += simStep / buffer * water
}

// coil returns what the running unit takes out.
func (r *simRoom) coil() (sensible, latent float64) {
	total := r.capacity * (1 + r.perRoom*(r.air-13) - r.perIntake*(r.intake-35))
	if r.w <= r.wCoil {
		return total, 0
	}
	ratio := 2501e3 * (r.w - r.wCoil) / (1006 * max(1, r.air-r.adp))
	return total / (1 + ratio), total * ratio / (1 + ratio)
}

func (r *simRoom) rh() float64 { return min(100, 100*r.w/satRatio(r.air)) }

// uaTrue is the conductance with leaks.
func (r *simRoom) uaTrue() float64 {
	ua := r.leak * 1006
	for _, s := range r.sides {
		ua += s.ua
	}
	return ua
}

// copyOf returns the room in steady surroundings, with state and sides of its own.
func (r *simRoom) copyOf(temperature func(i int) float64) *simRoom {
	c := *r
	c.sides = append([]simSide(nil), r.sides...)
	for i := range c.sides {
		t := temperature(i)
		c.sides[i].climate = func(float64) float64 { return t }
		c.sides[i].node = (t + r.set) / 2
	}
	c.air, c.light, c.bottle, c.sensed = r.set, r.set, r.set, r.set
	c.switchOn, c.offFrom, c.offTo, c.doors, c.defrostEvery = 0, 0, 0, nil, 0
	return &c
}

// slowTau measures the slow time constant: unit off, surroundings steady, the slope
// of the logarithm long after the start.
func (r *simRoom) slowTau() float64 {
	c := r.copyOf(func(int) float64 { return 24 })
	c.switchOn, c.lights, c.fanAlways = 1e12, 0, false
	c.houseDew = func(float64) float64 { return 5 }
	const a, b = 40 * 3600.0, 50 * 3600.0
	var da float64
	for t := 0.0; t < b; t += simStep {
		if t == a {
			da = 24 - c.air
		}
		c.step(t)
	}
	return (b - a) / math.Log(da/(24-c.air))
}

// hotDuty runs the design day, after two like it, and returns its duty.
func (r *simRoom) hotDuty() float64 {
	c := r.copyOf(func(i int) float64 { return r.sides[i].hot })
	c.outdoors = func(float64) float64 { return simHotIntake }
	const days = 3
	// The house is as damp as it was on average.
	dew := 0.0
	for h := range int(r.ends / 3600) {
		dew += r.houseDew(float64(h)*3600) / math.Floor(r.ends/3600)
	}
	c.houseDew = func(float64) float64 { return dew }
	for range r.rng.IntN(5) { // as on any other day
		t := (days-1)*86400 + r.rng.Float64()*86400
		c.doors = append(c.doors, [2]float64{t, t + 20 + 100*r.rng.Float64()})
	}
	before := 0.0
	for t := 0.0; t < days*86400; t += simStep {
		if t == (days-1)*86400 {
			before = c.cooled
		}
		c.step(t)
	}
	return (c.cooled - before) / 86400
}

const simHotIntake = 38.0

// memory is a course of weather: steps of an hour with a memory of days, in between straight.
func memory(rng *rand.Rand, sd, hours float64) func(t float64) float64 {
	const n = 24 * 24
	values := make([]float64, n)
	keep := math.Exp(-1 / hours)
	x := sd * rng.NormFloat64()
	for i := range values {
		values[i] = x
		x = keep*x + sd*math.Sqrt(1-keep*keep)*rng.NormFloat64()
	}
	return func(t float64) float64 {
		at := min(max(0, t/3600), n-2)
		i := int(at)
		return values[i] + (at-float64(i))*(values[i+1]-values[i])
	}
}

// simWeather is one kind of weather; °C.
type simWeather struct{ mean, day, sd, dew, dewSD float64 }

var simWeathers = []simWeather{
	{29, 6, 2.5, 15, 1.5}, // hot summer
	{18, 5, 3.5, 11, 2},   // spring
	{4, 4, 4, 5, 2},       // winter, heated house
	{15, 7, 6, 9, 2.5},    // inland, fronts
	{25, 3, 2, 17, 1.2},   // humid coast
	{33, 8, 1.5, 8, 2},    // desert
}

// newRoom draws a room. Its log runs for days after the switching-on at 6 h, then
// the unit is off for 18 h.
func newRoom(seed uint64, days float64) *simRoom { return newRoomIn(seed, days, nil) }

// simSeason is weather and a house that a test wants; the room is the seed's.
type simSeason struct {
	simWeather
	house float64
}

func newRoomIn(seed uint64, days float64, season *simSeason) *simRoom {
	rng := rand.New(rand.NewPCG(seed, 7))
	r := &simRoom{rng: rng, set: 13, band: 1.0, lag: 120 + 240*rng.Float64(), minOff: 300, minOn: 360}
	uniform := func(a, b float64) float64 { return a + (b-a)*rng.Float64() }
	w := simWeathers[rng.IntN(len(simWeathers))]
	houseMean := uniform(21, 24.5)
	if season != nil {
		w, houseMean = season.simWeather, season.house
	}
	slow := memory(rng, w.sd, 40)
	r.outdoors = func(t float64) float64 {
		return w.mean + slow(t) + w.day*math.Sin(2*math.Pi*(t/86400-0.4))
	}
	out := r.outdoors
	houseSlow, swing := memory(rng, uniform(0.2, 0.8), 30), uniform(0.2, 0.9)
	house := func(t float64) float64 {
		return houseMean + houseSlow(t) + swing*math.Sin(2*math.Pi*(t/86400-0.35))
	}
	dewSlow := memory(rng, w.dewSD, 30)
	r.houseDew = func(t float64) float64 { return min(w.dew+dewSlow(t), house(t)-2) }
	r.leak = uniform(0.0005, 0.0022)
	r.diffusion = uniform(0.0001, 0.0006)
	works := math.Exp(0.08 * rng.NormFloat64()) // how the walls came out, all of them
	side := func(name string, design, hot float64, climate func(float64) float64) {
		leak := 0.0
		if name == "house" {
			leak = r.leak * 1006
		}
		ua := design * works * (1 + 0.10*rng.NormFloat64())
		r.sides = append(r.sides, simSide{name: name, design: design + leak*(1+0.2*rng.NormFloat64()), ua: max(0.3*design, ua), mass: uniform(60e3, 350e3), hot: hot, climate: climate})
	}
	side("house", uniform(7, 14), 25, house)
	switch rng.IntN(4) {
	case 1:
		side("outdoors", uniform(2, 5), 34, out)
	case 2:
		side("attic", uniform(2, 4), 44, func(t float64) float64 {
			return out(t) + 14*math.Pow(max(0, math.Sin(2*math.Pi*(t/86400-0.3))), 1.3)
		})
	case 3:
		cellar := memory(rng, 0.8, 90)
		side("garage", uniform(2, 5), 31, func(t float64) float64 { return 0.7*(w.mean+slow(t)) + 6 + 2*math.Sin(2*math.Pi*(t/86400-0.45)) })
		side("crawl space", uniform(1, 3), 21, func(t float64) float64 { return 15 + 0.15*(w.mean-15) + cellar(t) })
	}
	r.contents(uniform)
	r.machine(uniform)
	r.visits(days)
	r.switchOn, r.ends = 6*3600, 6*3600+days*86400
	r.offFrom, r.offTo = r.ends, r.ends+18*3600
	r.air = house(0)
	r.light, r.bottle, r.sensed = r.air, r.air, r.air
	for i := range r.sides {
		r.sides[i].node = (r.sides[i].climate(0) + r.air) / 2
	}
	r.w = 0.95 * satRatio(r.houseDew(0))
	r.expectWater()
	return r
}

func (r *simRoom) contents(uniform func(a, b float64) float64) {
	r.airC, r.lightC, r.airLight = uniform(20e3, 35e3), uniform(250e3, 550e3), uniform(350, 600)
	r.bottles = int(uniform(200, 900))
	r.bottleC = float64(r.bottles) * 3540 * (1 + 0.03*r.rng.NormFloat64())
	r.airBottle = float64(r.bottles) * 0.0597 * uniform(2.5, 5)
}

// machine draws the unit, for a duty of 40 to 68 % on the design day by its data.
func (r *simRoom) machine(uniform func(a, b float64) float64) {
	r.lights, r.fan, r.fanAlways = uniform(0, 15), uniform(20, 45), r.rng.IntN(2) == 0
	load := r.lights + 30
	if r.fanAlways {
		load += r.fan
	}
	for _, s := range r.sides {
		load += s.design * (s.hot - 13)
	}
	hot := load / uniform(0.40, 0.68)
	r.nominal = hot / (1 - 0.0108*(simHotIntake-35))
	r.capacity = r.nominal * (1 + 0.04*r.rng.NormFloat64())
	r.perRoom, r.perIntake = 0.0304*uniform(0.9, 1.1), 0.0108*uniform(0.9, 1.1)
	r.adp = uniform(3.5, 6)
	r.running = uniform(250, 700)
}

// visits are the openings of the door: several a day, short.
func (r *simRoom) visits(days float64) {
	for d := range int(days) {
		for range r.rng.IntN(5) {
			t := 6*3600 + float64(d)*86400 + 86400*r.rng.Float64()
			r.doors = append(r.doors, [2]float64{t, t + 20 + 100*r.rng.Float64()})
		}
	}
}

// expectWater is the water that the design makes of the house's mean dew point; it is
// within a quarter of what the room will do.
func (r *simRoom) expectWater() {
	damp := 0.0
	const hours = 240
	for h := range hours {
		damp += satRatio(r.houseDew(float64(h)*3600)) / hours
	}
	r.expected = max(0.1, (r.leak+r.diffusion)*(damp-satRatio(r.adp)-0.0005)*86400*math.Exp(0.12*r.rng.NormFloat64()))
}

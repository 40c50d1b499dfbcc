package diagnosis_test

import (
	"math"
	"math/rand/v2"
)

// This file is a cold room stepped through time, to make readings of which the cause
// is known. It shares no code with the diagnosis or the packages under it: it has
// its own moist air (Magnus), its own unit, its own leaks and its own walls. A test
// holds it to its imports.

// magnus returns the saturation pressure of water, Pa. WMO Guide to Instruments
// (2008), annex 4.B, with the coefficients of Sonntag 1990 (from memory).
func magnus(t float64) float64 { return 611.2 * math.Exp(17.62*t/(243.12+t)) }

const (
	simPressure = 101325.0
	simLatent   = 2.5e6
	simHeat     = 1015.0 // J/(kg·K) of room air
)

func simRatio(pv float64) float64 { return 0.622 * pv / (simPressure - pv) }
func simVapor(w float64) float64  { return w * simPressure / (0.622 + w) }

// simDensity of moist air.
func simDensity(t, w float64) float64 {
	return simPressure / (287.0 * (t + 273.15) * (1 + 1.608*w)) * (1 + w)
}

// weather is the air of one space over time: a mean with a daily swing and a slower
// one of passing weather, for temperature and for dew point.
type weather struct {
	mean, daily, slow      float64
	dew, dewDaily, dewSlow float64
}

func (w weather) at(s float64) (t, ratio float64) {
	day := 2 * math.Pi * s / 86400
	t = w.mean + w.daily*math.Sin(day-2) + w.slow*math.Sin(day/3.3)
	dew := w.dew + w.dewDaily*math.Sin(day-1) + w.dewSlow*math.Sin(day/2.7+0.5)
	return t, simRatio(magnus(math.Min(dew, t-0.2)))
}

// simFace is a face with its true transmittance.
type simFace struct {
	name    string
	area, u float64
	side    string
	far     bool // it lies on the far side of the room
}

// simUnit is a cooling unit by the balance of compressor and coil.
type simUnit struct {
	rated, a, b    float64 // W at 13 °C in the room and 35 °C intake; 1/K, 1/K
	coil           float64 // K below the room at the rating
	split          float64 // K at the rating, which fixes its airflow
	health         float64 // of the compressor, 1 in order
	air            float64 // share of its airflow, 1 in order
	intake         func(outdoors, house, attic float64) float64
	offset         float64 // control shows less true
	dial           float64 // K that the owner has turned it down
	differential   float64 // K
	supplyOnSensor float64 // share of supply air that the sensor feels
	fanAlways      bool    // fan runs on between cycles
}

// simRoom is everything that is true of a room.
type simRoom struct {
	volume, height, set float64
	spaces              map[string]weather
	faces               []simFace
	cracks              float64 // m² of holes, half low and half high, to the house
	gapLow, gapHigh     float64 // m² of door gap
	gapHeight           float64
	opening             float64 // m² of a square old hole
	openingTo           string
	dryer               float64 // m³/s of attic air while the dryer runs, 2 h in 24
	inside              float64 // W of light and fan
	water               float64 // kg/s set free inside
	bottles             float64
	light               float64 // J/K
	mixing              float64 // W/K between near and far half
	unit                simUnit
	seed                uint64
}

// simState moves with time.
type simState struct {
	near, far, bottles, w, buffer, film, sensor float64
	on                                          bool
	since                                       float64 // s since the last switch
	air                                         map[string][2]float64
	fresh                                       float64 // until when air holds, s
}

// simSeen is what instruments would have seen over the last days.
type simSeen struct {
	near, far, rh            float64
	duty, startsPerHour, run float64 // share, worst hour, shortest run in s
	split                    float64
	condensate               float64 // kg in a day
	spaceT, spaceRH          map[string]float64
	intake                   float64
	logRoom, logHouse        [][2]float64 // °C, %
	coldest                  float64      // coil
}

const (
	simStep = 15.0
	simDays = 12
	simLast = 4 // days that are logged
)

func (r *simRoom) run() simSeen {
	s := simState{near: r.set + 1, far: r.set + 1, bottles: r.set + 1, sensor: r.set + 1, w: simRatio(0.6 * magnus(r.set)), buffer: 0.6}
	rec := newRecorder(r)
	n := int(simDays * 86400 / simStep)
	for i := range n {
		t := float64(i) * simStep
		step := r.step(&s, t)
		rec.note(r, &s, step, t)
	}
	return rec.seen(r)
}

// simFlows is what one step did.
type simFlows struct {
	q, sensible, te, flow, drained, intake float64
	started                                bool
	ended                                  float64 // length of a run that ended, s
}

func (r *simRoom) step(s *simState, t float64) simFlows {
	var f simFlows
	air := r.around(s, t)
	mean := 0.6*s.near + 0.4*s.far
	r.thermostat(s, &f)
	f.intake = r.unit.intake(air["outdoors"][0], air["house"][0], air["attic"][0])
	latent := r.unit.cool(s, &f)
	heatNear, heatFar := 0.6*r.inside-f.sensible, 0.4*r.inside
	for _, face := range r.faces {
		q := face.u * face.area
		if face.far {
			heatFar += q * (air[face.side][0] - s.far)
		} else {
			heatNear += q * (air[face.side][0] - s.near)
		}
	}
	leaks, water := r.leak(air, mean, s.w, t)
	heatNear += 0.6 * leaks
	heatFar += 0.4 * leaks
	heatNear += r.mixing * (s.far - s.near)
	heatFar -= r.mixing * (s.far - s.near)
	exchange := 0.0597 * 0.6 * 6 * r.bottles // W/K between bottles and air
	heatNear += 0.6 * exchange * (s.bottles - s.near)
	heatFar += 0.4 * exchange * (s.bottles - s.far)
	s.bottles += simStep * exchange * (mean - s.bottles) / (3540 * math.Max(1, r.bottles))
	s.near += simStep * heatNear / (0.6 * r.light)
	s.far += simStep * heatFar / (0.4 * r.light)
	phi := simVapor(s.w) / magnus(mean)
	toBuffer := 4e-5 * (phi - s.buffer) // boards, corks, labels, kg/s
	s.buffer += simStep * toBuffer / 2.5
	s.w += simStep * (water + r.water - latent - toBuffer) / (r.volume * 1.22)
	s.w = math.Min(s.w, simRatio(magnus(mean)))
	return f
}

// around returns the air of the spaces, worked out every five minutes.
func (r *simRoom) around(s *simState, t float64) map[string][2]float64 {
	if s.air != nil && t < s.fresh {
		return s.air
	}
	if s.air == nil {
		s.air = map[string][2]float64{}
	}
	s.fresh = t + 300
	for name, w := range r.spaces {
		temperature, ratio := w.at(t)
		s.air[name] = [2]float64{temperature, ratio}
	}
	return s.air
}

// thermostat switches the unit by its sensor, with at least a minute between.
func (r *simRoom) thermostat(s *simState, f *simFlows) {
	u := r.unit
	felt := s.near
	if s.on {
		felt -= u.supplyOnSensor * u.split
	}
	s.sensor += simStep / 60 * (felt - s.sensor)
	shows := s.sensor + u.offset
	s.since += simStep
	switch {
	case !s.on && shows > r.set-u.dial+u.differential/2 && s.since >= 60:
		s.on, s.since, f.started = true, 0, true
	case s.on && shows < r.set-u.dial-u.differential/2 && s.since >= 30:
		f.ended = s.since
		s.on, s.since = false, 0
	}
}

// cool runs the unit for a step and returns the water it takes from the air, kg/s.
func (u simUnit) cool(s *simState, f *simFlows) float64 {
	v := u.airflow() * u.air // m³/s
	if !s.on {
		if u.fanAlways && s.film > 0 {
			evaporated := math.Min(s.film/simStep, 1.2*v*0.6*math.Max(0, simRatio(magnus(s.near))-s.w))
			s.film -= evaporated * simStep
			f.sensible = evaporated * simLatent // it cools the air that it wets
			return -evaporated
		}
		return 0
	}
	k := u.rated / u.coil * math.Pow(u.air, 0.6)
	// k·(T − Te) = health·rated·(1 + a·(Te − Te0) − b·(intake − 35))
	base := u.health * u.rated
	te := (k*s.near - base*(1-u.a*(13-u.coil)-u.b*(f.intake-35))) / (k + base*u.a)
	q := k * (s.near - te)
	sat := simRatio(magnus(te))
	water := 0.0
	if q > 0 && s.w > sat {
		dry := simHeat * (s.near - te)
		wet := simLatent * (s.w - sat)
		water = q * wet / (dry + wet) / simLatent
	}
	f.q, f.te, f.flow = q, te, v
	f.sensible = q - water*simLatent
	s.film += water * simStep
	if s.film > 0.25 {
		f.drained = s.film - 0.25
		s.film = 0.25
	}
	return water
}

// airflow is what gives the rated split in air of 13 °C and 60 %.
func (u simUnit) airflow() float64 {
	te := 13 - u.coil
	dry, wet := simHeat*u.coil, simLatent*math.Max(0, simRatio(0.6*magnus(13))-simRatio(magnus(te)))
	return u.rated * dry / (dry + wet) / (1.23 * simHeat * u.split)
}

// leak returns the heat, W, and water, kg/s, that air brings in.
func (r *simRoom) leak(air map[string][2]float64, t, w, s float64) (heat, water float64) {
	bring := func(from [2]float64, flow float64) {
		m := flow * simDensity(from[0], from[1])
		heat += m * simHeat * (from[0] - t)
		water += m * (from[1] - w)
	}
	stack := func(space string, low, high, height float64) {
		if low <= 0 || high <= 0 {
			return
		}
		a := low * high / math.Hypot(low, high)
		rho := simDensity(t, w)
		head := math.Abs(rho-simDensity(air[space][0], air[space][1])) / rho * 9.81 * height
		bring(air[space], 0.6*a*math.Sqrt(2*head))
	}
	stack("house", r.cracks/2, r.cracks/2, r.height)
	stack("house", r.gapLow, r.gapHigh, r.gapHeight)
	if r.opening > 0 {
		// Exchange through one upright opening, Q = C·A/3·√(g·H·Δρ/ρ): Brown and
		// Solvason 1962 (from memory).
		rho := simDensity(t, w)
		buoyancy := 9.81 * math.Sqrt(r.opening) * math.Abs(rho-simDensity(air[r.openingTo][0], air[r.openingTo][1])) / rho
		bring(air[r.openingTo], 0.6*r.opening/3*math.Sqrt(buoyancy))
	}
	if hour := math.Mod(s/3600, 24); r.dryer > 0 && hour >= 19 && hour < 21 {
		bring(air["attic"], r.dryer)
	}
	return heat, water
}

// warmUp switches the unit off and returns the time constant of hours 3 to 12, s.
func (r *simRoom) warmUp() float64 {
	off := *r
	off.set = 60
	off.spaces = map[string]weather{}
	for name, w := range r.spaces { // a quiet night
		off.spaces[name] = weather{mean: w.mean, dew: w.dew}
	}
	s := simState{near: r.set, far: r.set, bottles: r.set, sensor: r.set, w: simRatio(0.6 * magnus(r.set)), buffer: 0.6}
	ua, weighted := 0.0, 0.0
	for _, f := range r.faces {
		ua += f.u * f.area
		weighted += f.u * f.area * r.spaces[f.side].mean
	}
	ends := weighted/ua + r.inside/ua
	var n, sx, sy, sxx, sxy float64
	for i := range int(12 * 3600 / simStep) {
		t := float64(i) * simStep
		off.step(&s, t)
		if t < 3*3600 {
			continue
		}
		x, y := t, math.Log(ends-(0.6*s.near+0.4*s.far))
		n, sx, sy, sxx, sxy = n+1, sx+x, sy+y, sxx+x*x, sxy+x*y
	}
	return -(n*sxx - sx*sx) / (n*sxy - sx*sy)
}

// recorder is the loggers of the last days.
type recorder struct {
	random                        *rand.Rand
	n, near, far, rh, on          float64
	split, splitN, condensate     float64
	intake, intakeN               float64
	spaces                        map[string]*[3]float64
	starts                        []float64
	runs                          []float64
	coldest                       float64
	logRoom, logHouse             [][2]float64
	lastStartHour, startsThisHour int
}

func newRecorder(r *simRoom) *recorder {
	rec := &recorder{random: rand.New(rand.NewPCG(r.seed, 7)), spaces: map[string]*[3]float64{}, coldest: 99}
	for name := range r.spaces {
		rec.spaces[name] = &[3]float64{}
	}
	return rec
}

func (rec *recorder) note(r *simRoom, s *simState, f simFlows, t float64) {
	left := simDays*86400.0 - t
	if left > simLast*86400 {
		return
	}
	mean := 0.6*s.near + 0.4*s.far
	rh := 100 * simVapor(s.w) / magnus(mean)
	if math.Mod(t, 900) < simStep {
		h, w := r.spaces["house"].at(t)
		rec.logRoom = append(rec.logRoom, [2]float64{mean + rec.error(0.1), math.Min(100, rh+rec.error(0.7))})
		rec.logHouse = append(rec.logHouse, [2]float64{h + rec.error(0.1), 100*simVapor(w)/magnus(h) + rec.error(0.7)})
	}
	if left > 86400 {
		return
	}
	rec.day(r, s, f, rh, t)
}

// day sums the last day.
func (rec *recorder) day(r *simRoom, s *simState, f simFlows, rh, t float64) {
	rec.n++
	rec.near, rec.far, rec.rh = rec.near+s.near, rec.far+s.far, rec.rh+rh
	rec.condensate += f.drained
	if s.on {
		rec.on++
		rec.coldest = math.Min(rec.coldest, f.te)
		rec.intake, rec.intakeN = rec.intake+f.intake, rec.intakeN+1
		rec.split += f.sensible / (f.flow * 1.23 * simHeat)
		rec.splitN++
	}
	if hour := int(t / 3600); hour != rec.lastStartHour {
		rec.starts = append(rec.starts, float64(rec.startsThisHour))
		rec.lastStartHour, rec.startsThisHour = hour, 0
	}
	if f.started {
		rec.startsThisHour++
	}
	if f.ended > 0 {
		rec.runs = append(rec.runs, f.ended)
	}
	for name, a := range s.air {
		sum := rec.spaces[name]
		sum[0] += a[0]
		sum[1] += simVapor(a[1])
		sum[2]++
	}
}

// error is that of an instrument: normal, of a standard deviation.
func (rec *recorder) error(sd float64) float64 { return sd * rec.random.NormFloat64() }

func (rec *recorder) seen(r *simRoom) simSeen {
	out := simSeen{
		near: rec.near/rec.n + rec.error(0.1), far: rec.far/rec.n + rec.error(0.1), rh: math.Min(100, rec.rh/rec.n+rec.error(0.7)),
		duty: rec.on / rec.n, condensate: rec.condensate, coldest: rec.coldest,
		logRoom: rec.logRoom, logHouse: rec.logHouse,
		spaceT: map[string]float64{}, spaceRH: map[string]float64{},
	}
	if rec.splitN > 0 {
		out.split = rec.split/rec.splitN + rec.error(0.1)
		out.intake = rec.intake / rec.intakeN
	}
	for _, n := range rec.starts {
		out.startsPerHour = math.Max(out.startsPerHour, n)
	}
	out.run = 86400
	for _, run := range rec.runs {
		out.run = math.Min(out.run, run)
	}
	for name, sum := range rec.spaces {
		t := sum[0] / sum[2]
		out.spaceT[name] = t
		out.spaceRH[name] = math.Min(100, 100*sum[1]/sum[2]/magnus(t))
	}
	return out
}

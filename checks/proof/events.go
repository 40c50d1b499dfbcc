package proof

import (
	"fmt"
	"math"
	"slices"
	"time"

	"proveout/checks/humidair"
	"proveout/checks/logs"
	"proveout/checks/units"
)

// What counts as a door left open and as defrost; assumed, from the times that
// people need to carry bottles and that units take to melt their frost.
const (
	doorRise     = 1.5              // K above the six hours before
	doorFor      = 30 * time.Minute //
	doorDewRise  = 2.0              // K of dew point: house air came in
	doorEvent    = 10 * time.Minute // by a contact at the door
	spikeLeast   = 0.8              // K above the middle
	spikeLongest = 75 * time.Minute
	spikesLeast  = 6
	spikeRest    = 10 * time.Minute // the unit stays off although it is warm
)

// quick is the room's air in steps of 5 min.
type quick struct {
	from     time.Time
	air, dew []float64 // °C; dew nil without a sound hygrometer
	duty     []float64 // nil without a sound meter
}

// quickAir is the median of all sound loggers in the room.
func (a *analyser) quickAir(span logs.TimeSpan) quick {
	q := quick{from: span.From}
	n := int(span.To.Sub(span.From) / fine)
	if n < 1 {
		return q
	}
	var airs, dews [][]float64
	for i, l := range a.in.Loggers {
		if !l.Place.Room() {
			continue
		}
		temps, damps := a.sound.temperatures(i), a.sound.columns(i, logs.RelativeHumidity)
		for _, s := range temps {
			if m, err := s.Means(span.From, fine, n, 0.2); err == nil {
				airs = append(airs, m)
			}
		}
		if len(temps) > 0 && len(damps) > 0 && len(airs) > 0 {
			if m, err := a.dry(i, damps[0]).Means(span.From, fine, n, 0.2); err == nil {
				dews = append(dews, dewPoints(airs[len(airs)-1], m))
			}
		}
	}
	q.air, q.dew = slices.Clone(middle(airs)), middle(dews)
	for i := range q.air {
		if overlaps(logs.TimeSpan{From: q.at(i), To: q.at(i + 1)}, a.unlike()) {
			q.air[i] = math.NaN()
		}
	}
	if a.sound.states != nil {
		q.duty = a.sound.states.Duties(span.From, fine, n, 0.5)
	}
	return q
}

// middle is the median of several series at each step; of two the mean.
func middle(all [][]float64) []float64 {
	switch len(all) {
	case 0:
		return nil
	case 1:
		return all[0]
	}
	m, at := make([]float64, len(all[0])), make([]float64, len(all))
	for i := range m {
		for j := range all {
			at[j] = all[j][i]
		}
		m[i] = median(at)
	}
	return m
}

// dewPoints are NaN where they cannot be known.
func dewPoints(t, rh []float64) []float64 {
	d := make([]float64, len(t))
	for i := range t {
		d[i] = math.NaN()
		if finite(t[i], rh[i]) {
			if v, err := humidair.DewPoint(units.Temperature(t[i]), units.RelativeHumidity(min(100, rh[i]))); err == nil {
				d[i] = float64(v)
			}
		}
	}
	return d
}

// doors finds times at which a door was left open, and returns them.
func (a *analyser) doors(q quick) []logs.TimeSpan {
	spans := a.contacts()
	const before = int(6 * time.Hour / fine)
	low := quantile(q.air, 0.05)
	for i := before; i < len(q.air); i++ {
		if !(q.air[i] > low+doorRise) {
			continue // far from it, most of the time
		}
		base := median(q.air[i-before : i])
		if !(q.air[i] > base+doorRise) {
			continue
		}
		k, last := i, q.air[i]
		for k < len(q.air) && !(q.air[k] <= base+doorRise*2/3) {
			if q.air[k] == q.air[k] {
				last = max(last, q.air[k])
			}
			k++
		}
		if time.Duration(k-i)*fine >= doorFor && q.sudden(i) && (q.damper(i, k) || q.strained(i, k)) {
			span := logs.TimeSpan{From: q.at(i), To: q.at(k)}
			spans = append(spans, span)
			a.fault(DoorOpen, span, 1, "close it; a closer or an alarm keeps it so", "from %s the air rose to %.1f °C at once and stayed warm for %s%s",
				span.From.Format("2 January 15:04"), last, span.To.Sub(span.From), q.sign(i, k))
		}
		i = k + before/6
	}
	return spans
}

// sudden reports whether the air rose by half of it within a quarter of an hour,
// in the hour before. A room that warms up because its unit is too small does not.
func (q quick) sudden(i int) bool {
	for k := i; k > i-12; k-- {
		if q.air[k]-q.air[k-3] >= doorRise/2 {
			return true
		}
	}
	return false
}

// strained reports whether the unit ran all the while and could not bring the air
// down.
func (q quick) strained(i, k int) bool {
	if q.duty == nil {
		return false
	}
	ran, n := mean(q.duty[min(i+2, k-1):k])
	return n > 0 && ran >= 0.9
}

func (q quick) sign(i, k int) string {
	if q.damper(i, k) {
		return fmt.Sprintf("; house air came with it, the dew point rose by %.0f K or more", doorDewRise)
	}
	return " while the unit ran"
}

// damper reports whether the dew point rose with an excursion.
func (q quick) damper(i, k int) bool {
	if q.dew == nil {
		return false
	}
	const before = int(2 * time.Hour / fine)
	_, high := extremes(q.dew[max(0, i-2):k])
	return high >= median(q.dew[max(0, i-before-2):max(1, i-2)])+doorDewRise
}

func (q quick) at(i int) time.Time { return q.from.Add(time.Duration(i) * fine) }

// contacts are the times that a contact at the door saw it open for long.
func (a *analyser) contacts() []logs.TimeSpan {
	var spans []logs.TimeSpan
	for _, l := range a.in.Loggers {
		for _, s := range l.Series {
			if l.Place != Door || s.Quantity != logs.State || unusable(s) != "" {
				continue
			}
			states, err := eventStates(s)
			if err != nil {
				continue
			}
			for _, r := range states.Runs {
				if r.On && r.Lasts() >= doorEvent {
					span := logs.TimeSpan{From: r.From, To: r.To}
					spans = append(spans, span)
					a.fault(DoorOpen, span, 1, "close it; a closer or an alarm keeps it so", "the contact saw the door open for %s from %s", r.Lasts().Round(time.Minute), r.From.Format("2 January 15:04"))
				}
			}
		}
	}
	return spans
}

// defrosts finds regular spikes during which the unit rests although it is warm,
// and returns them.
func (a *analyser) defrosts(q quick) []logs.TimeSpan {
	if len(q.air) == 0 || q.duty == nil {
		return nil
	}
	p50 := median(q.air)
	above := p50 + max(spikeLeast, 3*(quantile(q.air, 0.75)-p50))
	rest := int(spikeRest / fine)
	var spikes []logs.TimeSpan
	top := p50
	for i := 1; i < len(q.air); i++ {
		if !(q.air[i] > above) || !(q.air[i-1] <= above) {
			continue
		}
		k, high := i, q.air[i]
		for k < len(q.air) && q.air[k] > p50+spikeLeast/2 {
			high = max(high, q.air[k])
			k++
		}
		resting, n := mean(q.duty[i:min(len(q.duty), i+rest)])
		if time.Duration(k-i)*fine <= spikeLongest && n > 0 && resting < 0.1 {
			spikes = append(spikes, logs.TimeSpan{From: q.at(i), To: q.at(k)})
			top = max(top, high)
		}
		i = k
	}
	every, regular := rhythm(spikes)
	if !regular {
		return nil
	}
	a.fault(Defrost, logs.TimeSpan{From: spikes[0].From, To: spikes[len(spikes)-1].To}, len(spikes),
		"check how often and how long the unit defrosts; the bottles hardly notice, the proof counts these spikes", "%d spikes of the air up to %.1f °C, every %.1f h, while the unit rested", len(spikes), top, every.Hours())
	return spikes
}

// rhythm reports whether spikes come at equal intervals, some perhaps missing.
func rhythm(spikes []logs.TimeSpan) (every time.Duration, regular bool) {
	if len(spikes) < spikesLeast {
		return 0, false
	}
	var steps []float64
	for i := 1; i < len(spikes); i++ {
		steps = append(steps, spikes[i].From.Sub(spikes[i-1].From).Hours())
	}
	m, fits := median(steps), 0
	for _, s := range steps {
		if k := math.Round(s / m); (k == 1 || k == 2) && math.Abs(s-k*m) <= 0.06*k*m+fine.Hours() {
			fits++
		}
	}
	return time.Duration(m * float64(time.Hour)), float64(fits) >= 0.7*float64(len(steps)) && m >= 1
}

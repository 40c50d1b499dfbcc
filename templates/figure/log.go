package figure

import (
	"fmt"
	"math"
	"time"
)

// Log is what loggers recorded over days, one panel for each quantity, with the
// unit's running below.
type Log struct {
	Title    string
	From, To time.Time // the span shown; days begin in the time zone of From
	Panels   []LogPanel
	Duty     *Duty
	Moments  []Moment
	Clock    string // under the time axis: "Local time, days from midnight to midnight"

	// Gap is the longest step between two samples that a line still crosses; 0: it
	// crosses all but missing values.
	Gap   time.Duration
	Notes []string
}

// LogPanel is one quantity at several places.
type LogPanel struct {
	Axis       string // "Temperature, °C"
	Band       Band
	Lines      []LogLine
	Excursions []Excursion
}

// Band is the range allowed; an end may be infinite. Without a text there is none.
type Band struct {
	Low, High float64
	Text      string // "allowed 12 to 14 °C"
}

// LogLine is what one logger recorded at one place.
type LogLine struct {
	Name   string
	Times  []int64   // Unix time in ms, ascending
	Values []float64 // one for each time; NaN where none was read
}

// Excursion is a stretch outside of the band.
type Excursion struct {
	From, To time.Time
	Peak     float64 // the value farthest out
	Words    string  // "Aug 4, 14:10 to 15:30, up to 15.2 °C: door open"
}

// Moment is a time worth a line: "bottles proved down".
type Moment struct {
	At    time.Time
	Words string
}

// Duty is when the unit ran.
type Duty struct {
	Name    string // "Unit running"
	Text    string // "38 % of the time"
	Running []TimeSpan
	Unknown []TimeSpan // not recorded
}

// TimeSpan is from one moment to another.
type TimeSpan struct{ From, To time.Time }

// mostTime is the longest span that is drawn.
const mostTime = 20 * 366 * 24 * time.Hour

// check returns what cannot be drawn.
func (f Log) check() error {
	if !f.From.Before(f.To) || f.To.Sub(f.From) > mostTime {
		return fmt.Errorf("log %q is from %v to %v, want a span of at most 20 years", f.Title, f.From, f.To)
	}
	values := 0
	for i, p := range f.Panels {
		for _, l := range p.Lines {
			if len(l.Times) != len(l.Values) {
				return fmt.Errorf("log %q: %q has %d times and %d values", f.Title, l.Name, len(l.Times), len(l.Values))
			}
			for j := range l.Times {
				if j > 0 && l.Times[j] < l.Times[j-1] {
					return fmt.Errorf("log %q: sample %d of %q is earlier than the one before it", f.Title, j+1, l.Name)
				}
				if math.IsInf(l.Values[j], 0) {
					return fmt.Errorf("log %q: sample %d of %q is infinite", f.Title, j+1, l.Name)
				}
			}
		}
		if b := p.Band; b.Text != "" && !(b.Low < b.High) {
			return fmt.Errorf("log %q: band %q of panel %d is from %v to %v", f.Title, b.Text, i+1, b.Low, b.High)
		}
		if !f.extent(p).empty() {
			values++
		}
	}
	if values == 0 {
		return fmt.Errorf("log %q has no values in its span: %w", f.Title, ErrEmpty)
	}
	return nil
}

// ms is a moment on the time axis: milliseconds since its beginning.
func (f Log) ms(t time.Time) float64 { return float64(t.Sub(f.From).Milliseconds()) }

// axis is the whole time axis.
func (f Log) axis() span { return span{0, f.ms(f.To)} }

// extent is the range of the values of a panel within the span shown.
func (f Log) extent(p LogPanel) span {
	from, to, s := f.From.UnixMilli(), f.To.UnixMilli(), nothing()
	for _, l := range p.Lines {
		for i, v := range l.Values {
			if l.Times[i] >= from && l.Times[i] <= to && v == v {
				s = span{min(s.low, v), max(s.high, v)}
			}
		}
	}
	return s
}

// scale is the range of the vertical axis of a panel: all values, the band and
// the peaks of excursions.
func (f Log) scale(p LogPanel) span {
	s := f.extent(p)
	if p.Band.Text != "" {
		s = s.with(p.Band.Low, p.Band.High)
	}
	for _, e := range p.Excursions {
		s = s.with(e.Peak)
	}
	if s.empty() {
		s = span{0, 1}
	}
	if len(p.Excursions) > 0 { // room for their numbers
		return s.least(2).padded(0.16)
	}
	return s.least(2).padded(0.08)
}

// thinned is a line for so many pixel columns, and its means.
func (f Log) thinned(l LogLine, columns int) (kept, means []Point) {
	start := f.From.UnixMilli()
	at := func(i int) Point { return Point{float64(l.Times[i] - start), l.Values[i]} }
	return extremes(len(l.Times), at, f.axis(), columns, float64(f.Gap.Milliseconds()))
}

// share returns for each of so many columns of the time axis which part of it the
// spans cover, 0 to 1.
func (f Log) share(spans []TimeSpan, columns int) []float64 {
	list := make([]float64, columns)
	step := f.axis().high / float64(columns)
	for _, t := range spans {
		from, to := max(f.ms(t.From), 0)/step, min(f.ms(t.To)/step, float64(columns))
		for c := int(from); c < columns && float64(c) < to; c++ {
			list[c] += min(to, float64(c+1)) - max(from, float64(c))
		}
	}
	for c := range list {
		list[c] = min(list[c], 1)
	}
	return list
}

// days are the ticks of the time axis: at midnights, with the day's name between
// them, or at hours when the span is short. n is how many names fit.
func (f Log) days(n int) (lines, names []tick) {
	nights := midnights(f.From, f.To)
	if f.To.Sub(f.From) <= 60*time.Hour {
		return f.clock(n)
	}
	every := len(nights)/n + 1
	for i, t := range nights {
		at := f.ms(t)
		if every < 4 || i%every == 0 {
			lines = append(lines, tick{at: at})
		}
		end := f.axis().high
		if i+1 < len(nights) {
			end = f.ms(nights[i+1])
		}
		if i%every != 0 {
			continue
		}
		if every > 1 {
			names = append(names, tick{at, t.Format("Jan 2")})
		} else if end-at > 16*3.6e6 {
			names = append(names, tick{(at + end) / 2, t.Format("Jan 2")})
		}
	}
	return lines, names
}

// clock are ticks at full hours.
func (f Log) clock(n int) (lines, names []tick) {
	y, m, d := f.From.Date()
	for _, step := range []int{1, 2, 3, 6, 12} {
		if f.To.Sub(f.From).Hours()/float64(step) > float64(n) && step < 12 {
			continue
		}
		for h := 0; ; h += step {
			t := time.Date(y, m, d, h, 0, 0, 0, f.From.Location())
			if t.After(f.To) {
				return lines, names
			}
			if t.Before(f.From) {
				continue
			}
			words := t.Format("15:04")
			if t.Hour() == 0 {
				words = t.Format("Jan 2")
			}
			lines, names = append(lines, tick{at: f.ms(t)}), append(names, tick{f.ms(t), words})
		}
	}
	return lines, names
}

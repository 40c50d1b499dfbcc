package logs

import (
	"slices"
	"time"
)

// excursions collects stretches out of the band as samples pass.
type excursions struct {
	r       *Stability
	at      int64 // up to here the record has been seen
	gap     int64 // a hole longer than this breaks a stretch
	side    int   // of the stretch in progress, 0 none
	current Excursion
	out     bool // out of the band, on either side, since outFrom
	outFrom int64
	outOpen bool
	begun   bool
}

func (t *excursions) add(x sample, side int) {
	hole := x.t - t.at
	broken := hole > t.gap || !t.begun
	if hole > t.gap {
		t.r.Gaps++
		t.r.LongestGap = max(t.r.LongestGap, milliseconds(hole))
	}
	if t.side != 0 && (broken || side != t.side) {
		t.close(broken, side != 0 && !broken)
	}
	if side != 0 && t.side == 0 {
		t.open(x, side, broken)
	}
	if side != 0 {
		t.extend(x, side)
	}
	t.at, t.begun = x.t+x.w, true
}

func (t *excursions) open(x sample, side int, broken bool) {
	t.side = side
	t.current = Excursion{From: time.UnixMilli(x.t).UTC(), Above: side > 0, Peak: x.v, Open: broken}
	if !t.out {
		t.out, t.outFrom, t.outOpen = true, x.t, broken
	}
}

func (t *excursions) extend(x sample, side int) {
	if side > 0 {
		t.r.Above += milliseconds(x.w)
		t.current.Peak = max(t.current.Peak, x.v)
	} else {
		t.r.Below += milliseconds(x.w)
		t.current.Peak = min(t.current.Peak, x.v)
	}
}

// close ends the stretch in progress; crossed is true when the next sample is
// out of the band on the other side.
func (t *excursions) close(open, crossed bool) {
	t.current.To = time.UnixMilli(t.at).UTC()
	t.current.Open = t.current.Open || open
	t.r.Excursions = append(t.r.Excursions, t.current)
	t.r.ExcursionCount++
	t.side = 0
	t.r.keepLongest(100)
	if crossed {
		return
	}
	if out := milliseconds(t.at - t.outFrom); out > t.r.LongestOut {
		t.r.LongestOut, t.r.LongestIsOpen = out, t.outOpen || open
	}
	t.out = false
}

// finish ends the record at b and sums up.
func (t *excursions) finish(b int64) {
	if hole := b - t.at; hole > t.gap {
		t.r.Gaps++
		t.r.LongestGap = max(t.r.LongestGap, milliseconds(hole))
	}
	if t.side != 0 {
		t.close(true, false)
	}
	t.r.InBand = float64(t.r.Observed-t.r.Above-t.r.Below) / float64(t.r.Observed)
	t.r.keepLongest(0)
	slices.SortFunc(t.r.Excursions, func(x, y Excursion) int { return x.From.Compare(y.From) })
}

// keepLongest cuts the list to its 100 longest when it is longer than that by
// more than spare.
func (r *Stability) keepLongest(spare int) {
	const most = 100
	if len(r.Excursions) <= most+spare {
		return
	}
	slices.SortStableFunc(r.Excursions, func(x, y Excursion) int { return int(sign(y.Duration() - x.Duration())) })
	r.Excursions = r.Excursions[:most]
}

func sign(d time.Duration) int64 { return int64(compare(int64(d), 0)) }

package checks

import (
	"testing"
	"time"

	"proveout/checks/units"
)

// line is a refrigerant line that may be tested to 300 psig and stands 350.
func line(t testing.TB) *Room {
	room := cellar(t)
	room.Values["test pressure"], room.Values["nameplate pressure"] = "300 psig", "350 psig"
	return room
}

// overnight is a line filled to 300 psig at 95 °F and read at 70 °F: a tight
// one shows 285.8 psig then (p2 = (p1 + 14.7)(t2 + 460)/(t1 + 460) − 14.7, UFGS
// 15217, worked by hand). Fine instruments, so that a loss of 2 psi can be told.
func overnight(t testing.TB, by ...string) Fact {
	values := change(map[string]string{
		"start pressure": "300 psig", "start temperature": "95 °F", "end pressure": "285.8 psig", "end temperature": "70 °F",
		"gauge uncertainty": "0.2 psi", "thermometer uncertainty": "0.1 K",
	}, by...)
	return spanning(with(t, NitrogenTest, "point 1", values), noon.Add(-30*time.Hour), 24*time.Hour)
}

func TestNitrogenTest(t *testing.T) {
	q := computing(NitrogenTest)
	q.Hold, q.Limits = "24 h", limits("at most", bound(t, units.GaugePressureKind, "2 psi"))
	short := overnight(t)
	short.End = short.Start.Add(23 * time.Hour)
	unread := overnight(t)
	delete(unread.Values, "end temperature")
	timeless := overnight(t)
	timeless.End = time.Time{}
	for _, tt := range []struct {
		name string
		f    Fact
		want Outcome
		says string
	}{
		{"what the cooling explains", overnight(t), Pass, ""},
		{"4 psi less than that", overnight(t, "end pressure", "281.8 psig"), Fail, "the line lost"},
		{"no fall at all, and it cooled", overnight(t, "end pressure", "300 psig"), Undecided, "gained"},
		{"no temperature", unread, Undecided, "missing: end temperature"},
		{"no end", timeless, Undecided, "start and end time"},
		{"an hour too short", short, Undecided, "held"},
		{"coarse gauge", overnight(t, "gauge uncertainty", "5 psi"), Undecided, "cannot tell"},
		{"gauge without uncertainty", overnight(t, "gauge uncertainty", "0 psi"), Undecided, "gauge uncertainty"},
		{"above the nameplate", overnight(t, "start pressure", "351 psig", "end pressure", "335 psig"), Fail, "above the nameplate"},
		{"below the test pressure", overnight(t, "start pressure", "290 psig", "end pressure", "276.2 psig"), Undecided, "below the"},
	} {
		t.Run(tt.name, func(t *testing.T) { wantVerdict(t, judge(line(t), q, tt.f), tt.want, tt.says) })
	}
	// The same readings in bar and °C.
	si := overnight(t, "start pressure", "2068.43 kPa", "start temperature", "35 °C", "end pressure", "1970.5 kPa", "end temperature", "21.111 °C",
		"gauge uncertainty", "1.4 kPa")
	wantVerdict(t, judge(line(t), q, si), Pass, "")
}

// Without the plan's limit or hold, or the job's pressures or altitude, a
// standing test proves nothing; a barometer at altitude changes what is
// expected.
func TestNitrogenTestLacksFigures(t *testing.T) {
	ask := func(change func(*Room, *Question)) Verdict {
		room, q := line(t), computing(NitrogenTest)
		q.Hold, q.Limits = "24 h", limits("at most", bound(t, units.GaugePressureKind, "2 psi"))
		change(room, q)
		return judge(room, q, overnight(t))
	}
	for _, tt := range []struct {
		change func(*Room, *Question)
		says   string
	}{
		{func(_ *Room, q *Question) { q.Limits = Limits{} }, "no such limit"},
		{func(_ *Room, q *Question) {
			q.Limits = limits("below", bound(t, units.GaugePressureKind, "2 psi"))
		}, "no such limit"},
		{func(_ *Room, q *Question) { q.Hold = "" }, "the plan's hold"},
		{func(r *Room, _ *Question) { delete(r.Values, "nameplate pressure") }, `"nameplate pressure"`},
		{func(r *Room, _ *Question) { delete(r.Values, "test pressure") }, `"test pressure"`},
		{func(r *Room, _ *Question) { r.Altitude = units.Quantity{} }, "no altitude"},
	} {
		wantVerdict(t, ask(tt.change), Undecided, tt.says)
	}
	wantVerdict(t, ask(func(r *Room, _ *Question) { r.Altitude = quantity(t, units.LengthKind, "5000 ft") }), Pass, "")
}

// UFGS 15182: pulled down, isolated for 1 h, not above 500 micron.
func TestEvacuation(t *testing.T) {
	q := computing(Evacuation)
	q.Hold, q.Limits = "1 h", limits("at most", bound(t, units.VacuumKind, "500 micron"))
	pulled := func(by ...string) Fact {
		values := change(map[string]string{"vacuum at isolation": "250 micron", "vacuum at end": "400 micron", "ambient temperature": "70 °F", "gauge uncertainty": "20 micron"}, by...)
		return spanning(with(t, Evacuation, "point 1", values), noon.Add(-3*time.Hour), time.Hour)
	}
	short := pulled()
	short.End = short.Start.Add(59 * time.Minute)
	for _, tt := range []struct {
		name string
		f    Fact
		want Outcome
		says string
	}{
		{"it stays", pulled(), Pass, ""},
		{"at the limit", pulled("vacuum at end", "500 micron"), Pass, ""},
		{"it rises", pulled("vacuum at end", "501 micron"), Fail, "rose to"},
		{"in pascal", pulled("vacuum at end", "66.6 Pa"), Pass, ""},
		{"in pascal, above", pulled("vacuum at end", "67 Pa"), Fail, "rose to"},
		{"a minute short", short, Undecided, "isolated for"},
		{"frozen", pulled("ambient temperature", "31 °F"), Undecided, "below"},
	} {
		t.Run(tt.name, func(t *testing.T) { wantVerdict(t, judge(cellar(t), q, tt.f), tt.want, tt.says) })
	}
	near := pulled("vacuum at end", "490 micron")
	if v := judge(cellar(t), q, near); v.Outcome != Pass || !v.Near {
		t.Errorf("10 micron below, known to 20: %+v", v)
	}
	room := cellar(t)
	room.GuardBand = true
	wantVerdict(t, judge(room, q, near), Undecided, "wants a clear pass")
	q.Limits = limits("below", bound(t, units.VacuumKind, "500 micron"))
	wantVerdict(t, judge(cellar(t), q, pulled()), Undecided, "no such limit")
}

package checks

import (
	"slices"
	"strings"
	"testing"
	"time"

	"proveout/checks/units"
)

// noon is the moment at which the tests judge: a Monday in summer.
var noon = time.Date(2026, 6, 15, 12, 0, 0, 0, time.UTC)

func quantity(t testing.TB, kind units.Kind, text string) units.Quantity {
	t.Helper()
	q, err := units.Parse(kind, text)
	if err != nil {
		t.Fatal(err)
	}
	return q
}

func bound(t testing.TB, kind units.Kind, text string) Bound {
	t.Helper()
	b, err := ParseBound(kind, text)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// cellar is a room of two walls and a ceiling against the house.
func cellar(t testing.TB) *Room {
	design := map[string]units.Quantity{"depth": quantity(t, units.LengthKind, "5 in")}
	return &Room{
		Job: "birch-stair", Units: units.US, YearBuilt: 1964, Zone: time.UTC,
		Altitude:    quantity(t, units.LengthKind, "0 ft"),
		SetPoint:    quantity(t, units.TemperatureKind, "55 °F"),
		LowHumidity: quantity(t, units.HumidityKind, "50 %"), HighHumidity: quantity(t, units.HumidityKind, "70 %"),
		PullDownLimit: quantity(t, units.DurationKind, "48 h"), PullDownLoad: "empty",
		Properties: map[string]string{}, Values: map[string]string{},
		Faces: []Face{
			{Name: "north wall", Kind: "wall", OtherSide: "house", Area: quantity(t, units.AreaKind, "80 ft²"), Bays: 2, Design: design},
			{Name: "east wall", Kind: "wall", OtherSide: "outdoors", Area: quantity(t, units.AreaKind, "45 ft²"), Bays: 1, Design: design},
			{Name: "lid", Kind: "ceiling", OtherSide: "attic", Area: quantity(t, units.AreaKind, "20 ft²")},
		},
	}
}

// caliper is in calibration at noon and may be off by 1/16 in.
func caliper(t testing.TB) *Instrument {
	return &Instrument{
		ID: "C-1", Kind: "caliper", Uncertainty: quantity(t, units.LengthKind, "1/16 in"),
		Calibrated: noon.AddDate(0, -1, 0), Due: noon.AddDate(0, 1, 0),
	}
}

// fact is an answer of Ana, an hour before noon.
func fact(place string) Fact {
	return Fact{ID: "r-" + place, Place: place, By: "Ana", Roles: []string{"crew lead"}, Measured: noon.Add(-time.Hour)}
}

func reading(t testing.TB, place, text string) Fact {
	f := fact(place)
	f.Quantity = quantity(t, units.LengthKind, text)
	return f
}

func answered(place, answer string) Fact {
	f := fact(place)
	f.Answer = answer
	return f
}

// depth asks for a length of at least 5 in.
func depth(t testing.TB) *Question {
	return &Question{
		Phase: "insulation", Name: "depth", Ask: "Depth", Kind: Reading, Measures: units.LengthKind,
		Limits: Limits{AtLeast: bound(t, units.LengthKind, "5 in")}, Source: "test", Mark: "read",
	}
}

// judge answers a question in a room from facts.
func judge(room *Room, q *Question, facts ...Fact) Verdict {
	return Judge(asked(room, q, facts...))
}

func asked(room *Room, q *Question, facts ...Fact) Case {
	return Case{
		Question: q, Questions: map[string]*Question{q.ID(): q}, Room: room,
		Facts: Facts{q.ID(): facts}, Decisions: Decisions{}, Now: noon,
	}
}

// wantVerdict asks for an outcome and, unless says is "", a reason.
func wantVerdict(t *testing.T, v Verdict, want Outcome, says string) {
	t.Helper()
	if v.Outcome != want || !strings.Contains(strings.Join(v.Reasons, "; "), says) {
		t.Errorf("%s: %v %q, want %v that says %q", v.Check, v.Outcome, v.Reasons, want, says)
	}
}

func TestReading(t *testing.T) {
	for _, tt := range []struct {
		name  string
		ask   func(*Question)
		give  func(*Fact)
		value string
		want  Outcome
		says  string
	}{
		{"above the limit", nil, nil, "5 1/2 in", Pass, ""},
		{"at the limit", nil, nil, "5 in", Pass, ""},
		{"below the limit", nil, nil, "4 7/8 in", Fail, "4 7/8 in is not at least 5 in"},
		{"in the other system", nil, nil, "127 mm", Pass, ""},
		{"nothing was read", nil, func(f *Fact) { f.Quantity = units.Quantity{} }, "5 in", Undecided, "has no value"},
		{"another kind was read", nil, func(f *Fact) { f.Quantity = quantity(t, units.MassKind, "5 kg") }, "5 in", Undecided, "cannot be compared"},
		{"without a time", nil, func(f *Fact) { f.Measured = time.Time{} }, "6 in", Undecided, "the time is missing"},
		{"dated after now", nil, func(f *Fact) { f.Measured = noon.Add(time.Minute) }, "6 in", Undecided, "still to come"},
		{"a year ahead", nil, func(f *Fact) { f.Measured = noon.AddDate(1, 0, 0) }, "6 in", Undecided, "still to come"},
		{"by nobody", nil, func(f *Fact) { f.By = "" }, "6 in", Undecided, "nobody is named"},
		{"by the wrong role", func(q *Question) { q.By = []string{"electrician"} }, nil, "6 in", Undecided, "must come from: electrician"},
		{"by a right role", func(q *Question) { q.By = []string{"electrician", "crew lead"} }, nil, "6 in", Pass, ""},
		{"with no instrument", func(q *Question) { q.Instrument = "caliper" }, nil, "6 in", Undecided, "no instrument is named"},
		{"with another instrument", func(q *Question) { q.Instrument = "depth gauge" }, func(f *Fact) { f.Instrument = caliper(t) }, "6 in", Undecided, "C-1 is a caliper; wanted is a depth gauge"},
		{"with the instrument", func(q *Question) { q.Instrument = "caliper" }, func(f *Fact) { f.Instrument = caliper(t) }, "6 in", Pass, ""},
		{"photo missing at a point", func(q *Question) { q.PhotoEach = true }, nil, "6 in", Undecided, "the photo is missing"},
		{"photo at the point", func(q *Question) { q.PhotoEach = true }, func(f *Fact) { f.Photos = 1 }, "6 in", Pass, ""},
		{"one photo missing", func(q *Question) { q.PhotoOne = true }, nil, "6 in", Undecided, "the photo is missing"},
		{"one photo", func(q *Question) { q.PhotoOne = true }, func(f *Fact) { f.Photos = 2 }, "6 in", Pass, ""},
		{"a missing photo hides no failure", func(q *Question) { q.PhotoOne = true }, nil, "4 in", Fail, "4 in"},
		{"record only", func(q *Question) { q.Limits, q.RecordOnly = Limits{}, true }, nil, "1 in", Pass, ""},
		{"without a limit", func(q *Question) { q.Limits = Limits{} }, nil, "9 in", Undecided, "no limit"},
		{"limit of the job is missing", func(q *Question) { q.Limits.AtLeast = bound(t, units.LengthKind, "data sheet lift") }, nil, "9 in", Undecided, "data sheet lift"},
	} {
		q, f := depth(t), reading(t, "point 1", tt.value)
		if tt.ask != nil {
			tt.ask(q)
		}
		if tt.give != nil {
			tt.give(&f)
		}
		t.Run(tt.name, func(t *testing.T) { wantVerdict(t, judge(cellar(t), q, f), tt.want, tt.says) })
	}
	t.Run("nothing recorded", func(t *testing.T) {
		wantVerdict(t, judge(cellar(t), depth(t)), Undecided, "nothing is recorded yet")
	})
}

func TestObservation(t *testing.T) {
	for _, tt := range []struct {
		want, answer, note string
		applies            bool // "not applicable" is allowed
		outcome            Outcome
		says               string
	}{
		{"yes", "yes", "", false, Pass, ""},
		{"yes", "no", "", false, Fail, "the answer is no, wanted is yes"},
		{"no", "no", "", false, Pass, ""},
		{"no", "yes", "", false, Fail, "wanted is no"},
		{"yes", "", "", false, Undecided, "not yes or no"},
		{"yes", "Yes", "", false, Undecided, "not yes or no"},
		{"yes", "maybe", "", true, Undecided, "not yes or no"},
		{"yes", "not applicable", "no door there", false, Undecided, "must be answered yes or no"},
		{"yes", "not applicable", "", true, Undecided, "needs a reason"},
		{"yes", "not applicable", "no door there", true, Pass, ""},
	} {
		q := &Question{Phase: "door", Name: "seal", Kind: Observation, Want: tt.want, NotApplicable: tt.applies}
		f := answered("point 1", tt.answer)
		f.Note = tt.note
		v := judge(cellar(t), q, f)
		if v.Outcome != tt.outcome || !strings.Contains(strings.Join(v.Reasons, "; "), tt.says) {
			t.Errorf("want %s, answer %q: %v %q, want %v that says %q", tt.want, tt.answer, v.Outcome, v.Reasons, tt.outcome, tt.says)
		}
	}
}

func TestInspection(t *testing.T) {
	q := &Question{Phase: "framing", Name: "inspection", Kind: Inspection, Inspection: "framing", By: []string{"building inspector"}}
	result := func(answer, number string, days int) Fact {
		f := answered("point 1", answer)
		f.ID += answer
		f.Number, f.Roles, f.Measured = number, []string{"building inspector"}, noon.AddDate(0, 0, -days)
		return f
	}
	self := result("pass", "B-1", 1)
	self.Roles = []string{"crew lead"}
	for _, tt := range []struct {
		name  string
		facts []Fact
		want  Outcome
		says  string
	}{
		{"passed", []Fact{result("pass", "B-1", 1)}, Pass, ""},
		{"failed", []Fact{result("fail", "B-1", 1)}, Fail, "did not pass"},
		{"without a number", []Fact{result("pass", "", 1)}, Undecided, "number is missing"},
		{"by the crew", []Fact{self}, Undecided, "must come from: building inspector"},
		{"neither", []Fact{result("yes", "B-1", 1)}, Undecided, "must be pass or fail"},
		{"failed, then passed", []Fact{result("fail", "B-1", 3), result("pass", "B-2", 1)}, Pass, ""},
		{"passed, then failed", []Fact{result("pass", "B-1", 3), result("fail", "B-2", 1)}, Fail, "did not pass"},
		{"recorded the other way round", []Fact{result("fail", "B-2", 1), result("pass", "B-1", 3)}, Fail, "did not pass"},
		{"both at one moment", []Fact{result("pass", "B-1", 1), result("fail", "B-2", 1)}, Undecided, "two different answers"},
	} {
		t.Run(tt.name, func(t *testing.T) { wantVerdict(t, judge(cellar(t), q, tt.facts...), tt.want, tt.says) })
	}
}

func TestChoice(t *testing.T) {
	q := &Question{Phase: "framing", Name: "basis", Kind: Choice, Options: []string{"live load", "letter"}}
	v := judge(cellar(t), q, answered("point 1", "letter"))
	if v.Outcome != Pass || v.Decision != "letter" {
		t.Errorf("verdict = %+v", v)
	}
	wantVerdict(t, judge(cellar(t), q, answered("point 1", "neither")), Undecided, "not one of: live load, letter")
	// Two decisions are none, also where they were taken at two places.
	v = judge(cellar(t), q, answered("point 1", "letter"), answered("elsewhere", "live load"))
	wantVerdict(t, v, Undecided, "two different answers")
	if !v.Conflict {
		t.Errorf("two choices are no conflict: %+v", v)
	}
}

func TestPaper(t *testing.T) {
	q := &Question{Phase: "demo", Name: "contract", Kind: Paper, Paper: "contract"}
	wantVerdict(t, judge(cellar(t), q, fact("point 1")), Undecided, "no document is attached")
	f := fact("point 1")
	f.Files = []File{{Name: "contract.pdf"}}
	if v := judge(cellar(t), q, f); v.Outcome != Pass || v.Value != "contract.pdf" {
		t.Errorf("verdict = %+v", v)
	}
}

func TestConflict(t *testing.T) {
	a, b := reading(t, "point 1", "6 in"), reading(t, "point 1", "7 in")
	b.ID = "other"
	v := judge(cellar(t), depth(t), a, b)
	wantVerdict(t, v, Undecided, "two different answers")
	if !v.Conflict || len(v.Next) != 1 || !strings.Contains(v.Next[0], "proveout correct") {
		t.Errorf("verdict = %+v", v)
	}
}

func TestSeries(t *testing.T) {
	q := depth(t)
	q.Series = true
	at := func(text string, hours int) Fact {
		f := reading(t, "point 1", text)
		f.ID, f.Measured = text, noon.Add(-time.Duration(hours)*time.Hour)
		return f
	}
	wantVerdict(t, judge(cellar(t), q, at("4 in", 3), at("6 in", 1)), Pass, "")
	wantVerdict(t, judge(cellar(t), q, at("4 in", 1), at("6 in", 3)), Fail, "4 in")
	wantVerdict(t, judge(cellar(t), q, at("6 in", 1), at("4 in", 1)), Undecided, "two different answers")
	// The newest of one place says nothing about another.
	other := reading(t, "point 2", "4 in")
	other.Measured = noon.Add(-9 * time.Hour)
	wantVerdict(t, judge(cellar(t), q, at("6 in", 1), other), Fail, "point 2")
}

func TestWorstPointDecides(t *testing.T) {
	q := depth(t)
	q.Sampling.AtLeast = 3
	v := judge(cellar(t), q, reading(t, "point 1", "9 in"), reading(t, "point 2", "4 3/4 in"), reading(t, "point 3", "9 in"))
	if v.Outcome != Fail || v.Place != "point 2" || v.Value != "4 3/4 in" || v.Taken != 3 || v.Passed != 2 || v.Planned != 3 {
		t.Errorf("verdict = %+v", v)
	}
	if v.Margin != "-0.25 in" || v.Limit != "at least 5 in" {
		t.Errorf("margin %q against %q", v.Margin, v.Limit)
	}
	// A failure shows before all is measured; the worst pass is the deciding one.
	wantVerdict(t, judge(cellar(t), q, reading(t, "point 1", "1 in")), Fail, "1 in")
	v = judge(cellar(t), q, reading(t, "point 1", "9 in"), reading(t, "point 2", "5 1/4 in"), reading(t, "point 3", "6 in"))
	if v.Outcome != Pass || v.Place != "point 2" || v.Margin != "+0.25 in" {
		t.Errorf("verdict = %+v", v)
	}
}

func TestMean(t *testing.T) {
	q := depth(t)
	q.Mean, q.Sampling.AtLeast = true, 2
	v := judge(cellar(t), q, reading(t, "point 1", "4 in"), reading(t, "point 2", "6 1/2 in"))
	if v.Outcome != Pass || v.Place != "mean" || v.Value != "5.25 in" {
		t.Errorf("verdict = %+v", v)
	}
	wantVerdict(t, judge(cellar(t), q, reading(t, "point 1", "4 in"), reading(t, "point 2", "5 in")), Fail, "the mean: 4.5 in")
	wantVerdict(t, judge(cellar(t), q, reading(t, "point 1", "9 in")), Undecided, "still to answer: point 2")
	nothing := fact("point 2")
	wantVerdict(t, judge(cellar(t), q, reading(t, "point 1", "9 in"), nothing), Undecided, "cannot be used")
	q.PhotoOne = true
	wantVerdict(t, judge(cellar(t), q, reading(t, "point 1", "9 in"), reading(t, "point 2", "9 in")), Undecided, "the photo is missing")
}

// The zero values of everything the engine reads keep a hold shut.
func TestZeroIsShut(t *testing.T) {
	for _, kind := range []Kind{Reading, Observation, Inspection, Wait, Choice, Paper, Computed, ""} {
		q := &Question{Phase: "a", Name: "b", Kind: kind}
		if v := judge(&Room{}, q, Fact{}); v.Outcome == Pass || v.Settled() {
			t.Errorf("kind %q with a zero fact: %+v", kind, v)
		}
		if v := judge(&Room{}, q); v.Outcome == Pass {
			t.Errorf("kind %q without facts: %+v", kind, v)
		}
	}
	var v Verdict
	if v.Settled() {
		t.Error("the zero verdict lets a hold open")
	}
}

// A concession settles a failure and nothing else, and never one of safety.
func TestSettled(t *testing.T) {
	for _, tt := range []struct {
		v    Verdict
		want bool
	}{
		{Verdict{Outcome: Pass}, true},
		{Verdict{Outcome: Fail}, false},
		{Verdict{Outcome: Fail, Concedes: "NC-1"}, true},
		{Verdict{Outcome: Fail, Concedes: "NC-1", Safety: true}, false},
		{Verdict{Outcome: Undecided, Concedes: "NC-1"}, false},
	} {
		if got := tt.v.Settled(); got != tt.want {
			t.Errorf("Settled(%+v) = %v, want %v", tt.v, got, tt.want)
		}
	}
}

func TestNextCommands(t *testing.T) {
	q := depth(t)
	q.Instrument, q.PhotoEach, q.IfFails, q.Sampling.PerFace = "caliper", true, "Top up.", 1
	v := judge(cellar(t), q)
	want := `proveout record insulation depth "5 1/2 in" --at "north wall" --with CALIPER --photo PHOTO.jpg --by NAME`
	if !slices.Equal(v.Next, []string{want}) {
		t.Errorf("next = %q, want %q", v.Next, want)
	}
	bad := reading(t, "north wall", "1 in")
	bad.Photos, bad.Instrument = 1, caliper(t)
	q.Sampling = Sampling{}
	if v = judge(cellar(t), q, bad); len(v.Next) != 2 || v.Next[0] != "Top up." || !strings.Contains(v.Next[1], `--at "north wall"`) || !strings.Contains(v.Next[1], "--rework") {
		t.Errorf("next = %q", v.Next)
	}
}

package checks

import (
	"go/ast"
	"go/parser"
	"go/token"
	"math"
	"slices"
	"strings"
	"testing"

	"proveout/checks/diagnosis"
	"proveout/checks/units"
)

// Every measurement that the engine can use is taken, once.
func TestEveryMeasurementIsTaken(t *testing.T) {
	file, err := parser.ParseFile(token.NewFileSet(), "diagnosis/reading.go", nil, parser.SkipObjectResolution)
	if err != nil {
		t.Fatal(err)
	}
	var want []string
	ast.Inspect(file, func(n ast.Node) bool {
		spec, ok := n.(*ast.ValueSpec)
		if !ok || spec.Type == nil || len(spec.Values) != 1 {
			return true
		}
		if kind, ok := spec.Type.(*ast.Ident); ok && kind.Name == "Measurement" {
			want = append(want, strings.Trim(spec.Values[0].(*ast.BasicLit).Value, `"`))
		}
		return true
	})
	var got []string
	for _, m := range Measurements() {
		got = append(got, string(m))
	}
	slices.Sort(want)
	slices.Sort(got)
	if len(want) < 30 || !slices.Equal(got, want) {
		t.Errorf("taken are\n%q, the engine knows\n%q", got, want)
	}
}

// Without any record and with a bare room nothing is decided, and nothing is guessed.
func TestDiagnoseNothing(t *testing.T) {
	c := Case{Room: cellar(t), Now: noon}
	c.Room.Length, c.Room.Width, c.Room.Height = quantity(t, units.LengthKind, "3 m"), quantity(t, units.LengthKind, "3 m"), quantity(t, units.LengthKind, "2.4 m")
	d, err := c.Diagnose()
	if err != nil || d.Outcome != diagnosis.Undecided || len(d.Named()) > 0 || len(d.Wanted) == 0 {
		t.Errorf("outcome %v, named %v, wanted %v, error %v", d.Outcome, d.Named(), d.Wanted, err)
	}
	c.Room.SetPoint = units.Quantity{}
	if _, err := c.Diagnose(); err == nil {
		t.Error("a room without a set point is diagnosed")
	}
}

func values(t testing.TB, check *Check, texts ...string) Fact {
	t.Helper()
	f := fact("head")
	f.Answer = check.FirstAnswer()
	f.Values = map[string]units.Quantity{}
	for i, n := range check.Needs {
		f.Values[n.Name] = quantity(t, n.Kind, texts[i])
	}
	return f
}

// What is recorded for the diagnosis only is complete or not; there is nothing
// outside to compare it with.
func TestRecordedValues(t *testing.T) {
	for _, tt := range []struct {
		check *Check
		texts []string
		want  Outcome
		says  string
	}{
		{DoorGapStretch, []string{"1/8 in", "32 in", "80 in"}, Pass, ""},
		{DoorGapStretch, []string{"5 in", "32 in", "80 in"}, Undecided, "gap 5 in is out of range"},
		{DoorGapStretch, []string{"1/8 in", "32 ft", "80 in"}, Pass, ""},
		{DoorGapStretch, []string{"1/8 in", "33 ft", "80 in"}, Undecided, "length 33 ft is out of range"},
		{WallOpening, []string{"12 in²", "4 in"}, Pass, ""},
		{WallOpening, []string{"12 ft²", "4 in"}, Undecided, "area 12 ft² is out of range"},
	} {
		q := &Question{Phase: "assess", Name: "x", Kind: Computed, Compute: tt.check.Name}
		wantVerdict(t, judge(cellar(t), q, values(t, tt.check, tt.texts...)), tt.want, tt.says)
	}
}

// ASTM E779 and ISO 9972 (from memory): Q = C·Δp^n. Points made with C = 2 L/(s·Pa^n)
// and n = 0.65 give both back: 50^0.65 = 12.7154, 10^0.65 = 4.46684 (computed
// with logarithms).
func TestFanTestPoints(t *testing.T) {
	f := values(t, FanTest, "50 Pa", "25.43083 L/s", "10 Pa", "8.93367 L/s")
	got, why := fanTestOf(f)
	if why != "" || math.Abs(got.Exponent-0.65) > 1e-5 || math.Abs(got.Coefficient-0.002) > 1e-7 {
		t.Errorf("C %v, n %v, %q; want 0.002 and 0.65", got.Coefficient, got.Exponent, why)
	}
	q := &Question{Phase: "assess", Name: "fan-test", Kind: Computed, Compute: FanTest.Name}
	for _, tt := range []struct {
		texts []string
		says  string
	}{
		{[]string{"50 Pa", "8 L/s", "10 Pa", "9 L/s"}, "do not rise together"},
		{[]string{"50 Pa", "25 L/s", "45 Pa", "23 L/s"}, "lie too close"},
		{[]string{"50 Pa", "45 L/s", "10 Pa", "8 L/s"}, "exponent of 1.07"},
		{[]string{"-50 Pa", "25 L/s", "-10 Pa", "8 L/s"}, "do not rise together"},
	} {
		wantVerdict(t, judge(cellar(t), q, values(t, FanTest, tt.texts...)), Undecided, tt.says)
	}
}

// Answers of an inspection hole may differ from face to face; a choice that decides
// something may not.
func TestRecordedChoice(t *testing.T) {
	q := &Question{Phase: "assess", Name: "retarder-place", Kind: Choice, Options: []string{"not seen", "on the room side"}, RecordOnly: true, Sampling: Sampling{AtLeast: 2}}
	facts := []Fact{answered("north wall", "not seen"), answered("lid", "on the room side")}
	if v := judge(cellar(t), q, facts...); v.Outcome != Pass || v.Conflict {
		t.Errorf("recorded only: %v, conflict %v, %q", v.Outcome, v.Conflict, v.Reasons)
	}
	q.RecordOnly = false
	if v := judge(cellar(t), q, facts...); !v.Conflict {
		t.Errorf("a decision taken in two ways is %v without a conflict", v.Outcome)
	}
}

// The stated causes must be those of the records, in any order; nothing published
// holds such a rule, so the cases are ours.
func TestCauseExplained(t *testing.T) {
	a, b := diagnosis.AirLeakage, diagnosis.Retarder
	for _, tt := range []struct {
		stated, named []diagnosis.Cause
		want          bool
	}{
		{nil, nil, true}, {[]diagnosis.Cause{a}, []diagnosis.Cause{a}, true}, {[]diagnosis.Cause{a, b}, []diagnosis.Cause{b, a}, true},
		{[]diagnosis.Cause{a}, []diagnosis.Cause{a, b}, false}, {[]diagnosis.Cause{a, b}, []diagnosis.Cause{a}, false},
		{[]diagnosis.Cause{a}, nil, false}, {nil, []diagnosis.Cause{a}, false}, {[]diagnosis.Cause{a, a}, []diagnosis.Cause{a}, true},
	} {
		if got := sameCauses(tt.stated, tt.named); got != tt.want {
			t.Errorf("sameCauses(%v, %v) = %v", tt.stated, tt.named, got)
		}
	}
	q := &Question{Phase: "assess", Name: "cause-explained", Kind: Computed, Compute: CauseExplained.Name}
	room := cellar(t)
	room.Length, room.Width, room.Height = quantity(t, units.LengthKind, "3 m"), quantity(t, units.LengthKind, "3 m"), quantity(t, units.LengthKind, "2.4 m")
	wantVerdict(t, judge(room, q), Undecided, "the records do not decide the cause")
}

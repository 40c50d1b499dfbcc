package checks

import (
	"slices"
	"strings"
	"testing"

	"proveout/checks/units"
)

// The cellar has a north wall of 80 ft² with two bays, an east wall of 45 ft²
// with one, and a lid of 20 ft² whose bays are not known.
func TestExpectedPlaces(t *testing.T) {
	perTen := quantity(t, units.AreaKind, "20 ft²")
	for _, tt := range []struct {
		name string
		s    Sampling
		want []string
	}{
		{"nothing said", Sampling{}, []string{"point 1"}},
		{"at least 3", Sampling{AtLeast: 3}, []string{"point 1", "point 2", "point 3"}},
		{"named places", Sampling{Places: []string{"jamb", "head"}}, []string{"jamb", "head"}},
		{"each hole", Sampling{Each: "penetration"}, []string{"north wall/pipe", "lid/duct"}},
		{"each space beyond", Sampling{Each: "adjoining space"}, []string{"house", "outdoors", "attic"}},
		{"per face 1", Sampling{PerFace: 1}, []string{"north wall", "east wall", "lid"}},
		{"per face 2", Sampling{PerFace: 2, Faces: []string{"ceiling"}}, []string{"lid/point 1", "lid/point 2"}},
		{"per bay 1", Sampling{PerBay: 1, Faces: []string{"wall"}}, []string{"north wall/bay 1", "north wall/bay 2", "east wall/bay 1"}},
		{"per bay 1 where bays are unknown", Sampling{PerBay: 1, Faces: []string{"ceiling"}}, []string{"lid"}},
		{"per bay 2", Sampling{PerBay: 2, OtherSides: []string{"outdoors"}}, []string{"east wall/bay 1/1", "east wall/bay 1/2"}},
		{"per bay and face", Sampling{PerBay: 1, PerFace: 3, OtherSides: []string{"outdoors"}}, []string{"east wall/bay 1", "east wall/point 2", "east wall/point 3"}},
		{"per area", Sampling{PerArea: perTen, Faces: []string{"wall"}}, []string{
			"north wall/point 1", "north wall/point 2", "north wall/point 3", "north wall/point 4",
			"east wall/point 1", "east wall/point 2", "east wall/point 3"}},
		{"per area, exactly one", Sampling{PerArea: perTen, Faces: []string{"ceiling"}}, []string{"lid"}},
		{"faces that the room does not have", Sampling{PerFace: 1, Faces: []string{"glass"}}, nil},
	} {
		room := cellar(t)
		room.Penetrations = []string{"north wall/pipe", "lid/duct"}
		q := depth(t)
		q.Sampling = tt.s
		if got := q.Expected(room, ""); !slices.Equal(got, tt.want) {
			t.Errorf("%s: %q, want %q", tt.name, got, tt.want)
		}
		if got := q.missing(room, "", nil); !slices.Equal(got, tt.want) {
			t.Errorf("%s: missing %q, want all of %q", tt.name, got, tt.want)
		}
	}
}

func TestMissingPlaces(t *testing.T) {
	for _, tt := range []struct {
		name  string
		s     Sampling
		taken []string
		want  []string
	}{
		{"points are counted, wherever", Sampling{AtLeast: 3}, []string{"corner", "door"}, []string{"point 1"}},
		{"a number is not given twice", Sampling{AtLeast: 3}, []string{"point 1", "point 3"}, []string{"point 2"}},
		{"more than asked", Sampling{AtLeast: 1}, []string{"a", "b"}, nil},
		{"places go by name", Sampling{Places: []string{"jamb", "head"}}, []string{"jamb", "sill"}, []string{"head"}},
		{"each hole goes by name", Sampling{Each: "penetration"}, []string{"lid/pipe"}, []string{"north wall/pipe", "lid/duct"}},
		{"three on a face, anywhere on it", Sampling{PerFace: 3, Faces: []string{"ceiling"}}, []string{"lid/corner", "lid/middle"}, []string{"lid/point 1"}},
		{"points on another face do not count", Sampling{PerFace: 1, Faces: []string{"ceiling"}}, []string{"north wall", "east wall"}, []string{"lid"}},
		{"each bay is wanted, however many there are elsewhere", Sampling{PerBay: 1, Faces: []string{"wall"}},
			[]string{"north wall/bay 1", "north wall/point 1", "north wall/point 2", "east wall/bay 1"}, []string{"north wall/bay 2"}},
		{"two in each bay", Sampling{PerBay: 2, OtherSides: []string{"outdoors"}}, []string{"east wall/bay 1/1"}, []string{"east wall/bay 1/2"}},
		{"bay 1 is not bay 10", Sampling{PerBay: 1, OtherSides: []string{"outdoors"}}, []string{"east wall/bay 10"}, []string{"east wall/bay 1"}},
		{"bays count for the face", Sampling{PerBay: 1, PerFace: 2, OtherSides: []string{"outdoors"}}, []string{"east wall/bay 1", "east wall/top"}, nil},
	} {
		room := cellar(t)
		room.Penetrations = []string{"north wall/pipe", "lid/duct"}
		q := depth(t)
		q.Sampling = tt.s
		if got := q.missing(room, "", tt.taken); !slices.Equal(got, tt.want) {
			t.Errorf("%s: missing %q, want %q", tt.name, got, tt.want)
		}
	}
}

// One face at a time: the answers of another face neither help nor hinder.
func TestJudgeOneFace(t *testing.T) {
	room, q := cellar(t), depth(t)
	q.Sampling = Sampling{PerBay: 1, Faces: []string{"wall"}}
	facts := []Fact{reading(t, "north wall/bay 1", "4 in"), reading(t, "east wall/bay 1", "6 in")}
	c := asked(room, q, facts...)
	for face, want := range map[string]Outcome{"": Fail, "north wall": Fail, "east wall": Pass} {
		c.Face = face
		if v := Judge(c); v.Outcome != want {
			t.Errorf("face %q: %v %q, want %v", face, v.Outcome, v.Reasons, want)
		}
	}
	c.Facts = Facts{q.ID(): facts[1:]}
	c.Face = "north wall"
	v := Judge(c)
	wantVerdict(t, v, Undecided, "north wall/bay 1, north wall/bay 2")
	if v.Taken != 0 || v.Planned != 2 {
		t.Errorf("planned %d, taken %d, want 2 and 0", v.Planned, v.Taken)
	}
}

// A question about holes needs no answer in a room without holes; one about
// anything else does.
func TestNothingToAsk(t *testing.T) {
	room, q := cellar(t), &Question{Phase: "a", Name: "holes", Kind: Observation, Want: "yes", Sampling: Sampling{Each: "penetration"}, PhotoOne: true}
	wantVerdict(t, judge(room, q), Pass, "")
	room.Penetrations = []string{"lid/duct"}
	wantVerdict(t, judge(room, q), Undecided, "nothing is recorded yet")
	q = depth(t)
	q.Sampling = Sampling{PerFace: 1, Faces: []string{"glass"}}
	if q.Applies(room, "") {
		t.Error("a question about glass applies to a room without glass")
	}
	wantVerdict(t, judge(room, q), Undecided, "nothing is recorded yet")
}

func TestCheckPlace(t *testing.T) {
	room := cellar(t)
	room.Penetrations = []string{"lid/duct"}
	for _, tt := range []struct {
		s     Sampling
		place string
		says  string // "" when the place will do
		known []string
	}{
		{Sampling{}, "anywhere", "", nil},
		{Sampling{AtLeast: 3}, "by the door", "", nil},
		{Sampling{Places: []string{"jamb"}}, "jamb", "", nil},
		{Sampling{Places: []string{"jamb"}}, "sill", `asked at other places than "sill"`, []string{"jamb"}},
		{Sampling{Each: "penetration"}, "lid/pipe", "asked at other places", []string{"lid/duct"}},
		{Sampling{PerFace: 1}, "north wall/anywhere", "", nil},
		{Sampling{PerFace: 1}, "south wall", `not asked on a face called "south wall"`, []string{"north wall", "east wall", "lid"}},
		{Sampling{PerFace: 1, Faces: []string{"ceiling"}}, "north wall", "not asked on a face", []string{"lid"}},
		{Sampling{PerBay: 1}, "north wall/bay 2", "", nil},
		{Sampling{PerBay: 1}, "north wall/bay 3", `bays 1 to 2, not "3"`, nil},
		{Sampling{PerBay: 1}, "north wall/bay 0", "bays 1 to 2", nil},
		{Sampling{PerBay: 1}, "north wall/bay two", "bays 1 to 2", nil},
	} {
		q := depth(t)
		q.Sampling = tt.s
		known, err := q.CheckPlace(room, tt.place)
		switch {
		case tt.says == "" && err != nil:
			t.Errorf("%+v at %q: %v", tt.s, tt.place, err)
		case tt.says != "" && (err == nil || !strings.Contains(err.Error(), tt.says)):
			t.Errorf("%+v at %q: %v, want an error that says %q", tt.s, tt.place, err, tt.says)
		case tt.known != nil && !slices.Equal(known, tt.known):
			t.Errorf("%+v at %q: known %q, want %q", tt.s, tt.place, known, tt.known)
		}
	}
}

// What is missing is part of what is expected, and nothing is missing once all
// that was expected is there.
func TestMissingAgreesWithExpected(t *testing.T) {
	room := cellar(t)
	area := quantity(t, units.AreaKind, "10 ft²")
	for _, s := range []Sampling{
		{}, {AtLeast: 5}, {Places: []string{"a", "b"}}, {PerFace: 1}, {PerFace: 4}, {PerBay: 1}, {PerBay: 3},
		{PerBay: 1, PerFace: 3}, {PerArea: area}, {PerFace: 3, PerBay: 1, PerArea: area}, {Each: "adjoining space"},
	} {
		q := depth(t)
		q.Sampling = s
		expected := q.Expected(room, "")
		for n := range expected {
			missing := q.missing(room, "", expected[:n])
			if len(missing) != len(expected)-n {
				t.Errorf("%+v with %d taken: missing %q of %q", s, n, missing, expected)
			}
			for _, m := range missing {
				if slices.Contains(expected[:n], m) {
					t.Errorf("%+v: %q is missing and taken", s, m)
				}
			}
		}
		if missing := q.missing(room, "", expected); len(missing) != 0 {
			t.Errorf("%+v: all taken, and missing %q", s, missing)
		}
	}
}

// ASTM F2170: three holes for the first 1000 ft² of a slab and one for each further
// 1000 (from memory).
func TestHolesByFloor(t *testing.T) {
	q := &Question{Phase: "framing", Name: "slab-humidity", Sampling: Sampling{AtLeast: 3, FloorArea: quantity(t, units.AreaKind, "1000 ft²")}}
	for length, want := range map[string]int{"": 3, "8 ft": 3, "100 ft": 3, "100.1 ft": 4, "200 ft": 4, "250 ft": 5, "76.2 m": 5} {
		room := cellar(t)
		room.Width, room.Length = quantity(t, units.LengthKind, "10 ft"), units.Quantity{}
		if length != "" {
			room.Length = quantity(t, units.LengthKind, length)
		}
		places := q.Expected(room, "")
		if len(places) != want || len(q.missing(room, "", places[1:])) != 1 || q.missing(room, "", places) != nil {
			t.Errorf("%q by 10 ft: %q, want %d", length, places, want)
		}
	}
}

package checks

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// faces returns the faces on which q is asked; only restricts to one face.
func (q *Question) faces(room *Room, only string) []*Face {
	kinds := q.Sampling.Faces
	if kinds == nil {
		kinds = []string{"wall", "ceiling", "floor"}
	}
	var faces []*Face
	for i := range room.Faces {
		f := &room.Faces[i]
		if only != "" && f.Name != only || !slices.Contains(kinds, f.Kind) {
			continue
		}
		if q.Sampling.OtherSides != nil && !slices.Contains(q.Sampling.OtherSides, f.OtherSide) {
			continue
		}
		faces = append(faces, f)
	}
	return faces
}

// Applies reports whether the question is asked at all in a room: it is not
// when it is about kinds of face the room does not have.
func (q *Question) Applies(room *Room, only string) bool {
	return !q.Sampling.OnFaces() || len(q.faces(room, only)) > 0
}

// Expected returns the places that want an answer, in the order a person walks
// them. A place on a face reads "north wall/bay 3" or "north wall/point 2".
func (q *Question) Expected(room *Room, only string) []string {
	s := q.Sampling
	switch {
	case s.Each != "":
		return eachOf(s.Each, room, only)
	case s.Places != nil:
		return s.Places
	case s.OnFaces():
		var places []string
		for _, f := range q.faces(room, only) {
			places = append(places, s.onFace(f)...)
		}
		return places
	}
	return numbered("point", s.wantedIn(room))
}

func eachOf(what string, room *Room, only string) []string {
	switch what {
	case "penetration":
		var places []string
		for _, p := range room.Penetrations {
			if only == "" || FaceOf(p) == only {
				places = append(places, p)
			}
		}
		return places
	case "adjoining space":
		return room.adjoining()
	}
	return nil
}

// adjoining returns what lies beyond the faces, each once, and outdoors: what the
// weather does decides how hard the room has it.
func (r *Room) adjoining() []string {
	var names []string
	for _, f := range r.Faces {
		if !slices.Contains(names, f.OtherSide) {
			names = append(names, f.OtherSide)
		}
	}
	if !slices.Contains(names, "outdoors") {
		names = append(names, "outdoors")
	}
	return names
}

// EachOf lists the words that `each:` may use.
var EachOf = []string{"penetration", "adjoining space"}

func (s Sampling) onFace(f *Face) []string {
	var places []string
	for bay := range f.Bays {
		for n := range s.PerBay {
			place := f.Name + "/bay " + strconv.Itoa(bay+1)
			if s.PerBay > 1 {
				place += "/" + strconv.Itoa(n+1)
			}
			places = append(places, place)
		}
	}
	want := s.wantedOn(f)
	if want == 1 && len(places) == 0 {
		return []string{f.Name}
	}
	for n := len(places); n < want; n++ {
		places = append(places, f.Name+"/point "+strconv.Itoa(n+1))
	}
	return places
}

// wantedOn returns how many answers a face needs in all.
func (s Sampling) wantedOn(f *Face) int {
	want := max(s.PerFace, s.PerBay*f.Bays)
	if s.PerArea.Known() && s.PerArea.Base() > 0 && f.Area.Known() {
		want = max(want, int(math.Ceil(f.Area.Base()/s.PerArea.Base()-1e-9)))
	}
	if want == 0 { // bays or area of this face are not known
		want = 1
	}
	return want
}

// wantedIn returns how many answers the room needs in all: AtLeast for the first
// FloorArea and one for each further, begun or whole.
func (s Sampling) wantedIn(room *Room) int {
	want := max(s.AtLeast, 1)
	if !s.FloorArea.Known() || !room.Length.Known() || !room.Width.Known() {
		return want
	}
	floors := room.Length.Base() * room.Width.Base() / s.FloorArea.Base()
	return want + max(0, int(math.Ceil(floors-1-1e-9)))
}

func numbered(word string, n int) []string {
	places := make([]string, n)
	for i := range places {
		places[i] = word + " " + strconv.Itoa(i+1)
	}
	return places
}

// missing returns the expected places that have no answer yet. A face that
// has enough answers elsewhere wants no more, except that each bay is wanted.
func (q *Question) missing(room *Room, only string, taken []string) []string {
	s := q.Sampling
	switch {
	case s.Each != "" || s.Places != nil:
		return without(q.Expected(room, only), taken)
	case s.OnFaces():
		var missing []string
		for _, f := range q.faces(room, only) {
			missing = append(missing, s.missingOn(f, taken)...)
		}
		return missing
	}
	want := s.wantedIn(room)
	short := want - len(taken)
	if short <= 0 {
		return nil
	}
	free := without(numbered("point", want+len(taken)), taken)
	return free[:short]
}

func (s Sampling) missingOn(f *Face, taken []string) []string {
	var missing []string
	count, used := 0, map[string]bool{}
	for _, place := range taken {
		if FaceOf(place) == f.Name {
			count++
			used[place] = true
		}
	}
	if s.PerBay > 0 {
		for bay := range f.Bays {
			name := f.Name + "/bay " + strconv.Itoa(bay+1)
			missing = append(missing, s.missingInBay(name, taken)...)
		}
	}
	for n := s.PerBay*f.Bays + 1; count+len(missing) < s.wantedOn(f); n++ {
		place := f.Name + "/point " + strconv.Itoa(n)
		if s.wantedOn(f) == 1 && !used[f.Name] {
			place = f.Name
		}
		if !used[place] {
			missing = append(missing, place)
		}
	}
	return missing
}

func (s Sampling) missingInBay(bay string, taken []string) []string {
	have := 0
	for _, place := range taken {
		if place == bay || strings.HasPrefix(place, bay+"/") {
			have++
		}
	}
	var missing []string
	for n := have; n < s.PerBay; n++ {
		if s.PerBay == 1 {
			missing = append(missing, bay)
		} else {
			missing = append(missing, bay+"/"+strconv.Itoa(n+1))
		}
	}
	return missing
}

func without(all, taken []string) []string {
	return slices.DeleteFunc(slices.Clone(all), func(p string) bool { return slices.Contains(taken, p) })
}

// CheckPlace reports why an answer to q cannot be at this place; known are the
// names to offer instead.
func (q *Question) CheckPlace(room *Room, place string) (known []string, err error) {
	s := q.Sampling
	switch {
	case s.Each != "" || s.Places != nil:
		known = q.Expected(room, "")
		if !slices.Contains(known, place) {
			return known, fmt.Errorf("%s is asked at other places than %q", q.ID(), place)
		}
	case s.OnFaces():
		for _, f := range q.faces(room, "") {
			known = append(known, f.Name)
		}
		if !slices.Contains(known, FaceOf(place)) {
			return known, fmt.Errorf("%s is not asked on a face called %q", q.ID(), FaceOf(place))
		}
		return nil, checkBay(room.Face(FaceOf(place)), place)
	}
	return nil, nil
}

func checkBay(f *Face, place string) error {
	for _, part := range strings.Split(place, "/")[1:] {
		number, ok := strings.CutPrefix(strings.TrimSpace(part), "bay ")
		if !ok {
			continue
		}
		n, err := strconv.Atoi(number)
		if err != nil || n < 1 || n > f.Bays {
			return fmt.Errorf("the %s has bays 1 to %d, not %q", f.Name, f.Bays, number)
		}
	}
	return nil
}

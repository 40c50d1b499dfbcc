package figure

import (
	"bytes"
	"encoding/xml"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"
)

// column is what a plain loop finds of one pixel column.
type extent struct{ least, most float64 }

func extents(list []Point, s span, columns int) map[int]extent {
	found := map[int]extent{}
	for _, p := range list {
		if !finite(p.Y) || p.X < s.low || p.X > s.high {
			continue
		}
		c := min(int((p.X-s.low)/(s.high-s.low)*float64(columns)), columns-1)
		e, ok := found[c]
		if !ok {
			e = extent{p.Y, p.Y}
		}
		found[c] = extent{min(e.least, p.Y), max(e.most, p.Y)}
	}
	return found
}

// A thinned line has in each pixel column exactly the least and the greatest
// value that all its samples have there, nothing that was not sampled, its order,
// and at most four points a column.
func TestExtremesAreKept(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 5))
	for range 300 {
		n, columns := random.IntN(4000), 1+random.IntN(400)
		s := span{0, 1000}
		list := make([]Point, n)
		for i := range list {
			list[i] = Point{random.Float64()*1100 - 50, 12 + random.NormFloat64()}
			if random.IntN(200) == 0 {
				list[i].Y += 40 * random.NormFloat64() // a spike of one sample
			}
			if random.IntN(50) == 0 {
				list[i].Y = math.NaN()
			}
		}
		slices.SortFunc(list, func(a, b Point) int { return int(math.Copysign(1, a.X-b.X)) })
		kept := thin(list, s, columns)
		want, got := extents(list, s, columns), extents(kept, s, columns)
		if len(want) != len(got) {
			t.Fatalf("%d samples in %d columns: %d columns drawn, want %d", n, columns, len(got), len(want))
		}
		for c, e := range want {
			if got[c] != e {
				t.Fatalf("column %d of %d is drawn from %v, want %v", c, columns, got[c], e)
			}
		}
		sampled, last, finiteKept := map[Point]bool{}, math.Inf(-1), 0
		for _, p := range list {
			sampled[p] = true
		}
		for _, p := range kept {
			if finite(p.Y) && !sampled[p] || p.X < last {
				t.Fatalf("%v was not sampled, or is out of order", p)
			}
			last = p.X
			if finite(p.Y) {
				finiteKept++
			}
		}
		gaps := 0
		for _, p := range list {
			if !finite(p.Y) {
				gaps++
			}
		}
		if finiteKept > 4*(columns+gaps) {
			t.Fatalf("%d points kept of %d in %d columns", finiteKept, n, columns)
		}
	}
}

// A line is broken where a value is missing or the step is too long, and nowhere
// else.
func TestGaps(t *testing.T) {
	nan := math.NaN()
	list := []Point{{0, 1}, {1, 2}, {2, nan}, {3, 3}, {9, 4}, {10, 5}}
	kept, means := extremes(len(list), func(i int) Point { return list[i] }, span{0, 10}, 1000, 2)
	for _, got := range [][]Point{kept, means} {
		var y []float64
		breaks := 0
		for _, p := range got {
			if finite(p.Y) {
				y = append(y, p.Y)
			} else {
				breaks++
			}
		}
		if !slices.Equal(y, []float64{1, 2, 3, 4, 5}) || breaks != 2 {
			t.Errorf("%v: values %v with %d breaks, want 1 to 5 with 2", got, y, breaks)
		}
	}
}

// In the SVG of a log the line reaches the greatest and the least reading of each
// pixel column, to a twentieth of a unit.
func TestLogDrawsExtremes(t *testing.T) {
	from := time.Date(2025, 8, 1, 0, 0, 0, 0, time.UTC)
	times, values := logged(from, 10, 12.6, 0.3, 0.05, 4)
	values[7001], values[9999] = 17.25, 8.5 // one sample each
	f := Log{From: from, To: from.AddDate(0, 0, 10), Panels: []LogPanel{{Axis: "°C", Lines: []LogLine{{"a", times, values}}}}}
	svg, err := f.SVG()
	if err != nil {
		t.Fatal(err)
	}
	path := longestPath(t, svg)
	list := points(t, path)
	scale := f.scale(f.Panels[0])
	w := wide - leftGutter - f.labelRoom()
	// The panel is 150 units high; its greatest and least values fix its place
	least, most := math.Inf(1), math.Inf(-1)
	for _, p := range list {
		least, most = min(least, p.Y), max(most, p.Y)
	}
	unit := 150 / (scale.high - scale.low)
	if got, want := most-least, (17.25-8.5)*unit; math.Abs(got-want) > 0.05 {
		t.Fatalf("the line spans %v units, want %v", got, want)
	}
	value := func(y float64) float64 { return 17.25 - (most-y)/unit } // y runs up in the path
	var all, drawn []Point
	for i, ms := range times {
		all = append(all, Point{float64(ms-from.UnixMilli()) / f.axis().high * w, values[i]})
	}
	for _, p := range list {
		drawn = append(drawn, Point{p.X - leftGutter, value(p.Y)})
	}
	// Places in the path are rounded to 0.01.
	want := extents(all, span{0, w}, int(w))
	for c, e := range want {
		lo, hi := float64(c)*w/float64(int(w)), float64(c+1)*w/float64(int(w))
		got := extent{math.Inf(1), math.Inf(-1)}
		for _, p := range drawn {
			if p.X >= lo-0.02 && p.X <= hi+0.02 {
				got = extent{min(got.least, p.Y), max(got.most, p.Y)}
			}
		}
		if got.least > e.least+0.05/unit || got.most < e.most-0.05/unit {
			t.Errorf("column %d is drawn from %v to %v, want %v to %v", c, got.least, got.most, e.least, e.most)
		}
	}
}

// longestPath is the path with the most data.
func longestPath(t *testing.T, svg []byte) string {
	t.Helper()
	dec, longest := xml.NewDecoder(bytes.NewReader(svg)), ""
	for {
		token, err := dec.Token()
		if err != nil {
			return longest
		}
		if e, ok := token.(xml.StartElement); ok && e.Name.Local == "path" {
			for _, a := range e.Attr {
				if a.Name.Local == "d" && len(a.Value) > len(longest) && strings.HasPrefix(a.Value, "M") {
					longest = a.Value
				}
			}
		}
	}
}

// The strip of the unit's running is as full as the unit ran.
func TestShare(t *testing.T) {
	from := time.Date(2025, 8, 1, 0, 0, 0, 0, time.UTC)
	at := func(h float64) time.Time { return from.Add(time.Duration(h * float64(time.Hour))) }
	f := Log{From: from, To: at(10)}
	got := f.share([]TimeSpan{{at(-1), at(0.5)}, {at(1), at(3)}, {at(4.25), at(4.5)}, {at(9.5), at(12)}}, 10)
	want := []float64{0.5, 1, 1, 0, 0.25, 0, 0, 0, 0, 0.5}
	for i := range want {
		if math.Abs(got[i]-want[i]) > 1e-12 {
			t.Errorf("share %v, want %v", got, want)
			break
		}
	}
}

// Days begin at local midnight, also where the clocks change.
func TestMidnights(t *testing.T) {
	from := time.Date(2025, 10, 31, 12, 0, 0, 0, logZone)
	nights := midnights(from, from.AddDate(0, 0, 4))
	if len(nights) != 4 {
		t.Fatalf("%d midnights, want 4", len(nights))
	}
	for i, n := range nights {
		if h, m, s := n.Clock(); h+m+s != 0 || n.Day() != i+1 {
			t.Errorf("day %d begins at %v", i+1, n)
		}
	}
	if d := nights[2].Sub(nights[1]); d != 25*time.Hour { // clocks went back on November 2
		t.Errorf("November 2 has %v, want 25 h", d)
	}
}

func BenchmarkLog(b *testing.B) {
	for _, name := range []string{"log"} {
		b.ReportAllocs()
		size := 0
		for b.Loop() {
			svg, err := gallery[name].SVG()
			if err != nil {
				b.Fatal(err)
			}
			size = len(svg)
		}
		b.ReportMetric(float64(size), "bytes")
	}
}

func BenchmarkSection(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := eightLayers.SVG(); err != nil {
			b.Fatal(err)
		}
	}
}

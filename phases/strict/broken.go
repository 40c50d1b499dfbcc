package strict

import (
	"bytes"
	"errors"
	"io"

	"gopkg.in/yaml.v3"
)

// readBudget bounds the bytes that brokenLine reads again, and with it the
// time that a hostile file can take. A plan may be read 200 times for it.
const readBudget = 3 << 20

// lookAhead is the number of lines over which a quote or bracket may run
// without spoiling the position of a later error.
const lookAhead = 200

// brokenLine returns the line after the longest run of whole lines that YAML
// accepts: the first line that nothing after it can repair. In a file too
// large for that it returns the line where yaml.v3 gave up.
func brokenLine(lines *lineIndex) int {
	s := &search{lines: lines, gaveUp: linesRead(lines.data), budget: readBudget}
	low := s.bisect(s.gallop())
	if s.budget <= 0 {
		return s.gaveUp
	}
	for longer := s.further(low); longer > 0; longer = s.further(low) {
		low = s.bisect(longer, s.gaveUp)
	}
	return low + 1
}

type search struct {
	lines  *lineIndex
	gaveUp int // the last line that yaml.v3 asked for
	budget int // bytes
}

// good reports whether the first n lines alone are sound.
func (s *search) good(n int) bool {
	part := s.lines.upTo(n)
	if s.budget -= len(part); s.budget <= 0 {
		return false
	}
	return readAll(bytes.NewReader(part)) == nil
}

// gallop returns a number of lines that is good and a larger one that is not.
// Most problems are near the line where yaml.v3 gives up.
func (s *search) gallop() (low, high int) {
	high = s.gaveUp
	for step := 1; step < s.gaveUp; step *= 2 {
		if s.good(s.gaveUp - step) {
			return s.gaveUp - step, high
		}
		high = s.gaveUp - step
	}
	return 0, high
}

// bisect returns a good number of lines, low or more, whose successor is not
// good.
func (s *search) bisect(low, high int) int {
	for low+1 < high {
		if middle := (low + high) / 2; s.good(middle) {
			low = middle
		} else {
			high = middle
		}
	}
	return low
}

// further returns a good number of lines beyond low+1, which is not good, or
// zero. A run that ends inside a quote or a bracket is not good although the
// file is sound there.
func (s *search) further(low int) int {
	for n := low + 2; n < min(low+lookAhead, s.gaveUp) && s.budget > 0; n++ {
		if s.good(n) {
			return n
		}
	}
	return 0
}

// linesRead returns the number of lines that yaml.v3 asks for before it finds
// the file unsound.
func linesRead(data []byte) int {
	r := &lineReader{rest: data}
	_ = readAll(r) // the error is known
	return max(1, r.lines)
}

// readAll reads all documents.
func readAll(r io.Reader) error {
	dec := yaml.NewDecoder(r)
	for {
		var n yaml.Node
		if err := next(dec, &n); errors.Is(err, io.EOF) {
			return nil
		} else if err != nil {
			return err
		}
	}
}

// lineReader hands out a line at a time and counts those begun.
type lineReader struct {
	rest  []byte
	lines int
	mid   bool // rest starts within a line
}

func (r *lineReader) Read(p []byte) (int, error) {
	if len(r.rest) == 0 {
		return 0, io.EOF
	}
	if !r.mid {
		r.lines++
	}
	line, _, found := bytes.Cut(r.rest, []byte("\n"))
	n := len(line)
	if found {
		n++
	}
	n = copy(p, r.rest[:n])
	r.mid = r.rest[n-1] != '\n'
	r.rest = r.rest[n:]
	return n, nil
}

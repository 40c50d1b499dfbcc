package logs

import "bytes"

// splitter cuts a record into cells without copying, as far as it can.
type splitter struct {
	separator byte
	cells     [][]byte
	scratch   []byte
}

// split returns the cells of a record without surrounding spaces and quotes.
// open is true when a quote was opened and not closed.
func (s *splitter) split(record []byte) (cells [][]byte, open bool) {
	s.cells = s.cells[:0]
	if bytes.IndexByte(record, '"') >= 0 {
		return s.splitQuoted(record)
	}
	for {
		i := bytes.IndexByte(record, s.separator)
		if i < 0 {
			break
		}
		s.cells = append(s.cells, trim(record[:i]))
		record = record[i+1:]
	}
	s.cells = append(s.cells, trim(record))
	return s.cells, false
}

func (s *splitter) splitQuoted(record []byte) (cells [][]byte, open bool) {
	s.scratch = s.scratch[:0]
	for {
		cell, rest, more, unclosed := s.next(record)
		if unclosed {
			return s.cells, true
		}
		s.cells = append(s.cells, trim(cell))
		if !more {
			return s.cells, false
		}
		record = rest
	}
}

// next cuts the first cell off a record. A quote counts only at the start of a
// cell and with nothing between its end and the separator, so that the inch
// mark in a name does no harm.
func (s *splitter) next(record []byte) (cell, rest []byte, more, unclosed bool) {
	start := bytes.TrimLeft(record, " ")
	if len(start) > 0 && start[0] == '"' {
		body, behind, closed := s.unquote(start[1:])
		if !closed {
			return nil, nil, false, true
		}
		gap, rest, more := bytes.Cut(behind, []byte{s.separator})
		if len(trim(gap)) == 0 {
			return body, rest, more, false
		}
	}
	cell, rest, more = bytes.Cut(record, []byte{s.separator})
	return cell, rest, more, false
}

// unquote returns the text up to the closing quote; doubled quotes are one.
func (s *splitter) unquote(b []byte) (body, rest []byte, closed bool) {
	end := bytes.IndexByte(b, '"')
	if end < 0 {
		return nil, nil, false
	}
	if end+1 >= len(b) || b[end+1] != '"' {
		return b[:end], b[end+1:], true
	}
	from := len(s.scratch)
	for {
		s.scratch = append(s.scratch, b[:end]...)
		b = b[end+1:]
		if len(b) == 0 || b[0] != '"' {
			return s.scratch[from:], b, true
		}
		s.scratch, b = append(s.scratch, '"'), b[1:]
		if end = bytes.IndexByte(b, '"'); end < 0 {
			return nil, nil, false
		}
	}
}

func trim(b []byte) []byte {
	for len(b) > 0 && isSpace(b[len(b)-1]) {
		b = b[:len(b)-1]
	}
	return trimLeft(b)
}

func trimLeft(b []byte) []byte {
	for len(b) > 0 && isSpace(b[0]) {
		b = b[1:]
	}
	return b
}

func isSpace(c byte) bool {
	return c == ' ' || c == '\t' || c == '\r' || c == '\v' || c == '\f' || c == '\n'
}

// quoteLines is how many lines a quoted cell may run over. A quote that is not
// closed by then is a damaged line, not a long cell.
const quoteLines = 20

// scanner goes through the records of a text held in memory.
type scanner struct {
	text    []byte
	newline byte      // '\n', or '\r' in files without '\n'
	split   *splitter // nil: quotes are not looked at
	more    bool      // more text will be appended: leave a cut-off record
	line    int       // line on which the record last returned begins
	lines   int       // line ends passed
}

// next returns the next record without its line end. ended is false for a last
// record that no line end follows.
func (s *scanner) next() (record []byte, ended, ok bool) {
	if len(s.text) == 0 {
		return nil, false, false
	}
	s.line = s.lines + 1
	end := bytes.IndexByte(s.text, s.newline)
	if end < 0 {
		return s.last()
	}
	passed := 1
	if s.split != nil && bytes.IndexByte(s.text[:end], '"') >= 0 {
		if end, passed = s.closeQuote(end); end < 0 {
			return nil, false, false
		}
	}
	s.lines += passed
	record, s.text = s.text[:end], s.text[end+1:]
	return chop(record), true, true
}

func (s *scanner) last() (record []byte, ended, ok bool) {
	if s.more {
		return nil, false, false
	}
	record, s.text = s.text, nil
	s.lines++
	return chop(record), false, true
}

// closeQuote moves the end of a record behind the line that closes its quote
// and counts the lines. end is −1 when that needs text still to come.
func (s *scanner) closeQuote(first int) (end, lines int) {
	end = first
	for lines = 1; ; lines++ {
		if _, open := s.split.split(s.text[:end]); !open {
			return end, lines
		}
		next := bytes.IndexByte(s.text[end+1:], s.newline)
		if next < 0 && s.more {
			return -1, 0
		}
		if next < 0 || lines == quoteLines {
			return first, 1
		}
		end += 1 + next
	}
}

func chop(record []byte) []byte {
	if n := len(record); n > 0 && record[n-1] == '\r' {
		return record[:n-1]
	}
	return record
}

// newlineOf returns what ends the lines of a text.
func newlineOf(text []byte) byte {
	if bytes.IndexByte(text, '\n') < 0 && bytes.IndexByte(text, '\r') >= 0 {
		return '\r'
	}
	return '\n'
}

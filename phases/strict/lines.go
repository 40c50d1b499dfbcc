package strict

import (
	"bytes"
	"unicode/utf8"
)

// lineIndex finds the byte offset of a line and column. It looks for the lines
// when it is first asked, and remembers the last place, so that walking a file
// of one long line in order stays linear.
type lineIndex struct {
	data   []byte
	starts []int // where each line starts

	line, column, byte int // the last place found
}

func (x *lineIndex) build() {
	if x.starts != nil {
		return
	}
	x.starts = make([]int, 1, 1+bytes.Count(x.data, []byte("\n")))
	for i, c := range x.data {
		if c == '\n' {
			x.starts = append(x.starts, i+1)
		}
	}
}

// count returns the number of lines; what follows the last line feed counts
// as one, also when it is empty.
func (x *lineIndex) count() int {
	x.build()
	return len(x.starts)
}

// offset returns the byte offset of a position, or −1 if the file has no such
// line or column. The position just after a line's last character exists.
func (x *lineIndex) offset(line, column int) int {
	if line < 1 || line > x.count() || column < 1 {
		return -1
	}
	if line != x.line || column < x.column {
		x.line, x.column, x.byte = line, 1, x.starts[line-1]
	}
	for ; x.column < column; x.column++ {
		if x.byte >= len(x.data) || x.data[x.byte] == '\n' {
			return -1
		}
		_, size := utf8.DecodeRune(x.data[x.byte:])
		x.byte += size
	}
	return x.byte
}

// at returns the byte at a position, or zero.
func (x *lineIndex) at(line, column int) byte {
	if i := x.offset(line, column); 0 <= i && i < len(x.data) {
		return x.data[i]
	}
	return 0
}

// upTo returns the first n lines.
func (x *lineIndex) upTo(n int) []byte {
	if n >= x.count() {
		return x.data
	}
	return x.data[:x.starts[n]]
}

// text returns a line without its end.
func (x *lineIndex) text(line int) string {
	end := len(x.upTo(line))
	return string(bytes.TrimRight(x.data[x.starts[line-1]:end], "\r\n"))
}

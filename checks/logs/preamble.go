package logs

import (
	"slices"
	"strconv"
	"strings"
)

// header finds the line of column names, and of units below it, above the
// first row. What stands before is the preamble.
func (f *finder) header() error {
	at := f.headerAt()
	if at < 0 {
		f.d.Header = -1
		f.p.note("no header: the columns have no names and no units")
		return nil
	}
	f.d.Header = f.lines[at].number
	f.aboveRows(at)
	return f.sameWidth()
}

// aboveRows reads the header at a place in lines, a units row between it and
// the first row, and the preamble before it.
func (f *finder) aboveRows(at int) {
	if at < 0 {
		return
	}
	split := splitter{separator: f.d.Separator}
	f.named = cellTexts(&split, f.lines[at].text)
	for _, line := range f.lines[at+1:] {
		if line.number >= f.d.First {
			break
		}
		if cells := cellTexts(&split, line.text); unitsRow(cells) {
			f.below = cells
		}
	}
	for _, line := range f.lines[:at] {
		if text := trim(line.text); len(text) > 0 {
			f.p.Preamble = append(f.p.Preamble, shorten(text))
		}
	}
}

// headerAt returns the place of the header in lines, −1 if there is none.
func (f *finder) headerAt() int {
	if f.d.Header < 0 {
		return -1
	}
	split := splitter{separator: f.d.Separator}
	place := -1
	for i, line := range f.lines {
		if line.number >= f.d.First {
			break
		}
		if f.d.Header > 0 && line.number == f.d.Header {
			return i
		}
		if len(trim(line.text)) == 0 || isRule(line.text) {
			continue
		}
		cells := cellTexts(&split, line.text)
		if unitsRow(cells) && place >= 0 {
			continue
		}
		place = -1
		if headerLike(cells) {
			place = i
		}
	}
	if f.d.Header > 0 {
		return -1
	}
	return place
}

// headerLike reports a line of at least two cells that are mostly words.
func headerLike(cells []string) bool {
	filled, numbers := 0, 0
	for _, c := range cells {
		if c == "" {
			continue
		}
		filled++
		if n, ok := scan([]byte(c), '.'); ok && n.length == len(c) {
			numbers++
		} else if _, ok := shapeOf([]byte(c)); ok {
			numbers++
		}
	}
	return filled >= 2 && numbers*2 <= filled
}

// unitsRow reports a line whose cells are all units, or empty, or patterns of a
// date.
func unitsRow(cells []string) bool {
	units := 0
	for _, c := range cells {
		switch folded := foldUnit(c); {
		case folded == "" || strings.Trim(folded, "dmyhsjat:./-") == "":
		case folded == "%" || len(unitsIn("["+c+"]")) == 1 && len(headerWords(c)) == 1:
			units++
		default:
			return false
		}
	}
	return units > 0
}

func cellTexts(split *splitter, line []byte) []string {
	cells, _ := split.split(line)
	texts := make([]string, len(cells))
	for i, c := range cells {
		texts[i] = strings.ToValidUTF8(string(c), "\uFFFD")
	}
	for len(texts) > 0 && texts[len(texts)-1] == "" {
		texts = texts[:len(texts)-1]
	}
	return texts
}

// sameWidth rejects rows with more cells than the header has names, the sign
// of decimal commas between commas.
func (f *finder) sameWidth() error {
	if f.form.cells <= len(f.named) {
		return nil
	}
	hint := ""
	if f.d.Separator == ',' {
		hint = "; if it writes decimal commas, export with semicolons or quoted numbers"
	}
	return problemf(ErrColumns, "line %d: the header names %d columns, the rows from line %d on have %d%s",
		f.d.Header, len(f.named), f.d.First, f.form.cells, hint)
}

func textAt(texts []string, i int) string {
	if i < len(texts) {
		return texts[i]
	}
	return ""
}

// uniqueNames returns the names of n columns, numbered where the header has
// none or repeats one.
func uniqueNames(named []string, n int) []string {
	names := make([]string, 0, n)
	for i := range n {
		name := strings.TrimSpace(textAt(named, i))
		if name == "" {
			name = "column " + strconv.Itoa(i+1)
		}
		free := name
		for again := 2; slices.Contains(names, free); again++ {
			free = name + " (" + strconv.Itoa(again) + ")"
		}
		names = append(names, free)
	}
	return names
}

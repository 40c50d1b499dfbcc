package logs

import "bytes"

// markCount counts what the numbers of the sample say of one mark, ',' or '.'.
type markCount struct {
	decimal   int // numbers in which it can only be the decimal mark
	thousands int // numbers in which it can only part thousands
	open      int // numbers like 1,234 that leave it open
	openLine  int
	openText  string
}

// marks settles the decimal mark and the mark between thousands.
func (f *finder) marks() error {
	var comma, point markCount
	spaces := map[byte]int{}
	f.cellsOf(func(line sampleLine, cells [][]byte) {
		for i, cell := range cells {
			if i == f.form.timeAt || i == f.form.clockAt {
				continue
			}
			if mark := spaceMark(cell); mark != 0 {
				spaces[mark]++
			}
			countMarks(cell, line.number, &comma, &point)
		}
	})
	if f.d.Decimal == 0 {
		if err := f.decimal(&comma, &point); err != nil {
			return err
		}
	}
	if f.d.Group == 0 {
		f.d.Group = groupOf(f.d.Decimal, &comma, &point, spaces)
	}
	return nil
}

// decimal weighs what was counted.
func (f *finder) decimal(comma, point *markCount) error {
	c, p := comma.decimal+point.thousands, point.decimal+comma.thousands
	switch {
	case c > 0 && p > 0:
		f.p.note("numbers with decimal commas and with decimal points: the less frequent are rejected")
		f.d.Decimal = '.'
		if c > p {
			f.d.Decimal = ','
		}
	case c > 0:
		f.d.Decimal = ','
	case p > 0:
		f.d.Decimal = '.'
	case comma.open > 0:
		return &AmbiguousNumber{comma.openLine, comma.openText, ','}
	default:
		f.d.Decimal = '.'
		if point.open > 0 {
			f.p.note("every number has three digits behind the point: taken as decimals, " + `"` + point.openText + `"` + " is not a thousand")
		}
	}
	return nil
}

func groupOf(decimal byte, comma, point *markCount, spaces map[byte]int) byte {
	switch {
	case decimal == '.' && comma.thousands > 0:
		return ','
	case decimal == ',' && point.thousands > 0:
		return '.'
	case spaces[' '] > 0:
		return ' '
	case spaces['\''] > 0:
		return '\''
	}
	return 0
}

// countMarks looks at the marks of one cell, if it is a number.
func countMarks(cell []byte, line int, comma, point *markCount) {
	number, ok := numberPart(cell)
	if !ok {
		return
	}
	commas, points := bytes.Count(number, []byte{','}), bytes.Count(number, []byte{'.'})
	switch {
	case commas == 1 && points == 0:
		comma.single(number, ',', line, cell)
	case points == 1 && commas == 0:
		point.single(number, '.', line, cell)
	case points == 1 && bytes.LastIndexByte(number, '.') > bytes.LastIndexByte(number, ','):
		comma.grouped(number[:bytes.IndexByte(number, '.')], ',')
	case commas == 1 && bytes.LastIndexByte(number, ',') > bytes.LastIndexByte(number, '.'):
		point.grouped(number[:bytes.IndexByte(number, ',')], '.')
	case commas > 1 && points == 0:
		comma.grouped(number, ',')
	case points > 1 && commas == 0:
		point.grouped(number, '.')
	}
}

// single judges the only mark of a number: three digits behind it and one to
// three before leave both readings open.
func (m *markCount) single(number []byte, mark byte, line int, cell []byte) {
	whole, fraction, _ := bytes.Cut(number, []byte{mark})
	if len(fraction) != 3 || len(whole) == 0 || len(whole) > 3 || whole[0] == '0' {
		m.decimal++
		return
	}
	if m.open++; m.open == 1 {
		m.openLine, m.openText = line, shorten(cell)
	}
}

// grouped counts a mark that parts groups of three.
func (m *markCount) grouped(whole []byte, mark byte) {
	for i, group := range bytes.Split(whole, []byte{mark}) {
		if i > 0 && len(group) != 3 || i == 0 && (len(group) == 0 || len(group) > 3) {
			return
		}
	}
	m.thousands++
}

// numberPart returns the digits and marks of a cell that is a number, with or
// without a unit behind it.
func numberPart(cell []byte) (number []byte, ok bool) {
	_, cut := cutMinus(cell)
	cell = cell[cut:]
	n := 0
	for n < len(cell) && (cell[n]-'0' <= 9 || cell[n] == ',' || cell[n] == '.') {
		n++
	}
	rest := foldUnit(string(cell[n:]))
	if n == 0 || len(rest) > 6 || leadingDigits(cell) == 0 && n < 2 {
		return nil, false
	}
	return cell[:n], true
}

// spaceMark recognises 1 234 and 1'234: it returns ' ' or '\”.
func spaceMark(cell []byte) byte {
	_, cut := cutMinus(cell)
	cell = cell[cut:]
	n := leadingDigits(cell)
	if n == 0 || n > 3 {
		return 0
	}
	for _, mark := range []byte{' ', '\''} {
		if g := groupMark(cell[n:], mark); g > 0 && leadingDigits(cell[n+g:]) == 3 {
			return mark
		}
	}
	return 0
}

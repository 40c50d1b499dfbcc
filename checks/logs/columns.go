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
	return f.sameWidth()
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

// content is what the cells of a column hold in the sample.
type content struct {
	filled, numbers, states, bits, times int
	decimals                             int
	suffix, written                      string
	suffixes                             int
}

// columns settles name, role, quantity and unit of every column.
func (f *finder) columns() error {
	given := f.d.Columns
	contents := make([]content, max(f.form.cells, len(f.named)))
	f.cellsOf(func(_ sampleLine, cells [][]byte) {
		for i := range min(len(cells), len(contents)) {
			contents[i].add(cells[i], f.d.Decimal, f.d.Group)
		}
	})
	f.d.Columns = make([]Column, 0, len(contents))
	problems := make([]string, len(contents))
	for i := range contents {
		var c Column
		c, problems[i] = headerColumn(textAt(f.named, i), textAt(f.below, i))
		c.Name = f.freeName(c.Name, i)
		c, problems[i] = f.column(i, c, &contents[i], problems[i])
		f.d.Columns = append(f.d.Columns, c)
	}
	f.unitsFromPreamble()
	if err := f.apply(given); err != nil {
		return err
	}
	for i, c := range f.d.Columns {
		if c.Role == Value && c.Quantity == Unknown && problems[i] != "" {
			f.p.note("column " + problems[i])
		}
	}
	return nil
}

// freeName returns a column's name, numbered where the header has none or
// repeats one.
func (f *finder) freeName(name string, i int) string {
	if name == "" {
		return "column " + strconv.Itoa(i+1)
	}
	free := name
	taken := func(c Column) bool { return c.Name == free }
	for n := 2; slices.ContainsFunc(f.d.Columns, taken); n++ {
		free = name + " (" + strconv.Itoa(n) + ")"
	}
	return free
}

// add looks at one cell.
func (c *content) add(cell []byte, decimal, group byte) {
	if len(cell) == 0 {
		return
	}
	c.filled++
	if _, ok := stateOf(cell); ok {
		c.states++
		if len(cell) == 1 {
			c.bits++
		}
	}
	if s, ok := shapeOf(cell); ok && (s.isStamp() || s.isDate() || s.isClock()) {
		c.times++
		return
	}
	number := numberFormat{decimal: decimal, group: group}
	text, rest, ok := number.normal(cell)
	unit := foldUnit(string(rest))
	if !ok || len(unit) > 6 || unit != "" && leadingDigits([]byte(unit)) > 0 {
		return
	}
	c.numbers++
	_, fraction, _ := strings.Cut(text, ".")
	if places := len(fraction); c.numbers == 1 {
		c.decimals = places
	} else if places != c.decimals {
		c.decimals = -1
	}
	if unit != "" && (c.suffixes == 0 || unit == c.suffix) {
		c.suffix, c.written = unit, strings.TrimSpace(string(rest))
		c.suffixes++
	}
}

// column combines what the header says with what the cells hold.
func (f *finder) column(i int, c Column, held *content, problem string) (Column, string) {
	words := headerWords(c.Name)
	c.decimals = held.decimals
	if held.suffixes*10 >= held.numbers*9 && held.suffixes > 0 {
		c.Suffix = held.written
		c, problem = f.cellUnit(c, problem)
	}
	c.Role = f.roleOf(i, c, held, words)
	if c.Role != Value {
		c.Suffix = ""
	}
	if c.Role == OnOff {
		c.Quantity, c.Unit = State, ""
	}
	return c, problem
}

// roleOf picks the part a column plays.
func (f *finder) roleOf(i int, c Column, held *content, words []string) Role {
	switch {
	case i == f.form.timeAt && f.form.clockAt >= 0:
		return DateOnly
	case i == f.form.timeAt:
		return Stamp
	case i == f.form.clockAt:
		return ClockOnly
	case held.filled == 0 && c.Quantity != Unknown:
		return Value
	case held.filled == 0 || i >= f.form.cells:
		return Text
	case c.Quantity == Unknown && held.numbers == held.filled && slices.Contains(numberingWords, strings.Join(words, "")):
		return Ignored
	case held.states == held.filled && c.Quantity == Unknown && (held.bits == 0 || containsAny(words, stateWords)):
		return OnOff
	case held.times*2 > held.filled:
		f.p.note("column " + quoted([]byte(c.Name)) + " holds times too and is not used")
		return Ignored
	case c.Quantity != Unknown || held.numbers*2 > held.filled:
		return Value
	}
	return Text
}

// cellUnit compares the unit that the cells carry with that of the header.
func (f *finder) cellUnit(c Column, problem string) (Column, string) {
	m, ok := meaningOf(c.Suffix)
	switch {
	case ok && c.Quantity == Unknown && c.Unit == "":
		named, _ := headerColumn(c.Name, c.Suffix)
		c.Quantity, c.Unit = named.Quantity, m.unit
		return c, ""
	case ok && c.Unit != m.unit:
		c.Quantity = Unknown
		return c, quoted([]byte(c.Name)) + " has another unit in its cells, " + c.Suffix + "; say which is right"
	case !ok && foldUnit(c.Suffix) == "%" && c.Unit == "":
		named, _ := headerColumn(c.Name, "%")
		named.decimals, named.Suffix = c.decimals, c.Suffix
		return named, ""
	case !ok && c.Unit == "":
		c.Unit = c.Suffix
	}
	return c, problem
}

// unitsFromPreamble gives temperatures without a unit the one that a line
// before the header states, if it is one only.
func (f *finder) unitsFromPreamble() {
	var stated []unitMeaning
	for _, line := range f.p.Preamble {
		if !containsAny(headerWords(line), unitHeadings) {
			continue
		}
		for _, m := range unitsIn(strings.ReplaceAll(line, string(f.d.Separator), ",")) {
			if m.quantity == Temperature && !slices.Contains(stated, m) {
				stated = append(stated, m)
			}
		}
	}
	if len(stated) != 1 {
		return
	}
	for i, c := range f.d.Columns {
		words := headerWords(c.Name)
		if c.Role != Value || c.Quantity != Unknown || c.Unit != "" {
			continue
		}
		if dew := containsAny(words, dewWords); dew || containsAny(words, temperatureWords) {
			f.d.Columns[i].Quantity, f.d.Columns[i].Unit = Temperature, stated[0].unit
			if dew {
				f.d.Columns[i].Quantity = DewPoint
			}
			f.p.note("column " + quoted([]byte(c.Name)) + " takes " + stated[0].unit + " from the lines above the header")
		}
	}
}

var unitHeadings = []string{"unit", "units", "einheit", "einheiten", "unité", "unite", "unidad", "unità", "unita", "unidade", "eenheid", "enhet", "enhed"}

// apply puts the columns that the caller gave over those detected.
func (f *finder) apply(given []Column) error {
	for i, g := range given {
		if g.Name != "" {
			i = slices.IndexFunc(f.d.Columns, func(c Column) bool { return c.Name == g.Name })
			if i < 0 {
				return problemf(ErrDialect, "no column is called %q; the file has %s", g.Name, f.columnNames())
			}
		}
		if i >= len(f.d.Columns) {
			return problemf(ErrDialect, "column %d is given; the file has %d columns", i+1, len(f.d.Columns))
		}
		if err := f.d.Columns[i].override(g); err != nil {
			return err
		}
	}
	return nil
}

func (c *Column) override(g Column) error {
	if g.Role != "" {
		c.Role = g.Role
	}
	if g.Suffix != "" {
		c.Suffix = g.Suffix
	}
	if g.Unit != "" {
		c.Unit, c.Quantity = g.Unit, Unknown
		if m, ok := meaningOf(g.Unit); ok {
			c.Quantity = m.quantity
		}
	}
	if g.Quantity != Unknown {
		c.Quantity = g.Quantity
	}
	_, err := c.conversion()
	return err
}

// conversion returns how the column's unit becomes that of its quantity.
func (c *Column) conversion() (conversion, error) {
	m, ok := meaningOf(c.Unit)
	switch {
	case c.Quantity == Unknown || c.Quantity == State:
		return asWritten, nil
	case ok && (m.quantity == c.Quantity || m.quantity == Temperature && c.Quantity == DewPoint):
		return m.convert, nil
	case c.Quantity == RelativeHumidity && foldUnit(c.Unit) == "%":
		return asWritten, nil
	case c.Unit == "":
		return asWritten, problemf(ErrDialect, "column %q is to be a %s, in which unit is not said; give it, as in %s", c.Name, c.Quantity, c.Quantity.Unit())
	}
	return asWritten, problemf(ErrDialect, "column %q: %q is not a unit of %s", c.Name, c.Unit, c.Quantity)
}

func (f *finder) columnNames() string {
	names := make([]string, len(f.d.Columns))
	for i, c := range f.d.Columns {
		names[i] = strconv.Quote(c.Name)
	}
	return strings.Join(names, ", ")
}

func textAt(texts []string, i int) string {
	if i < len(texts) {
		return texts[i]
	}
	return ""
}

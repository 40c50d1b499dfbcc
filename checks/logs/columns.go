package logs

import (
	"slices"
	"strconv"
	"strings"
)

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
	f.cellsOf(func(line sampleLine, cells [][]byte) {
		if !line.ended && len(f.form.rows) > 1 {
			return // perhaps cut off
		}
		for i := range min(len(cells), len(contents)) {
			contents[i].add(cells[i], f.d.Decimal, f.d.Group)
		}
	})
	f.d.Columns = make([]Column, 0, len(contents))
	problems := make([]string, len(contents))
	names := uniqueNames(f.named, len(contents))
	for i := range contents {
		var c Column
		c, problems[i] = headerColumn(textAt(f.named, i), textAt(f.below, i))
		c.Name = names[i]
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
	c.Decimals = held.decimals
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
	case held.states*5 >= held.filled*4 && c.Quantity == Unknown && (held.bits == 0 || containsAny(words, stateWords)):
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
		named.Decimals, named.Suffix = c.Decimals, c.Suffix
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

package logs

import (
	"bytes"
	"errors"
	"slices"
)

// How much of a file is looked at to understand it. Day and month may need
// more; see chooseLayout.
const (
	headBytes = 256 << 10
	headLines = 2000
)

// Detect works out how a file is to be read. data is the file or its
// beginning; hint holds what the caller knows already. The Dialect returned is
// complete if err is nil; Preview tells what was understood, as far as that
// went, also with an error. Interval and span in it are those of the part
// looked at; Read gives those of the file.
//
// Errors: ErrEmpty, ErrNotText, ErrNoTimes, *AmbiguousDate, *AmbiguousNumber,
// ErrNoZone, ErrColumns, ErrDialect.
func Detect(data []byte, hint Dialect) (Dialect, Preview, error) {
	d, p, err := detectWithin(data, hint, headBytes)
	if errors.Is(err, ErrNoTimes) && len(data) > headBytes {
		return detectWithin(data, hint, 16*headBytes)
	}
	return d, p, err
}

func detectWithin(data []byte, hint Dialect, limit int) (Dialect, Preview, error) {
	f := &finder{d: hint, data: data}
	err := f.find(limit)
	if err == nil {
		err = f.preview()
	}
	return f.d, f.p, err
}

// finder settles a dialect field by field. Each step relies on those before.
type finder struct {
	d     Dialect
	p     Preview
	data  []byte // as given
	text  []byte // the part looked at, in UTF-8
	lines []sampleLine
	form  form
	named []string // header cells
	below []string // cells of a units row
}

// sampleLine is a record with the number of its first line.
type sampleLine struct {
	number int
	text   []byte
	ended  bool
}

func (f *finder) find(limit int) error {
	if len(trim(cutMark(f.data, byteOrderMark(f.data)))) == 0 {
		return problemf(ErrEmpty, "the file is empty")
	}
	steps := []func() error{f.rows, f.header, f.marks, f.columns, f.layout, f.zone}
	if f.d.complete() {
		steps = []func() error{f.given, f.zone}
	}
	if err := f.charset(limit); err != nil {
		return err
	}
	for _, step := range steps {
		if err := step(); err != nil {
			return err
		}
	}
	return nil
}

// complete reports whether a dialect leaves nothing to detect, as one that was
// returned for the same file.
func (d *Dialect) complete() bool {
	for _, c := range d.Columns {
		if c.Role == "" || c.Name == "" {
			return false
		}
	}
	return d.Charset != "" && d.Separator != 0 && d.Decimal != 0 && d.Header != 0 && d.First > 0 && d.Layout != "" && len(d.Columns) > 0
}

// given takes a complete dialect as it is.
func (f *finder) given() error {
	f.form = form{separator: f.d.Separator, timeAt: f.d.index(Stamp), clockAt: -1, layout: f.d.Layout}
	if f.form.timeAt < 0 {
		f.form.timeAt, f.form.clockAt = f.d.index(DateOnly), f.d.index(ClockOnly)
	}
	f.lines = sampleLines(f.text, f.d.Separator)
	for i, line := range f.lines {
		if line.number >= f.d.First {
			f.form.rows = append(f.form.rows, i)
		}
	}
	f.aboveRows(slices.IndexFunc(f.lines, func(l sampleLine) bool { return l.number == f.d.Header }))
	names := uniqueNames(f.named, len(f.d.Columns))
	for i, c := range f.d.Columns {
		if f.d.Header > 0 && c.Name != names[i] {
			return problemf(ErrDialect, "line %d: the header has %q where the dialect has %q; take the dialect's Profile for another file", f.d.Header, names[i], c.Name)
		}
	}
	return nil
}

// charset decodes the part looked at and cuts it into lines.
func (f *finder) charset(limit int) error {
	head := f.data[:min(len(f.data), limit)]
	if f.d.Charset == "" {
		c, note, err := detectCharset(head, f.data)
		if err != nil {
			return err
		}
		f.d.Charset = c
		if note != "" {
			f.p.note(note)
		}
	}
	text, err := decode(head, f.d.Charset)
	if err != nil {
		return err
	}
	f.text = text
	if len(f.data) > len(head) {
		if i := bytes.LastIndexByte(text, newlineOf(text)); i > 0 {
			f.text = text[:i+1]
		}
	}
	return nil
}

// decode returns the text of data in UTF-8 without a byte order mark.
func decode(data []byte, c Charset) ([]byte, error) {
	enc, err := c.encoding()
	if err != nil {
		return nil, err
	}
	data = cutMark(data, c)
	if enc == nil {
		return data, nil
	}
	return enc.NewDecoder().Bytes(data)
}

// form is how the rows of a file look with one separator.
type form struct {
	separator byte
	timeAt    int // column of date and time, or of the date
	clockAt   int // column of the time of day, −1: in timeAt
	shape     shape
	layout    string // of a Unix time, or the one given
	rows      []int  // places in lines
	cells     int    // most frequent number of cells
}

var separators = []byte{'\t', ';', ',', '|'}

// rows finds the separator: the one that shows a time and something else
// beside it on most lines.
func (f *finder) rows() error {
	candidates := separators
	if f.d.Separator != 0 {
		candidates = []byte{f.d.Separator}
	} else if sep := announced(f.text); sep != 0 {
		candidates = []byte{sep}
	}
	for _, sep := range candidates {
		got, err := f.formOf(sep)
		if err != nil {
			return err
		}
		if len(got.rows) > len(f.form.rows) || len(got.rows) == len(f.form.rows) && got.cells > f.form.cells {
			f.form = got
		}
	}
	if len(f.form.rows) == 0 {
		return f.noTimes()
	}
	f.d.Separator = f.form.separator
	f.lines = sampleLines(f.text, f.d.Separator)
	if f.d.First == 0 {
		f.d.First = f.lines[f.form.rows[firstRun(f.form.rows)]].number
	}
	return nil
}

func (f *finder) noTimes() error {
	if f.d.Layout != "" {
		return problemf(ErrNoTimes, "no row has a date and time in the layout %q; leave the layout out to have it detected", f.d.Layout)
	}
	return problemf(ErrNoTimes, "no column of dates and times was found in the first %d lines; give separator and layout if the file has one", bytes.Count(f.text, []byte{newlineOf(f.text)})+1)
}

// announced reads a first line that names the separator, as "sep=;".
func announced(text []byte) byte {
	line, _, _ := bytes.Cut(text, []byte{newlineOf(text)})
	line = bytes.Trim(line, "\"\r ")
	if len(line) == 5 && bytes.EqualFold(line[:4], []byte("sep=")) && bytes.IndexByte(separators, line[4]) >= 0 {
		return line[4]
	}
	return 0
}

func sampleLines(text []byte, separator byte) []sampleLine {
	scan := scanner{text: text, newline: newlineOf(text), split: &splitter{separator: separator}}
	var lines []sampleLine
	for len(lines) < headLines {
		record, ended, ok := scan.next()
		if !ok {
			break
		}
		lines = append(lines, sampleLine{scan.line, record, ended})
	}
	return lines
}

// firstRun returns the first of the rows that the next row follows directly,
// so that a date in the preamble is not taken for a row.
func firstRun(rows []int) int {
	for i := 1; i < len(rows); i++ {
		if rows[i] == rows[i-1]+1 {
			return i - 1
		}
	}
	return 0
}

// formOf reads the lines with one separator and returns their most frequent
// form.
func (f *finder) formOf(sep byte) (form, error) {
	look := timeFinder{split: splitter{separator: sep}, dialect: &f.d}
	if err := look.prepare(); err != nil {
		return form{}, err
	}
	votes := map[vote][]int{}
	var best vote
	lines := sampleLines(f.text, sep)
	widths := make([]int, len(lines))
	for i, line := range lines {
		if f.d.First > line.number {
			continue
		}
		v, width, ok := look.vote(line.text)
		if !ok {
			continue
		}
		widths[i] = width
		votes[v] = append(votes[v], i)
		if len(votes[v]) > len(votes[best]) {
			best = v
		}
	}
	got := form{separator: sep, timeAt: best.timeAt, clockAt: best.clockAt, shape: best.shape, layout: best.layout, rows: votes[best]}
	got.cells = mostFrequent(widths, got.rows)
	return got, nil
}

func mostFrequent(widths, rows []int) int {
	count := map[int]int{}
	best := 0
	for _, i := range rows {
		w := widths[i]
		if count[w]++; count[w] > count[best] || count[w] == count[best] && w > best {
			best = w
		}
	}
	return best
}

package main

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"

	"proveout/phases/strict"
	"proveout/templates"
)

// maxSheet bounds a sheet in bytes: some 40,000 rows.
const maxSheet = 4 << 20

// sheetRow is one row of a sheet: what stands in each column, and where.
type sheetRow struct {
	cells map[string]string
	at    map[string]strict.Pos
	start strict.Pos
}

// where is the position of a cell, of the row's start where the sheet has no
// such column.
func (r sheetRow) where(column string) strict.Pos {
	if pos, ok := r.at[column]; ok {
		return pos
	}
	return r.start
}

// readSheet reads a sheet as a spreadsheet saves it: with commas, semicolons or
// tabs, in UTF-8, UTF-16 or the old Western character set.
func readSheet(name string, data []byte) ([]sheetRow, error) {
	text, err := sheetText(data)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	s := sheet{name: name, lines: strings.Split(text, "\n")}
	s.separator = s.findSeparator()
	first, _, _ := strings.Cut(text, "\n")
	if strings.HasPrefix(strings.ToLower(first), "sep=") { // a spreadsheet's own hint
		text = "\n" + strings.TrimPrefix(text[len(first):], "\n")
	}
	r := csv.NewReader(strings.NewReader(text))
	r.Comma, r.FieldsPerRecord = s.separator, -1
	return s.rows(r)
}

// sheetText decodes a sheet.
func sheetText(data []byte) (string, error) {
	if len(data) > maxSheet {
		return "", fmt.Errorf("the sheet is larger than 4 MiB; split it")
	}
	var from encoding.Encoding
	switch {
	case bytes.HasPrefix(data, []byte("\xff\xfe")), bytes.HasPrefix(data, []byte("\xfe\xff")):
		from = unicode.UTF16(unicode.LittleEndian, unicode.UseBOM)
	case utf8.Valid(data):
		from = unicode.UTF8BOM
	default:
		from = charmap.Windows1252
	}
	text, err := from.NewDecoder().Bytes(data)
	if err == nil && bytes.ContainsRune(text, 0) {
		err = fmt.Errorf("it is no CSV file; save the sheet as CSV first")
	}
	return strings.ReplaceAll(string(text), "\r\n", "\n"), err
}

// sheet is a file on the way to its rows.
type sheet struct {
	name      string
	lines     []string
	separator rune
	columns   []string
}

// findSeparator takes the separator that finds most of the known columns in
// the heading.
func (s *sheet) findSeparator() rune {
	head := s.lines[0]
	if hint, ok := strings.CutPrefix(strings.ToLower(strings.TrimSpace(head)), "sep="); ok && hint != "" {
		r, _ := utf8.DecodeRuneInString(hint)
		return r
	}
	best, most := ',', 0
	for _, sep := range []rune{',', ';', '\t'} {
		n := 0
		for _, cell := range strings.Split(head, string(sep)) {
			if slices.Contains(templates.SheetColumns, columnName(cell)) {
				n++
			}
		}
		if n > most {
			best, most = sep, n
		}
	}
	return best
}

// columnName is a heading as it is compared.
func columnName(cell string) string {
	return strings.ToLower(strings.TrimSpace(strings.Trim(strings.TrimSpace(cell), `"`)))
}

// pos counts columns in characters, as an editor does.
func (s *sheet) pos(line, column int) strict.Pos {
	p := strict.Pos{File: s.name, Line: line, Column: column}
	if line >= 1 && line <= len(s.lines) && column >= 1 && column-1 <= len(s.lines[line-1]) {
		p.Column = utf8.RuneCountInString(s.lines[line-1][:column-1]) + 1
	}
	return p
}

// rows reads the heading and the rows below it. All problems are reported.
func (s *sheet) rows(r *csv.Reader) ([]sheetRow, error) {
	var rows []sheetRow
	var problems strict.Errors
	for {
		cells, err := r.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, append(problems, s.syntax(err))
		}
		if s.columns == nil {
			if problems = s.heading(cells, r); problems != nil {
				return nil, problems
			}
			continue
		}
		row, wrong := s.row(cells, r)
		if wrong != nil {
			problems = append(problems, wrong)
		}
		rows = append(rows, row)
	}
	if problems != nil {
		return nil, problems
	}
	if s.columns == nil {
		return nil, &strict.Error{Pos: strict.Pos{File: s.name}, Text: "the sheet is empty"}
	}
	return rows, nil
}

// syntax is a CSV error where it is.
func (s *sheet) syntax(err error) *strict.Error {
	var at *csv.ParseError
	if !errors.As(err, &at) {
		return &strict.Error{Pos: strict.Pos{File: s.name}, Text: err.Error()}
	}
	text := "a quotation mark stands in the middle of a cell; write 5 1/2 in without it, or put the cell in quotes and double the mark: \"5 1/2\"\"\""
	if errors.Is(at.Err, csv.ErrQuote) && at.StartLine != at.Line {
		text = fmt.Sprintf("the cell that begins in line %d with a quotation mark does not end", at.StartLine)
	}
	return &strict.Error{Pos: s.pos(at.Line, at.Column), Text: text}
}

// heading takes the names of the columns.
func (s *sheet) heading(cells []string, r *csv.Reader) strict.Errors {
	var problems strict.Errors
	fail := func(i int, format string, args ...any) {
		line, column := r.FieldPos(i)
		problems = append(problems, &strict.Error{Pos: s.pos(line, column), Text: fmt.Sprintf(format, args...)})
	}
	for i, cell := range cells {
		name := columnName(cell)
		switch {
		case name != "" && !slices.Contains(templates.SheetColumns, name):
			fail(i, "there is no column %q%s", cell, strict.DidYouMean(name, templates.SheetColumns))
		case name != "" && slices.Contains(s.columns, name):
			fail(i, "the column %q stands twice", name)
		}
		s.columns = append(s.columns, name)
	}
	for _, needed := range []string{"check", "value"} {
		if problems == nil && !slices.Contains(s.columns, needed) {
			fail(0, "the column %q is missing; the first line names the columns: %s", needed, strings.Join(templates.SheetColumns, ","))
		}
	}
	return problems
}

// row takes one row below the heading.
func (s *sheet) row(cells []string, r *csv.Reader) (sheetRow, *strict.Error) {
	line, column := r.FieldPos(0)
	row := sheetRow{cells: map[string]string{}, at: map[string]strict.Pos{}, start: s.pos(line, column)}
	for i, cell := range cells {
		line, column := r.FieldPos(i)
		text := strings.TrimSpace(templates.FromCSV(cell))
		if i >= len(s.columns) || s.columns[i] == "" {
			if text == "" {
				continue
			}
			return row, &strict.Error{Pos: s.pos(line, column), Text: fmt.Sprintf("%q stands outside the columns; put cells with a comma in quotes", cell)}
		}
		row.cells[s.columns[i]], row.at[s.columns[i]] = text, s.pos(line, column)
	}
	return row, nil
}

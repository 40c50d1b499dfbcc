package templates

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"strings"

	"proveout/checks"
	"proveout/phases"
)

// SheetColumns are the columns of a field sheet's CSV, in their order.
var SheetColumns = []string{"check", "place", "value", "instrument", "photo", "by", "measured", "note"}

// FieldSheetCSV writes the same sheet for a computer: one row for each place
// that wants an answer, with the check as phase.check. What a check takes besides
// a plain answer stands by name in the column value, "airflow=; volume=", to be
// filled in behind the signs: its values, start and end, the number and the
// party of an inspection, a file. A plain answer goes before them: "pass;
// number=B-4711".
func FieldSheetCSV(d Dossier, ph *phases.Phase) ([]byte, error) {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	if err := w.Write(SheetColumns); err != nil {
		return nil, err
	}
	questions := d.Plan.Questions()
	for _, h := range d.sheetHolds(ph) {
		for _, c := range h.Checks {
			for _, place := range c.places {
				row := []string{CSV(c.id), CSV(place), valueNames(questions[c.id]), "", "", "", "", ""}
				if err := w.Write(row); err != nil {
					return nil, fmt.Errorf("writing the field sheet: %w", err)
				}
			}
		}
	}
	w.Flush()
	return b.Bytes(), w.Error()
}

// valueNames are the named values that a check wants, to be filled in.
func valueNames(q *checks.Question) string {
	var names []string
	if check := checks.ByName(q.Compute); check != nil {
		for _, n := range check.Needs {
			names = append(names, n.Name+"=")
		}
		if check.Starts || check.Spans {
			names = append(names, "start=")
		}
		if check.Spans {
			names = append(names, "end=")
		}
		if check.Log {
			names = append(names, "file=")
		}
	}
	switch q.Kind {
	case checks.Wait:
		names = append(names, "start=")
	case checks.Paper:
		names = append(names, "file=")
	case checks.Inspection:
		names = append(names, "number=")
	}
	if len(q.By) > 0 && (q.Kind == checks.Paper || q.Kind == checks.Inspection) {
		names = append(names, "party=")
	}
	return strings.Join(names, "; ")
}

// SheetValue is one named value of a cell; Name is "" for a plain answer.
type SheetValue struct{ Name, Text string }

// SheetValues reads the cell of the column value: a plain answer, or named
// values. Those that were left open are left out, so an untouched row has none.
func SheetValues(cell string) []SheetValue {
	var all []SheetValue
	for _, part := range strings.Split(FromCSV(cell), ";") {
		part = strings.TrimSpace(part)
		name, text, named := strings.Cut(part, "=")
		if !named {
			name, text = "", part
		}
		if text = strings.TrimSpace(text); text != "" {
			all = append(all, SheetValue{strings.TrimSpace(name), text})
		}
	}
	return all
}

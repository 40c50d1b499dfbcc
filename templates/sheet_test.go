package templates

import (
	"bytes"
	"encoding/csv"
	"reflect"
	"slices"
	"testing"
)

func TestSheetValues(t *testing.T) {
	for cell, want := range map[string][]SheetValue{
		"":                                  nil,
		"5 1/2 in":                          {{"", "5 1/2 in"}},
		"yes":                               {{"", "yes"}},
		"airflow=; volume=":                 nil,
		"airflow=120 cfm; volume= 640 ft³ ": {{"airflow", "120 cfm"}, {"volume", "640 ft³"}},
		"airflow=120 cfm; volume=":          {{"airflow", "120 cfm"}},
		"pass; number=B-4711; party=":       {{"", "pass"}, {"number", "B-4711"}},
		"start=2026-05-04 14:00; end=":      {{"start", "2026-05-04 14:00"}},
		"-0.5 K":                            {{"", "-0.5 K"}},
		"'=odd":                             {{"", "odd"}},
	} {
		if got := SheetValues(cell); !reflect.DeepEqual(got, want) {
			t.Errorf("SheetValues(%q) = %q, want %q", cell, got, want)
		}
	}
}

// TestFieldSheetCSVReadsBack asks that each row names a check and a place that
// can be answered, and that an untouched row has no value.
func TestFieldSheetCSVReadsBack(t *testing.T) {
	s := fresh(t)
	for _, ph := range s.j.Plan.Phases {
		data, err := FieldSheetCSV(s.dossier(), ph)
		if err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
		if err != nil || !slices.Equal(rows[0], SheetColumns) {
			t.Fatalf("%s: %q, %v", ph.Name, rows[0], err)
		}
		for _, row := range rows[1:] {
			q := s.j.Plan.Questions()[FromCSV(row[0])]
			if q == nil {
				t.Errorf("%s: the plan has no check %q", ph.Name, row[0])
				continue
			}
			if _, err := q.CheckPlace(s.j.Room, FromCSV(row[1])); err != nil {
				t.Errorf("%s: %v", q.ID(), err)
			}
			if v := SheetValues(row[2]); v != nil {
				t.Errorf("%s: the untouched value %q reads %q", q.ID(), row[2], v)
			}
		}
	}
}

package cooling

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"proveout/checks/airflow"
	"proveout/checks/units"
)

const seaLevel = 101325 // Pa

// state is air of which the test knows that it is in range.
func state(t units.Temperature, rh units.RelativeHumidity) airflow.State {
	s, err := airflow.Air{Temperature: t, Humidity: rh, Pressure: seaLevel}.State()
	if err != nil {
		panic(err)
	}
	return s
}

// row is one row of a table: its fields by the name of their column.
type row struct {
	t      *testing.T
	fields map[string]string
}

func table(t *testing.T, name string) []row {
	t.Helper()
	f, err := os.Open("../../testdata/tables/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	lines, err := r.ReadAll()
	if err != nil || len(lines) < 2 {
		t.Fatal(len(lines), err)
	}
	var rows []row
	for _, line := range lines[1:] {
		fields := map[string]string{}
		for i, name := range lines[0] {
			fields[name] = line[i]
		}
		rows = append(rows, row{t, fields})
	}
	return rows
}

func (r row) number(column string) float64 {
	r.t.Helper()
	x, err := strconv.ParseFloat(r.fields[column], 64)
	if err != nil {
		r.t.Fatalf("%v: %v", r.fields, err)
	}
	return x
}

// want checks that got rounds to what the column prints.
func (r row) want(column string, got float64) {
	r.t.Helper()
	r.wantWithin(column, got, 0)
}

// wantWithin allows the stated error besides half of the last printed digit.
func (r row) wantWithin(column string, got, stated float64) {
	r.t.Helper()
	_, decimals, _ := strings.Cut(r.fields[column], ".")
	if half := 0.5 * math.Pow10(-len(decimals)); !(math.Abs(got-r.number(column)) <= half+stated) {
		r.t.Errorf("%v: %s = %v, want %s", r.fields, column, got, r.fields[column])
	}
}

// named returns the table's rows by their first column "name".
func named(t *testing.T, file string) map[string]row {
	rows := map[string]row{}
	for _, r := range table(t, file) {
		rows[r.fields["name"]] = r
	}
	return rows
}

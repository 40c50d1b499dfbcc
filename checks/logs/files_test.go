package logs

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"
	_ "time/tzdata"
)

const folder = "../../testdata/logs"

// wanted is what a file must give, as write.py beside it has written it down.
type wanted struct {
	zone       string
	columns    []string // "NAME | UNIT" of each
	quantities []string
	times      []int64
	values     [][]float64
}

func readWanted(t *testing.T, name string) wanted {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	var w wanted
	for line := range strings.Lines(string(data)) {
		line = strings.TrimSpace(line)
		if zone, ok := strings.CutPrefix(line, "# zone: "); ok {
			w.zone = zone
		}
		if columns, ok := strings.CutPrefix(line, "# columns: "); ok {
			w.columns = strings.Split(columns, "; ")
		}
		if strings.HasPrefix(line, "#") {
			continue
		}
		cells := strings.Split(line, ",")
		if w.quantities == nil {
			w.quantities = cells[1:]
			w.values = make([][]float64, len(cells)-1)
			continue
		}
		ms, err := strconv.ParseInt(cells[0], 10, 64)
		if err != nil {
			t.Fatal(err)
		}
		w.times = append(w.times, ms)
		for i, c := range cells[1:] {
			v := math.NaN() // the cell is empty
			if c != "" {
				if v, err = strconv.ParseFloat(c, 64); err != nil {
					t.Fatal(err)
				}
			}
			w.values[i] = append(w.values[i], v)
		}
	}
	return w
}

func location(t *testing.T, name string) *time.Location {
	t.Helper()
	if name == "none" {
		return nil
	}
	zone, err := time.LoadLocation(name)
	if err != nil {
		t.Fatal(err)
	}
	return zone
}

// sameBits takes every NaN, which stands for no value, for the same.
func sameBits(a, b float64) bool {
	return math.Float64bits(a) == math.Float64bits(b) || math.IsNaN(a) && math.IsNaN(b)
}

func compareFile(t *testing.T, f *File, w wanted) {
	t.Helper()
	if len(f.Rejected) > 0 {
		t.Fatalf("rejected %+v", f.Rejected[0])
	}
	if len(f.Columns) != len(w.quantities) {
		t.Fatalf("%d columns, want %d: %+v", len(f.Columns), len(w.quantities), f.Dialect.Columns)
	}
	for i, s := range f.Columns {
		if string(s.Quantity) != w.quantities[i] {
			t.Errorf("column %q is %q, want %q", s.Name, s.Quantity, w.quantities[i])
		}
		if got := strings.TrimSpace(s.Name + " | " + s.Unit); got != w.columns[i] {
			t.Errorf("column %d is %q, want %q", i+1, got, w.columns[i])
		}
		if len(s.Times) != len(w.times) || len(s.Values) != len(w.times) {
			t.Fatalf("column %q has %d times, %d values, want %d", s.Name, len(s.Times), len(s.Values), len(w.times))
		}
		for k := range w.times {
			if s.Times[k] != w.times[k] || !sameBits(s.Values[k], w.values[i][k]) {
				t.Fatalf("column %q, row %d: %d %v, want %d %v", s.Name, k, s.Times[k], s.Values[k], w.times[k], w.values[i][k])
			}
		}
	}
}

// TestNationalFiles reads logger files of many countries back: each time to the
// millisecond, each value to the last bit in the unit of its quantity, each
// column's name and unit as in the file. It does so whole and as a stream, once
// more with the dialect that the first reading returned, and with its profile.
// What it compares with is computed by Python (write.py beside the files):
// codecs, zoneinfo, fractions rounded once.
func TestNationalFiles(t *testing.T) {
	names, err := filepath.Glob(folder + "/*.want.csv")
	if err != nil || len(names) < 20 {
		t.Fatalf("%d files, %v; want at least 20", len(names), err)
	}
	forms := map[string]bool{}
	for _, wantName := range names {
		base := strings.TrimSuffix(wantName, ".want.csv")
		t.Run(filepath.Base(base), func(t *testing.T) {
			w := readWanted(t, wantName)
			data := readOnly(t, base)
			zone := location(t, w.zone)
			f, err := Read(data, Dialect{Zone: zone})
			if err != nil {
				t.Fatal(err)
			}
			compareFile(t, f, w)
			d := f.Dialect
			forms[fmt.Sprint(d.Charset, d.Separator, d.Decimal, d.Group, d.Layout)] = true
			again, err := Read(data, f.Dialect)
			if err != nil {
				t.Fatal("with its own dialect: ", err)
			}
			compareFile(t, again, w)
			profile, err := Read(data, f.Dialect.Profile())
			if err != nil {
				t.Fatal("with its own profile: ", err)
			}
			compareFile(t, profile, w)
			stream, err := ReadFrom(bytes.NewReader(data), Dialect{Zone: zone})
			if err != nil {
				t.Fatal("as a stream: ", err)
			}
			compareFile(t, stream, w)
			if _, err := Read(data, Dialect{}); w.zone != "none" && !errors.Is(err, ErrNoZone) {
				t.Errorf("without a zone: %v, want ErrNoZone", err)
			}
		})
	}
	if len(forms) < 20 {
		t.Errorf("the files show %d different forms, want at least 20", len(forms))
	}
}

// readOnly reads the one file with a base name, whatever its extension.
func readOnly(t *testing.T, base string) []byte {
	t.Helper()
	for _, extension := range []string{".csv", ".txt", ".tsv"} {
		if data, err := os.ReadFile(base + extension); err == nil {
			return data
		}
	}
	t.Fatalf("no file %s", base)
	return nil
}

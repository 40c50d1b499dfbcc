package logs

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"testing"
	"time"
)

// FuzzRead reads anything. Whatever it is: no panic; what is returned is
// ordered and finite, every record from the first row on is a row, a rejection
// or blank, and reading once more with the dialect returned, or as a stream,
// gives the same.
func FuzzRead(f *testing.F) {
	names, _ := filepath.Glob(folder + "/*.*")
	for _, name := range names {
		data, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data[:min(len(data), 800)], false)
	}
	for _, tt := range badFiles {
		f.Add([]byte(tt.text), true)
	}
	berlin, err := time.LoadLocation("Europe/Berlin")
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, data []byte, dayFirst bool) {
		d := Dialect{Zone: berlin}
		if dayFirst {
			d.Layout = "02/01/2006 15:04"
		}
		got, err := Read(data, d)
		if err != nil {
			if got != nil || err.Error() == "" {
				t.Fatalf("Read = %v, %q", got, err)
			}
			return
		}
		checkFile(t, got)
		checkCount(t, got, data)
		again, err := Read(data, got.Dialect)
		if err != nil {
			t.Fatalf("with its own dialect %+v: %v", got.Dialect, err)
		}
		sameFile(t, got, again)
		stream, err := ReadFrom(bytes.NewReader(data), d)
		if err != nil {
			t.Fatal("as a stream: ", err)
		}
		sameFile(t, got, stream)
	})
}

func checkFile(t *testing.T, f *File) {
	t.Helper()
	for _, s := range f.Columns {
		if len(s.Times) != f.Preview.Rows || len(s.Values) != f.Preview.Rows {
			t.Fatalf("%q: %d times, %d values, %d rows", s.Name, len(s.Times), len(s.Values), f.Preview.Rows)
		}
		low, high := plausibleRange(s.Quantity)
		for i, v := range s.Values {
			if i > 0 && s.Times[i] < s.Times[i-1] {
				t.Fatalf("%q: time %d goes back", s.Name, i)
			}
			if !math.IsNaN(v) && (v < low || v > high) {
				t.Fatalf("%q: value %v", s.Name, v)
			}
		}
	}
	for i, r := range f.Rejected {
		if r.Reason == "" || r.Line < f.Dialect.First || i > 0 && r.Line < f.Rejected[i-1].Line {
			t.Fatalf("rejection %+v", r)
		}
	}
}

// checkCount accounts for every record.
func checkCount(t *testing.T, f *File, data []byte) {
	t.Helper()
	text, err := decode(data, f.Dialect.Charset)
	if err != nil {
		t.Fatal(err)
	}
	records := 0
	scan := scanner{text: text, newline: newlineOf(text), split: &splitter{separator: f.Dialect.Separator}}
	for {
		_, _, ok := scan.next()
		if !ok {
			break
		}
		if scan.line >= f.Dialect.First {
			records++
		}
	}
	if p := f.Preview; p.Rows+p.Rejected+p.Blank != records {
		t.Fatalf("%d rows, %d rejected, %d blank of %d records", p.Rows, p.Rejected, p.Blank, records)
	}
}

func sameFile(t *testing.T, a, b *File) {
	t.Helper()
	if len(a.Columns) != len(b.Columns) || len(a.Rejected) != len(b.Rejected) || len(a.Events) != len(b.Events) {
		t.Fatalf("%d columns, %d rejections, %d events; %d, %d, %d", len(a.Columns), len(a.Rejected), len(a.Events),
			len(b.Columns), len(b.Rejected), len(b.Events))
	}
	for i, s := range a.Columns {
		o := b.Columns[i]
		if s.Name != o.Name || s.Quantity != o.Quantity || s.Unit != o.Unit || len(s.Times) != len(o.Times) {
			t.Fatalf("column %q %q %q, %q %q %q", s.Name, s.Quantity, s.Unit, o.Name, o.Quantity, o.Unit)
		}
		for k := range s.Times {
			if s.Times[k] != o.Times[k] || !sameBits(s.Values[k], o.Values[k]) {
				t.Fatalf("column %q, row %d differs", s.Name, k)
			}
		}
	}
	for i := range a.Rejected {
		if a.Rejected[i] != b.Rejected[i] {
			t.Fatalf("rejected %+v, %+v", a.Rejected[i], b.Rejected[i])
		}
	}
}

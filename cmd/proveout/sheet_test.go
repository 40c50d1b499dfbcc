package main

import (
	"reflect"
	"strings"
	"testing"
)

// Sheets as spreadsheets save them, all with the same two rows.
func TestReadSheet(t *testing.T) {
	want := []map[string]string{
		{"check": "assess.room-temperature", "value": "12,8 °C", "place": "middle low"},
		{"check": "assess.room-temperature", "value": "13 °C", "place": "far, corner"},
	}
	for name, text := range map[string]string{
		"commas":         "check,value,place\nassess.room-temperature,\"12,8 °C\",middle low\nassess.room-temperature,13 °C,\"far, corner\"\n",
		"semicolons":     "check;value;place\nassess.room-temperature;12,8 °C;middle low\nassess.room-temperature;13 °C;far, corner\n",
		"tabs":           "check\tvalue\tplace\nassess.room-temperature\t12,8 °C\tmiddle low\nassess.room-temperature\t13 °C\tfar, corner\n",
		"hint":           "sep=;\ncheck;value;place\nassess.room-temperature;12,8 °C;middle low\nassess.room-temperature;13 °C;far, corner\n",
		"mark":           "\ufeffCheck,Value,Place\nassess.room-temperature,\"12,8 °C\",middle low\nassess.room-temperature,13 °C,\"far, corner\"\n",
		"windows-1252":   "check;value;place\nassess.room-temperature;12,8 \xb0C;middle low\nassess.room-temperature;13 \xb0C;far, corner\n",
		"windows lines":  "check;value;place\r\nassess.room-temperature;12,8 °C;middle low\r\nassess.room-temperature;13 °C;far, corner\r\n",
		"quoted heading": "\"check\";\"value\";\"place\"\n\"assess.room-temperature\";\"12,8 °C\";\"middle low\"\n\"assess.room-temperature\";\"13 °C\";\"far, corner\"\n",
		"utf-16":         utf16("check\tvalue\tplace\nassess.room-temperature\t12,8 °C\tmiddle low\nassess.room-temperature\t13 °C\tfar, corner\n"),
	} {
		rows, err := readSheet("sheet.csv", []byte(text))
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		var got []map[string]string
		for _, r := range rows {
			got = append(got, r.cells)
		}
		if !reflect.DeepEqual(got, want) {
			t.Errorf("%s: %q, want %q", name, got, want)
		}
	}
}

// utf16 is a text as little-endian UTF-16 with its mark; the test needs no
// character beyond the first 65,536.
func utf16(text string) string {
	b := []byte{0xff, 0xfe}
	for _, r := range text {
		b = append(b, byte(r), byte(r>>8))
	}
	return string(b)
}

// Positions count characters from 1, as an editor does.
func TestSheetPositions(t *testing.T) {
	rows, err := readSheet("s.csv", []byte("check,value,place\na.b,\"12 °C\",\"two\nlines\"\nc.d,1 °C,x\n"))
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		row    int
		column string
		want   string
	}{{0, "value", "s.csv:2:5"}, {0, "place", "s.csv:2:13"}, {1, "place", "s.csv:4:10"}, {1, "note", "s.csv:4:1"}} {
		if got := rows[tt.row].where(tt.column).String(); got != tt.want {
			t.Errorf("row %d, %s is at %s, want %s", tt.row, tt.column, got, tt.want)
		}
	}
}

func TestBadSheets(t *testing.T) {
	for _, tt := range []struct{ text, want string }{
		{"", "s.csv: the sheet is empty"},
		{"check;value\na;b;c\n", `s.csv:2:5: "c" stands outside the columns`},
		{"check,value\na,\"b\n", "s.csv:2:"},
		{"check,value\na,5 1/2\"\n", "s.csv:2:8: a quotation mark stands in the middle of a cell"},
		{"chek,value\n", `s.csv:1:1: there is no column "chek"; did you mean "check"?`},
		{"check,value,check\n", `s.csv:1:13: the column "check" stands twice`},
		{"value\n", `s.csv:1:1: the column "check" is missing`},
		{"check,value\n\x00,\x00\n", "s.csv: it is no CSV file"},
		{strings.Repeat("x", maxSheet+1), "s.csv: the sheet is larger than 4 MiB"},
	} {
		rows, err := readSheet("s.csv", []byte(tt.text))
		if err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("readSheet(%.30q) = %v, %v, want an error that says %q", tt.text, rows, err, tt.want)
		}
	}
}

// Whatever comes in, rows have positions inside the file, or there is an error
// that names the file.
func FuzzReadSheet(f *testing.F) {
	f.Add([]byte("check,place,value\ninsulation.foam-depth,north wall/bay 1,5 1/2 in\n"))
	f.Add([]byte("sep=;\ncheck;value\na;\"b\nc\"\n"))
	f.Add([]byte("\xff\xfec\x00h\x00"))
	f.Add([]byte("check\tvalue\r\n'=1\t\"\"\r\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		rows, err := readSheet("s.csv", data)
		if err != nil {
			if !strings.HasPrefix(err.Error(), "s.csv:") {
				t.Fatalf("%q: the error does not name the file: %v", data, err)
			}
			return
		}
		for _, r := range rows {
			for _, pos := range r.at {
				if pos.Line < 1 || pos.Column < 1 {
					t.Fatalf("%q: position %v", data, pos)
				}
			}
		}
	})
}

package logs

import (
	"math/rand/v2"
	"regexp"
	"strings"
	"testing"
	"time"
)

// layouts is every kind of layout that detection can name.
var layouts = []string{
	"2006-01-02 15:04:05", "2006-01-02T15:04:05Z07:00", "2006-01-02 15:04:05 Z07:00", "2006/01/02 15:04", "2006.01.02 15:04:05",
	"02/01/2006 15:04:05", "01/02/2006 15:04", "02-01-06 15.04.05", "01/02/06 03:04:05 PM", "02.01.2006 15:04", "02/01/2006, 15:04",
	"02-Jan-2006 15:04:05", "Jan 02, 2006 03:04 PM", "02. Jan 2006 15:04", "20060102T150405Z07:00", "20060102150405",
}

// goLayout is what package time needs to accept numbers without leading zeros
// too, as this package does.
var goLayout = strings.NewReplacer("02", "2", "01", "1", "03", "3")

func forTime(layout string) string {
	if strings.HasPrefix(layout, "20060102") {
		return layout
	}
	return goLayout.Replace(layout)
}

// TestStampAgainstTime writes times with package time, in all layouts and with
// random fractions, and reads them with the fast parser.
func TestStampAgainstTime(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 6))
	// Two-digit years up to 68: above, package time means 19xx.
	from, span := time.Date(2000, 1, 2, 0, 0, 0, 0, time.UTC), int64(68*365*24*3600)
	for _, layout := range layouts {
		p, err := compileLayout(layout)
		if err != nil {
			t.Fatal(err)
		}
		for range 20_000 {
			at := from.Add(time.Duration(random.Int64N(span)) * time.Second).In(time.FixedZone("", 900*(random.IntN(100)-48)))
			text := at.Format([]string{layout, forTime(layout)}[random.IntN(2)])
			want, err := time.Parse(forTime(layout), text)
			if err != nil {
				t.Fatal(err)
			}
			if got, w := p.parse([]byte(text)); w != fine || got != want.UnixMilli() {
				t.Fatalf("parse(%q) in %q = %d %v, want %d", text, layout, got, w, want.UnixMilli())
			}
		}
	}
}

// TestEveryDay compares the calendar with package time, for every day that can
// be in a log and for the days that do not exist.
func TestEveryDay(t *testing.T) {
	p, _ := compileLayout("2006-01-02 15:04")
	for year := 1985; year <= 2105; year++ {
		for month := range 14 {
			for day := range 33 {
				text := []byte(time.Date(year, 1, 1, 0, 0, 0, 0, time.UTC).Format("2006-"))
				text = append(text, byte('0'+month/10), byte('0'+month%10), '-', byte('0'+day/10), byte('0'+day%10))
				text = append(text, " 00:00"...)
				want, err := time.Parse("2006-01-02 15:04", string(text))
				exists := err == nil && year >= 1990 && year < 2100
				got, w := p.parse(text)
				if (w == fine) != exists || exists && got != want.UnixMilli() {
					t.Fatalf("parse(%q) = %d %v, want %v %v", text, got, w, want, err)
				}
			}
		}
	}
}

func TestStamps(t *testing.T) {
	for _, tt := range []struct {
		layout, text string
		want         string // RFC 3339, or the reason
	}{
		{"2006-01-02 15:04", "2024-06-01 24:00", "2024-06-02T00:00:00Z"}, // ISO 8601:2004, 4.2.3
		{"2006-01-02 15:04:05", "2024-06-01 00:00:00.999999", "2024-06-01T00:00:00.999Z"},
		{"2006-01-02 15:04:05", "2024-06-01 00:00:00,5", "2024-06-01T00:00:00.5Z"},
		{"2006-01-02 15:04:05Z07:00", "2024-06-01 02:00:00+02:00", "2024-06-01T00:00:00Z"},
		{"2006-01-02 15:04:05Z07:00", "2024-06-01 02:00:00+0200", "2024-06-01T00:00:00Z"},
		{"2006-01-02 15:04:05Z07:00", "2024-06-01 02:00:00 UTC+2", "2024-06-01T00:00:00Z"},
		{"2006-01-02 15:04:05Z07:00", "2024-06-01 00:00:00 GMT", "2024-06-01T00:00:00Z"},
		{"2006-01-02 15:04:05Z07:00", "2024-05-31 20:30:00 \u22123:30", "2024-06-01T00:00:00Z"},
		{"01/02/2006 03:04 PM", "6/1/2024 12:05 am", "2024-06-01T00:05:00Z"},
		{"01/02/2006 03:04 PM", "6/1/2024 12:05 PM", "2024-06-01T12:05:00Z"},
		{"02/01/2006 03:04 PM", "1/6/2024  1:05\u202fp.\u00a0m.", "2024-06-01T13:05:00Z"},
		{"02 Jan 2006 15:04", "3 févr. 2024 10:00", "2024-02-03T10:00:00Z"},
		{"02. Jan 2006 15:04", "3. März 2024 10:00", "2024-03-03T10:00:00Z"},
		{"02-Jan-06 15h04", "03-AGO-24 10h30", "2024-08-03T10:30:00Z"},
		{"Mon, 02 Jan 2006 15:04:05", "Sat, 01 Jun 2024 10:00:00", "2024-06-01T10:00:00Z"},
		{"Mon 02.01.2006 15:04", "Sa. 01.06.2024 10:00", "2024-06-01T10:00:00Z"},
		{"unix", "1717200000", "2024-06-01T00:00:00Z"},
		{"unix", "1717200000.25", "2024-06-01T00:00:00.25Z"},
		{"unix ms", "1717200000123", "2024-06-01T00:00:00.123Z"},
		{"unix", "12", "the year is not between 1990 and 2099: the logger's clock was not set"},
		{"01/02/2006 03:04 PM", "13/1/2024 12:05 PM", "there is no such month in 01/02/2006 03:04 PM"},
		{"01/02/2006 03:04 PM", "6/1/2024 13:05 PM", "there is no such hour"},
		{"2006-01-02 15:04", "2023-02-29 00:00", "the month does not have that day in 2006-01-02 15:04"},
		{"2006-01-02 15:04", "2024-06-01 24:01", "there is no such hour"},
		{"2006-01-02 15:04", "2024-06-01 23:60", "there is no such minute"},
		{"2006-01-02 15:04:05", "2024-06-01 23:59:60", "there is no such second"},
		{"2006-01-02 15:04", "1970-01-01 00:00", "the year is not between 1990 and 2099: the logger's clock was not set"},
		{"2006-01-02 15:04Z07:00", "2024-06-01 00:00+15:00", "there is no such offset from UTC"},
		{"2006-01-02 15:04", "2024-06-01", "not a date and time in the layout 2006-01-02 15:04"},
		{"2006-01-02 15:04", "2024-06-01 00:00 x", "not a date and time in the layout 2006-01-02 15:04"},
	} {
		p, err := compileLayout(tt.layout)
		if err != nil {
			t.Errorf("%q: %v", tt.layout, err)
			continue
		}
		ms, w := p.parse([]byte(tt.text))
		got := time.UnixMilli(ms).UTC().Format(time.RFC3339Nano)
		if w != fine {
			got = w.reason(tt.layout)
		}
		if got != tt.want {
			t.Errorf("parse(%q) in %q = %s, want %s", tt.text, tt.layout, got, tt.want)
		}
	}
}

func TestBadLayouts(t *testing.T) {
	for layout, want := range map[string]string{
		"dd.mm.yyyy":          `layout "dd.mm.yyyy" is not understood from "dd.mm.yyyy" on; write it like 02/01/2006 15:04:05`,
		"02/01/2006":          `layout "02/01/2006" needs hours and minutes once each`,
		"15:04":               `layout "15:04" needs year, month and day once each`,
		"02/01/2006 03:04":    `layout "02/01/2006 03:04" needs PM for hours written as 03, or 15 for hours`,
		"02/02/2006 15:04":    `layout "02/02/2006 15:04" needs year, month and day once each`,
		"02/01/2006 15:04 PM": `layout "02/01/2006 15:04 PM" needs PM for hours written as 03, or 15 for hours`,
	} {
		if _, err := compileLayout(layout); err == nil || err.Error() != want {
			t.Errorf("compileLayout(%q): %v, want %s", layout, err, want)
		}
	}
}

// FuzzStamp: what the fast parser accepts, package time reads as the same
// time.
func FuzzStamp(f *testing.F) {
	for i, layout := range layouts {
		f.Add(i, time.Date(2024, 6, 15, 13, 45, 59, 0, time.UTC).Format(layout))
	}
	f.Fuzz(func(t *testing.T, i int, text string) {
		if i < 0 || i >= len(layouts) {
			return
		}
		p, err := compileLayout(layouts[i])
		if err != nil {
			t.Fatal(err)
		}
		got, w := p.parse([]byte(text))
		if w != fine || !plainStamp(text) || p.zoned && !fullOffset.MatchString(text) {
			return
		}
		want, err := time.Parse(forTime(layouts[i]), text)
		if err != nil && strings.HasSuffix(err.Error(), "hour out of range") && got%60_000 == 0 {
			return // 24:00
		}
		if !strings.Contains(layouts[i], "2006") && want.Year() < 2000 {
			return // package time means 19xx by two-digit years from 69 on
		}
		if err != nil || got != want.Truncate(time.Millisecond).UnixMilli() {
			t.Fatalf("parse(%q) in %q = %d; package time has %v %v", text, layouts[i], got, want, err)
		}
	})
}

// fullOffset is the one spelling of an offset that package time takes here.
var fullOffset = regexp.MustCompile(`(Z|[+-]\d\d:\d\d)$`)

// plainStamp leaves out what package time does not know: spellings of
// AM and PM, of offsets and of months in other languages, odd spaces.
func plainStamp(text string) bool {
	for _, r := range text {
		if r >= 0x80 || r == '\t' {
			return false
		}
	}
	for _, odd := range []string{"  ", "a", "p", ".m", "m.", ". ", "UTC", "GMT"} {
		if strings.Contains(strings.ToLower(text), strings.ToLower(odd)) {
			return false
		}
	}
	return true
}

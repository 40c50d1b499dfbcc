package templates

import (
	"strings"
	"testing"
	"time"
)

func TestDaysApart(t *testing.T) {
	day := func(text string) time.Time {
		d, err := time.Parse(time.DateOnly, text)
		if err != nil {
			t.Fatal(err)
		}
		return d
	}
	for _, tt := range []struct {
		a, b string
		want int
	}{
		{"2026-05-10", "2026-05-10", 0},
		{"2026-05-10", "2026-11-08", 182},
		{"2026-12-31", "2027-01-01", 2}, // days of the year 365 and 1
		{"2026-01-15", "2026-07-15", 181},
		{"2025-07-15", "2027-01-15", 181}, // whichever the year
		{"2026-03-01", "2026-06-01", 92},
	} {
		if got := daysApart(day(tt.a), day(tt.b)); got != tt.want {
			t.Errorf("daysApart(%s, %s) = %d, want %d", tt.a, tt.b, got, tt.want)
		}
		if daysApart(day(tt.a), day(tt.b)) != daysApart(day(tt.b), day(tt.a)) {
			t.Errorf("daysApart(%s, %s) is not symmetric", tt.a, tt.b)
		}
	}
}

func TestProvisional(t *testing.T) {
	s := finished(t)
	has := func(says string) bool {
		return strings.Contains(strings.Join(s.dossier().provisional(), " "), says)
	}
	if !has("one season only, 9 May 2026 to 13 May 2026") || !has("logged empty only") {
		t.Errorf("provisional = %q", s.dossier().provisional())
	}
	s.logWinter()
	if has("one season only") || !has("logged empty only") {
		t.Errorf("with a log of the winter, provisional = %q", s.dossier().provisional())
	}
	s.dossier().Room.Properties["collection"] = "in place"
	if why := s.dossier().provisional(); why != nil {
		t.Errorf("with both seasons logged and the bottles in place, provisional = %q", why)
	}
}

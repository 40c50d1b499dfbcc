package jobs

import (
	"strings"
	"testing"
	"time"
)

// The changes of 2026 are those of the IANA time zone database: America/Chicago
// goes forward on 8 March at 2:00 and back on 1 November at 2:00.
func TestMoment(t *testing.T) {
	zone, err := time.LoadLocation("America/Chicago")
	if err != nil {
		t.Fatal(err)
	}
	now := time.Date(2026, 5, 5, 2, 30, 0, 0, time.UTC) // 4 May, 21:30 in Chicago
	for _, tt := range []struct{ text, want string }{
		{"2026-05-04 14:00", "2026-05-04T14:00:00-05:00"},
		{"2026-05-04T14:00", "2026-05-04T14:00:00-05:00"},
		{" 2026-01-04 14:00:30 ", "2026-01-04T14:00:30-06:00"},
		{"14:00", "2026-05-04T14:00:00-05:00"},
		{"2026-05-04T19:00:00Z", "2026-05-04T14:00:00-05:00"},
		{"2026-11-01T01:30:00-06:00", "2026-11-01T01:30:00-06:00"},
	} {
		got, err := ParseMoment(tt.text, zone, now)
		if err != nil || got.Format(time.RFC3339) != tt.want {
			t.Errorf("ParseMoment(%q) = %v, %v, want %s", tt.text, got.Format(time.RFC3339), err, tt.want)
		}
	}
	for _, tt := range []struct{ text, want string }{
		{"2026-03-08 02:30", "did not happen"},
		{"2026-11-01 01:30", "happened twice"},
		{"4 May", "cannot be read"},
		{"14.00", "cannot be read"},
		{"2026-02-30 10:00", "cannot be read"},
		{"", "cannot be read"},
	} {
		if got, err := ParseMoment(tt.text, zone, now); err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("ParseMoment(%q) = %v, %v, want an error that says %q", tt.text, got, err, tt.want)
		}
	}
}

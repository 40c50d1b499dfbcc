package jobs

import (
	"fmt"
	"strings"
	"time"
)

// momentLayouts are the ways people write a moment in the job's own time.
var momentLayouts = []string{"2006-01-02 15:04", "2006-01-02T15:04", "2006-01-02 15:04:05", "2006-01-02T15:04:05"}

// ParseMoment reads a time as people write it: "2026-05-04 14:00", "14:00" for
// today, or RFC 3339 with its offset. Times without an offset are the job's;
// one that the clocks skip or show twice on the night they change is refused.
func ParseMoment(text string, zone *time.Location, now time.Time) (time.Time, error) {
	text = strings.TrimSpace(text)
	if t, err := time.Parse(time.RFC3339, text); err == nil {
		return t.In(zone), nil
	}
	if _, err := time.Parse("15:04", text); err == nil {
		text = now.In(zone).Format(time.DateOnly) + " " + text
	}
	for _, layout := range momentLayouts {
		if _, err := time.Parse(layout, text); err == nil {
			return local(layout, text, zone)
		}
	}
	return time.Time{}, problem(ErrInput, "write it as 2026-05-04 14:00, as 14:00 for today, or as 2026-05-04T14:00:00-05:00", "the time %q cannot be read", text)
}

// local reads a time of a zone and refuses one that is not clear there.
func local(layout, text string, zone *time.Location) (time.Time, error) {
	t, err := time.ParseInLocation(layout, text, zone)
	if err != nil {
		return t, err
	}
	if t.Format(layout) != text {
		return t, problem(ErrInput, fmt.Sprintf("write the time the clock showed: %s", t.Format("2006-01-02 15:04")), "%s did not happen in %s: the clocks were moved forward", text, zone)
	}
	for _, shift := range []time.Duration{-time.Hour, time.Hour} {
		if other := t.Add(shift); other.Format(layout) == text {
			return t, problem(ErrInput, fmt.Sprintf("say which: %s or %s", t.Format(time.RFC3339), other.Format(time.RFC3339)), "%s happened twice in %s: the clocks were moved back", text, zone)
		}
	}
	return t, nil
}

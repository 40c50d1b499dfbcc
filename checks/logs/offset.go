package logs

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"
)

// zone settles the offset from UTC. What the file states wins over the zone
// given, which is for files that state none.
func (f *finder) zone() error {
	p, err := compileLayout(f.d.Layout)
	if err != nil {
		return err
	}
	given := f.d.Zone
	switch stated, from := f.statedZone(); {
	case p.unix != 0:
		f.p.Zone = "Unix time"
	case p.zoned:
		f.p.Zone = "offset in every row"
	case stated != nil:
		f.d.Zone, f.p.Zone = stated, stated.String()+", from "+from
		if given != nil && given.String() != stated.String() {
			f.p.note("the file states " + stated.String() + " in " + from + "; " + given.String() + ", as given, is not used")
		}
	case given == nil:
		return problemf(ErrNoZone, "the file does not say where its clock belongs to; give a time zone, or a fixed offset if the logger does not follow summer time%s", f.namedZone())
	default:
		f.p.Zone = given.String() + ", as given"
	}
	if f.d.Zone == nil {
		f.d.Zone = time.UTC
	}
	return nil
}

// statedZone reads an offset from the header of the time column, or from a
// line of the preamble that speaks of the time zone.
func (f *finder) statedZone() (zone *time.Location, from string) {
	if f.d.Header > 0 {
		for _, i := range []int{f.form.timeAt, f.form.clockAt} {
			if i < 0 {
				continue
			}
			if zone := offsetIn(textAt(f.named, i) + " " + textAt(f.below, i)); zone != nil {
				return zone, "the header"
			}
		}
	}
	for _, line := range f.p.Preamble {
		if zoneHeading.MatchString(line) {
			if zone := offsetIn(line); zone != nil {
				return zone, "the lines above the header"
			}
		}
	}
	return nil, ""
}

var (
	zoneHeading = regexp.MustCompile(`(?i)time ?zone|utc|gmt|zeitzone|fuseau|zona horaria|huso|fuso|tijdzone|tidszon`)
	offsetText  = regexp.MustCompile(`(?i)\b(?:utc|gmt)(?:\s*([+\-−])\s*(\d{1,2})(?::?(\d{2}))?)?(?:\b|$)`)
	regionName  = regexp.MustCompile(`\b(?:Africa|America|Antarctica|Asia|Atlantic|Australia|Europe|Indian|Pacific)/[A-Z][A-Za-z_/]+`)
)

// offsetIn returns the one offset that a text states as UTC or GMT with or
// without hours.
func offsetIn(text string) *time.Location {
	found := offsetText.FindAllStringSubmatch(text, -1)
	if len(found) == 0 {
		return nil
	}
	// "UTC offset: GMT+01:00": the one with figures counts.
	match := found[0]
	for _, m := range found {
		if m[1] != "" {
			match = m
			break
		}
	}
	if match[1] == "" {
		return time.UTC
	}
	hours, _ := strconv.Atoi(match[2])
	minutes, _ := strconv.Atoi("0" + match[3])
	seconds := hours*3600 + minutes*60
	if hours > 14 || minutes > 59 {
		return nil
	}
	sign := "+"
	if match[1] != "+" {
		sign, seconds = "-", -seconds
	}
	if seconds == 0 {
		return time.UTC
	}
	return time.FixedZone(fmt.Sprintf("UTC%s%02d:%02d", sign, hours, minutes), seconds)
}

// namedZone points out the name of a region in the preamble. The package does
// not load it, since that reads a file.
func (f *finder) namedZone() string {
	if name := regionName.FindString(strings.Join(f.p.Preamble, "\n")); name != "" {
		return "; the lines above the header name " + name
	}
	return ""
}

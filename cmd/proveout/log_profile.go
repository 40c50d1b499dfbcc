package main

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"proveout/checks/logs"
	"proveout/jobs"
)

// chooseProfile is the dialect of the profile that was named or that the person
// takes, empty for none. What else fits is noted.
func (r *logReader) chooseProfile(from logSource, out *readLog) (logs.Dialect, error) {
	if r.flags.profile != "" {
		if r.company == nil {
			return logs.Dialect{}, &usageError{"--profile: profiles are kept in a company's folder, and this is none\nsay what the file needs instead: --zone, --dates, --decimal, --column"}
		}
		p, err := r.company.LogProfile(r.flags.profile)
		out.profile = p.Name
		return p.Dialect, err
	}
	if r.company == nil {
		return logs.Dialect{}, nil
	}
	profiles, err := r.company.LogProfiles()
	if err != nil {
		r.e.sayf("%s\n", terminalText(err.Error()))
	}
	if len(profiles) == 0 {
		return logs.Dialect{}, nil
	}
	head, err := from.head()
	if err != nil {
		return logs.Dialect{}, err
	}
	return r.offerProfiles(profiles, head, out)
}

func (r *logReader) offerProfiles(profiles []jobs.LogProfile, head []byte, out *readLog) (logs.Dialect, error) {
	for _, p := range profiles {
		if !p.Fits(head, knownZone(out.answers.Zone, r.site)) {
			continue
		}
		if r.e.terminal && !r.flags.given() && out.profile == "" {
			yes, err := r.e.askOr(fmt.Sprintf("%s looks like the files of profile %s. Read it so", terminalText(out.name), p.Name), "yes")
			if err != nil {
				return logs.Dialect{}, err
			}
			if strings.HasPrefix(strings.ToLower(yes), "y") {
				out.profile = p.Name
				return p.Dialect, nil
			}
		}
		out.fits = append(out.fits, p.Name)
	}
	return logs.Dialect{}, nil
}

// knownZone is the first zone that is known; UTC for a file whose zone is not known
// yet, which does not change whether a profile fits.
func knownZone(zones ...*time.Location) *time.Location {
	for _, z := range zones {
		if z != nil {
			return z
		}
	}
	return time.UTC
}

// over is a profile's dialect with what the person says in its place.
func over(base, said logs.Dialect) logs.Dialect {
	d := base
	if said.Charset != "" {
		d.Charset = said.Charset
	}
	if said.Separator != 0 {
		d.Separator = said.Separator
	}
	if said.Decimal != 0 {
		d.Decimal = said.Decimal
	}
	if said.Layout != "" {
		d.Layout = said.Layout
	}
	if said.Zone != nil {
		d.Zone = said.Zone
	}
	if said.Doubled != logs.ByOrder {
		d.Doubled = said.Doubled
	}
	// Columns without a name count by their place: those come first.
	d.Columns = slices.Clone(said.Columns)
	for _, c := range base.Columns {
		if !slices.ContainsFunc(said.Columns, func(s logs.Column) bool { return s.Name == c.Name }) {
			d.Columns = append(d.Columns, c)
		}
	}
	return d
}

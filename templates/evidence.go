package templates

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"proveout/jobs"
)

// evidence is a photo or a file of a job as documents list it.
type evidence struct {
	Link         Markdown
	Name         string // as the person's file was called
	SHA256       string
	Short        string // the first 16 digits
	Original     string // SHA-256 of the file from the camera, when it was shrunk
	About, Place string // check and place it belongs to
	By, Taken    string
	Photo        bool
}

// evidenceOf lists the photos and files of records, each file once for each
// record that names it, in the order of the plan's checks and places.
func (d Dossier) evidenceOf(records []*jobs.Record) []evidence {
	var all []evidence
	for _, r := range d.inOrder(records) {
		for _, e := range r.Photos {
			all = append(all, d.evidence(r, e, true))
		}
		for _, e := range r.Files {
			all = append(all, d.evidence(r, e, false))
		}
	}
	return all
}

// inOrder sorts records by the check they answer, by place, and by time.
func (d Dossier) inOrder(records []*jobs.Record) []*jobs.Record {
	position, expected := map[string]int{}, map[string]int{}
	for _, h := range d.Plan.Holds() {
		for _, q := range h.Checks {
			position[q.ID()] = len(position)
			for i, place := range q.Expected(d.Room, "") {
				expected[q.ID()+" at "+place] = i + 1
			}
		}
	}
	rank := func(r *jobs.Record) int { return expected[r.CheckID()+" at "+r.Place] }
	sorted := slices.Clone(records)
	slices.SortStableFunc(sorted, func(a, b *jobs.Record) int {
		return cmp.Or(
			cmp.Compare(position[a.CheckID()], position[b.CheckID()]),
			cmp.Compare(rank(a), rank(b)), comparePlaces(a.Place, b.Place), a.Measured.Compare(b.Measured),
		)
	})
	return sorted
}

// comparePlaces orders "bay 2" before "bay 10".
func comparePlaces(a, b string) int {
	for a != "" && b != "" {
		x, y := chunk(a), chunk(b)
		if digit(x[0]) && digit(y[0]) && len(x) != len(y) {
			return cmp.Compare(len(x), len(y))
		}
		if c := strings.Compare(x, y); c != 0 {
			return c
		}
		a, b = a[len(x):], b[len(y):]
	}
	return cmp.Compare(len(a), len(b))
}

// chunk is the number that a text begins with, or all before its first number.
func chunk(text string) string {
	i := strings.IndexFunc(text, func(r rune) bool { return digit(byte(r)) != digit(text[0]) || r > 0x7f && digit(text[0]) })
	if i < 0 {
		return text
	}
	return text[:i]
}

func (d Dossier) evidence(r *jobs.Record, e jobs.Evidence, photo bool) evidence {
	about := r.Kind
	if r.Check != "" {
		about = r.CheckID()
	}
	if r.Nonconformity != "" {
		about = r.Nonconformity
	}
	of := d.Plan.Questions()[about]
	if !d.Current(r) {
		about += " (superseded)"
	}
	place := r.Place
	if e.Place != "" {
		place = e.Place
	}
	return evidence{
		Link: d.link(e.Path), Name: e.Name, SHA256: e.SHA256, Short: e.SHA256[:min(len(e.SHA256), 16)],
		Original: e.Original, About: about, Place: d.place(of, place), By: r.By, Taken: d.moment(r.Measured),
		Photo: photo,
	}
}

// period prints the days from first to last.
func (d Dossier) period(first, last time.Time) string {
	from, to := d.day(first), d.day(last)
	if from == to {
		return from
	}
	return from + " to " + to
}

package jobs

import (
	"fmt"
	"slices"

	"proveout/checks"
	"proveout/phases"
)

// Grounds are what a release rests on, counted for the person who signs it.
type Grounds struct {
	Records     int      `json:"records"`
	Photos      int      `json:"photos"`
	Files       int      `json:"files"`
	By          []string `json:"by"`          // who entered the records, with how many
	Instruments []string `json:"instruments"` // with the certificate in force
	Concessions []string `json:"concessions"`
	Upstream    []string `json:"upstream"` // who released the holds before it
}

// Grounds returns what a hold, or some of its faces, would be released on.
func (j *Job) Grounds(g *phases.Gate, h *phases.Hold, faces []string) Grounds {
	records := j.RestsOn(g, h, faces)
	r := Grounds{Records: len(records)}
	entered := map[string]int{}
	for _, rec := range records {
		r.Photos += len(rec.Photos)
		r.Files += len(rec.Files)
		entered[rec.By]++
		if i := rec.Instrument; i != nil {
			r.Instruments = append(r.Instruments, i.describe())
		}
	}
	slices.Sort(r.Instruments)
	r.Instruments = slices.Compact(r.Instruments)
	for name, n := range entered {
		r.By = append(r.By, fmt.Sprintf("%s (%d)", name, n))
	}
	slices.Sort(r.By)
	for _, n := range j.Nonconformities() {
		here := len(faces) == 0 || n.Place == "" || slices.Contains(faces, checks.FaceOf(n.Place))
		if n.Hold == h.ID() && n.Conceded() && here {
			r.Concessions = append(r.Concessions, n.describeConcession())
		}
	}
	for _, o := range j.Upstream(g, h) {
		r.Upstream = append(r.Upstream, o.describe())
	}
	return r
}

// describe names an instrument with its certificate.
func (i *Instrument) describe() string {
	if i.NotRequired != "" {
		return fmt.Sprintf("%s, %s, calibration not required: %s", i.ID, i.Kind, i.NotRequired)
	}
	text := fmt.Sprintf("%s, %s, calibrated %s, due %s", i.ID, i.Kind, i.Calibrated.Format("2 Jan 2006"), i.Due.Format("2 Jan 2006"))
	if i.Certificate != "" {
		text += ", certificate " + i.Certificate
	}
	return text
}

func (n *Nonconformity) describeConcession() string {
	text := n.Record.Nonconformity + ": " + n.Found
	if n.Place != "" {
		text += " at " + n.Place
	}
	text += "; accepted as it is for " + n.Disposition.Limits
	if !n.Disposition.Until.IsZero() {
		text += ", until " + n.Disposition.Until.Format("2 Jan 2006")
	}
	return text
}

// describe names a sign-off in a sentence.
func (s *Signoff) describe() string {
	return fmt.Sprintf("%s by %s, %s, %s, fingerprint %s", s.Hold, s.By, s.Role, s.At.Format("2 Jan 2006 15:04"), s.ShortFingerprint())
}

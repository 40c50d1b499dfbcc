package templates

import (
	"fmt"
	"slices"

	"proveout/checks"
	"proveout/jobs"
	"proveout/phases"
)

// CoverUpHold is the hold that lets board go up.
const CoverUpHold = "drywall.cover-up"

// foundPhases come before anything is built; their photos show the room as it
// was, not what the new board hides.
var foundPhases = []string{"assess", "demo"}

// coverUp is what CoverUp prints.
type coverUp struct {
	Head     head
	Hold     *holdLine // nil when the plan has none
	Faces    []coveredFace
	Room     []photo // not of one face
	Count    int
	Cautions []string
}

// coveredFace is a face with the photos of what its board hides.
type coveredFace struct {
	Code, Name, OtherSide string
	State, Covered        string
	Holes                 []hole
	Photos                []photo
	Maps                  []Figure // of the readings that the board hides
}

// photo is a picture with its number on the face.
type photo struct {
	No string // "A-03"
	evidence
	Local string // when it was taken, with the offset from UTC
	Shows string
}

// hole is a planned penetration.
type hole struct{ Place, For, Owner, Seal string }

// CoverUp writes the photo record of what the board hides, face by face.
func CoverUp(d Dossier) (Document, error) { return d.write("coverup", d.coverUp()) }

func (d Dossier) coverUp() coverUp {
	view := coverUp{Head: d.head(), Cautions: d.cautions(d.Plan.Phase("drywall"))}
	hold := d.Plan.Hold(CoverUpHold)
	if hold != nil {
		line := d.holdLine(hold, d.Gate.State(hold))
		view.Hold = &line
	}
	records := d.hiddenRecords(hold)
	for i, f := range d.Room.Faces {
		face := coveredFace{Code: faceCode(i), Name: f.Name, OtherSide: f.OtherSide, Photos: d.photos(records, f.Name, faceCode(i))}
		d.coverState(&face, hold)
		face.Maps = d.builtMaps(f.Name)
		for _, p := range d.Penetrations() {
			if checks.FaceOf(p.Place) == f.Name {
				face.Holes = append(face.Holes, hole{placeText(p.Place), p.For, p.Owner, p.Seal})
			}
		}
		view.Count += len(face.Photos)
		view.Faces = append(view.Faces, face)
	}
	view.Room = d.photos(records, "", "room")
	view.Count += len(view.Room)
	return view
}

// coverState says whether the face may be covered, and since when.
func (d Dossier) coverState(face *coveredFace, hold *phases.Hold) {
	if hold == nil {
		return
	}
	s := d.Gate.FaceState(hold, face.Name)
	face.State = string(s.State)
	if !slices.Contains(d.Gate.State(hold).Faces, face.Name) {
		face.State = "not part of this hold"
		return
	}
	if s.State == phases.Signed {
		for _, r := range s.Signed {
			face.Covered = d.moment(r.At)
		}
	}
}

// hiddenRecords are the current records with photos, of the holds up to the
// cover-up, by the time they were taken.
func (d Dossier) hiddenRecords(hold *phases.Hold) []*jobs.Record {
	asked := map[string]bool{}
	if hold != nil {
		d.askedUpTo(hold, asked)
	}
	var all []*jobs.Record
	for _, r := range d.Records {
		hidden := r.Kind == jobs.AnswerRecord && asked[r.CheckID()] || r.Kind == jobs.NoteRecord && d.building(r.Phase)
		if hidden && d.Current(r) && len(r.Photos) > 0 {
			all = append(all, r)
		}
	}
	all = d.inOrder(all)
	slices.SortStableFunc(all, func(a, b *jobs.Record) int { return a.Measured.Compare(b.Measured) })
	return all
}

// askedUpTo collects the checks of a hold and of all holds before it.
func (d Dossier) askedUpTo(h *phases.Hold, asked map[string]bool) {
	if slices.Contains(foundPhases, h.Phase.Name) {
		return
	}
	for _, q := range h.Checks {
		asked[q.ID()] = true
	}
	for _, up := range d.Plan.Before(h, d.Gate.Decisions) {
		d.askedUpTo(up, asked)
	}
}

// building reports whether a phase lies between the empty shell and the board.
func (d Dossier) building(phase string) bool {
	ph, last := d.Plan.Phase(phase), d.Plan.Phase("drywall")
	return ph != nil && last != nil && ph.Number <= last.Number && !slices.Contains(foundPhases, phase)
}

// photos numbers the photos of one face; face "" takes those of no face.
func (d Dossier) photos(records []*jobs.Record, face, code string) []photo {
	questions := d.Plan.Questions()
	var all []photo
	for _, r := range records {
		on := ""
		if d.Room.Face(checks.FaceOf(r.Place)) != nil {
			on = checks.FaceOf(r.Place)
		}
		if on != face {
			continue
		}
		for _, e := range r.Photos {
			p := photo{No: fmt.Sprintf("%s-%02d", code, len(all)+1), evidence: d.evidence(r, e, true)}
			p.Local = r.Measured.In(d.Zone).Format("2006-01-02 15:04 -07:00")
			p.Shows = shows(questions[r.CheckID()], r)
			all = append(all, p)
		}
	}
	return all
}

// shows says what a photo shows: what was asked and what was answered, or the
// note it came with.
func shows(q *checks.Question, r *jobs.Record) string {
	if r.Note != "" {
		return r.Note
	}
	if q == nil {
		return ""
	}
	return asked(q.Ask) + " " + r.Shown()
}

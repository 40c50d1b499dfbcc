package templates

import (
	"proveout/checks/units"
	"proveout/templates/page"
)

// sheet is what a document's page needs and its Markdown does not say.
type sheet struct {
	system  units.System // chooses the paper
	running string       // at the foot of each printed page
	photo   func(file string, longest int) ([]byte, error)
}

// HTML returns the document as one file that stands alone, with its photos and
// figures in it, to be read on a screen and to be printed.
func (d Document) HTML() (string, error) {
	p := page.Page{
		Kind: d.Kind, Paper: page.A4, Running: d.sheet.running, Markdown: d.text,
		Photo: d.sheet.photo, Words: keepUnits,
	}
	if d.sheet.system == units.US {
		p.Paper = page.Letter
	}
	for _, f := range d.Figures {
		p.Figures = append(p.Figures, page.Figure{Name: f.Name, Caption: f.Caption, Alt: f.Alt, SVG: f.SVG})
	}
	return p.HTML()
}

// write fills a template of a job.
func (d Dossier) write(name string, view any) (Document, error) {
	document, err := write(name, view)
	h := d.head()
	document.At = d.At
	document.sheet = sheet{d.Room.Units, "Job " + h.Job + ", commit " + h.Commit + " of " + h.AsOf, d.Photo}
	return document, err
}

// write fills a template of the owner's.
func (o Owner) write(name string, view any) (Document, error) {
	document, err := write(name, view)
	document.At = o.At
	if o.Company != nil {
		document.sheet = sheet{system: o.Company.Units, running: o.Company.Name}
	}
	return document, err
}

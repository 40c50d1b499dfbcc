package main

import (
	"path/filepath"
	"strings"
)

// form is how a document is written.
type form int

const (
	markdownForm form = iota
	htmlForm
	pdfForm
	csvForm
)

// formEndings are the ending of a file of each form, its usual one first.
var formEndings = map[form][]string{
	markdownForm: {".md", ".markdown"},
	htmlForm:     {".html", ".htm"},
	pdfForm:      {".pdf"},
	csvForm:      {".csv"},
}

func (f form) ending() string { return formEndings[f][0] }

// formOf is the form that a file's ending stands for.
func formOf(file string) (form, bool) {
	for f, endings := range formEndings {
		for _, ending := range endings {
			if strings.EqualFold(filepath.Ext(file), ending) {
				return f, true
			}
		}
	}
	return markdownForm, false
}

// chooseForm takes the form from its flag or from the ending of the file of -o,
// which must agree.
func (p *printing) chooseForm(e *env) error {
	asked := 0
	for f, flag := range map[form]bool{markdownForm: p.markdown, htmlForm: p.html, pdfForm: p.pdf, csvForm: p.csv} {
		if flag {
			p.form = f
			asked++
		}
	}
	if asked > 1 {
		return &usageError{"a document has one form: give one of --markdown, --html, --pdf and --csv"}
	}
	if p.to != "" && !p.intoFolder(e) {
		f, known := formOf(p.to)
		if known && asked == 1 && f != p.form {
			return &usageError{"the name " + p.to + " says another form than the flag: leave the flag out, or end the name in " + p.form.ending()}
		}
		if known {
			p.form = f
		}
	}
	switch {
	case p.to == "" && p.form == pdfForm:
		return &usageError{"say into which file: -o record.pdf"}
	case p.to == "" && p.form == htmlForm && e.terminal:
		return &usageError{"say into which file: -o record.html"}
	case p.browser != "" && p.form != pdfForm:
		return &usageError{"--browser is for a PDF: add --pdf"}
	}
	return nil
}

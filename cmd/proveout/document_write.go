package main

import (
	"bytes"
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"proveout/jobs"
	"proveout/templates"
)

// one prints a document, or writes it to where -o says.
func (p *printing) one(ctx context.Context, e *env, kind paper, d templates.Dossier, arg string) error {
	if p.form == csvForm {
		return p.sheet(e, kind, d, arg)
	}
	file := ""
	if p.to != "" {
		file = p.file(e, kind.fileName(d.ID, arg)+p.form.ending())
	}
	if file != "" && p.form == markdownForm {
		d.Folder = leadsTo(d.Dir, filepath.Dir(file))
	}
	document, err := kind.write(d, arg)
	if err != nil {
		return err
	}
	return p.put(ctx, e, file, document)
}

// put shows a document, or writes it to a file.
func (p *printing) put(ctx context.Context, e *env, file string, document templates.Document) error {
	if p.form == markdownForm {
		return p.putMarkdown(e, file, document)
	}
	page, err := document.HTML()
	if err != nil {
		return err
	}
	if file == "" {
		e.printf("%s", page)
		return nil
	}
	if p.form == htmlForm {
		return p.save(e, file, []byte(page))
	}
	browser, err := findBrowser(p.browser)
	if err != nil {
		return err
	}
	if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
		return err
	}
	pdf, err := printPDF(ctx, browser, page, filepath.Dir(file))
	if err != nil {
		return err
	}
	return p.save(e, file, datedPDF(pdf, document.At))
}

// putMarkdown writes a document with its figures beside it.
func (p *printing) putMarkdown(e *env, file string, document templates.Document) error {
	if file == "" {
		return p.show(e, document.Markdown(""))
	}
	folder := strings.TrimSuffix(filepath.Base(file), filepath.Ext(file)) + "-figures"
	if err := p.save(e, file, []byte(document.Markdown(folder))); err != nil {
		return err
	}
	for _, f := range document.Figures {
		if err := p.save(e, filepath.Join(filepath.Dir(file), folder, f.Name+".svg"), []byte(f.SVG)); err != nil {
			return err
		}
	}
	return nil
}

var errOnlySheets = &usageError{"only a field sheet is written as CSV: proveout document field-sheet PHASE --csv"}

// sheet writes a field sheet for a computer.
func (p *printing) sheet(e *env, kind paper, d templates.Dossier, arg string) error {
	if kind.name != "field-sheet" {
		return errOnlySheets
	}
	ph, err := d.Phase(arg)
	if err != nil {
		return err
	}
	data, err := templates.FieldSheetCSV(d, ph)
	if err != nil {
		return err
	}
	if p.to == "" {
		e.printf("%s", data)
		return nil
	}
	return p.save(e, p.file(e, kind.fileName(d.ID, ph.Name)+".csv"), data)
}

// all writes every document of the job into a folder.
func (p *printing) all(ctx context.Context, e *env, d templates.Dossier) error {
	if p.to == "" {
		return &usageError{"say into which folder: proveout document all -o papers/"}
	}
	if p.form == csvForm {
		return &usageError{"document all writes the field sheets as CSV beside the others: leave --csv out"}
	}
	dir := e.path(p.to)
	p.to = dir + string(filepath.Separator)
	for _, kind := range papers {
		args := []string{""}
		if kind.each != nil {
			args = kind.each(d)
		}
		for _, arg := range args {
			if err := p.one(ctx, e, kind, d, arg); err != nil {
				return err
			}
		}
	}
	for _, ph := range phaseNames(d) {
		sheet, err := paperNamed("field-sheet")
		if err != nil {
			return err
		}
		if err := p.sheet(e, sheet, d, ph); err != nil {
			return err
		}
	}
	return nil
}

// review prints the owner's review of all jobs.
func (p *printing) review(e *env, c *cobra.Command) error {
	if p.form == csvForm {
		return errOnlySheets
	}
	company, err := e.company(c)
	if err != nil {
		return err
	}
	now := e.now()
	all, err := company.Review(now)
	if err != nil {
		return err
	}
	document, err := templates.Review(templates.Owner{Company: company, At: now, Jobs: all})
	if err != nil {
		return err
	}
	file := ""
	if p.to != "" {
		file = p.file(e, "review"+p.form.ending())
	}
	return p.put(c.Context(), e, file, document)
}

// show prints a document: set for a terminal, or as it is.
func (p *printing) show(e *env, text string) error {
	if !e.terminal || p.markdown {
		e.printf("%s", text)
		return nil
	}
	set, err := templates.Render(text, e.width, e.color)
	if err != nil {
		return err
	}
	e.printf("%s", set)
	return nil
}

// fileName is how a document's file is called in a folder.
func (k paper) fileName(job, arg string) string {
	return job + "-" + strings.TrimSuffix(k.name+"-"+strings.ToLower(arg), "-")
}

// file is where a document goes: the file that -o names, or name in the folder
// that it names.
func (p *printing) file(e *env, name string) string {
	if p.intoFolder(e) {
		return filepath.Join(e.path(p.to), name)
	}
	return e.path(p.to)
}

// intoFolder reports whether -o names a folder.
func (p *printing) intoFolder(e *env) bool {
	info, err := os.Stat(e.path(p.to))
	return strings.HasSuffix(p.to, "/") || strings.HasSuffix(p.to, string(filepath.Separator)) || err == nil && info.IsDir()
}

// leadsTo is the path from a document's folder to the job's, for links.
func leadsTo(job, from string) string {
	rel, err := filepath.Rel(from, job)
	if err != nil || rel == "." {
		return ""
	}
	return filepath.ToSlash(rel)
}

// save writes a document. It replaces no file that says something else, unless
// told to.
func (p *printing) save(e *env, file string, data []byte) error {
	old, err := os.ReadFile(file)
	switch {
	case err == nil && bytes.Equal(old, data):
		e.printf("unchanged: %s\n", e.shown(file))
		return nil
	case err == nil && !p.force:
		return &jobs.Problem{Kind: jobs.ErrInput, What: e.shown(file) + " is there already and says something else", Next: "write it elsewhere, or replace it: --force"}
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		return err
	}
	if err := writeWhole(file, data); err != nil {
		return err
	}
	e.printf("written: %s\n", e.shown(file))
	return nil
}

// writeWhole writes a person's file, in whole or not at all.
func writeWhole(file string, data []byte) error {
	if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
		return err
	}
	temp, err := os.CreateTemp(filepath.Dir(file), ".proveout-*.tmp")
	if err != nil {
		return err
	}
	_, err = temp.Write(data)
	err = errors.Join(err, temp.Sync(), temp.Chmod(0o644), temp.Close())
	if err == nil {
		err = os.Rename(temp.Name(), file)
	}
	if err != nil {
		return errors.Join(err, os.Remove(temp.Name()))
	}
	return nil
}

package page

import (
	"encoding/base64"
	"fmt"
	"html"
	"runtime"
	"strings"
	"sync"

	"github.com/yuin/goldmark/ast"
	extended "github.com/yuin/goldmark/extension/ast"
)

// The longest side of a photo on a page, in pixels: three stand side by side on
// paper, 2.2 in (56 mm) wide, at 290 dots an inch; a small one beside the name
// of its file is half as wide.
const (
	photoSize = 640
	thumbSize = 320
)

// picture is a photo in one size.
type picture struct {
	file    string
	longest int
}

// photoFolder is where a job keeps its photos; links begin with it.
const photoFolder = "evidence/photos/"

// photoOf is the file of the photo that a link points to, or "".
func photoOf(n *ast.Link) string {
	if file := string(n.Destination); strings.HasPrefix(file, photoFolder) {
		return file
	}
	return ""
}

// soleLink is the link that is all there is in a cell, or nil.
func soleLink(cell ast.Node) *ast.Link {
	if n, ok := cell.FirstChild().(*ast.Link); ok && cell.ChildCount() == 1 {
		return n
	}
	return nil
}

// photoColumn is the column that holds a photo in every row; -1 for none.
func (g grid) photoColumn() int {
	for column := range g.head {
		photos := 0
		for _, row := range g.rows {
			if column >= len(row) {
				break
			}
			if link := soleLink(row[column]); link != nil && photoOf(link) != "" {
				photos++
			}
		}
		if photos > 0 && photos == len(g.rows) {
			return column
		}
	}
	return -1
}

// pictures sets a table of photos as the photos, each with its row below it.
func (s *setter) pictures(g grid, column int) {
	s.write("<ul class=\"photos\">\n")
	for _, row := range g.rows {
		link := soleLink(row[column])
		s.write("<li><figure>")
		about := s.about(g, row, column)
		s.img("photo", "Photo "+strings.Join(about[:min(len(about), 2)], ": "), picture{photoOf(link), photoSize})
		s.write("<figcaption>")
		for i, cell := range row {
			if words := s.words(cell); i != column && words != "" {
				s.caption(s.words(g.head[min(i, len(g.head)-1)]), words)
			}
		}
		s.write(`<span class="file">`, s.text(s.words(link)), "</span></figcaption></figure></li>\n")
	}
	s.write("</ul>\n")
}

// about are the words of a row beside its photo, without digits that nobody
// reads aloud.
func (s *setter) about(g grid, row []*extended.TableCell, column int) []string {
	var about []string
	for i, cell := range row {
		if words := s.words(cell); i != column && words != "" && columnClass(s.words(g.head[min(i, len(g.head)-1)])) == "" {
			about = append(about, words)
		}
	}
	return about
}

// caption sets a cell of a row below its photo; the photo's number stands out.
func (s *setter) caption(head, words string) {
	name := "span"
	if head == "Photo" {
		name = "b"
	}
	s.write("<", name, attribute("class", columnClass(head)), ">", s.text(words), "</", name, "> ")
}

// develop reads photos, several at a time, and returns them as addresses that
// hold the whole picture.
func (p Page) develop(wanted []picture) (map[picture]string, error) {
	if len(wanted) > 0 && p.Photo == nil {
		return nil, fmt.Errorf("the document shows %s and there is no way to read it", wanted[0].file)
	}
	data, errs := make([][]byte, len(wanted)), make([]error, len(wanted))
	var wait sync.WaitGroup
	slots := make(chan struct{}, runtime.NumCPU())
	for i, w := range wanted {
		wait.Go(func() {
			slots <- struct{}{}
			data[i], errs[i] = p.Photo(w.file, w.longest)
			<-slots
		})
	}
	wait.Wait()
	photos := make(map[picture]string, len(wanted))
	for i, w := range wanted {
		if errs[i] != nil {
			return nil, fmt.Errorf("%s: %w", w.file, errs[i])
		}
		photos[w] = "data:image/jpeg;base64," + base64.StdEncoding.EncodeToString(data[i])
	}
	return photos, nil
}

// figure sets the drawing that an image of the Markdown names.
func (s *setter) figure(target string) {
	name, ok := strings.CutPrefix(target, "figure:")
	for _, f := range s.page.Figures {
		if !ok || f.Name != name {
			continue
		}
		drawing, err := s.drawing(f)
		if err != nil {
			s.fail("the figure %s: %w", f.Name, err)
		}
		s.write(`<figure class="drawn"><div role="img" aria-label="`, html.EscapeString(f.Alt), "\">\n", drawing, "\n</div>")
		if f.Caption != "" {
			s.write("<figcaption>", s.text(f.Caption), "</figcaption>")
		}
		s.write("</figure>\n")
		return
	}
	s.fail("the document shows %q, which is none of its figures", target)
}

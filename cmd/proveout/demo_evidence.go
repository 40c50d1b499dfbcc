package main

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"strings"
	"time"

	"golang.org/x/image/font"
	"golang.org/x/image/font/basicfont"
	"golang.org/x/image/math/fixed"

	"proveout/checks"
	"proveout/jobs"
)

// photo draws a picture that says what a real one would show.
func (k *crew) photo(check, place string) (*jobs.Incoming, error) {
	m := image.NewGray(image.Rect(0, 0, 300, 190))
	draw.Draw(m, m.Bounds(), image.NewUniform(color.Gray{210}), image.Point{}, draw.Src)
	for i, line := range []string{"invented picture", k.j.ID, check, place, k.now.Format("2006-01-02 15:04")} {
		d := font.Drawer{Dst: m, Src: image.Black, Face: basicfont.Face7x13, Dot: fixed.P(14, 36+i*32)}
		d.DrawString(line)
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, nil); err != nil {
		return nil, err
	}
	var in *jobs.Incoming
	name := strings.NewReplacer(".", "-", "/", "-", " ", "-").Replace(check+" "+place) + ".jpg"
	err := k.temp(name, b.Bytes(), func(file string) (err error) {
		in, err = jobs.ReadPhoto(file, k.company.PhotoSize)
		return err
	})
	return in, err
}

// paper is a page that stands for a document.
func (k *crew) paper(q *checks.Question) (*jobs.Incoming, error) {
	text := fmt.Sprintf("INVENTED DOCUMENT\n\n%s\nJob %s\nNumber %s\nDate %s\n", q.Paper, k.j.ID, k.number("D"), k.now.Format(time.DateOnly))
	var in *jobs.Incoming
	err := k.temp(q.Name+".md", []byte(text), func(file string) (err error) {
		in, err = jobs.ReadPaper(file)
		return err
	})
	return in, err
}

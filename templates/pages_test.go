package templates

import (
	"bytes"
	"encoding/base64"
	"image/jpeg"
	"regexp"
	"strings"
	"testing"

	"proveout/checks/units"
	"proveout/templates/page/pagetest"
)

// TestPages sets every document of jobs in three states as a page, twice.
func TestPages(t *testing.T) {
	for name, build := range map[string]func(*testing.T) *site{"fresh": fresh, "stopped": stopped, "finished": finished} {
		t.Run(name, func(t *testing.T) {
			s := build(t)
			for paper, document := range documentsOf(t, s, s.dossier()) {
				text, err := document.HTML()
				if err != nil {
					t.Errorf("%s: %v", paper, err)
				}
				for _, fault := range pagetest.Faults(text) {
					t.Errorf("%s: %s", paper, fault)
				}
				if again, err := document.HTML(); err != nil || again != text {
					t.Errorf("%s differs the second time, %v", paper, err)
				}
			}
		})
	}
}

// TestPageOfARecord looks at the page that a homeowner gets.
func TestPageOfARecord(t *testing.T) {
	d := finished(t).dossier()
	paperOf := func(system units.System) string {
		d.Room.Units = system
		document, err := CommissioningRecord(d)
		if err != nil {
			t.Fatal(err)
		}
		text, err := document.HTML()
		if err != nil {
			t.Fatal(err)
		}
		return text
	}
	if text := paperOf(units.SI); !strings.Contains(text, "@page { size: A4;") {
		t.Error("a job in SI units is not printed on A4")
	}
	text := paperOf(units.US)
	if !strings.Contains(text, "@page { size: letter;") {
		t.Error("a job in US units is not printed on Letter")
	}
	if !strings.Contains(text, `<figure class="drawn"><div role="img" aria-label="North wall, from the house to the room`) {
		t.Error("the section of a face is not in it")
	}
	if !strings.Contains(text, "5\u00a01/16\u00a0in") {
		t.Error("a number may be broken from its unit")
	}
	photos := regexp.MustCompile(`<img class="photo" [^>]*src="data:image/jpeg;base64,([^"]*)">`).FindAllStringSubmatch(text, -1)
	if len(photos) < 10 {
		t.Fatalf("%d photos are in it", len(photos))
	}
	for _, photo := range photos {
		data, err := base64.StdEncoding.DecodeString(photo[1])
		if err != nil {
			t.Fatal(err)
		}
		if _, err := jpeg.Decode(bytes.NewReader(data)); err != nil || bytes.Contains(data, []byte("Exif")) {
			t.Errorf("a photo is damaged, or says where it was taken: %v", err)
		}
	}
}

// TestPageWithoutItsPhotos asks that a photo which cannot be read is an error.
func TestPageWithoutItsPhotos(t *testing.T) {
	document, err := CoverUp(finished(t).dossier())
	if err != nil {
		t.Fatal(err)
	}
	document.sheet.photo = nil
	if _, err := document.HTML(); err == nil {
		t.Error("the page is set without its photos")
	}
}

func TestKeepUnits(t *testing.T) {
	for text, want := range map[string]string{
		"at least 5 1/2 in, at most 60 % RH": "at least 5\u00a01/2\u00a0in, at most 60\u00a0%\u00a0RH",
		" spaces  stay ":                     " spaces  stay ",
		"ends with 5":                        "ends with 5",
		"5  in":                              "5  in",
		"":                                   "",
	} {
		if got := keepUnits(text); got != want {
			t.Errorf("keepUnits(%q) = %q, want %q", text, got, want)
		}
	}
}

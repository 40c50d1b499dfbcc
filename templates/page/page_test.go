package page

import (
	"errors"
	"strings"
	"testing"

	"proveout/templates/page/pagetest"
)

const source = `**Hollow Oak Rooms**, 555-0100

- **Job:** birch-stair, Wine room
- **For:** ______________________________

# Your room: a record

> **PROVISIONAL.** One season only.

Some words.

## In plain words

**What was done.**

- one thing
- another, 5 1/2 in deep

| Test | Found | Wanted | Outcome |
| --- | ---: | --- | --- |
| Depth of the foam | 4 7/8 in | at least 5 in | FAIL |
| Moisture | 12 % | at most 15 % | pass, near limit |
| Log |  | at least 72 h | undecided |

> A statement that was signed.

![](figure:pull-down)

## Photos

| Photo | What it shows | Where | File |
| --- | --- | --- | --- |
| A-01 | bay 1 | north wall | [1a2b3c4d-bay-1.jpg](evidence/photos/1a2b3c4d-bay-1.jpg) |

| File | SHA-256, first 16 digits |
| --- | --- |
| [1a2b3c4d-bay-1.jpg](evidence/photos/1a2b3c4d-bay-1.jpg) | 1a2b3c4d00000000 |
| [log.csv](evidence/logs/log.csv) | 5a2b3c4d00000000 |

## In plain words

| Role | Name | Signature |
| --- | --- | --- |
| owner | I. Calder |        |

` + "```\nsha256sum -c signoffs/a.sha256\n```" + `

## Four

## Five

## Six

---

Job birch-stair.
`

const svg = `<?xml version="1.0"?>
<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><title>Pull-down</title><path id="pull-down-a" d="M0 0L9 9"/><use href="#pull-down-a"/></svg>`

func record() Page {
	return Page{
		Kind: "commissioning", Paper: Letter, Running: `Job birch-stair "2" \ </style>`, Markdown: source,
		Figures: []Figure{{"pull-down", "From warm to cold.", "It falls to 55 °F in 14 h.", svg}},
		Photo:   func(file string, longest int) ([]byte, error) { return []byte(file), nil },
		Words:   func(text string) string { return strings.ReplaceAll(text, " in", "\u00a0in") },
	}
}

func set(t *testing.T, p Page) string {
	t.Helper()
	text, err := p.HTML()
	if err != nil {
		t.Fatal(err)
	}
	return text
}

func TestPage(t *testing.T) {
	got := set(t, record())
	for _, fault := range pagetest.Faults(got) {
		t.Error(fault)
	}
	for _, want := range []string{
		`<html lang="en">`, `<title>Your room: a record</title>`, `<body class="commissioning">`, `@page { size: letter;`,
		// The letterhead, the facts and the notice belong to the heading.
		"<header>\n<p class=\"from\"><strong>Hollow Oak Rooms</strong>, 555-0100</p>\n<h1>Your room: a record</h1>\n<dl>\n<div><dt>Job</dt><dd> birch-stair, Wine room</dd></div>",
		"<div class=\"notice\">\n<p><strong>PROVISIONAL.</strong> One season only.</p>\n</div>\n</header>",
		`<section id="in-plain-words" aria-labelledby="in-plain-words-title">`, `<section id="in-plain-words-2"`, `<li><a href="#in-plain-words-2">In plain words</a></li>`,
		`<p class="lead"><strong>What was done.</strong></p>`, "<li>another, 5 1/2\u00a0in deep</li>",
		`<table class="wide">`, `<th scope="col" class="right">Found</th>`, `<th scope="row" data-head="Test">Depth of the foam</th>`,
		`<span class="verdict fail">FAIL</span>`, `<span class="verdict pass">pass, near limit</span>`, `<span class="verdict undecided">undecided</span>`,
		"<blockquote>\n<p>A statement that was signed.</p>\n</blockquote>",
		`<figure class="drawn"><div role="img" aria-label="It falls to 55 °F in 14 h.">` + "\n<svg xmlns", `<figcaption>From warm to cold.</figcaption>`,
		// base64 of the name that Photo was asked for
		`<li><figure><img class="photo" alt="Photo A-01: bay 1" src="data:image/jpeg;base64,ZXZpZGVuY2UvcGhvdG9zLzFhMmIzYzRkLWJheS0xLmpwZw==">`,
		`<img class="thumb" alt="Photo 1a2b3c4d-bay-1.jpg" src="data:`, `<span class="file">log.csv</span>`, `class="digits" data-head="SHA-256, first 16 digits"`,
		`<table class="signatures">`, "<pre>sha256sum -c signoffs/a.sha256\n</pre>", "<footer>\n<p>Job birch-stair.</p>\n</footer>",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("the page does not have\n%s", want)
		}
	}
	if strings.Count(got, "</style>") != 1 || !strings.Contains(got, `content: "Job birch\2d stair \22 2\22  \5c  \3c \2f style\3e "`) {
		t.Error("the foot of a page ends the style")
	}
	if again := set(t, record()); again != got {
		t.Error("the page differs the second time")
	}
	if t.Failed() {
		t.Logf("%s", got[strings.Index(got, "</style>"):])
	}
}

func TestPageOfA4(t *testing.T) {
	p := record()
	p.Paper = A4
	if got := set(t, p); !strings.Contains(got, "@page { size: A4;") {
		t.Error("the page is not A4")
	}
	p.Paper = "legal"
	if _, err := p.HTML(); err == nil {
		t.Error("a third size of paper is set")
	}
}

// TestMarkupInWords puts HTML where Markdown lets words stand.
func TestMarkupInWords(t *testing.T) {
	const bad = `"><script>alert(1)</script><img src=x onerror=alert(1)> ' & &amp; x`
	escaped := strings.NewReplacer("<", `\<`, "&", "&amp;").Replace(bad)
	p, plain := record(), record()
	plain.Markdown = strings.NewReplacer("birch-stair", "words", "Depth of the foam", "words", "bay 1 |", "words |", "a record", "words", "one thing", "words").Replace(source)
	p.Markdown = strings.NewReplacer("birch-stair", escaped, "Depth of the foam", escaped, "bay 1 |", escaped+" |", "a record", escaped, "one thing", escaped).Replace(source)
	p.Figures[0].Alt, p.Figures[0].Caption, p.Running = bad, bad, bad
	got := set(t, p)
	for _, fault := range pagetest.Faults(got) {
		t.Error(fault)
	}
	if shape(t, got) != shape(t, set(t, plain)) {
		t.Error("words change the shape of the page")
	}
}

func shape(t *testing.T, text string) string {
	t.Helper()
	s, err := pagetest.Shape(text)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// TestRawMarkup asks that Markdown which no document of ours has is refused, not
// passed on.
func TestRawMarkup(t *testing.T) {
	for _, markdown := range []string{
		"<script>alert(1)</script>", "words <b>bold</b>", "[x](javascript:alert(1)) ![x](http://example.org/x.png)", "![x](figure:none)",
		"    indented", "<http://example.org>",
	} {
		p := record()
		p.Markdown = "# Title\n\n" + markdown + "\n"
		if got, err := p.HTML(); err == nil {
			t.Errorf("%q is set as\n%s", markdown, got[strings.Index(got, "<main>"):])
		}
	}
}

func TestLinkOutOfThePage(t *testing.T) {
	p := record()
	p.Markdown = "# Title\n\n[click](javascript:alert) [up](../../etc/passwd)\n"
	if got := set(t, p); !strings.Contains(got, `<span class="file">click</span> <span class="file">up</span>`) {
		t.Errorf("links lead out:\n%s", got)
	}
}

func TestPhotoThatCannotBeRead(t *testing.T) {
	p := record()
	p.Photo = func(string, int) ([]byte, error) { return nil, errors.New("it is cut off") }
	if _, err := p.HTML(); err == nil || !strings.Contains(err.Error(), "evidence/photos/1a2b3c4d-bay-1.jpg: it is cut off") {
		t.Errorf("the error is %v", err)
	}
	p.Photo = nil
	if _, err := p.HTML(); err == nil {
		t.Error("a photo is shown without a way to read it")
	}
}

func TestDrawingThatMayNotStand(t *testing.T) {
	for _, inside := range []string{
		`<script>alert(1)</script>`, `<foreignObject/>`, `<image href="x.png"/>`, `<a href="#x"><path/></a>`,
		`<path onclick="alert(1)"/>`, `<use href="http://example.org/x.svg#a"/>`, `<path style="fill:url(http://example.org/x)"/>`,
		`<style>@import "x.css";</style>`, `<path id="in-plain-words"/>`, `<path`, `</g>`, `<!DOCTYPE x>`,
	} {
		p := record()
		p.Figures[0].SVG = `<svg xmlns="http://www.w3.org/2000/svg">` + inside + `</svg>`
		if _, err := p.HTML(); err == nil {
			t.Errorf("a drawing with %s is shown", inside)
		}
	}
	p := record()
	p.Figures = append(p.Figures, Figure{Name: "second", Alt: "again", SVG: svg})
	p.Markdown += "\n![](figure:second)\n"
	if _, err := p.HTML(); err == nil || !strings.Contains(err.Error(), `identifier "pull-down-a" is that of "pull-down" too`) {
		t.Errorf("two drawings share an identifier: %v", err)
	}
}

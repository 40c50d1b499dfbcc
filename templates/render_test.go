package templates

import (
	"strings"
	"testing"
	"unicode"

	"github.com/charmbracelet/x/ansi"
)

const document = `# Sign-off of the north wall

Hold point **insulation.before-board** is open. The foam is 5 1/4 in deep at its thinnest place, and the room holds 55 °F.

- one thing that is said at some length, so that its line has to be broken and hangs behind the mark
- another

1. first
2. second

> **DRAFT.** What is missing stands below, and there is a good deal of it, more than fits a line.

| Check | Limit | Result | Margin | Outcome |
| --- | --- | --- | ---: | --- |
| Depth of the foam at the gauge | at least 5 1/2 in, at most 20 in | 5 1/4 in | -1/4 in | FAIL |
| Moisture of the framing on the day it is closed in | at most 15 % | 12 % | +3 % MC | pass |

` + "```\nsha256sum -c signoffs/insulation.before-board-20260504-150000-abcdef.sha256 # longer than the terminal is wide\n| not | a table |\n| --- | --- |\n```\n"

const at60 = `# Sign-off of the north wall

Hold point insulation.before-board is open. The foam is
5 1/4 in deep at its thinnest place, and the room holds
55 °F.

• one thing that is said at some length, so that its line
  has to be broken and hangs behind the mark
• another

1. first
2. second

┃ DRAFT. What is missing stands below, and there is a good
┃ deal of it, more than fits a line.

Check         Limit         Result     Margin  Outcome
────────────  ────────────  ────────  ───────  ───────
`

func TestRender(t *testing.T) {
	got, err := Render(document, 60, false)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.HasPrefix(got, at60[:strings.Index(at60, "Check")]) {
		t.Errorf("Render at 60 =\n%s\nwant it to begin\n%s", got, at60)
	}
	if strings.Contains(got, "\x1b") {
		t.Error("without color there is an escape sequence")
	}
	if !strings.Contains(got, "    sha256sum -c signoffs/insulation.before-board-20260504-150000-abcdef.sha256 # longer than the terminal is wide\n    | not | a table |\n") {
		t.Errorf("the command was not left whole:\n%s", got)
	}
}

// TestRenderFits asks, for many widths, that no line is too long and that no
// number is broken from its unit.
func TestRenderFits(t *testing.T) {
	for _, color := range []bool{false, true} {
		for width := leastWidth; width <= 140; width += 4 {
			got, err := Render(document, width, color)
			if err != nil {
				t.Fatal(err)
			}
			for line := range strings.SplitSeq(ansi.Strip(got), "\n") {
				if w := ansi.StringWidth(line); w > width && !strings.HasPrefix(line, "    ") {
					t.Errorf("at %d a line is %d wide: %q", width, w, line)
				}
			}
			for _, whole := range []string{"5 1/4 in", "5 1/2 in", "55 °F", "-1/4 in", "+3 % MC", "15 %", "20 in"} {
				if !strings.Contains(ansi.Strip(got), whole) {
					t.Errorf("at %d %q is broken:\n%s", width, whole, got)
				}
			}
		}
	}
}

func TestRenderStacksWideTables(t *testing.T) {
	got, err := Render("| Name of it | What was found there |\n| --- | --- |\n| 0123456789-0123456789-0123456789 | 0123456789-0123456789 |\n| b | c |\n", 40, false)
	if err != nil {
		t.Fatal(err)
	}
	const want = `Name of it:
  0123456789-0123456789-0123456789
What was found there:
  0123456789-0123456789

Name of it:      b
What was found there:
  c
`
	if got != want {
		t.Errorf("Render =\n%s\nwant\n%s", got, want)
	}
}

func TestRenderKeepsHostileTextInItsPlace(t *testing.T) {
	for _, typed := range hostile {
		text := string(Escape(typed))
		got, err := Render("# "+text+"\n\n| a | b |\n| --- | --- |\n| "+text+" | b |\n\n- "+text+"\n", 80, false)
		if err != nil {
			t.Fatal(err)
		}
		if lines := strings.Split(got, "\n"); plain(typed) != "" && lines[0] != "# "+plain(typed) {
			t.Errorf("Render of the heading %q = %q", typed, lines[0])
		}
		if strings.ContainsFunc(got, func(r rune) bool { return r != '\n' && unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r) }) {
			t.Errorf("Render of %q keeps a control character: %q", typed, got)
		}
	}
	got, err := Render("a\x1b[2Jb \u202e c", 80, false)
	if err != nil || strings.ContainsAny(got, "\x1b\u202e") {
		t.Errorf("Render of a raw escape sequence = %q, %v", got, err)
	}
}

func TestPieces(t *testing.T) {
	for text, want := range map[string]string{
		"at least 5 1/2 in, at most 20 in":                 "at|least|5 1/2 in,|at|most|20 in",
		"4 May 2026":                                       "4 May|2026",
		"at least 3 K (5.4 °F)":                            "at|least|3 K|(5.4 °F)",
		"-0.5 K or +1 K":                                   "-0.5 K|or|+1 K",
		"vapor-retarder.before-insulation":                 "vapor-|retarder.|before-|insulation",
		"line-set.final":                                   "line-set.final",
		"evidence/photos/e84cc319-north-wall-moisture.jpg": "evidence/|photos/|e84cc319-north-|wall-|moisture.|jpg",
	} {
		var got []string
		for _, p := range pieces(text) {
			got = append(got, p.text)
		}
		if strings.Join(got, "|") != want {
			t.Errorf("pieces(%q) = %q, want %q", text, strings.Join(got, "|"), want)
		}
	}
}

func FuzzRender(f *testing.F) {
	f.Add(document, 60)
	f.Fuzz(func(t *testing.T, markdown string, width int) {
		got, err := Render(markdown, min(width, 300), false)
		if err != nil {
			t.Errorf("Render(%q, %d): %v", markdown, width, err)
		}
		if strings.ContainsFunc(got, func(r rune) bool { return r != '\n' && unicode.IsControl(r) }) {
			t.Errorf("Render(%q, %d) = %q keeps a control character", markdown, width, got)
		}
	})
}

// BenchmarkRenderLongNote shows a table with a note as long as a record may be.
func BenchmarkRenderLongNote(b *testing.B) {
	table := "| a | b | c |\n| --- | --- | --- |\n| x | " + strings.Repeat("words and words ", 16_000) + " | y |\n"
	for b.Loop() {
		if _, err := Render(table, 80, false); err != nil {
			b.Fatal(err)
		}
	}
}

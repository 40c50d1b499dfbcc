package templates

import (
	"strings"
	"testing"
)

const loose = `
# Title


| Check | Margin | Outcome |
| --- | ---: | --- |
| depth \| lift | +1/4 in | pass |
| 温度 | -1 K | FAIL |

- one

- two
 
end   
`

const tidied = `# Title

| Check         |  Margin | Outcome |
| ------------- | ------: | ------- |
| depth \| lift | +1/4 in | pass    |
| 温度          |    -1 K | FAIL    |

- one
- two

end
`

func TestTidy(t *testing.T) {
	got, err := tidy(loose)
	if err != nil || got != tidied {
		t.Errorf("tidy = %v\n%s\nwant\n%s", err, got, tidied)
	}
	if again, err := tidy(got); err != nil || again != got {
		t.Errorf("tidy a second time = %v\n%s", err, again)
	}
}

func TestTidyCountsCells(t *testing.T) {
	if _, err := tidy("| a | b |\n| --- | --- |\n| 1 | 2 | 3 |\n"); err == nil {
		t.Error("a row with more cells than headings is not an error")
	}
}

func TestTidyLeavesOtherBars(t *testing.T) {
	const text = "| not a table\n| not either\n"
	if got, err := tidy(text); err != nil || got != text {
		t.Errorf("tidy(%q) = %q, %v", text, got, err)
	}
}

func TestSplitRow(t *testing.T) {
	for line, want := range map[string]string{
		`| a | b |`:        "a;b",
		`| a \| b | c |`:   `a \| b;c`,
		`| a \\ | b |`:     `a \\;b`,
		`|  |  |`:          ";",
		`| a \\\| b | c |`: `a \\\| b;c`,
	} {
		if got := strings.Join(splitRow(line), ";"); got != want {
			t.Errorf("splitRow(%q) = %q, want %q", line, got, want)
		}
	}
}

// TestTableHoldsHostileText asks that a row keeps its cells whatever is in
// them.
func TestTableHoldsHostileText(t *testing.T) {
	for _, typed := range hostile {
		document, err := tidy("| a | b |\n| --- | --- |\n| " + string(Escape(typed)) + " | b |\n")
		if err != nil {
			t.Errorf("%q: %v", typed, err)
			continue
		}
		row := splitRow(strings.Split(document, "\n")[2])
		if len(row) != 2 || row[1] != "b" || inline(row[0]) != plain(typed) {
			t.Errorf("%q became the row %q, which reads %q", typed, row, inline(row[0]))
		}
	}
}

package main

import (
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

func TestLineDiff(t *testing.T) {
	const old = "a\nb\nc\nd\ne\nf\ng\nh\ni\n"
	for _, tt := range []struct{ name, a, b, want string }{
		{"same", old, old, ""},
		{"changed", old, strings.Replace(old, "e\n", "E\n", 1), "@ line 2| b| c| d|-e|+E| f| g| h"},
		{"taken out", old, strings.Replace(old, "a\n", "", 1), "@ line 1|-a| b| c| d"},
		{"added at the end", old, old + "j\n", "@ line 7| g| h| i|+j"},
		{"new file", "", "a\nb\n", "@ line 1|+a|+b"},
		{"deleted file", "a\n", "", "@ line 1|-a"},
		{"two places", old, "A\nb\nc\nd\ne\nf\ng\nh\nI\n", "@ line 1|-a|+A| b| c| d|@ line 6| f| g| h|-i|+I"},
	} {
		if got := strings.Join(lineDiff(tt.a, tt.b), "|"); got != tt.want {
			t.Errorf("%s: lineDiff = %q, want %q", tt.name, got, tt.want)
		}
	}
}

// TestEditScript asks that a script's lines give back both texts, and that it
// changes no more lines than git diff --minimal.
func TestEditScript(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 2))
	text := func() []string {
		list := make([]string, rnd.IntN(30))
		for i := range list {
			list[i] = string('a' + rune(rnd.IntN(4)))
		}
		return list
	}
	dir := t.TempDir()
	for range 100 {
		a, b := text(), text()
		var was, is []string
		changed := 0
		for _, e := range editScript(a, b) {
			if e.sign != '+' {
				was = append(was, e.text)
			}
			if e.sign != '-' {
				is = append(is, e.text)
			}
			if e.sign != ' ' {
				changed++
			}
		}
		if !slices.Equal(was, a) || !slices.Equal(is, b) {
			t.Fatalf("editScript(%q, %q) gives back %q and %q", a, b, was, is)
		}
		if want := leastChanges(t, dir, a, b); changed != want {
			t.Errorf("editScript(%q, %q) changes %d lines, git diff --minimal %d", a, b, changed, want)
		}
	}
}

func leastChanges(t *testing.T, dir string, a, b []string) int {
	t.Helper()
	write := func(name string, lines []string) string {
		file := filepath.Join(dir, name)
		text := ""
		for _, l := range lines {
			text += l + "\n"
		}
		if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		return file
	}
	out, err := exec.Command("git", "diff", "--no-index", "--minimal", "--numstat", write("a", a), write("b", b)).Output()
	if exit, ok := err.(*exec.ExitError); err != nil && (!ok || exit.ExitCode() != 1) {
		t.Fatal(err)
	}
	var added, removed int
	if len(out) > 0 {
		if _, err := fmt.Sscan(string(out), &added, &removed); err != nil {
			t.Fatal(err)
		}
	}
	return added + removed
}

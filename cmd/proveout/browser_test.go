package main

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"proveout/jobs"
)

func TestBrowserPlaces(t *testing.T) {
	getenv := func(name string) string {
		return map[string]string{"HOME": "/Users/ana", "ProgramFiles": "/c/Program Files"}[name]
	}
	for system, want := range map[string]string{
		"windows": "/c/Program Files/Microsoft/Edge/Application/msedge.exe",
		"darwin":  "/Users/ana/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
	} {
		if all := browserPlaces(system, getenv); !slices.Contains(all, filepath.FromSlash(want)) && runtime.GOOS != "windows" {
			t.Errorf("on %s it looks at %q, not at %s", system, all, want)
		}
	}
	if all := browserPlaces("windows", func(string) string { return "" }); all != nil {
		t.Errorf("without its folders it looks at %q", all)
	}
	if all := browserPlaces("linux", getenv); all != nil {
		t.Errorf("on Linux it looks at %q", all)
	}
}

func TestFileURL(t *testing.T) {
	for file, want := range map[string]string{
		"/home/ana/my papers/page.html": "file:///home/ana/my%20papers/page.html",
		"/tmp/50%#?/page.html":          "file:///tmp/50%25%23%3F/page.html",
		"C:/Users/Ana/page.html":        "file:///C:/Users/Ana/page.html",
	} {
		if got := fileURL(file); got != want {
			t.Errorf("fileURL(%q) = %s, want %s", file, got, want)
		}
	}
}

func TestDatedPDF(t *testing.T) {
	const was = "%PDF-1.4\n/CreationDate (D:20261128170833+00'00')\n/ModDate (D:20261128170834+00'00')>>\n(D:20261128170833+00'00')"
	const want = "%PDF-1.4\n/CreationDate (D:20260504200000+00'00')\n/ModDate (D:20260504200000+00'00')>>\n(D:20261128170833+00'00')"
	if got := datedPDF([]byte(was), time.Date(2026, 5, 4, 15, 0, 0, 0, time.FixedZone("", -5*3600))); string(got) != want {
		t.Errorf("datedPDF =\n%s\nwant\n%s", got, want)
	}
	if got := datedPDF([]byte(was), time.Time{}); string(got) != was {
		t.Error("a PDF without a commit is changed")
	}
}

// fakeBrowser is a program that does with its last two flags, the PDF and the
// page, what the script says.
func fakeBrowser(t *testing.T, script string) string {
	t.Helper()
	if runtime.GOOS == "windows" {
		t.Skip("the browser of this test is a shell script")
	}
	file := filepath.Join(t.TempDir(), "browser")
	const head = "#!/bin/sh\nfor a in \"$@\"; do case $a in --print-to-pdf=*) pdf=${a#--print-to-pdf=};; --user-data-dir=*) profile=${a#--user-data-dir=};; esac; page=$a; done\n"
	if err := os.WriteFile(file, []byte(head+script), 0o755); err != nil {
		t.Fatal(err)
	}
	return file
}

func TestPrintPDF(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "my papers")
	if err := os.Mkdir(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	const whole = `mkdir "$profile"; { printf '%%PDF-1.4\n'; cat "$(dirname "$pdf")/page.html"; printf '\n%%%%EOF\n'; } >"$pdf"`
	pdf, err := printPDF(context.Background(), fakeBrowser(t, whole), "<p>words", dir)
	if err != nil || string(pdf) != "%PDF-1.4\n<p>words\n%%EOF\n" {
		t.Errorf("printPDF = %q, %v", pdf, err)
	}
	for script, want := range map[string]string{
		"echo no display >&2; exit 3": "exit status 3\nit said: no display",
		"exit 0":                      "it wrote no whole PDF",
		`printf '%%PDF-1.4 ' >"$pdf"`: "it wrote no whole PDF",
		`printf '%%%%EOF' >"$pdf"`:    "it wrote no whole PDF",
	} {
		if _, err := printPDF(context.Background(), fakeBrowser(t, script), "<p>words", dir); !errors.Is(err, jobs.ErrInput) || !strings.Contains(err.Error(), want) {
			t.Errorf("with a browser that does %s the error is %v", script, err)
		}
	}
	ctx, cancel := context.WithTimeout(context.Background(), 200*time.Millisecond)
	defer cancel()
	began := time.Now()
	if _, err := printPDF(ctx, fakeBrowser(t, "sleep 60"), "<p>words", dir); err == nil || time.Since(began) > 20*time.Second {
		t.Errorf("a browser that hangs is waited for %v, %v", time.Since(began), err)
	}
	if left, err := os.ReadDir(dir); err != nil || len(left) > 0 {
		t.Errorf("%v is left behind, %v", left, err)
	}
}

func TestFindBrowser(t *testing.T) {
	t.Setenv("PATH", t.TempDir())
	if runtime.GOOS == "linux" {
		if _, err := findBrowser(""); !errors.Is(err, jobs.ErrNotFound) || !strings.Contains(err.Error(), "--html") {
			t.Errorf("without a browser the error is %v", err)
		}
	}
	if _, err := findBrowser("no-such-browser"); !errors.Is(err, jobs.ErrNotFound) {
		t.Errorf("with a name that is none the error is %v", err)
	}
	named := fakeBrowser(t, "")
	if file, err := findBrowser(named); err != nil || file != named {
		t.Errorf("findBrowser(%s) = %s, %v", named, file, err)
	}
}

// TestPrintFlags asks for what keeps a person's own browser out of it.
func TestPrintFlags(t *testing.T) {
	flags := printFlags("profile", "/page.html", "page.pdf")
	for _, want := range []string{"--headless", "--user-data-dir=profile", "--print-to-pdf=page.pdf", "--disable-background-networking", "file:///page.html"} {
		if !slices.Contains(flags, want) {
			t.Errorf("the browser is started without %s: %q", want, flags)
		}
	}
	if slices.Contains(flags, "--no-sandbox") != (os.Geteuid() == 0) {
		t.Error("the sandbox is off for a person who is not root")
	}
	if !bytes.HasPrefix([]byte(flags[len(flags)-1]), []byte("file:")) {
		t.Error("the page does not come last")
	}
}

package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"time"

	"proveout/jobs"
)

// browserNames are browsers of the one kind that prints without a window, as
// they are called in a PATH.
var browserNames = []string{
	"chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome",
	"microsoft-edge", "microsoft-edge-stable", "msedge",
}

// browserPlaces are where Windows and macOS keep them, out of any PATH.
func browserPlaces(system string, getenv func(string) string) []string {
	var roots, names []string
	switch system {
	case "windows":
		roots = []string{getenv("ProgramFiles"), getenv("ProgramFiles(x86)"), getenv("LocalAppData")}
		names = []string{"Google/Chrome/Application/chrome.exe", "Chromium/Application/chrome.exe", "Microsoft/Edge/Application/msedge.exe"}
	case "darwin":
		roots = []string{"/Applications", filepath.Join(getenv("HOME"), "Applications")}
		names = []string{"Google Chrome.app/Contents/MacOS/Google Chrome", "Chromium.app/Contents/MacOS/Chromium", "Microsoft Edge.app/Contents/MacOS/Microsoft Edge"}
	}
	var all []string
	for _, root := range roots {
		for _, name := range names {
			if filepath.IsAbs(root) {
				all = append(all, filepath.Join(root, filepath.FromSlash(name)))
			}
		}
	}
	return all
}

// findBrowser returns the browser that prints: the one that a person named, or
// one that is installed.
func findBrowser(named string) (string, error) {
	if named != "" {
		file, err := exec.LookPath(named)
		if err != nil {
			return "", &jobs.Problem{Kind: jobs.ErrNotFound, What: fmt.Sprintf("the browser %q cannot be started: %v", named, err), Next: "name its file: --browser FILE"}
		}
		return filepath.Abs(file)
	}
	for _, name := range append(browserNames, browserPlaces(runtime.GOOS, os.Getenv)...) {
		if file, err := exec.LookPath(name); err == nil {
			return filepath.Abs(file)
		}
	}
	return "", &jobs.Problem{
		Kind: jobs.ErrNotFound, What: "no browser is installed here that can print a PDF (looked for " + strings.Join(browserNames, ", ") + ")",
		Next: "write the page, open it in any browser and print it from there: --html; or name the browser: --browser FILE",
	}
}

// printTime bounds how long a browser may take; a record of sixty pages takes a
// few seconds.
const printTime = 2 * time.Minute

// printPDF lets a browser print a page. Page, PDF and the browser's profile, an
// empty one, lie in a new folder inside dir, which is gone afterwards: some
// browsers may read no other places than a person's own.
func printPDF(ctx context.Context, browser, page, dir string) (pdf []byte, err error) {
	work, err := os.MkdirTemp(dir, "proveout-printing-*")
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, removeAll(work)) }()
	source, target := filepath.Join(work, "page.html"), filepath.Join(work, "page.pdf")
	if err := os.WriteFile(source, []byte(page), 0o600); err != nil {
		return nil, err
	}
	ctx, cancel := context.WithTimeout(ctx, printTime)
	defer cancel()
	var said bytes.Buffer
	c := exec.CommandContext(ctx, browser, printFlags(filepath.Join(work, "profile"), source, target)...)
	c.Stderr = &said
	c.WaitDelay = 5 * time.Second
	ran := c.Run()
	pdf, err = os.ReadFile(target)
	switch {
	case errors.Is(ctx.Err(), context.DeadlineExceeded):
		ran = fmt.Errorf("it took longer than %v", printTime)
	case ctx.Err() != nil:
		return nil, ctx.Err()
	case ran == nil && err == nil && bytes.HasPrefix(pdf, []byte("%PDF-")) && bytes.Contains(pdf[max(len(pdf)-1024, 0):], []byte("%%EOF")):
		return pdf, nil
	case ran == nil:
		ran = errors.New("it wrote no whole PDF")
	}
	what := fmt.Sprintf("the browser %s did not print the page: %v", browser, ran)
	if last := lastLine(said.String()); last != "" {
		what += "\nit said: " + last
	}
	return nil, &jobs.Problem{Kind: jobs.ErrInput, What: what, Next: "write the page and print it from the browser: --html; or name another one: --browser FILE"}
}

// printFlags are the browser's: no window, nothing of the person's, nothing sent
// or fetched, and no header of its own on the paper.
func printFlags(profile, source, target string) []string {
	flags := []string{
		"--headless", "--disable-gpu", "--disable-quic", "--disable-extensions", "--disable-sync", "--disable-background-networking",
		"--disable-component-update", "--no-first-run", "--no-default-browser-check", "--user-data-dir=" + profile,
		"--no-pdf-header-footer", "--generate-pdf-document-outline", "--print-to-pdf=" + target,
	}
	if os.Geteuid() == 0 {
		flags = append(flags, "--no-sandbox") // it refuses to start for root otherwise
	}
	return append(flags, fileURL(source))
}

// fileURL is the address of an absolute path; one of Windows begins with a
// letter.
func fileURL(file string) string {
	path := filepath.ToSlash(file)
	if !strings.HasPrefix(path, "/") {
		path = "/" + path
	}
	u := url.URL{Scheme: "file", Path: path}
	return u.String()
}

// pdfTimes are the two times that a browser writes into a PDF.
var pdfTimes = regexp.MustCompile(`/(?:Creation|Mod)Date \(D:[0-9]{14}\+00'00'\)`)

// datedPDF writes the time of the commit in place of the time of printing, so
// that the same document printed by the same browser is the same file.
func datedPDF(pdf []byte, at time.Time) []byte {
	if at.IsZero() {
		return pdf
	}
	return pdfTimes.ReplaceAllFunc(pdf, func(was []byte) []byte {
		name, _, _ := bytes.Cut(was, []byte(" "))
		return fmt.Appendf(nil, "%s (D:%s+00'00')", name, at.UTC().Format("20060102150405"))
	})
}

func lastLine(text string) string {
	lines := strings.Split(strings.TrimSpace(text), "\n")
	return strings.TrimSpace(lines[len(lines)-1])
}

// removeAll removes a folder that a browser, just about to end, may still hold.
func removeAll(dir string) (err error) {
	for range 20 {
		if err = os.RemoveAll(dir); err == nil {
			return nil
		}
		time.Sleep(100 * time.Millisecond)
	}
	return err
}

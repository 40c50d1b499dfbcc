package main

import (
	"bytes"
	"context"
	"crypto/sha256"
	"errors"
	"flag"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
)

var update = flag.Bool("update", false, "write what commands print into the scripts' cmp files")

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"proveout": scripted})
}

// TestScripts runs what a person does, one file for each story. Beside the
// usual commands a script has:
//
//	exits CODE COMMAND …     run it and ask for this exit code
//	capture NAME REGEXP      set $NAME to the first group found in stdout
//	replace FILE OLD NEW     edit a file as a person would with an editor
//	photo FILE WIDTH HEIGHT  make a JPEG; another name gives another picture
//	roomlogs PREFIX START UA WEATHER  logs of a made-up room, see loggedRoomTruth
//	smalljob DIR JOB…        make a company with jobs of a two-phase plan
//	flip FILE TEXT           change one bit of a file, its size and time stay
//	find NAME PATTERN TEXT   set $NAME to the one file that holds the text
//	demo DIR                 a copy of the demo as made on 25 November 2026 15:00,
//	                         and in DIR.txt what it printed
//
// and these variables: PROVEOUT_NOW fixes the clock (RFC 3339), and
// PROVEOUT_TERMINAL=yes asks questions as on a terminal, answered from stdin.
func TestScripts(t *testing.T) {
	made := demoOnce(t.TempDir())
	testscript.Run(t, testscript.Params{
		Dir:                "../../testdata/script",
		UpdateScripts:      *update,
		RequireUniqueNames: true,
		Setup: func(e *testscript.Env) error {
			e.Setenv("PROVEOUT_NOW", "2026-05-04T15:00:00-05:00")
			e.Setenv("NO_COLOR", "1")
			return nil
		},
		Cmds: map[string]func(ts *testscript.TestScript, neg bool, args []string){
			"exits": scriptExits, "capture": scriptCapture, "replace": scriptReplace, "photo": scriptPhoto, "roomlogs": scriptRoomLogs,
			"smalljob": scriptSmallJob, "flip": scriptFlip, "find": scriptFind,
			"demo": func(ts *testscript.TestScript, neg bool, args []string) { scriptDemo(ts, neg, args, made) },
		},
	})
}

// scripted is the program as a script runs it: with a clock that stands and
// names that come out the same in each run.
func scripted() {
	e := system()
	e.host, e.width = "script", 80
	if text := os.Getenv("PROVEOUT_NOW"); text != "" {
		now, err := time.Parse(time.RFC3339, text)
		if err != nil {
			fmt.Fprintln(os.Stderr, "PROVEOUT_NOW:", err)
			os.Exit(exitBug)
		}
		e.now = func() time.Time { return now }
		e.random = rand.NewChaCha8(sha256.Sum256(fmt.Appendf(nil, "%d", commandNumber())))
	}
	if os.Getenv("PROVEOUT_TERMINAL") == "yes" {
		e.terminal = true
	}
	os.Exit(run(context.Background(), e, os.Args[1:]))
}

// commandNumber counts the commands of one script.
func commandNumber() int64 {
	f, err := os.OpenFile(filepath.Join(os.Getenv("WORK"), ".tmp", "commands"), os.O_CREATE|os.O_APPEND|os.O_WRONLY, 0o644)
	if err != nil {
		return 0
	}
	defer f.Close()
	f.WriteString("x")
	info, err := f.Stat()
	if err != nil {
		return 0
	}
	return info.Size()
}

// demoOnce returns what makes the demo below dir when it is first asked for; it
// takes longer than most scripts.
func demoOnce(dir string) func() (string, error) {
	return sync.OnceValues(func() (string, error) {
		program, err := os.Executable()
		if err != nil {
			return "", err
		}
		// The test's program is the command when it is called by its name.
		c := exec.Command(program, "demo", filepath.Join(dir, "demo"))
		c.Args[0] = "proveout"
		c.Env = append(os.Environ(), "PROVEOUT_NOW=2026-11-25T15:00:00-06:00", "NO_COLOR=1", "WORK="+dir)
		out, err := c.CombinedOutput()
		if err != nil {
			return "", fmt.Errorf("proveout demo: %w\n%s", err, out)
		}
		return filepath.Join(dir, "demo"), os.WriteFile(filepath.Join(dir, "demo.txt"), out, 0o644)
	})
}

func scriptDemo(ts *testscript.TestScript, neg bool, args []string, made func() (string, error)) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: demo DIR")
	}
	dir, err := made()
	ts.Check(err)
	ts.Check(os.CopyFS(ts.MkAbs(args[0]), os.DirFS(dir)))
	said, err := os.ReadFile(dir + ".txt")
	ts.Check(err)
	ts.Check(os.WriteFile(ts.MkAbs(args[0]+".txt"), said, 0o644))
}

func scriptExits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits CODE COMMAND…")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	var exit *exec.ExitError
	if err := ts.Exec(args[1], args[2:]...); errors.As(err, &exit) {
		got = exit.ExitCode()
	} else {
		ts.Check(err)
	}
	if got != want {
		ts.Fatalf("exit code %d, want %d", got, want)
	}
}

func scriptCapture(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: capture NAME REGEXP")
	}
	re, err := regexp.Compile("(?m)" + args[1])
	ts.Check(err)
	m := re.FindStringSubmatch(ts.ReadFile("stdout"))
	if len(m) != 2 {
		ts.Fatalf("stdout has no %s", args[1])
	}
	ts.Setenv(args[0], m[1])
}

func scriptReplace(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 3 {
		ts.Fatalf("usage: replace FILE OLD NEW")
	}
	text := ts.ReadFile(args[0])
	if strings.Count(text, args[1]) != 1 {
		ts.Fatalf("%s has %q %d times, not once", args[0], args[1], strings.Count(text, args[1]))
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(strings.Replace(text, args[1], args[2], 1)), 0o644))
}

func scriptPhoto(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 3 {
		ts.Fatalf("usage: photo FILE WIDTH HEIGHT")
	}
	width, err := strconv.Atoi(args[1])
	ts.Check(err)
	height, err := strconv.Atoi(args[2])
	ts.Check(err)
	seed := sha256.Sum256([]byte(filepath.Base(args[0])))
	picture := image.NewRGBA(image.Rect(0, 0, width, height))
	for x := range width {
		for y := range height {
			picture.Set(x, y, color.RGBA{seed[0] + byte(x), seed[1] + byte(y), seed[2], 255})
		}
	}
	var b bytes.Buffer
	ts.Check(jpeg.Encode(&b, picture, nil))
	ts.Check(os.MkdirAll(filepath.Dir(ts.MkAbs(args[0])), 0o755))
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), b.Bytes(), 0o644))
}

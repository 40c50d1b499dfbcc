package phases

import (
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// A bad phase file says on the line that must be reported what is wanted there:
// # want "regexp". Every line that is reported carries one, and every one is
// reported.
func TestBadPhases(t *testing.T) {
	files, err := filepath.Glob("../testdata/phases-bad/*.yaml")
	if err != nil || len(files) < 20 {
		t.Fatalf("%d bad phase files, %v", len(files), err)
	}
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			data, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			ph, err := ReadPhase("p.yaml", data)
			if err == nil {
				t.Fatalf("it reads as %+v", ph)
			}
			wantLines(t, data, err)
		})
	}
}

var want = regexp.MustCompile(`# want "(.*)"$`)

func wantLines(t *testing.T, data []byte, err error) {
	t.Helper()
	wanted := map[int]string{}
	for i, line := range strings.Split(string(data), "\n") {
		if m := want.FindStringSubmatch(line); m != nil {
			wanted[i+1] = m[1]
		}
	}
	for _, problem := range strings.Split(err.Error(), "\n") {
		parts := strings.SplitN(problem, ":", 4)
		line := 0
		if len(parts) == 4 {
			line, _ = strconv.Atoi(parts[1])
		}
		pattern, ok := wanted[line]
		if !ok || !regexp.MustCompile(pattern).MatchString(problem) {
			t.Errorf("reported: %s\nwanted on that line: %q", problem, pattern)
			continue
		}
		wanted[line] = ""
	}
	for line, pattern := range wanted {
		if pattern != "" {
			t.Errorf("line %d was not reported; wanted %q", line, pattern)
		}
	}
}

func FuzzReadPhase(f *testing.F) {
	for _, data := range Defaults() {
		f.Add(data)
	}
	bad, err := filepath.Glob("../testdata/phases-bad/*.yaml")
	if err != nil {
		f.Fatal(err)
	}
	for _, file := range bad {
		data, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		ph, err := ReadPhase("p.yaml", data)
		if (ph == nil) == (err == nil) {
			t.Fatalf("phase %v with error %v", ph, err)
		}
		if err == nil {
			_, _ = ReadPlan(map[string][]byte{"p.yaml": data}) // must not panic
		}
	})
}

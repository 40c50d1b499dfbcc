package main

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"os"
	"path/filepath"
	"time"

	"github.com/rogpeppe/go-internal/testscript"

	"proveout/jobs"
	"proveout/jobs/store"
)

// scriptSmallJob makes a company with jobs of the two-phase plan in
// testdata/jobs/small, each begun a minute before the script's clock.
func scriptSmallJob(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: smalljob DIR JOB…")
	}
	dir := ts.MkAbs(args[0])
	ts.Check(os.MkdirAll(filepath.Join(dir, "jobs"), 0o755))
	data, err := os.ReadFile(smallJob + "company.yaml")
	ts.Check(err)
	ts.Check(os.WriteFile(filepath.Join(dir, jobs.CompanyFile), data, 0o644))
	now, err := time.Parse(time.RFC3339, ts.Getenv("PROVEOUT_NOW"))
	ts.Check(err)
	for _, id := range args[1:] {
		ts.Check(beginSmallJob(filepath.Join(dir, "jobs", id), id, now.Add(-time.Minute)))
	}
}

const smallJob = "../../testdata/jobs/small/"

func beginSmallJob(dir, id string, now time.Time) (err error) {
	files := map[string][]byte{"FORMAT.md": []byte("See the format of a job.\n"), ".gitattributes": []byte("* -text\n")}
	adoption := &jobs.Record{
		Kind: jobs.AdoptionRecord, ID: now.UTC().Format("20060102-150405") + "-begins", Job: id, Phase: "plan",
		By: "Ana Ruiz", Roles: []string{"crew lead"}, Measured: now, Entered: now, Reason: "the job starts",
	}
	for _, name := range []string{"job.yaml", "phases/03-framing.yaml", "phases/05-insulation.yaml"} {
		data, err := os.ReadFile(smallJob + name)
		if err != nil {
			return err
		}
		if name == jobs.JobFile {
			data = bytes.Replace(data, []byte("birch-stair"), []byte(id), 1)
		}
		sum := sha256.Sum256(data)
		files[name] = data
		adoption.Plan = append(adoption.Plan, jobs.NamedText{Name: name, Text: hex.EncodeToString(sum[:])})
	}
	files[adoption.Path()] = adoption.Encode()
	repo, err := store.Create(dir, store.Options{Host: "script", PID: os.Getpid()})
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, repo.Close()) }()
	op, err := repo.Lock(context.Background(), time.Second)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, op.Close()) }()
	for name, data := range files {
		if err := op.Create(name, data); err != nil {
			return err
		}
	}
	_, err = op.Commit("job "+id+" starts", store.Author{Name: "Ana Ruiz"}, now)
	return err
}

// scriptFlip changes one bit of a file and leaves its size and its time, as
// somebody would who does not want it to be seen.
func scriptFlip(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 1 || len(args) > 2 {
		ts.Fatalf("usage: flip FILE [TEXT]: the first byte of TEXT is changed, or the middle one of the file")
	}
	file := ts.MkAbs(args[0])
	info, err := os.Stat(file)
	ts.Check(err)
	data, err := os.ReadFile(file)
	ts.Check(err)
	at := len(data) / 2
	if len(args) == 2 {
		at = bytes.Index(data, []byte(args[1]))
	}
	if at < 0 {
		ts.Fatalf("%s has no %q", args[0], args[1])
	}
	data[at] ^= 1
	ts.Check(os.WriteFile(file, data, 0o644))
	ts.Check(os.Chtimes(file, info.ModTime(), info.ModTime()))
}

// scriptFind sets a variable to the one file that matches a pattern and holds a
// text.
func scriptFind(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 || len(args) > 3 {
		ts.Fatalf("usage: find NAME PATTERN [TEXT]")
	}
	files, err := filepath.Glob(ts.MkAbs(args[1]))
	ts.Check(err)
	var found []string
	for _, file := range files {
		data, err := os.ReadFile(file)
		ts.Check(err)
		if len(args) == 2 || bytes.Contains(data, []byte(args[2])) {
			found = append(found, file)
		}
	}
	if len(found) != 1 {
		ts.Fatalf("%d files match, not one: %v", len(found), found)
	}
	ts.Setenv(args[0], found[0])
}

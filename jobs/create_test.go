package jobs

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"proveout/jobs/store"
)

// A start that was killed before its commit is begun again: with nothing but
// the folder, with a history without a commit, and with all files written.
func TestCreateAgainAfterACut(t *testing.T) {
	yaml, err := os.ReadFile(small + "job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	for name, cut := range map[string]func(f *fixture, dir string) error{
		"folder": func(_ *fixture, dir string) error { return os.MkdirAll(dir, 0o755) },
		"no commit": func(_ *fixture, dir string) error {
			repo, err := store.Create(dir, process.options())
			return errors.Join(err, repo.Close())
		},
		"no commit, records written": func(f *fixture, dir string) error {
			repo, err := store.Create(dir, process.options())
			if err != nil {
				return err
			}
			op, err := repo.Lock(context.Background(), lockWait)
			if err != nil {
				return err
			}
			j := &Job{Dir: dir, repo: repo, Description: &Description{ID: "oak-hall", Zone: f.j.Zone}}
			r, err := j.newRecord(f.entry("Ana"), AdoptionRecord, "plan")
			if err != nil {
				return err
			}
			return errors.Join(op.Create(JobFile, []byte("job: other\n")), r.write(op), op.Close(), repo.Close())
		},
	} {
		t.Run(name, func(t *testing.T) {
			f := newFixture(t)
			dir := f.c.JobDir("oak-hall")
			if err := cut(f, dir); err != nil {
				t.Fatal(err)
			}
			j, err := Create(context.Background(), f.c, process, f.entry("Ana"), []byte(strings.Replace(string(yaml), "birch-stair", "oak-hall", 1)))
			if err != nil {
				t.Fatal(err)
			}
			defer j.Close()
			if len(j.Edited) > 0 {
				t.Errorf("the new job has edits: %v", j.Edited)
			}
			if v, err := j.Verify(); err != nil || !v.Sound() {
				t.Errorf("Verify = %+v, %v", v, err)
			}
		})
	}
}

func TestCreateRefusesAFolderWithAJob(t *testing.T) {
	f := newFixture(t)
	yaml, err := os.ReadFile(small + "job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	_, err = Create(context.Background(), f.c, process, f.entry("Ana"), yaml)
	f.wantError(err, ErrInput, "the folder of job \"birch-stair\" is there already")

	foreign := f.c.JobDir("oak-hall")
	if err := os.MkdirAll(foreign, 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(foreign, "notes.txt"), []byte("mine"), 0o644); err != nil {
		t.Fatal(err)
	}
	_, err = Create(context.Background(), f.c, process, f.entry("Ana"), []byte(strings.Replace(string(yaml), "birch-stair", "oak-hall", 1)))
	f.wantError(err, ErrInput, "the folder of job \"oak-hall\" is there already")
}

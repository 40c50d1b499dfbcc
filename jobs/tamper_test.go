package jobs

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"proveout/phases"
)

// git runs the real git in the job's folder.
func (f *fixture) git(args ...string) string {
	f.t.Helper()
	cmd := exec.Command("git", args...)
	cmd.Dir = f.j.Dir
	cmd.Env = append(os.Environ(), "GIT_CONFIG_GLOBAL=/dev/null", "GIT_CONFIG_SYSTEM=/dev/null",
		"GIT_AUTHOR_NAME=Someone", "GIT_AUTHOR_EMAIL=someone@example.org", "GIT_COMMITTER_NAME=Someone", "GIT_COMMITTER_EMAIL=someone@example.org",
		"GIT_AUTHOR_DATE="+f.now.Format(time.RFC3339), "GIT_COMMITTER_DATE="+f.now.Format(time.RFC3339))
	out, err := cmd.CombinedOutput()
	if err != nil {
		f.t.Fatalf("git %v: %v\n%s", args, err, out)
	}
	return string(out)
}

// commit makes a commit of everything with plain git.
func (f *fixture) commit() {
	f.t.Helper()
	f.git("add", "-A")
	f.git("commit", "-qm", "tidied up")
}

// file finds the one file of a pattern below the job.
func (f *fixture) file(pattern string) string {
	f.t.Helper()
	found, err := filepath.Glob(filepath.Join(f.j.Dir, pattern))
	if err != nil || len(found) != 1 {
		f.t.Fatalf("%s: %v, %v", pattern, found, err)
	}
	return found[0]
}

// edit replaces a text in a file.
func (f *fixture) edit(file, from, to string) {
	f.t.Helper()
	data, err := os.ReadFile(file)
	if err == nil && !strings.Contains(string(data), from) {
		f.t.Fatalf("%s has no %q:\n%s", file, from, data)
	}
	if err == nil {
		err = os.WriteFile(file, []byte(strings.Replace(string(data), from, to, 1)), 0o644)
	}
	if err != nil {
		f.t.Fatal(err)
	}
}

func (f *fixture) remove(file string) {
	f.t.Helper()
	if err := os.Remove(file); err != nil {
		f.t.Fatal(err)
	}
}

// reopen reads the job again as another process would.
func (f *fixture) reopen() error {
	f.t.Helper()
	if err := f.j.Close(); err != nil {
		f.t.Fatal(err)
	}
	j, err := Open(f.c.JobDir("birch-stair"), process)
	if err != nil {
		return err
	}
	f.j = j
	f.t.Cleanup(func() { j.Close() })
	return nil
}

// sums reports whether the real sha256sum agrees with a sign-off's list.
func (f *fixture) sums(hold string) bool {
	f.t.Helper()
	lists, err := filepath.Glob(filepath.Join(f.j.Dir, "signoffs", hold+"-*.sha256"))
	if err != nil || len(lists) == 0 {
		f.t.Fatalf("no list of %s: %v", hold, err)
	}
	good := true
	for _, list := range lists {
		cmd := exec.Command("sha256sum", "--check", "--strict", "--quiet", "signoffs/"+filepath.Base(list))
		cmd.Dir = f.j.Dir
		good = good && cmd.Run() == nil
	}
	return good
}

// almost is a job whose frame is signed, on a record with a photo, and whose
// insulation is ready to be.
func almost(t *testing.T) *fixture {
	f := newFixture(t)
	f.record("Ana", Answer{Phase: "framing", Check: "nails", Text: "yes", Photos: []*Incoming{f.photo("nails.jpg", 10)}})
	f.mustSign("Ana", "framing.frame", "")
	f.depths("5 1/4 in")
	f.wantState("insulation.before-board", phases.Ready)
	return f
}

func TestTampering(t *testing.T) {
	const record, photo, statement, list = "records/framing/*.yaml", "evidence/photos/*.jpg", "signoffs/*.yaml", "signoffs/*.sha256"
	swap := func(f *fixture) { f.edit(f.file(photo), "\xff\xd8", "\xff\xd9") }
	relist := func(f *fixture) { // as if the statement had always read so
		was, err := os.ReadFile(f.file(statement))
		if err != nil {
			f.t.Fatal(err)
		}
		is := strings.Replace(string(was), "Ana Ruiz, crew lead", "Ana Ruiz, owner", 1)
		f.edit(f.file(statement), string(was), is)
		f.edit(f.file(list), sum(was), sum([]byte(is)))
	}
	for _, tt := range []struct {
		name   string
		change func(f *fixture)
		open   string // what Open says, "" when the job opens
		sign   string // what Sign says of the next hold
		verify string // what Verify says
		sums   bool   // sha256sum agrees
	}{
		{"a reading edited", func(f *fixture) { f.edit(f.file(record), `answer: "yes"`, `answer: "no"`) },
			"", "facts are never changed or removed", "modified since the newest commit", false},
		{"a reading deleted", func(f *fixture) { f.remove(f.file(record)) },
			"", "facts are never changed or removed", "deleted since the newest commit", false},
		{"a reading cut off", func(f *fixture) { f.edit(f.file(record), "...\n", "") },
			"cut off", "", "cut off", false},
		{"a photo swapped", swap, "", "facts are never changed or removed", "modified since the newest commit", false},
		{"a photo deleted", func(f *fixture) { f.remove(f.file(photo)) },
			"", "facts are never changed or removed", "is missing; framing.frame rests on it", false},
		{"a statement edited", func(f *fixture) { f.edit(f.file(statement), "Ana Ruiz, crew lead", "Ana Ruiz, owner") },
			"the statement was changed after it was signed", "", "was changed after it was signed", false},
		{"a statement edited and listed anew", relist, "", "facts are never changed or removed", "modified since the newest commit", true},
		{"a line taken out of the list", func(f *fixture) {
			data, err := os.ReadFile(f.file(list))
			if err != nil {
				f.t.Fatal(err)
			}
			lines := strings.SplitAfter(string(data), "\n")
			f.edit(f.file(list), lines[len(lines)-2], "")
		}, "", "facts are never changed or removed", "modified since the newest commit", true},
		{"the list deleted", func(f *fixture) { f.remove(f.file(list)) }, "its list is missing", "", "its list is missing", true},
		{"the sign-off of one hold for another", func(f *fixture) {
			for _, pattern := range []string{statement, list} {
				at := f.file(pattern)
				f.copy(at, strings.Replace(at, "framing.frame", "insulation.before-board", 1))
			}
		}, "the file's name does not agree", "", "name does not agree", true},
	} {
		t.Run(tt.name, func(t *testing.T) { tamper(t, tt.change, false, tt.open, tt.sign, tt.verify, tt.sums) })
		t.Run(tt.name+", committed", func(t *testing.T) {
			sign, verify := tt.sign, tt.verify
			if sign != "" { // the folder agrees with the history, which tells
				sign, verify = "", "by commit"
			}
			tamper(t, tt.change, true, tt.open, sign, verify, tt.sums)
		})
	}
}

func tamper(t *testing.T, change func(*fixture), committed bool, open, sign, verify string, sums bool) {
	t.Helper()
	f := almost(t)
	change(f)
	if committed {
		f.commit()
	}
	v, err := Verify(f.j.Dir, process, nil)
	if err != nil || v.Sound() || !found(v, verify) {
		t.Errorf("Verify = %+v, %v, want a finding that says %q", v, err, verify)
	}
	if matches := filepath.Join(f.j.Dir, "signoffs", "framing.frame-*.sha256"); len(glob(t, matches)) > 0 && f.sums("framing.frame") != sums {
		t.Errorf("sha256sum agrees: %v, want %v", !sums, sums)
	}
	err = f.reopen()
	if open != "" {
		f.wantError(err, ErrIntegrity, open)
		return
	}
	if err != nil {
		t.Fatal(err)
	}
	_, err = f.sign("Ana", "insulation.before-board", "")
	f.wantError(err, ErrIntegrity, sign)
	if _, err := os.Stat(filepath.Join(f.j.Dir, "signoffs")); err != nil || len(glob(t, filepath.Join(f.j.Dir, "signoffs", "insulation*"))) > 0 {
		t.Errorf("a sign-off was written: %v", err)
	}
}

func glob(t *testing.T, pattern string) []string {
	t.Helper()
	names, err := filepath.Glob(pattern)
	if err != nil {
		t.Fatal(err)
	}
	return names
}

func found(v *Verification, text string) bool {
	for _, f := range v.Findings {
		if !f.Explained && strings.Contains(f.Path+" "+f.Text, text) {
			return true
		}
	}
	return false
}

// What was changed by a commit and put back by another is explained, and signing
// goes on.
func TestPutBackIsExplained(t *testing.T) {
	f := almost(t)
	record := f.file("records/framing/*.yaml")
	f.edit(record, `answer: "yes"`, `answer: "no"`)
	f.commit()
	f.edit(record, `answer: "no"`, `answer: "yes"`)
	f.commit()
	if err := f.reopen(); err != nil {
		t.Fatal(err)
	}
	v, err := f.j.Verify()
	if err != nil || !v.Sound() || len(v.Findings) != 2 || !strings.Contains(v.Findings[0].Text, "the file is again what it was before") {
		t.Errorf("Verify = %+v, %v", v, err)
	}
	f.mustSign("Ana", "insulation.before-board", "")
	// Put back with another content is not put back.
	f.edit(record, `answer: "yes"`, `answer: "no"`)
	f.commit()
	f.edit(record, `answer: "no"`, `answer:  "yes"`)
	f.commit()
	if v, err := Verify(f.j.Dir, process, nil); err != nil || v.Sound() {
		t.Errorf("Verify = %+v, %v", v, err)
	}
}

// Facts and sign-offs of another job are none here, whoever copies them.
func TestCopiedFromAnotherJob(t *testing.T) {
	for _, pattern := range []string{"records/framing/*.yaml", "signoffs/*"} {
		f := newFixture(t)
		other := f.create("oak-hall")
		for _, j := range []*Job{other} {
			g := &fixture{t: t, c: f.c, j: j, now: f.now, rnd: f.rnd}
			g.record("Ana", Answer{Phase: "framing", Check: "nails", Text: "yes"})
			g.mustSign("Ana", "framing.frame", "")
		}
		for _, from := range glob(t, filepath.Join(other.Dir, pattern)) {
			to := filepath.Join(f.j.Dir, strings.TrimPrefix(from, other.Dir))
			if err := os.MkdirAll(filepath.Dir(to), 0o755); err != nil {
				t.Fatal(err)
			}
			f.copy(from, to)
		}
		f.wantError(f.reopen(), ErrIntegrity, `belongs to job "oak-hall", not to "birch-stair"`)
	}
}

// A record written by hand opens nothing that it should not.
func TestRecordsWrittenByHand(t *testing.T) {
	write := func(f *fixture, r *Record) {
		f.t.Helper()
		path := filepath.Join(f.j.Dir, r.Path())
		err := os.MkdirAll(filepath.Dir(path), 0o755)
		if err == nil {
			err = os.WriteFile(path, r.Encode(), 0o644)
		}
		if err != nil {
			f.t.Fatal(err)
		}
		f.commit()
	}
	blank := func(f *fixture, kind, phase string) *Record {
		r, err := f.j.newRecord(f.entry("Cy"), kind, phase)
		if err != nil {
			f.t.Fatal(err)
		}
		return r
	}
	t.Run("it supersedes another check's answer", func(t *testing.T) {
		f := almost(t)
		r := blank(f, AnswerRecord, "insulation")
		r.Check, r.Place, r.Value, r.Supersedes = "lift", "point 1", "1 in", []string{f.j.Records[0].ID}
		write(f, r)
		f.wantError(f.reopen(), ErrIntegrity, "cannot supersede")
	})
	t.Run("it has the id of another", func(t *testing.T) {
		f := almost(t)
		r := blank(f, NoteRecord, "insulation")
		for _, o := range f.j.Records {
			if o.Phase == "framing" {
				r.ID = o.ID
			}
		}
		write(f, r)
		f.wantError(f.reopen(), ErrIntegrity, "has the id")
	})
	t.Run("a photo that was never there", func(t *testing.T) {
		f := almost(t)
		r := blank(f, AnswerRecord, "insulation")
		r.Check, r.Place, r.Answer = "penetrations", "north wall/pipe", "yes"
		r.Photos = []Evidence{{Path: "evidence/photos/00000000-none.jpg", Name: "none.jpg", SHA256: strings.Repeat("0", 64)}}
		write(f, r)
		if err := f.reopen(); err != nil {
			t.Fatal(err)
		}
		_, err := f.sign("Ana", "insulation.before-board", "")
		f.wantError(err, ErrIntegrity, "is not the file that record")
	})
	t.Run("a second adoption", func(t *testing.T) {
		f := almost(t)
		r := blank(f, AdoptionRecord, "plan")
		r.Plan, r.Reason = f.j.adopted().Plan, "mine"
		write(f, r)
		f.wantError(f.reopen(), ErrIntegrity, "two adoptions of the plan are in force")
	})
	t.Run("an adoption of a looser plan", func(t *testing.T) {
		for _, edit := range [][2]string{{"at most: 2 in", "at most: 3 in"}, {"at least: design depth", "at least: 1 in"}} {
			f := almost(t)
			f.edit(f.file("phases/05-*.yaml"), edit[0], edit[1])
			data, err := os.ReadFile(f.file("phases/05-*.yaml"))
			if err != nil {
				t.Fatal(err)
			}
			r := blank(f, AdoptionRecord, "plan")
			r.By, r.Roles, r.Reason, r.Supersedes = "Ben Okafor", []string{"owner"}, "mine", []string{f.j.adopted().ID}
			for _, p := range f.j.adopted().Plan {
				if strings.HasPrefix(p.Name, "phases/05") {
					p.Text = sum(data)
				}
				r.Plan = append(r.Plan, p)
			}
			write(f, r)
			if err := f.reopen(); err != nil || len(f.j.Edited) > 0 {
				t.Fatalf("%v, edited %v", err, f.j.Edited)
			}
			_, err = f.sign("Ana", "insulation.before-board", "")
			f.wantError(err, ErrIntegrity, "the plan in force was not adopted by the rules")
			if v, err := f.j.Verify(); err != nil || v.Sound() {
				t.Errorf("Verify = %+v, %v", v, err)
			}
		}
	})
}

// A sign-off that was written well stays well: all agree, also in a clone, and
// verify reads it the same.
func TestVerifySound(t *testing.T) {
	f := almost(t)
	f.mustSign("Ana", "insulation.before-board", "", "north wall")
	f.mustSign("Ana", "insulation.before-board", "")
	f.mustSign("Ben", "insulation.before-board", "owner")
	if !f.sums("framing.frame") || !f.sums("insulation.before-board") {
		t.Error("sha256sum does not agree")
	}
	f.git("fsck", "--strict")
	if status := f.git("status", "--porcelain"); status != "" {
		t.Errorf("git status: %s", status)
	}
	clone := t.TempDir()
	f.git("clone", "-q", f.j.Dir, clone)
	j, err := Open(clone, process)
	if err != nil {
		t.Fatal(err)
	}
	defer j.Close()
	v, err := j.Verify()
	if err != nil || !v.Sound() || v.Files == 0 || len(v.Signoffs) != 4 {
		t.Errorf("Verify = %+v, %v", v, err)
	}
	if s := j.Gate(f.now).State(j.Plan.Hold("insulation.before-board")); s.State != phases.Signed {
		t.Errorf("in the clone the hold is %s", s.State)
	}
}

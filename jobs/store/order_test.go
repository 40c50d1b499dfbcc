package store

import (
	"path"
	"slices"
	"strings"
	"testing"

	"github.com/go-git/go-git/v5/plumbing"
)

// record keeps what is written, flushed, renamed and removed in one operation.
func record(t *testing.T, dir string, do func(o *Operation)) []call {
	t.Helper()
	var calls []call
	opts := options()
	opts.FS = &watch{look: func(c call) error {
		if !slices.Contains([]string{"open", "read", "lstat", "list"}, c.op) {
			calls = append(calls, c)
		}
		return nil
	}}
	r, err := Open(dir, opts)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	o := lock(t, r)
	do(o)
	closeOp(t, o)
	return calls
}

// at is where the first call of this kind, on a name that begins like this, is.
func at(calls []call, op, prefix string) int {
	return slices.IndexFunc(calls, func(c call) bool { return c.op == op && strings.HasPrefix(c.name, prefix) })
}

func lastAt(calls []call, op, prefix string) int {
	last := -1
	for i, c := range calls {
		if c.op == op && strings.HasPrefix(c.name, prefix) {
			last = i
		}
	}
	return last
}

// ordered wants positions that are there and rise.
func ordered(t *testing.T, calls []call, what string, positions ...int) {
	t.Helper()
	if slices.Contains(positions, -1) || !slices.IsSorted(positions) {
		t.Errorf("%s: positions %v in\n%v", what, positions, calls)
	}
}

// A kill cannot show that a flush was left out, the order of calls can.
func TestOrderOfAWrite(t *testing.T) {
	for name, write := range map[string]func(o *Operation) error{
		"Write":   func(o *Operation) error { return o.Write("records/05/a.yaml", []byte("a")) },
		"replace": func(o *Operation) error { return o.Write("job.yaml", []byte("b")) },
		"Create":  func(o *Operation) error { return o.Create("records/05/a.yaml", []byte("a")) },
		"CopyIn": func(o *Operation) error {
			_, _, err := o.CopyIn("records/05/a.yaml", strings.NewReader("a"))
			return err
		},
	} {
		t.Run(name, func(t *testing.T) {
			r := newJob(t)
			save(t, r, "plan", map[string]string{"job.yaml": "a"})
			calls := record(t, r.Dir(), func(o *Operation) {
				if err := write(o); err != nil {
					t.Fatal(err)
				}
			})
			folder, file, rename := "records/05", "records/05/a.yaml", "link"
			if name == "replace" {
				folder, file = ".", "job.yaml"
			}
			if name == "replace" || name == "Write" {
				rename = "rename"
			}
			temp := strings.TrimPrefix(folder+"/", "./") + tempPrefix
			ordered(t, calls, "a write", at(calls, "create", temp), at(calls, "write", temp),
				at(calls, "fsync", temp), at(calls, rename, file), lastAt(calls, "sync", folder))
			if name != "replace" {
				ordered(t, calls, "new folders", at(calls, "mkdir", "records"), at(calls, "sync", "."),
					at(calls, "mkdir", "records/05"), at(calls, "sync", "records"), at(calls, "create", temp))
			}
			if at(calls, "write", file) >= 0 {
				t.Errorf("the file was written in place: %v", calls)
			}
		})
	}
}

// Objects are on the disk, with their names, before the index has its name, and
// the index before the branch; each is flushed before its rename and its folder
// after.
func TestOrderOfACommit(t *testing.T) {
	r := newJob(t)
	calls := record(t, r.Dir(), func(o *Operation) {
		if err := o.Write("records/05/a.yaml", []byte("a")); err != nil {
			t.Fatal(err)
		}
		if _, err := o.Commit("record", crew, morning); err != nil {
			t.Fatal(err)
		}
	})
	const objects, index, branch, main = ".git/objects/", ".git/index", ".git/refs/heads/main.lock", ".git/refs/heads/main"
	saved := at(calls, "rename", "records/05/a.yaml")
	lastFlush := lastAt(calls, "fsync", ".git/")
	ordered(t, calls, "a commit",
		saved, lastAt(calls, "write", ".git/"), lastFlush,
		at(calls, "rename", objects), lastAt(calls, "rename", objects),
		at(calls, "sync", objects), lastAt(calls, "sync", objects),
		slices.Index(calls, call{"rename", index}),
		at(calls, "link", branch), slices.Index(calls, call{"rename", main}),
		lastAt(calls, "sync", ".git/refs/heads"))
	ordered(t, calls, "the git folder", slices.Index(calls, call{"rename", main}), lastAt(calls, "sync", ".git"))
	renamed := map[string]bool{}
	for _, c := range calls {
		if name, ok := strings.CutPrefix(c.name, objects); ok && c.op == "rename" {
			renamed[objects+name[:2]] = true
		}
		if c.op == "sync" {
			delete(renamed, c.name)
		}
		if c.op == "write" && !strings.HasPrefix(c.name, ".git/proveout/tmp/") && !strings.HasPrefix(c.name, "records/05/"+tempPrefix) {
			t.Errorf("written in place: %s", c.name)
		}
	}
	if len(renamed) > 0 {
		t.Errorf("folders with new objects not flushed: %v", renamed)
	}
	if flushed := len(slices.Collect(func(yield func(call) bool) {
		for _, c := range calls {
			if c.op == "fsync" && strings.HasPrefix(c.name, ".git/proveout/tmp/") && !yield(c) {
				return
			}
		}
	})); flushed != 5+2 { // blob, three trees, commit; index, branch
		t.Errorf("%d files flushed in .git, want 7", flushed)
	}
}

func TestOrderOfAPack(t *testing.T) {
	r := newJob(t)
	save(t, r, "record", map[string]string{"records/05/a.yaml": "a"})
	var calls []call
	opts := options()
	opts.FS = &watch{look: func(c call) error { calls = append(calls, c); return nil }}
	w, err := Open(r.Dir(), opts)
	if err != nil {
		t.Fatal(err)
	}
	defer w.Close()
	if err := w.Pack(); err != nil {
		t.Fatal(err)
	}
	isPack := func(op, end string) int {
		return slices.IndexFunc(calls, func(c call) bool {
			return c.op == op && strings.HasPrefix(c.name, ".git/objects/pack/pack-") && strings.HasSuffix(c.name, end)
		})
	}
	ordered(t, calls, "a pack", lastAt(calls, "fsync", ".git/proveout/tmp/pack-"), isPack("rename", ".idx"), isPack("rename", ".pack"),
		lastAt(calls, "sync", ".git/objects/pack"), at(calls, "remove", ".git/objects/"))
}

// An object that a killed operation has left, named but perhaps not flushed, is
// flushed before a commit builds on it.
func TestOrderWithAnObjectThatIsThere(t *testing.T) {
	r := newJob(t)
	w := reopen(t, r.Dir())
	o := lock(t, w)
	b := newBatch(w.git, func() string { return o.temp("") })
	h, err := w.newObjectWriter(b).addBytes(plumbing.BlobObject, []byte("value: 5.5 in\n"))
	if err == nil {
		err = b.publish()
	}
	if err != nil {
		t.Fatal(err)
	}
	closeOp(t, o)
	calls := record(t, r.Dir(), func(o *Operation) {
		if err := o.Write("a.yaml", []byte("value: 5.5 in\n")); err != nil {
			t.Fatal(err)
		}
		if _, err := o.Commit("record", crew, morning); err != nil {
			t.Fatal(err)
		}
	})
	object, index := ".git/"+objectPath(h), slices.Index(calls, call{"rename", ".git/index"})
	for _, name := range []string{object, path.Dir(object)} {
		ordered(t, calls, "an object that is there", slices.Index(calls, call{"sync", name}), index)
	}
	if slices.Contains(calls, call{"rename", object}) {
		t.Error("the object was replaced")
	}
}

package store

import (
	"bytes"
	"compress/zlib"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/go-git/go-git/v5/plumbing"
)

// loose is the file of an object.
func loose(r *Repo, hash string) string {
	return filepath.Join(r.Dir(), ".git", objectPath(plumbing.NewHash(hash)))
}

func overwrite(t *testing.T, name string, data []byte) {
	t.Helper()
	if err := os.Remove(name); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(name, data, 0o444); err != nil {
		t.Fatal(err)
	}
}

func deflated(content string) []byte {
	var b bytes.Buffer
	z := zlib.NewWriter(&b)
	z.Write([]byte(content))
	z.Close()
	return b.Bytes()
}

// TestTamperedObjects changes an object of each kind in place, in each way, and
// wants it found by reading and by Fsck.
func TestTamperedObjects(t *testing.T) {
	for _, kind := range []string{"blob", "tree", "commit", "old blob"} {
		for way, change := range map[string]func(old []byte) []byte{
			"swapped":     func([]byte) []byte { return deflated("blob 6\x00value\n") },
			"other kind":  func([]byte) []byte { return deflated("tag 6\x00value\n") },
			"one byte":    func(old []byte) []byte { old[len(old)-5] ^= 1; return old },
			"cut off":     func(old []byte) []byte { return old[:len(old)/2] },
			"empty":       func([]byte) []byte { return nil },
			"not zlib":    func([]byte) []byte { return []byte("value: 7 in\n") },
			"long header": func([]byte) []byte { return deflated("blob " + strings.Repeat("1", 40) + "\x00value\n") },
			"no header":   func([]byte) []byte { return deflated(strings.Repeat("value", 20)) },
			"huge":        func([]byte) []byte { return deflated("blob 9999999999999\x00value\n") },
			"too long":    func([]byte) []byte { return deflated("blob 6\x00value\nand more\n") },
			"negative":    func([]byte) []byte { return deflated("blob -1\x00value\n") },
			"removed":     nil,
		} {
			t.Run(kind+" "+way, func(t *testing.T) {
				r := newJob(t)
				save(t, r, "one", map[string]string{"records/05/a.yaml": "value: 5.5 in\n"})
				head := save(t, r, "two", map[string]string{"records/05/a.yaml": "value: 6.5 in\n"})
				victim := map[string]string{
					"blob": git(t, r.Dir(), "rev-parse", "HEAD:records/05/a.yaml"), "tree": git(t, r.Dir(), "rev-parse", "HEAD:records"),
					"commit": head, "old blob": git(t, r.Dir(), "rev-parse", "HEAD~1:records/05/a.yaml"),
				}[kind]
				name := loose(r, strings.TrimSpace(victim))
				old, err := os.ReadFile(name)
				if err != nil {
					t.Fatal(err)
				}
				if change == nil {
					err = os.Remove(name)
				} else {
					overwrite(t, name, change(old))
				}
				if err != nil {
					t.Fatal(err)
				}
				r = reopen(t, r.Dir())
				wantError(t, r.Fsck(), ErrCorrupt, strings.TrimSpace(victim))
				if kind != "old blob" {
					_, err := r.FileAt(head, "records/05/a.yaml")
					wantError(t, err, ErrCorrupt, strings.TrimSpace(victim))
				}
			})
		}
	}
}

// TestTamperedPack flips each of many bytes of a pack: what is then read is
// right or an error, never something else and never a panic.
func TestTamperedPack(t *testing.T) {
	r := newJob(t)
	for i := range 5 {
		save(t, r, "record", map[string]string{"records/05/a.yaml": strings.Repeat(fmt.Sprintf("value: %d in\n", i), 50)})
	}
	git(t, r.Dir(), "repack", "-a", "-d", "-q")
	packs, err := filepath.Glob(filepath.Join(r.Dir(), ".git/objects/pack/*.pack"))
	if err != nil || len(packs) != 1 {
		t.Fatal(packs, err)
	}
	head, err := r.Head()
	if err != nil {
		t.Fatal(err)
	}
	whole, err := os.ReadFile(packs[0])
	if err != nil {
		t.Fatal(err)
	}
	found := 0
	for at := 12; at < len(whole)-20; at += 3 {
		bad := bytes.Clone(whole)
		bad[at] ^= 0x55
		overwrite(t, packs[0], bad)
		w := reopen(t, r.Dir())
		data, err := w.FileAt(head.Hash, "records/05/a.yaml")
		if err == nil && string(data) != strings.Repeat("value: 4 in\n", 50) {
			t.Errorf("byte %d: %q", at, data)
		}
		if err != nil && !errors.Is(err, ErrCorrupt) {
			t.Errorf("byte %d: %v is not ErrCorrupt", at, err)
		}
		if w.Fsck() != nil {
			found++
		}
		w.Close()
	}
	if checked := (len(whole) - 32 + 2) / 3; found < checked*9/10 {
		t.Errorf("%d of %d flipped bytes found", found, checked)
	}
}

// A commit does not build on an object that is there and wrong.
func TestCommitOverATamperedObject(t *testing.T) {
	r := newJob(t)
	blob := plumbing.ComputeHash(plumbing.BlobObject, []byte("value: 6.5 in\n")).String()
	write(t, r.Dir(), ".git/objects/"+blob[:2]+"/"+blob[2:], string(deflated("blob 6\x00value\n")))
	_, err := trySave(r, "record", map[string]string{"records/05/a.yaml": "value: 6.5 in\n"})
	wantError(t, err, ErrNotInHistory, blob)
	wantError(t, err, ErrCorrupt, blob)
}

// TestMalformedTrees are trees that hash right and are wrong inside.
func TestMalformedTrees(t *testing.T) {
	hash := strings.Repeat("\x11", 20)
	for name, tree := range map[string]string{
		"cut off":      "100644 a\x00" + hash[:10],
		"no name":      "100644 \x00" + hash,
		"unknown mode": "100000 a\x00" + hash,
		"dot dot":      "100644 ..\x00" + hash,
		".git":         "40000 .GIT\x00" + hash,
		"a path":       "100644 a/b\x00" + hash,
		"out of order": "100644 b\x00" + hash + "100644 a\x00" + hash,
		"twice":        "100644 a\x00" + hash + "100644 a\x00" + hash,
	} {
		r := newJob(t)
		o := lock(t, r)
		b := newBatch(r.git, func() string { return o.temp("") })
		w := r.newObjectWriter(b)
		h, err := w.addBytes(plumbing.TreeObject, []byte(tree))
		if err != nil {
			t.Fatal(err)
		}
		commit, err := w.addBytes(plumbing.CommitObject, []byte("tree "+h.String()+"\nauthor a <a> 1 +0000\ncommitter a <a> 1 +0000\n\nbad\n"))
		if err != nil {
			t.Fatal(err)
		}
		if err := b.publish(); err != nil {
			t.Fatal(err)
		}
		closeOp(t, o)
		write(t, r.Dir(), ".git/refs/heads/main", commit.String()+"\n")
		_, err = r.HeadFiles("")
		wantError(t, err, ErrCorrupt, h.String())
		if err := r.Fsck(); !errors.Is(err, ErrCorrupt) {
			t.Errorf("%s: Fsck = %v", name, err)
		}
		if out, err := tryGit(r.Dir(), "fsck", "--strict"); err == nil && out == "" {
			t.Errorf("%s: git fsck finds nothing, so this is no test", name)
		}
	}
}

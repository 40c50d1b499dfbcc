package store

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/go-git/go-git/v5/plumbing"
	gitindex "github.com/go-git/go-git/v5/plumbing/format/index"
)

// TestIndexAsGitReadsIt compares what git says of an index written here, times
// and places included, with what git writes itself for the same files.
func TestIndexAsGitReadsIt(t *testing.T) {
	r := newJob(t)
	files := map[string]string{"a": "", strings.Repeat("long/", 20) + strings.Repeat("n", 75): "x"}
	for i := range 20 {
		files["records/05/"+strings.Repeat("a", 1+i)] = fmt.Sprint(i)
	}
	save(t, r, "files", files)
	ours := git(t, r.Dir(), "ls-files", "--stage", "--debug")
	if err := os.Remove(filepath.Join(r.Dir(), ".git/index")); err != nil {
		t.Fatal(err)
	}
	git(t, r.Dir(), "add", "-A")
	if theirs := git(t, r.Dir(), "ls-files", "--stage", "--debug"); ours != theirs {
		t.Errorf("ours:\n%s\ntheirs:\n%s", ours, theirs)
	}
}

// go-git's decoder, an independent reader, sees the same entries.
func TestIndexAsGoGitReadsIt(t *testing.T) {
	r := newJob(t)
	save(t, r, "files", map[string]string{"records/05/a.yaml": "a", "job.yaml": "b"})
	data, err := os.ReadFile(filepath.Join(r.Dir(), ".git/index"))
	if err != nil {
		t.Fatal(err)
	}
	x, err := parseIndex(data)
	if err != nil {
		t.Fatal(err)
	}
	var want gitindex.Index
	if err := gitindex.NewDecoder(bytes.NewReader(data)).Decode(&want); err != nil {
		t.Fatal(err)
	}
	if len(x.entries) != len(want.Entries) || len(want.Entries) != 4 {
		t.Fatalf("%d entries, want %d", len(x.entries), len(want.Entries))
	}
	for i, e := range want.Entries {
		got := x.entries[i]
		if string(got.name) != e.Name || got.hash() != e.Hash || got.stamp().size != e.Size || got.stamp().mtimeNs != uint32(e.ModifiedAt.Nanosecond()) || got.stamp().ino != e.Inode {
			t.Errorf("entry %q %s %+v, want %+v", got.name, got.hash(), got.stamp(), e)
		}
	}
	if !bytes.Equal(x.encode(), data) {
		t.Error("what was read is not what is written")
	}
}

func TestIndexOfLongNames(t *testing.T) {
	long := strings.Repeat("n", 5000) // longer than the flags' twelve bits hold
	x := &index{}
	x.add("a", fileHash{hash: plumbing.ComputeHash(plumbing.BlobObject, nil)})
	x.add(long, fileHash{hash: plumbing.ComputeHash(plumbing.BlobObject, []byte("x"))})
	y, err := parseIndex(x.encode())
	if err != nil || len(y.entries) != 2 || string(y.entries[1].name) != long {
		t.Fatalf("%d entries, %v", len(y.entries), err)
	}
	if e, ok := y.find(long); !ok || e.hash() != x.entries[1].hash() {
		t.Error("not found")
	}
}

// FuzzIndex: no input panics, and what parses is written back the same.
func FuzzIndex(f *testing.F) {
	x := &index{}
	x.add("job.yaml", fileHash{hash: plumbing.ComputeHash(plumbing.BlobObject, nil)})
	x.add("records/05/a.yaml", fileHash{hash: plumbing.ComputeHash(plumbing.BlobObject, []byte("a"))})
	whole := x.encode()
	f.Add(whole)
	for _, n := range []int{0, 4, 12, 40, len(whole) - 1} {
		f.Add(whole[:n])
	}
	four := bytes.Clone(whole)
	four[7] = 4
	f.Add(four)
	f.Fuzz(func(t *testing.T, data []byte) {
		// The checksum would stop nearly every input: the zero one is allowed.
		for _, data := range [][]byte{data, append(bytes.Clone(data), make([]byte, 20)...)} {
			x, err := parseIndex(data)
			if err != nil {
				continue
			}
			again, err := parseIndex(x.encode())
			if err != nil || len(again.entries) != len(x.entries) {
				t.Fatalf("%d entries, then %v", len(x.entries), err)
			}
		}
	})
}

// FuzzTree: what parses is written back the same and is in git's order.
func FuzzTree(f *testing.F) {
	hash := strings.Repeat("\x11", 20)
	f.Add([]byte("100644 a\x00" + hash + "40000 a.b\x00" + hash + "40000 ab\x00" + hash))
	f.Add([]byte("100644 a\x00"))
	f.Fuzz(func(t *testing.T, data []byte) {
		list, err := parseTree(data)
		if err == nil && !bytes.Equal(encodeTree(list), data) {
			t.Errorf("%q became %q", data, encodeTree(list))
		}
	})
}

// FuzzLooseObject: no input panics or reads more than it says it holds.
func FuzzLooseObject(f *testing.F) {
	f.Add(deflated("blob 6\x00value\n"))
	f.Add(deflated("commit 0\x00"))
	f.Add([]byte("x\x9c"))
	f.Fuzz(func(t *testing.T, data []byte) {
		for _, data := range [][]byte{data, deflated(string(data))} {
			r := &Repo{}
			kind, content, err := r.inflate(bytes.NewReader(data))
			if err == nil && (kind == plumbing.InvalidObject || len(content) > maxObject) {
				t.Errorf("%v of %d bytes", kind, len(content))
			}
		}
	})
}

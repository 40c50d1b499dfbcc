package store

import (
	"bytes"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/go-git/go-git/v5/plumbing"
	"github.com/go-git/go-git/v5/plumbing/object"
)

// Commit makes one commit of the paths this operation has written and those
// given to Add, and of nothing else. The author and the time are the commit's;
// nothing is taken from git's configuration.
//
// After an error nothing is lost: the error is ErrNotInHistory and says why,
// the files stay, Changes lists them, and the next commit takes them when they
// are given to Add. When history holds the paths as they are already, the error
// is ErrNoChange and there is no new commit.
func (o *Operation) Commit(message string, who Author, when time.Time) (string, error) {
	if !o.locked {
		return "", fmt.Errorf("%w: the operation has ended", ErrNotInHistory)
	}
	h, err := o.commit(message, who, when)
	if errors.Is(err, ErrNoChange) {
		return "", err
	}
	if err != nil {
		o.failed = true
		return "", fmt.Errorf("%w: %w", ErrNotInHistory, onDisk(err))
	}
	o.changed = map[string]bool{}
	o.repo.creating = false
	if o.repo.rebuild {
		o.repo.rebuild = false
		o.repo.git.Remove(tempFolder + "/" + dirtyNote) // if it stays, the next operation looks once more
	}
	return h.String(), nil
}

func (o *Operation) commit(message string, who Author, when time.Time) (plumbing.Hash, error) {
	if err := checkCommit(message, who, when); err != nil {
		return plumbing.ZeroHash, err
	}
	at, err := o.repo.readHead()
	if err != nil {
		return plumbing.ZeroHash, err
	}
	b := newBatch(o.repo.git, func() string { return o.temp("") })
	defer b.discard()
	c, files, err := o.build(at, o.repo.newObjectWriter(b))
	if err != nil {
		return plumbing.ZeroHash, err
	}
	c.Message = strings.TrimRight(message, "\n") + "\n"
	c.Author = object.Signature{Name: who.Name, Email: who.Email, When: when}
	c.Committer = c.Author
	return o.publish(at, b, c, files)
}

// build writes the objects up to the commit's tree.
func (o *Operation) build(at head, w *objectWriter) (*object.Commit, staged, error) {
	c := &object.Commit{}
	base := plumbing.ZeroHash
	if !at.commit.IsZero() {
		parent, err := o.repo.readCommit(at.commit)
		if err != nil {
			return nil, nil, err
		}
		base, c.ParentHashes = parent.TreeHash, []plumbing.Hash{at.commit}
	}
	files, err := w.stage(at, slices.Sorted(maps.Keys(o.changed)))
	if err != nil {
		return nil, nil, err
	}
	if c.TreeHash, err = w.editTree(base, files.edits()); err != nil {
		return nil, nil, err
	}
	if c.TreeHash == base || c.TreeHash.IsZero() {
		return nil, nil, ErrNoChange
	}
	return c, files, nil
}

// publish writes commit, index and branch: all flushed, then named in an order
// in which nothing ever points at what is not on disk.
func (o *Operation) publish(at head, b *batch, c *object.Commit, files staged) (plumbing.Hash, error) {
	data, err := encodeCommit(c)
	if err != nil {
		return plumbing.ZeroHash, err
	}
	h, err := o.repo.newObjectWriter(b).addBytes(plumbing.CommitObject, data)
	if err != nil {
		return h, err
	}
	index, err := o.repo.nextIndex(at, files)
	if err != nil {
		return h, err
	}
	indexTemp, err := b.write(0o644, text(index))
	if err != nil {
		return h, err
	}
	branchTemp, err := b.write(0o644, text([]byte(h.String()+"\n")))
	if err != nil {
		return h, err
	}
	if err := b.publish(); err != nil {
		return h, err
	}
	if err := o.repo.git.Rename(indexTemp, "index"); err != nil {
		return h, err
	}
	return h, o.moveBranch(at, branchTemp)
}

func encodeCommit(c *object.Commit) ([]byte, error) {
	var obj plumbing.MemoryObject
	if err := c.Encode(&obj); err != nil {
		return nil, err
	}
	r, err := obj.Reader()
	if err != nil {
		return nil, err
	}
	var data bytes.Buffer
	_, err = data.ReadFrom(r)
	return data.Bytes(), err
}

// checkCommit keeps what is written into a commit to what comes back from it.
func checkCommit(message string, who Author, when time.Time) error {
	if strings.TrimSpace(message) == "" || !utf8.ValidString(message) || strings.ContainsRune(message, 0) {
		return fmt.Errorf("the commit message %q is empty or not plain text", message)
	}
	for _, text := range []string{who.Name, who.Email} {
		if strings.TrimSpace(text) != text || !utf8.ValidString(text) || strings.ContainsAny(text, "<>\x00\r\n") {
			return fmt.Errorf("the author %q holds what git cannot keep: <, >, a line break, or a space at an end; write the name without it", text)
		}
	}
	if who.Name == "" {
		return errors.New("a commit needs its author's name")
	}
	if when.Unix() <= 0 {
		return fmt.Errorf("the time of the commit %s is before 1970", when)
	}
	return nil
}

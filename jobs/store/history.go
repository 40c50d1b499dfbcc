package store

import (
	"container/heap"
	"fmt"
	"strings"
	"time"

	"github.com/go-git/go-git/v5/plumbing"
	"github.com/go-git/go-git/v5/plumbing/object"
)

// Head is the newest commit.
func (r *Repo) Head() (Commit, error) {
	at, err := r.readHead()
	if err != nil {
		return Commit{}, onDisk(err)
	}
	if at.commit.IsZero() {
		return Commit{}, fmt.Errorf("%w: %s has no commit yet", ErrUnfinished, r.dir)
	}
	c, err := r.readCommit(at.commit)
	if err != nil {
		return Commit{}, err
	}
	return newCommit(c), nil
}

// FirstCommit is the hash of the commit the job began with: the first parent
// of the first parent, to the end.
func (r *Repo) FirstCommit() (string, error) {
	at, err := r.readHead()
	if err != nil {
		return "", onDisk(err)
	}
	if at.commit.IsZero() {
		return "", fmt.Errorf("%w: %s has no commit yet", ErrUnfinished, r.dir)
	}
	for h := at.commit; ; {
		c, err := r.readCommit(h)
		if err != nil {
			return "", err
		}
		if len(c.ParentHashes) == 0 {
			return h.String(), nil
		}
		h = c.ParentHashes[0]
	}
}

func newCommit(c *object.Commit) Commit {
	parents := make([]string, len(c.ParentHashes))
	for i, p := range c.ParentHashes {
		parents[i] = p.String()
	}
	return Commit{
		Hash:    c.Hash.String(),
		Message: strings.ToValidUTF8(c.Message, "\uFFFD"),
		Author:  Author{strings.ToValidUTF8(c.Author.Name, "\uFFFD"), strings.ToValidUTF8(c.Author.Email, "\uFFFD")},
		When:    c.Author.When,
		Parents: parents,
	}
}

func (r *Repo) readCommit(h plumbing.Hash) (*object.Commit, error) {
	data, err := r.content(h, plumbing.CommitObject)
	if err != nil {
		return nil, err
	}
	var obj plumbing.MemoryObject
	obj.SetType(plumbing.CommitObject)
	if _, err := obj.Write(data); err != nil {
		return nil, err
	}
	c := &object.Commit{}
	if err := c.Decode(&obj); err != nil {
		return nil, fmt.Errorf("%w: commit %s: %w", ErrCorrupt, h, err)
	}
	if c.TreeHash.IsZero() {
		return nil, fmt.Errorf("%w: commit %s has no tree", ErrCorrupt, h)
	}
	return c, nil
}

// Log calls fn for every commit that head leads to, through all parents, newest
// first by the committer's time, as git log does. An error of fn ends it.
func (r *Repo) Log(fn func(Commit) error) error {
	return r.log(func(c *object.Commit) error { return fn(newCommit(c)) })
}

func (r *Repo) log(fn func(*object.Commit) error) error {
	at, err := r.readHead()
	if err != nil || at.commit.IsZero() {
		return onDisk(err)
	}
	seen := map[plumbing.Hash]bool{}
	waiting := &commitQueue{}
	add := func(h plumbing.Hash) error {
		if seen[h] {
			return nil
		}
		seen[h] = true
		c, err := r.readCommit(h)
		if err == nil {
			heap.Push(waiting, queued{c, c.Committer.When, len(seen)})
		}
		return onDisk(err)
	}
	if err := add(at.commit); err != nil {
		return err
	}
	for waiting.Len() > 0 {
		c := heap.Pop(waiting).(queued).commit
		if err := fn(c); err != nil {
			return err
		}
		for _, p := range c.ParentHashes {
			if err := add(p); err != nil {
				return err
			}
		}
	}
	return nil
}

// commitQueue gives the newest commit first, and of equally old ones the one
// found first.
type commitQueue []queued

type queued struct {
	commit *object.Commit
	when   time.Time
	found  int
}

func (q commitQueue) Len() int      { return len(q) }
func (q commitQueue) Swap(i, j int) { q[i], q[j] = q[j], q[i] }
func (q *commitQueue) Push(x any)   { *q = append(*q, x.(queued)) }
func (q commitQueue) Less(i, j int) bool {
	if q[i].when.Equal(q[j].when) {
		return q[i].found < q[j].found
	}
	return q[i].when.After(q[j].when)
}

func (q *commitQueue) Pop() any {
	last := len(*q) - 1
	c := (*q)[last]
	*q = (*q)[:last]
	return c
}

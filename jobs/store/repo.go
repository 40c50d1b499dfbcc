package store

import (
	"bufio"
	"compress/zlib"
	"errors"
	"io"
	"time"

	"github.com/go-git/go-git/v5/plumbing"
	"github.com/go-git/go-git/v5/storage/filesystem"
)

// Options say who opens the job.
type Options struct {
	Host string     // this machine's name, for the lock; needed to write
	PID  int        // this process, for the lock; needed to write
	FS   Filesystem // nil is the real one
}

// Repo is one job's folder and its history. It is for one goroutine at a time;
// several processes may have the same job open. Close it.
type Repo struct {
	dir      string // as the caller gave it
	host     string
	pid      int
	work     Folder // the job's folder
	git      Folder // its .git
	creating bool   // made by Create and not yet committed to
	rebuild  bool   // the index may hold what a killed operation staged
	packs    *filesystem.ObjectStorage
	packsFS  *gitFiles
	inflater io.ReadCloser
	deflater *zlib.Writer
	buffer   *bufio.Writer
	fresh    map[string]fileHash // files that Changes has read and whose index entry is out of date
}

// fileHash is the content of a work file as of a moment.
type fileHash struct {
	stamp stamp
	hash  plumbing.Hash
}

// Dir is the job's folder, as it was given to Open or Create.
func (r *Repo) Dir() string { return r.dir }

// Close frees the open folders and packs.
func (r *Repo) Close() error {
	var errs []error
	if r.packsFS != nil {
		errs = append(errs, r.packsFS.closeAll())
	}
	return errors.Join(append(errs, r.git.Close(), r.work.Close())...)
}

// Author is who made a commit, for git's history.
type Author struct{ Name, Email string }

// Commit is one entry of the history. When is the author's time.
type Commit struct {
	Hash    string
	Message string
	Author  Author
	When    time.Time
	Parents []string
}

package store

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"regexp"
	"strings"

	"github.com/go-git/go-git/v5/plumbing"
)

// head is what HEAD says: the branch it names, and the commit that is on it.
// A detached HEAD has no branch; a branch without a commit has the zero hash.
type head struct {
	branch string // "refs/heads/main"
	commit plumbing.Hash
}

// maxRef bounds HEAD and a branch file, which hold one line.
const maxRef = 4 << 10

// readHead reads HEAD and the branch from the disk.
func (r *Repo) readHead() (head, error) {
	line, err := r.gitLine("HEAD")
	if errors.Is(err, fs.ErrNotExist) {
		err = fmt.Errorf("%w: .git/HEAD is missing; restore it from another clone of the job", ErrCorrupt)
	}
	if err != nil {
		return head{}, err
	}
	branch, found := strings.CutPrefix(line, "ref: ")
	if !found {
		h, err := parseHash("HEAD", line)
		return head{commit: h}, err
	}
	if err := checkBranch(branch); err != nil {
		return head{}, err
	}
	h, err := r.readBranch(branch)
	return head{branch, h}, err
}

// readBranch reads a branch, loose before packed; the zero hash is no branch.
func (r *Repo) readBranch(branch string) (plumbing.Hash, error) {
	line, err := r.gitLine(branch)
	if errors.Is(err, fs.ErrNotExist) {
		return r.packedBranch(branch)
	}
	if err != nil {
		return plumbing.ZeroHash, err
	}
	return parseHash(branch, line)
}

func (r *Repo) packedBranch(branch string) (plumbing.Hash, error) {
	f, err := openToRead(r.git, "packed-refs")
	if errors.Is(err, fs.ErrNotExist) {
		return plumbing.ZeroHash, nil
	}
	if err != nil {
		return plumbing.ZeroHash, err
	}
	defer f.Close()
	lines := bufio.NewScanner(f)
	for lines.Scan() {
		if hash, name, _ := strings.Cut(lines.Text(), " "); name == branch {
			return parseHash("packed-refs", hash)
		}
	}
	return plumbing.ZeroHash, lines.Err()
}

// branchName is stricter than git: what a path can hold on every system.
var branchName = regexp.MustCompile(`^refs/heads/[A-Za-z0-9_][A-Za-z0-9._-]*(/[A-Za-z0-9_][A-Za-z0-9._-]*)*$`)

func checkBranch(branch string) error {
	if !branchName.MatchString(branch) || strings.Contains(branch, "..") || strings.HasSuffix(branch, ".lock") {
		return fmt.Errorf("%w: .git/HEAD names the branch %q; switch to a branch of plain letters and digits: git branch -m main", ErrNotJob, branch)
	}
	return nil
}

func parseHash(where, text string) (plumbing.Hash, error) {
	if !plumbing.IsHash(text) {
		return plumbing.ZeroHash, fmt.Errorf("%w: .git/%s holds %.60q instead of a commit; restore it from another clone of the job, or see git fsck", ErrCorrupt, where, text)
	}
	return plumbing.NewHash(text), nil
}

// gitLine reads a one-line file of the git folder.
func (r *Repo) gitLine(name string) (string, error) {
	data, err := readAll(r.git, name, maxRef)
	return string(bytes.TrimSpace(data)), err
}

// readAll reads a file of the git folder of at most limit bytes.
func readAll(dir Folder, name string, limit int64) ([]byte, error) {
	f, err := openToRead(dir, name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	var data bytes.Buffer
	if info, err := f.Stat(); err == nil && info.Size() < limit {
		data.Grow(int(info.Size()) + bytes.MinRead)
	}
	if _, err := data.ReadFrom(io.LimitReader(f, limit+1)); err != nil {
		return nil, err
	}
	if int64(data.Len()) > limit {
		return nil, fmt.Errorf("%w: .git/%s is longer than %d bytes", ErrCorrupt, name, limit)
	}
	return data.Bytes(), nil
}

// moveBranch makes temp, a flushed file holding the new hash and a newline, the
// branch of from: under git's own lock of that branch, and only while it still
// is at from.commit.
func (o *Operation) moveBranch(from head, temp string) error {
	git, lock := o.repo.git, from.branch+".lock"
	if err := makeFolders(git, path.Dir(lock), 0o755); err != nil {
		return err
	}
	note := tempFolder + "/" + branchNote
	if err := git.Rename(temp, note); err != nil {
		return err
	}
	note, err := claim(git, note, lock)
	defer func() { git.Remove(note) }() // a left-over is removed by the next operation
	if err != nil {
		return branchBusy(from.branch, err)
	}
	now, err := o.repo.readBranch(from.branch)
	if err == nil && now != from.commit {
		err = fmt.Errorf("%w: %s was moved by another program while this one wrote; type the command again", ErrBusy, from.branch)
	}
	if err == nil {
		err = git.Rename(lock, from.branch)
	}
	if err != nil {
		return errors.Join(err, git.Remove(lock))
	}
	return syncAll(git, map[string]bool{".": true, path.Dir(from.branch): true})
}

func branchBusy(branch string, err error) error {
	if !errors.Is(err, fs.ErrExist) {
		return err
	}
	return fmt.Errorf("%w: another git program is moving the branch; wait for it, then type the command again; if none is running, remove .git/%s.lock", ErrBusy, branch)
}

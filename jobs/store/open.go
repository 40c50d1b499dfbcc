package store

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"strings"

	"github.com/go-git/go-git/v5/config"
)

// Open opens a job for reading and, with [Repo.Lock], for writing. It refuses a
// folder without a history, one whose first commit was never made
// (ErrUnfinished), and repositories in which a job's files or history would not
// be where they seem: bare, linked, shallow, sparse, with submodules, with
// objects elsewhere or in another format.
func Open(dir string, o Options) (*Repo, error) {
	r, err := open(dir, o)
	if err != nil {
		return nil, err
	}
	at, err := r.readHead()
	if err == nil && at.commit.IsZero() {
		err = fmt.Errorf("%w: %s: its history has no commit yet; type proveout new for the same folder again, or remove the folder", ErrUnfinished, dir)
	}
	if err != nil {
		return nil, errors.Join(onDisk(err), r.Close())
	}
	return r, nil
}

// open is Open that accepts a history without a commit.
func open(dir string, o Options) (*Repo, error) {
	if o.FS == nil {
		o.FS = osFilesystem{}
	}
	work, err := o.FS.OpenFolder(dir)
	if err != nil {
		return nil, notFolder(dir, err)
	}
	if err := checkGitFolder(work, dir); err != nil {
		return nil, errors.Join(onDisk(err), work.Close())
	}
	git, err := work.OpenFolder(".git")
	if err != nil {
		return nil, errors.Join(onDisk(err), work.Close())
	}
	r := &Repo{dir: dir, host: strings.Join(strings.Fields(o.Host), "-"), pid: o.PID, work: work, git: git, fresh: map[string]fileHash{}}
	if err := r.checkLayout(); err != nil {
		return nil, errors.Join(onDisk(err), r.Close())
	}
	return r, nil
}

// notFolder is for a path that cannot be opened as a folder.
func notFolder(dir string, err error) error {
	if err = onDisk(err); hasKind(err) || errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return fmt.Errorf("%w: %s: %w; type the path of a job's folder", ErrNotJob, dir, err)
}

// checkGitFolder wants .git to be a real folder.
func checkGitFolder(work Folder, dir string) error {
	info, err := work.Lstat(".git")
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return noHistory(work, dir)
	case err != nil:
		return err
	case info.Mode().IsRegular():
		return fmt.Errorf("%w: %s: its .git is a file that leads to a history elsewhere (a linked work tree or a submodule); clone the job instead: git clone", ErrNotJob, dir)
	case !info.IsDir():
		return fmt.Errorf("%w: %s: its .git is a symbolic link; clone the job instead: git clone", ErrNotJob, dir)
	}
	return nil
}

func noHistory(work Folder, dir string) error {
	half, err := exists(work, halfMade)
	if err != nil {
		return err
	}
	if half {
		return fmt.Errorf("%w: %s: type proveout new for the same folder again, or remove the folder", ErrUnfinished, dir)
	}
	bare, err := exists(work, "HEAD")
	if err != nil {
		return err
	}
	if bare {
		return fmt.Errorf("%w: %s: it is a bare repository, without the job's files; clone it: git clone", ErrNotJob, dir)
	}
	return fmt.Errorf("%w: %s: it has no history (.git); go to a job's folder, or start one with proveout new", ErrNotJob, dir)
}

// exists tells a name that is not there from a disk that does not say.
func exists(dir Folder, name string) (bool, error) {
	_, err := dir.Lstat(name)
	if missing(err) {
		return false, nil
	}
	return err == nil, err
}

// elsewhere are files of .git that move a part of the repository to another
// place or cut it off, and what to do about them.
var elsewhere = []struct{ name, why string }{
	{"commondir", "it is a linked work tree; clone the job instead: git clone"},
	{"objects/info/alternates", "its objects are in another folder; type git repack -a -d, then remove .git/objects/info/alternates"},
	{"objects/info/http-alternates", "its objects are in another place; clone the job again: git clone"},
	{"shallow", "its history is cut off; type git fetch --unshallow"},
	{"modules", "it has submodules; a job holds plain files only; remove them: git submodule deinit --all"},
	{"info/sparse-checkout", "it shows only a part of its files; type git sparse-checkout disable, then remove .git/info/sparse-checkout"},
	{"reftable", "its branches are in a format this program does not read; type git refs migrate --ref-format=files"},
	{"info/grafts", "its history is grafted, so that git shows another one than was recorded; remove .git/info/grafts"},
}

func (r *Repo) checkLayout() error {
	for _, name := range []string{"objects", "refs"} {
		err := checkFolders(r.git, name)
		if missing(err) || errors.Is(err, ErrPath) {
			return fmt.Errorf("%w: %s: .git/%s is missing or no folder; clone the job again: git clone", ErrNotJob, r.dir, name)
		}
		if err != nil {
			return err
		}
	}
	for _, e := range elsewhere {
		there, err := exists(r.git, e.name)
		if err != nil {
			return err
		}
		if there {
			return fmt.Errorf("%w: %s: %s", ErrNotJob, r.dir, e.why)
		}
	}
	there, err := exists(r.work, ".gitmodules")
	if err != nil {
		return err
	}
	if there {
		return fmt.Errorf("%w: %s: it has submodules (.gitmodules); a job holds plain files only; remove them with git rm", ErrNotJob, r.dir)
	}
	return r.checkConfig()
}

func (r *Repo) checkConfig() error {
	data, err := readAll(r.git, "config", 1<<20)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return err
	}
	c, err := config.ReadConfig(bytes.NewReader(data))
	if err != nil {
		return fmt.Errorf("%w: %s: .git/config cannot be read: %w; see git config --list", ErrNotJob, r.dir, err)
	}
	core := c.Raw.Section("core")
	switch {
	case c.Core.IsBare:
		return fmt.Errorf("%w: %s: it is a bare repository, without the job's files; clone it: git clone", ErrNotJob, r.dir)
	case c.Core.Worktree != "":
		return fmt.Errorf("%w: %s: its files are said to be in %q; type git config --unset core.worktree", ErrNotJob, r.dir, c.Core.Worktree)
	case core.Option("repositoryformatversion") > "0":
		return r.checkExtensions(c)
	}
	return nil
}

// checkExtensions allows those that change nothing for this program.
func (r *Repo) checkExtensions(c *config.Config) error {
	for _, o := range c.Raw.Section("extensions").Options {
		known := o.IsKey("noop") || o.IsKey("noop-v1") || o.IsKey("preciousobjects") ||
			o.IsKey("objectformat") && o.Value == "sha1" || o.IsKey("refstorage") && o.Value == "files"
		if !known {
			return fmt.Errorf("%w: %s: it uses git's extension %s = %s, which this program does not read; clone the job again without it: git clone", ErrNotJob, r.dir, o.Key, o.Value)
		}
	}
	return nil
}

// absolute splits dir into the folder above it and its name there.
func absolute(dir string) (parent, name string, err error) {
	full, err := filepath.Abs(dir)
	if err == nil && filepath.Dir(full) == full {
		err = fmt.Errorf("%w: %s: a job cannot be the root of a disk", ErrNotJob, dir)
	}
	return filepath.Dir(full), filepath.Base(full), err
}

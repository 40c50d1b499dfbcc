package store

import (
	"errors"
	"fmt"
	"io/fs"
	"path"
)

// halfMade is the name of a git folder that Create has not finished.
const halfMade = ".proveout-git"

// newGitFolder are the folders and files of a new repository. git needs HEAD,
// objects and refs. File modes are no data of a job, and some disks have none.
var newGitFolder = struct {
	folders []string
	files   []struct{ name, content string }
}{
	folders: []string{"", "/info", "/objects", "/objects/info", "/objects/pack", "/refs", "/refs/heads", "/refs/tags", "/" + ownFolder, "/" + tempFolder},
	files: []struct{ name, content string }{
		{"/HEAD", "ref: refs/heads/main\n"},
		{"/config", "[core]\n\trepositoryformatversion = 0\n\tfilemode = false\n\tbare = false\n\tlogallrefupdates = true\n"},
		{"/" + excludeFile, tempPattern + "\n"},
	},
}

// Create makes a job: the folder, which must not exist or be empty, and an
// empty repository on branch main. The caller then locks it, writes the first
// files, and commits them; until that commit Open says ErrUnfinished. Create on
// a folder whose making was cut off before that commit continues it: what files
// are there stay, and Changes lists them.
func Create(dir string, o Options) (*Repo, error) {
	if o.FS == nil {
		o.FS = osFilesystem{}
	}
	if err := makeJobFolder(dir, o.FS); err != nil {
		return nil, onDisk(err)
	}
	work, err := o.FS.OpenFolder(dir)
	if err != nil {
		return nil, onDisk(err)
	}
	err = makeGitFolder(work, dir)
	if err := errors.Join(err, work.Close()); err != nil {
		return nil, onDisk(err)
	}
	r, err := open(dir, o)
	if err != nil {
		return nil, err
	}
	if err := r.checkUnborn(); err != nil {
		return nil, errors.Join(err, r.Close())
	}
	r.creating = true
	return r, nil
}

func makeJobFolder(dir string, files Filesystem) error {
	above, name, err := absolute(dir)
	if err != nil {
		return err
	}
	parent, err := files.OpenFolder(above)
	if err != nil {
		return err
	}
	defer parent.Close()
	info, err := parent.Lstat(name)
	if err == nil {
		if !info.IsDir() {
			return notPlain(dir, info.Mode(), "its folder")
		}
		return nil
	}
	if !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	if err := parent.Mkdir(name, 0o755); err != nil && !errors.Is(err, fs.ErrExist) {
		return err
	}
	return parent.Sync(".")
}

// makeGitFolder builds the repository under another name and renames it, so
// that .git is whole as soon as it is there.
func makeGitFolder(work Folder, dir string) error {
	entries, err := work.ReadDir(".")
	if err != nil {
		return err
	}
	for _, e := range entries {
		switch e.Name() {
		case ".git":
			return nil // checked when it is opened
		case halfMade:
			err = removeAll(work, halfMade)
		default:
			err = fmt.Errorf("%w: %s: it already holds files (%q); choose a new folder or an empty one", ErrNotJob, dir, e.Name())
		}
		if err != nil {
			return err
		}
	}
	if err := fillGitFolder(work); err != nil {
		return err
	}
	if err := work.Rename(halfMade, ".git"); err != nil {
		return err
	}
	return work.Sync(".")
}

func fillGitFolder(work Folder) error {
	for _, name := range newGitFolder.folders {
		if err := work.Mkdir(halfMade+name, 0o755); err != nil {
			return err
		}
	}
	for _, f := range newGitFolder.files {
		if err := durableFile(work, halfMade+f.name, 0o644, text([]byte(f.content))); err != nil {
			return err
		}
	}
	flush := map[string]bool{}
	for _, name := range newGitFolder.folders {
		flush[halfMade+name] = true
	}
	return syncAll(work, flush)
}

// removeAll removes a folder and what is in it; links are not followed.
func removeAll(dir Folder, name string) error {
	entries, err := dir.ReadDir(name)
	if err != nil {
		return err
	}
	for _, e := range entries {
		below := path.Join(name, e.Name())
		if e.IsDir() {
			err = removeAll(dir, below)
		} else {
			err = dir.Remove(below)
		}
		if err != nil {
			return err
		}
	}
	return dir.Remove(name)
}

// checkUnborn refuses to create a job over one that is there, or over a
// repository that somebody else made.
func (r *Repo) checkUnborn() error {
	at, err := r.readHead()
	if err != nil {
		return onDisk(err)
	}
	ours, err := exists(r.git, ownFolder)
	if err != nil {
		return onDisk(err)
	}
	if !ours || !at.commit.IsZero() {
		return fmt.Errorf("%w: %s: it already has a history; choose a new folder or an empty one", ErrNotJob, r.dir)
	}
	return nil
}

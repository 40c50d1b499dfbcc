package store

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"
)

// excludeFile tells git which files of the job it is to ignore.
const excludeFile = "info/exclude"

// makeOwnFolder makes this package's folder inside .git, which a clone lacks.
func (r *Repo) makeOwnFolder() error {
	err := checkFolders(r.git, tempFolder)
	if !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	if err := r.exclude(); err != nil {
		return err
	}
	return makeFolders(r.git, tempFolder, 0o755)
}

// exclude adds the pattern of temporary files to what git ignores.
func (r *Repo) exclude() error {
	old, err := readAll(r.git, excludeFile, 1<<20)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	if slices.Contains(strings.Fields(string(old)), tempPattern) {
		return nil
	}
	if len(old) > 0 && !bytes.HasSuffix(old, []byte("\n")) {
		old = append(old, '\n')
	}
	if err := makeFolders(r.git, path.Dir(excludeFile), 0o755); err != nil {
		return err
	}
	temp := excludeFile + ".proveout"
	if err := r.git.Remove(temp); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	if err := durableFile(r.git, temp, 0o644, text(append(old, tempPattern+"\n"...))); err != nil {
		return err
	}
	return r.git.Rename(temp, excludeFile)
}

// findDead looks for the traces of an operation that was killed. Its index.lock
// is removed if it is from this machine: this process holds the advisory lock,
// so its owner is dead. dirty means that files may be left over.
func (o *Operation) findDead() (dirty bool, err error) {
	notes, err := o.repo.git.ReadDir(tempFolder)
	if err != nil {
		return false, err
	}
	dead := o.repo.lockIsDead(notes) // asked before anything is changed
	if dead {
		if err := o.markDirty(); err != nil {
			return true, err
		}
		_, pid, _ := o.repo.holder()
		if err := o.repo.git.Remove(indexLock); err != nil {
			return true, err
		}
		o.say("removed the lock that process %d left when it was stopped", pid)
	}
	return dead || len(notes) > 0, nil
}

// markDirty makes sure a trace stays while the dead lock is removed.
func (o *Operation) markDirty() error {
	err := makeNote(o.repo.git, tempFolder+"/"+dirtyNote, "")
	if errors.Is(err, fs.ErrExist) {
		return nil
	}
	return err
}

// lockIsDead reports whether index.lock is this machine's: by its text, or,
// where a power cut has emptied it, by the note it was made from.
func (r *Repo) lockIsDead(notes []fs.DirEntry) bool {
	if host, _, ok := r.holder(); ok {
		return host == r.host
	}
	for _, n := range notes {
		if strings.HasPrefix(n.Name(), lockNote+hostMark(r.host)+"-") && claimed(r.git, tempFolder+"/"+n.Name(), indexLock) {
			return true
		}
	}
	return false
}

// removeLeftOvers removes the temporary files of a killed operation. The notes
// go last, so that a kill in between leaves a trace; the mark stays until a
// commit has put the index right.
func (o *Operation) removeLeftOvers() error {
	o.repo.rebuild = true
	if err := o.markDirty(); err != nil {
		return err
	}
	if err := o.removeBranchLock(); err != nil {
		return err
	}
	if err := o.removeTemps(o.repo.work, "."); err != nil {
		return err
	}
	notes, err := o.repo.git.ReadDir(tempFolder)
	if err != nil {
		return err
	}
	for _, n := range notes {
		name := tempFolder + "/" + n.Name()
		if name == o.note || n.Name() == dirtyNote {
			continue
		}
		if err := o.repo.git.Remove(name); err != nil {
			return err
		}
	}
	return nil
}

// removeBranchLock removes the lock of the branch if a dead operation made it.
func (o *Operation) removeBranchLock() error {
	at, err := o.repo.readHead()
	if err != nil || at.branch == "" {
		return err
	}
	lock := at.branch + ".lock"
	for _, note := range []string{tempFolder + "/" + branchNote, tempFolder + "/" + branchNote + copied} {
		if claimed(o.repo.git, note, lock) {
			o.say("removed the lock of the branch that a stopped process left")
			return o.repo.git.Remove(lock)
		}
	}
	return nil
}

// removeTemps removes temporary files of the work folder, at any depth.
func (o *Operation) removeTemps(dir Folder, name string) error {
	entries, err := dir.ReadDir(name)
	if err != nil {
		return err
	}
	for _, e := range entries {
		file := path.Join(name, e.Name())
		switch {
		case e.IsDir() && file != ".git":
			err = o.removeTemps(dir, file)
		case e.Type().IsRegular() && isTemp(e.Name()):
			o.say("removed %s, a file that a stopped process had not finished", file)
			err = dir.Remove(file)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// checkWritable refuses a state of the repository in which a commit would go
// where nobody expects it.
func (r *Repo) checkWritable() error {
	at, err := r.readHead()
	if err != nil {
		return err
	}
	if at.branch == "" {
		return fmt.Errorf("%w: HEAD is detached at %s; type git switch main, then the command again", ErrNotJob, at.commit)
	}
	for _, name := range []string{"MERGE_HEAD", "CHERRY_PICK_HEAD", "REVERT_HEAD", "rebase-merge", "rebase-apply"} {
		unfinished, err := exists(r.git, name)
		if err != nil {
			return err
		}
		if unfinished {
			return fmt.Errorf("%w: a git merge, rebase, revert or cherry-pick is unfinished (.git/%s); finish or abort it with git, then type the command again", ErrBusy, name)
		}
	}
	if r.creating && !at.commit.IsZero() {
		return fmt.Errorf("%w: another process finished this job first; type proveout status", ErrNotJob)
	}
	return nil
}

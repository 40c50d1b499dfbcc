package store

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// Disks that are full or write-protected are mounted by a process in a mount
// namespace of its own, so that nothing of it is seen outside and nothing has
// to be taken down. Where the system does not let a user have one, a limit on
// the size of files takes the place of the full disk, and a folder without
// permission, for root as another user, that of the protected one. In CI the mounts must work.

func TestDiskFull(t *testing.T) {
	if !inNamespace(t, "full") {
		limited := exec.Command(os.Args[0])
		limited.Env = append(os.Environ(), "STORE_CHILD=limited", "STORE_DIR="+t.TempDir())
		succeeds(t, limited)
	}
}

func TestDiskReadOnly(t *testing.T) {
	if !inNamespace(t, "readonly") {
		protected := exec.Command(os.Args[0])
		protected.Env = append(os.Environ(), "STORE_CHILD=protected", "STORE_DIR="+t.TempDir())
		succeeds(t, protected)
	}
}

// inNamespace runs this program again as a child that may mount; false means
// that the system does not allow it.
func inNamespace(t *testing.T, mode string) bool {
	t.Helper()
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), "STORE_CHILD="+mode, "STORE_DIR="+t.TempDir())
	cmd.SysProcAttr = &syscall.SysProcAttr{Cloneflags: syscall.CLONE_NEWNS}
	if os.Geteuid() != 0 {
		cmd.SysProcAttr.Cloneflags |= syscall.CLONE_NEWUSER
		cmd.SysProcAttr.UidMappings = []syscall.SysProcIDMap{{ContainerID: 0, HostID: os.Getuid(), Size: 1}}
		cmd.SysProcAttr.GidMappings = []syscall.SysProcIDMap{{ContainerID: 0, HostID: os.Getgid(), Size: 1}}
	}
	out, err := cmd.CombinedOutput()
	denied := errors.Is(err, syscall.EPERM) || strings.Contains(string(out), errNoMount.Error())
	if denied && os.Getenv("CI") == "true" {
		t.Fatalf("CI must let this test mount a small disk: %v %s", err, out)
	}
	if err != nil && !denied {
		t.Fatalf("%v\n%s", err, out)
	}
	return !denied
}

func succeeds(t *testing.T, cmd *exec.Cmd) {
	t.Helper()
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
}

var errNoMount = errors.New("mounting is not allowed")

// mount puts a small disk on dir, seen by this process only.
func mount(dir, size string) error {
	err := syscall.Mount("none", "/", "", syscall.MS_REC|syscall.MS_PRIVATE, "")
	if err == nil {
		err = syscall.Mount("tmpfs", dir, "tmpfs", 0, "size="+size)
	}
	if err != nil {
		return fmt.Errorf("%w: %w", errNoMount, err)
	}
	return nil
}

// childFull fills a disk of 2 MiB with records of 20 KiB, file and commit, until
// none fits. Every acknowledged one is there, and after room is made the next
// command saves again and commits what was left.
func childFull(dir string) error {
	if err := mount(dir, "2m"); err != nil {
		return err
	}
	ballast := filepath.Join(dir, "ballast")
	if err := os.WriteFile(ballast, make([]byte, 300<<10), 0o644); err != nil {
		return err
	}
	return fillAndRecover(filepath.Join(dir, "job"), func() error { return os.Remove(ballast) })
}

// childLimited allows no file longer than 24 KiB, which the objects of a long
// record exceed.
func childLimited(dir string) error {
	signal.Ignore(syscall.SIGXFSZ)
	var old syscall.Rlimit
	if err := syscall.Getrlimit(syscall.RLIMIT_FSIZE, &old); err != nil {
		return err
	}
	limit := syscall.Rlimit{Cur: 24 << 10, Max: old.Max}
	if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &limit); err != nil {
		return err
	}
	return fillAndRecover(filepath.Join(dir, "job"), func() error { return syscall.Setrlimit(syscall.RLIMIT_FSIZE, &old) })
}

func fillAndRecover(dir string, makeRoom func() error) error {
	r, err := Create(dir, options())
	if err != nil {
		return err
	}
	defer r.Close()
	saved := map[string]string{}
	var failed error
	for i := 0; failed == nil && i < 1000; i++ {
		name := fmt.Sprintf("records/05/%d.yaml", i)
		content := longText(i)
		if _, failed = trySave(r, name, map[string]string{name: content}); failed == nil || errors.Is(failed, ErrNotInHistory) {
			saved[name] = content
		}
	}
	if !errors.Is(failed, ErrNoSpace) {
		return fmt.Errorf("saving ended with %v, want ErrNoSpace", failed)
	}
	if err := checkSaved(r, saved); err != nil {
		return fmt.Errorf("on the full disk: %w", err)
	}
	if err := makeRoom(); err != nil {
		return err
	}
	if err := commitAll(r); err != nil {
		return fmt.Errorf("after room was made: %w", err)
	}
	saved["job.yaml"] = "a\n"
	if _, err := trySave(r, "again", map[string]string{"job.yaml": "a\n"}); err != nil {
		return fmt.Errorf("after room was made: %w", err)
	}
	if err := checkSaved(r, saved); err != nil {
		return err
	}
	head, err := r.Head()
	if err != nil {
		return err
	}
	for name, want := range saved {
		if data, err := r.FileAt(head.Hash, name); err != nil || string(data) != want {
			return fmt.Errorf("%s in history: %d bytes, %w", name, len(data), err)
		}
	}
	for _, args := range [][]string{{"fsck", "--strict"}, {"status", "--porcelain"}} {
		if out, err := tryGit(dir, args...); err != nil || out != "" && !strings.HasPrefix(out, "dangling") {
			return fmt.Errorf("git %s: %s %w", args[0], out, err)
		}
	}
	return nil
}

// longText grows from a few hundred bytes and does not compress well.
func longText(seed int) string {
	var b strings.Builder
	x := uint32(seed + 1)
	for b.Len() < 400+1500*seed {
		x = x*1664525 + 1013904223
		fmt.Fprintf(&b, "%08x\n", x)
	}
	return b.String()
}

func checkSaved(r *Repo, saved map[string]string) error {
	for name, want := range saved {
		if data, err := r.Read(name, 1<<20); err != nil || string(data) != want {
			return fmt.Errorf("%s: %d bytes, want %d; %w", name, len(data), len(want), err)
		}
	}
	return nil
}

// childReadOnly makes a job and then protects its disk.
func childReadOnly(dir string) error {
	if err := mount(dir, "4m"); err != nil {
		return err
	}
	job := filepath.Join(dir, "job")
	r, err := Create(job, options())
	if err == nil {
		_, err = trySave(r, "begin", map[string]string{"job.yaml": "a\n"})
	}
	if err = errors.Join(err, r.Close()); err != nil {
		return err
	}
	if err := syscall.Mount("none", dir, "", syscall.MS_REMOUNT|syscall.MS_RDONLY, ""); err != nil {
		return fmt.Errorf("%w: %w", errNoMount, err)
	}
	if _, err := Create(filepath.Join(dir, "other"), options()); !errors.Is(err, ErrReadOnly) {
		return fmt.Errorf("Create: %v, want ErrReadOnly", err)
	}
	return refusesToWrite(job)
}

// childProtected makes a job that this process may then not write to: root,
// whom no permission stops, becomes nobody.
func childProtected(dir string) error {
	if err := os.Chdir(dir); err != nil {
		return err
	}
	r, err := Create("job", options())
	if err == nil {
		_, err = trySave(r, "begin", map[string]string{"job.yaml": "a\n"})
	}
	if err = errors.Join(err, r.Close()); err != nil {
		return err
	}
	modes := func(dirs, files os.FileMode) error {
		return filepath.WalkDir("job", func(name string, d os.DirEntry, err error) error {
			if err != nil {
				return err
			}
			if d.IsDir() {
				return os.Chmod(name, dirs)
			}
			return os.Chmod(name, files)
		})
	}
	if os.Geteuid() == 0 {
		if err := syscall.Setuid(65534); err != nil {
			return err
		}
		return refusesToWrite("job")
	}
	err = modes(0o555, 0o444)
	return errors.Join(err, refusesToWrite("job"), modes(0o755, 0o644))
}

// refusesToWrite: everything reads, and writing says why not.
func refusesToWrite(dir string) error {
	r, err := Open(dir, options())
	if err != nil {
		return err
	}
	defer r.Close()
	if changes, err := r.Changes(); err != nil || len(changes) > 0 {
		return fmt.Errorf("Changes: %v, %v", changes, err)
	}
	if err := r.Fsck(); err != nil {
		return err
	}
	if _, err := r.Lock(t0(), 0); !errors.Is(err, ErrReadOnly) {
		return fmt.Errorf("Lock: %v, want ErrReadOnly", err)
	}
	return nil
}

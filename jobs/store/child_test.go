//go:build linux || darwin

package store

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"
)

// TestMain lets a test start this program again as a process to be killed, or
// as a second writer.
func TestMain(m *testing.M) {
	mode := os.Getenv("STORE_CHILD")
	if mode == "" {
		os.Exit(m.Run())
	}
	if err := child(mode, os.Getenv("STORE_DIR")); err != nil {
		fmt.Fprintln(os.Stderr, mode+":", err)
		os.Exit(1)
	}
}

func child(mode, dir string) error {
	killAt, _ := strconv.Atoi(os.Getenv("STORE_KILL"))
	next, _ := strconv.Atoi(os.Getenv("STORE_NEXT"))
	opts := options()
	opts.FS = &watch{look: killer(killAt)}
	switch mode {
	case "create":
		return childCreate(dir, opts)
	case "save":
		return childSave(dir, opts, next)
	case "pack":
		return childPack(dir, opts)
	case "write100":
		return childWrite100(dir, os.Getenv("STORE_NEXT"))
	case "full":
		return childFull(dir)
	case "limited":
		return childLimited(dir)
	case "protected":
		return childProtected(dir)
	case "readonly":
		return childReadOnly(dir)
	}
	return fmt.Errorf("unknown child %q", mode)
}

// killer kills this process at its n-th file operation and reports when a save
// enters and leaves the time between the temporary file and the branch's update.
func killer(n int) func(call) error {
	seen, moved := 0, false
	return func(c call) error {
		if moved {
			fmt.Println("ended")
			moved = false
		}
		if c.op == "create" && strings.HasPrefix(filepath.Base(c.name), tempPrefix) {
			fmt.Println("began")
		}
		moved = c.op == "rename" && c.name == ".git/refs/heads/main"
		if seen++; seen == n {
			syscall.Kill(os.Getpid(), syscall.SIGKILL)
			select {}
		}
		return nil
	}
}

func childSave(dir string, opts Options, next int) error {
	r, err := Open(dir, opts)
	if err != nil {
		return err
	}
	defer r.Close()
	for i := next; i < next+5; i++ {
		o, err := r.Lock(t0(), 5*time.Second)
		if err != nil {
			return err
		}
		name := fmt.Sprintf("records/%02d/%05d.yaml", i%3, i)
		if err := o.Create(name, []byte(killedRecord(name))); err != nil {
			return err
		}
		fmt.Println("saved", name)
		if _, err := o.Commit("record "+name, crew, morning); err != nil {
			return err
		}
		if err := o.Close(); err != nil {
			return err
		}
	}
	return nil
}

func childCreate(dir string, opts Options) error {
	r, err := Open(dir, opts)
	if err != nil {
		if r, err = Create(dir, opts); err != nil {
			return err
		}
	}
	defer r.Close()
	_, err = trySave(r, "begin", map[string]string{".gitattributes": "* -text\n", "job.yaml": "a\n"})
	if err == nil || errors.Is(err, ErrNoChange) {
		fmt.Println("created")
		return nil
	}
	return err
}

func childPack(dir string, opts Options) error {
	r, err := Open(dir, opts)
	if err != nil {
		return err
	}
	return errors.Join(r.Pack(), r.Close())
}

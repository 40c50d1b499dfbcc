//go:build linux || darwin

package store

import (
	"bufio"
	"errors"
	"flag"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"syscall"
	"testing"
	"time"
)

// The whole test is: go test ./jobs/store -run TestKill -kills 1000
var kills = flag.Int("kills", 60, "how many processes TestKill kills")

// TestKill starts processes that save records and kills them with SIGKILL: half
// by themselves at a random file operation, which hits every gap between two,
// half from here at a random moment. Afterwards, without any manual step, HEAD
// resolves, git fsck and git status are clean, and every acknowledged record is
// there once, as it was written. Every third time nobody looks and the next
// process has to cope. Some processes are killed while they create a job or
// pack its objects.
func TestKill(t *testing.T) {
	var done, inWrite, acked atomic.Int64
	var wait sync.WaitGroup
	for worker := range 2 {
		wait.Go(func() {
			random := rand.New(rand.NewPCG(uint64(worker), uint64(time.Now().UnixNano())))
			for done.Load() < int64(*kills) && !t.Failed() {
				k := &killing{t: t, random: random, dir: filepath.Join(t.TempDir(), "job"), acked: map[string]bool{}}
				k.run(25, &done, &inWrite)
				acked.Add(int64(len(k.acked)))
			}
		})
	}
	wait.Wait()
	t.Logf("%d kills, %d of them between the temporary file and the branch's update; %d records acknowledged", done.Load(), inWrite.Load(), acked.Load())
	if inWrite.Load()*5 < done.Load() {
		t.Errorf("only %d of %d kills hit a write; at least a fifth must", inWrite.Load(), done.Load())
	}
	if acked.Load() < done.Load()/2 {
		t.Errorf("only %d records were acknowledged; the test has too little to look for", acked.Load())
	}
}

// killing is one job that is worked on by processes that are killed.
type killing struct {
	t       *testing.T
	random  *rand.Rand
	dir     string
	created bool            // the first commit was acknowledged
	acked   map[string]bool // names of records
	next    int
}

func (k *killing) run(n int, done, inWrite *atomic.Int64) {
	for range n {
		if done.Load() >= int64(*kills) {
			break
		}
		mode := "save"
		if k.next > 0 && k.random.IntN(10) == 0 {
			mode = "pack"
		}
		if !k.created {
			mode = "create"
		}
		killed, writing := k.child(mode)
		if killed {
			done.Add(1)
		}
		if killed && writing {
			inWrite.Add(1)
		}
		if k.created && k.random.IntN(3) > 0 {
			k.check()
		}
		if k.t.Failed() {
			return
		}
	}
	if k.created {
		k.check()
	}
}

// child runs one process and takes down what it acknowledged before it died.
func (k *killing) child(mode string) (killed, writing bool) {
	at, after := 0, time.Minute
	if k.random.IntN(2) == 0 {
		at = 1 + k.random.IntN(400)
	} else {
		after = time.Duration(k.random.IntN(60)) * time.Millisecond
	}
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), "STORE_CHILD="+mode, "STORE_DIR="+k.dir,
		"STORE_KILL="+strconv.Itoa(at), "STORE_NEXT="+strconv.Itoa(k.next))
	cmd.Stderr = os.Stderr
	out, err := cmd.StdoutPipe()
	if err == nil {
		err = cmd.Start()
	}
	if err != nil {
		k.t.Error(err)
		return false, false
	}
	timer := time.AfterFunc(time.Minute, func() { cmd.Process.Kill() })
	defer timer.Stop()
	if mode == "pack" {
		timer.Reset(after)
	}
	lines := bufio.NewScanner(out)
	for first := true; lines.Scan(); first = false {
		if first { // at work: how long a process takes to start differs much
			timer.Reset(after)
		}
		word, name, _ := strings.Cut(lines.Text(), " ")
		switch word {
		case "began":
			writing = true
			k.next++
		case "ended":
			writing = false
		case "saved":
			k.acked[name] = true
		case "created":
			k.created = true
		}
	}
	err = cmd.Wait()
	var exit *exec.ExitError
	if errors.As(err, &exit) && exit.Sys().(syscall.WaitStatus).Signal() == syscall.SIGKILL {
		return true, writing
	}
	if err != nil {
		k.t.Errorf("a process failed by itself: %v", err)
	}
	return false, false
}

// check is what the next command does, and what plain git says then.
func (k *killing) check() {
	r, err := Open(k.dir, options())
	if err != nil {
		k.t.Error(err)
		return
	}
	defer r.Close()
	if err := commitAll(r); err != nil {
		k.t.Error(err)
		return
	}
	head, err := r.Head()
	if err != nil {
		k.t.Error(err)
		return
	}
	files, err := r.HeadFiles("records")
	if err != nil {
		k.t.Error(err)
	}
	for name := range k.acked {
		data, err := r.FileAt(head.Hash, name)
		if err != nil || string(data) != killedRecord(name) {
			k.t.Errorf("acknowledged %s: %q, %v", name, data, err)
		}
	}
	for name := range files {
		if data, err := r.FileAt(head.Hash, name); err != nil || string(data) != killedRecord(name) {
			k.t.Errorf("in history %s: %q, %v", name, data, err)
		}
	}
	for _, args := range [][]string{{"fsck", "--strict", "--no-dangling"}, {"status", "--porcelain"}} {
		if out, err := tryGit(k.dir, args...); err != nil || out != "" {
			k.t.Errorf("git %s: %s %v", args[0], out, err)
		}
	}
}

func killedRecord(name string) string {
	return "record: " + name + "\n" + strings.Repeat("note: a line of text\n", len(name)*20) + "...\n"
}

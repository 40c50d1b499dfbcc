// Command proveout keeps the record of a job: what was measured, what must be
// measured before work may go on, and who released it.
package main

import (
	"context"
	"crypto/rand"
	"io"
	"os"
	"os/signal"
	"time"
	_ "time/tzdata" // a company's time zone must be known on any machine

	"golang.org/x/term"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	code := run(ctx, system(), os.Args[1:])
	stop()
	os.Exit(code)
}

// env is all that a command needs of the world.
type env struct {
	in       io.Reader
	out, err io.Writer
	dir      string
	now      func() time.Time
	random   io.Reader
	host     string
	pid      int
	terminal bool // in and out are a terminal: questions may be asked
	color    bool
	width    int
}

func system() *env {
	dir, err := os.Getwd()
	if err != nil {
		dir = "."
	}
	host, err := os.Hostname()
	if err != nil {
		host = "unknown host"
	}
	out := int(os.Stdout.Fd())
	e := &env{
		in: os.Stdin, out: os.Stdout, err: os.Stderr, dir: dir, now: time.Now, random: rand.Reader,
		host: host, pid: os.Getpid(), width: 80,
		terminal: term.IsTerminal(int(os.Stdin.Fd())) && term.IsTerminal(out),
	}
	e.color = term.IsTerminal(out) && os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb"
	if w, _, err := term.GetSize(out); err == nil && w > 20 {
		e.width = w
	}
	return e
}

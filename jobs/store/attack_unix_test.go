//go:build linux || darwin

package store

import (
	"os"
	"path/filepath"
	"syscall"
	"testing"
)

// attacks adds pipes, which a careless open would wait on for ever.
func attacks(outside string) []attack {
	return append(linkAttacks(outside), attack{"file is a pipe", func(t *testing.T, job string) {
		name := filepath.Join(job, "records/05/a.yaml")
		if err := os.Remove(name); err != nil {
			t.Fatal(err)
		}
		if err := syscall.Mkfifo(name, 0o644); err != nil {
			t.Fatal(err)
		}
	}})
}

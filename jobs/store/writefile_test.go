package store

import (
	"os"
	"path/filepath"
	"testing"
)

func TestWriteFile(t *testing.T) {
	dir := t.TempDir()
	write(t, dir, "clients/.proveout-birch-stair.yaml.tmp", "left by a killed process")
	for _, content := range []string{"first\n", "second\n"} {
		if err := WriteFile(dir, "clients/birch-stair.yaml", []byte(content)); err != nil {
			t.Fatal(err)
		}
		if data, err := os.ReadFile(filepath.Join(dir, "clients/birch-stair.yaml")); err != nil || string(data) != content {
			t.Errorf("%q, %v, want %q", data, err, content)
		}
	}
	if list, _ := os.ReadDir(filepath.Join(dir, "clients")); len(list) != 1 {
		t.Errorf("left over: %v", list)
	}
	outside := t.TempDir()
	if err := os.Symlink(outside, filepath.Join(dir, "link")); err != nil {
		t.Fatal(err)
	}
	wantError(t, WriteFile(dir, "link/x.yaml", nil), ErrPath, "link")
	wantError(t, WriteFile(dir, "../x.yaml", nil), ErrPath, "../x.yaml")
}

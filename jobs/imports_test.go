package jobs

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// layers are the packages from the bottom up. A package imports from its own
// layer only where that is allowed, and from those below.
var layers = []string{"checks/units", "checks/<theory>", "checks", "phases", "jobs", "templates", "cmd"}

// layerOf returns where a folder of this module stands; -1 for a leaf that
// anybody may use.
func layerOf(dir string) int {
	name := ""
	switch top, below, _ := strings.Cut(dir, "/"); {
	case dir == "checks/units":
		name = dir
	case top == "checks" && below != "":
		name = "checks/<theory>"
	case dir == "phases/strict":
		return -1
	default:
		name = top
	}
	return slices.Index(layers, name)
}

// sources maps each folder with Go files of the program to what they import.
func sources(t *testing.T) map[string][]string {
	t.Helper()
	imports := map[string][]string{}
	err := filepath.WalkDir("..", func(path string, d fs.DirEntry, err error) error {
		if err != nil || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		data, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		f, err := parser.ParseFile(token.NewFileSet(), path, data, parser.ImportsOnly)
		if err != nil {
			return err
		}
		dir := filepath.ToSlash(filepath.Dir(strings.TrimPrefix(path, "../")))
		for _, i := range f.Imports {
			name, err := strconv.Unquote(i.Path.Value)
			if err != nil {
				return err
			}
			imports[dir] = append(imports[dir], name)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return imports
}

// Imports go one way: checks/units ← checks/<theory> ← checks ← phases ← jobs ←
// templates ← cmd. phases/strict is a leaf.
func TestImportsGoOneWay(t *testing.T) {
	imports := sources(t)
	if len(imports) < 15 {
		t.Fatalf("only %d folders with Go files", len(imports))
	}
	for dir, names := range imports {
		at := layerOf(dir)
		if at < 0 && dir != "phases/strict" {
			t.Errorf("%s has no place among the layers", dir)
		}
		for _, name := range names {
			local, ours := strings.CutPrefix(name, "proveout/")
			if !ours {
				continue
			}
			to := layerOf(local)
			sameTree := at == to && (layers[max(at, 0)] == "checks/<theory>" || strings.SplitN(dir, "/", 2)[0] == strings.SplitN(local, "/", 2)[0])
			if dir == "phases/strict" || to > at || to == at && !sameTree {
				t.Errorf("%s imports %s, which is not below it", dir, local)
			}
		}
	}
}

// Only phases/strict reads YAML, only jobs/store touches git, the physics sees no
// files, clock or history, and pictures see nothing of the job.
func TestWhoMayImport(t *testing.T) {
	only := map[string]string{"gopkg.in/yaml.v3": "phases/strict", "github.com/go-git/": "jobs/store", "github.com/gofrs/flock": "jobs/store", "gonum.org/v1/plot": "templates/figure"}
	for dir, names := range sources(t) {
		for _, name := range names {
			local, ours := strings.CutPrefix(name, "proveout/")
			if ours && dir == "templates/figure" && local != "checks/units" {
				t.Errorf("%s imports %s; a picture knows units and nothing else of ours", dir, name)
			}
			for prefix, owner := range only {
				if strings.HasPrefix(name, prefix) && dir != owner {
					t.Errorf("%s imports %s; only %s may", dir, name, owner)
				}
			}
			physics := strings.HasPrefix(dir, "checks")
			outside := strings.Contains(name, ".") && !strings.HasPrefix(name, "gonum.org/")
			if physics && (slices.Contains([]string{"os", "os/exec", "net/http", "path/filepath", "io/ioutil"}, name) || outside && name != "golang.org/x/text/encoding/charmap" && !strings.HasPrefix(name, "golang.org/x/text")) {
				t.Errorf("%s imports %s; physics reads no files and uses nothing but gonum", dir, name)
			}
		}
	}
}

package store

import (
	"fmt"
	"strings"
)

// Limits of a path, so that every job can be cloned to every system: Windows
// without long paths allows 260 characters in all.
const (
	maxPath = 180
	maxName = 100
)

// otherNames are the fixed files of a job whose names break the rule that
// names are lower case and do not begin with a dot.
var otherNames = map[string]bool{
	".gitattributes": true,
	".gitignore":     true,
	"FORMAT.md":      true,
}

// deviceNames open a device on Windows, whatever their extension.
var deviceNames = map[string]bool{
	"con": true, "prn": true, "aux": true, "nul": true,
	"com0": true, "com1": true, "com2": true, "com3": true, "com4": true,
	"com5": true, "com6": true, "com7": true, "com8": true, "com9": true,
	"lpt0": true, "lpt1": true, "lpt2": true, "lpt3": true, "lpt4": true,
	"lpt5": true, "lpt6": true, "lpt7": true, "lpt8": true, "lpt9": true,
}

// CheckPath reports whether a job may hold a file of this name: relative, with
// slashes, in lower-case ASCII letters, digits, "-", "." and "_", no device of
// Windows, at most 180 characters. The error is of kind ErrPath.
func CheckPath(path string) error {
	if path == "" {
		return refused(path, "it is empty")
	}
	if len(path) > maxPath {
		return refused(path, fmt.Sprintf("it is longer than %d characters", maxPath))
	}
	for i, name := range strings.Split(path, "/") {
		if why := nameProblem(name); why != "" && (i > 0 || !otherNames[path]) {
			return refused(path, why)
		}
	}
	return nil
}

func nameProblem(name string) string {
	stem, _, _ := strings.Cut(name, ".")
	switch {
	case name == "":
		return `it is absolute or has an empty part`
	case name == "." || name == "..":
		return `"." and ".." are not names`
	case len(name) > maxName:
		return fmt.Sprintf("a part is longer than %d characters", maxName)
	case name[0] == '.' || name[0] == '-':
		return `a part begins with "." or "-"`
	case name[len(name)-1] == '.':
		return `a part ends with "."`
	case strings.Trim(name, "abcdefghijklmnopqrstuvwxyz0123456789-._") != "":
		return `only a-z, 0-9, "-", "." and "_" are used in names`
	case deviceNames[stem]:
		return fmt.Sprintf("%q is a device on Windows", stem)
	}
	return ""
}

func refused(path, why string) error {
	return fmt.Errorf("%w: %q: %s; give the file another name", ErrPath, path, why)
}

// within reports whether path is dir or lies below it; "" and "." hold all.
func within(path, dir string) bool {
	return dir == "" || dir == "." || path == dir || strings.HasPrefix(path, dir) && path[len(dir)] == '/'
}

// withinAny reports whether path lies below one of dirs; no dirs hold all.
func withinAny(path string, dirs []string) bool {
	for _, dir := range dirs {
		if within(path, dir) {
			return true
		}
	}
	return len(dirs) == 0
}

// leadsToAny reports whether dir holds, or lies below, one of dirs.
func leadsToAny(dir string, dirs []string) bool {
	for _, d := range dirs {
		if within(d, dir) || within(dir, d) {
			return true
		}
	}
	return len(dirs) == 0 || dir == ""
}

// Temporary files of the work folder. Their names begin with a dot, which no
// file of a job does, and git is told to ignore them.
const (
	tempPrefix  = ".proveout-"
	tempSuffix  = ".tmp"
	tempPattern = tempPrefix + "*" + tempSuffix
)

func isTemp(name string) bool {
	return strings.HasPrefix(name, tempPrefix) && strings.HasSuffix(name, tempSuffix)
}

package phases

import (
	"embed"
	"io/fs"
)

//go:embed *.yaml
var defaults embed.FS

// Defaults returns the embedded phase files by name, "01-assess.yaml" first.
func Defaults() map[string][]byte {
	files := map[string][]byte{}
	names, err := fs.Glob(defaults, "[0-9]*.yaml")
	if err != nil {
		panic(err) // the pattern is a constant
	}
	for _, name := range names {
		data, err := defaults.ReadFile(name)
		if err != nil {
			panic(err) // embedded files can be read
		}
		files[name] = data
	}
	return files
}

package strict

import (
	"bytes"
	"errors"
	"fmt"
	"io"

	"gopkg.in/yaml.v3"
)

// decode returns the root node of the one document in data. Nodes are all that
// is asked of yaml.v3: decoding into Go values would turn 017 into 15, take a
// minute over a map of 100,000 keys and ignore a second document.
func decode(file string, data []byte) (*yaml.Node, *Error) {
	if isEmpty(data) {
		return nil, &Error{Pos{file, 1, 1}, "file is empty"}
	}
	dec := yaml.NewDecoder(bytes.NewReader(data))
	var doc, second yaml.Node
	if err := next(dec, &doc); err != nil {
		return nil, syntaxError(file, data, err)
	}
	switch err := next(dec, &second); {
	case err == nil:
		text := `a second document begins here; keep one in a file, or delete the line "---"`
		return nil, &Error{Pos{file, second.Line, second.Column}, text}
	case !errors.Is(err, io.EOF):
		return nil, syntaxError(file, data, err)
	}
	return doc.Content[0], nil
}

// next reads one document. A panic of yaml.v3 on input that its authors did
// not foresee is that file's error and not the end of the program.
func next(dec *yaml.Decoder, n *yaml.Node) (err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("yaml: %v", r)
		}
	}()
	return dec.Decode(n)
}

// isEmpty reports whether a file has nothing but comments and document
// markers. It stops at the first line with content.
func isEmpty(data []byte) bool {
	for line := range bytes.Lines(data) {
		line = bytes.TrimSpace(line)
		if len(line) > 0 && line[0] != '#' && string(line) != "---" && string(line) != endMarker {
			return false
		}
	}
	return true
}

// directive returns the line of a %YAML or %TAG directive before the
// document, or zero. Elsewhere a line cannot start with % and be one.
func directive(data []byte) int {
	number := 0
	for line := range bytes.Lines(data) {
		number++
		if line[0] == '%' {
			return number
		}
		if text := bytes.TrimSpace(line); len(text) > 0 && text[0] != '#' {
			return 0
		}
	}
	return 0
}

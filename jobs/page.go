package jobs

import (
	"bytes"
	"fmt"
	"strings"

	"proveout/phases/strict"
)

// page writes a YAML file that a person goes on with: values between comments
// that say what they are for.
type page struct{ b bytes.Buffer }

// endMark is what Encode ends with; a person's file has none.
const endMark = "...\n"

// say writes a comment, one line of the text each.
func (p *page) say(format string, args ...any) {
	for line := range strings.Lines(fmt.Sprintf(format, args...)) {
		p.b.WriteString(strings.TrimRight("# "+line, " \n") + "\n")
	}
}

// gap writes an empty line.
func (p *page) gap() { p.b.WriteByte('\n') }

// put writes a field.
func (p *page) put(key string, value any) {
	p.b.WriteString(encoded(key, value))
}

// set writes a field with what it is for behind it, or, without a value, an
// example that is commented out.
func (p *page) set(indent, key, value, example, about string) {
	if value == "" {
		indent, value = "# "+indent, example
	}
	line := indent + strings.TrimSuffix(encoded(key, strict.Plain(value)), "\n")
	if about != "" {
		line = fmt.Sprintf("%-30s # %s", line, about)
	}
	p.b.WriteString(line + "\n")
}

// encoded is one field as a file has it.
func encoded(key string, value any) string {
	return strings.TrimSuffix(string(strict.Encode([]strict.Field{{Key: key, Value: value}})), endMark)
}

// items writes a list under a key, each item followed by what then says.
func (p *page) items(key string, list [][]strict.Field, then func(i int)) {
	p.b.WriteString(key + ":\n")
	for i, item := range list {
		_, rest, _ := strings.Cut(encoded("list", [][]strict.Field{item}), "\n")
		p.b.WriteString(rest)
		if then != nil {
			then(i)
		}
	}
}

package jobs

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"proveout/jobs/photo"
	"proveout/jobs/store"
)

// photoEndings are the files that are kept as shrunk photos.
var photoEndings = []string{".jpg", ".jpeg", ".png"}

// IsPhoto reports whether a file's name says that it is a photo.
func IsPhoto(name string) bool {
	return slices.Contains(photoEndings, strings.ToLower(filepath.Ext(name)))
}

// Incoming is a person's file, read and ready to be stored.
type Incoming struct {
	Evidence

	bytes []byte
}

// ReadPhoto reads a person's photo and shrinks it; the original's hash is
// kept.
func ReadPhoto(file string, longest int) (*Incoming, error) {
	data, err := readFile(file)
	if err != nil {
		return nil, err
	}
	if !IsPhoto(file) {
		return nil, problem(ErrInput, "save it as JPEG or PNG first, or attach it as a document: --file", "%s is not a JPEG or PNG photo", file)
	}
	small, err := photo.Shrink(data, longest)
	if err != nil {
		return nil, problem(ErrInput, "take it again, or attach it as a document: --file", "%s: %v", file, err)
	}
	in := incoming(file, small, "photos")
	in.Path = strings.TrimSuffix(in.Path, filepath.Ext(in.Path)) + ".jpg"
	if original := sum(data); original != in.SHA256 {
		in.Original = original
	}
	return in, nil
}

// ReadPaper reads a document or a logger file, kept as it is.
func ReadPaper(file string) (*Incoming, error) {
	data, err := readFile(file)
	if err != nil {
		return nil, err
	}
	folder := "papers"
	if ending := strings.ToLower(filepath.Ext(file)); ending == ".csv" || ending == ".tsv" || ending == ".txt" {
		folder = "logs"
	}
	return incoming(file, data, folder), nil
}

func readFile(file string) ([]byte, error) {
	stat, err := os.Stat(file)
	if err != nil {
		return nil, problem(ErrNotFound, "check the path; put quotes round a name with spaces", "cannot read %s: %v", file, rootCause(err))
	}
	switch {
	case !stat.Mode().IsRegular():
		return nil, problem(ErrInput, "name a file; a folder of photos goes with: proveout attach", "%s is not a file", file)
	case stat.Size() == 0:
		return nil, problem(ErrInput, "copy it again from the camera or logger", "%s is empty", file)
	case stat.Size() > maxEvidence:
		return nil, problem(ErrInput, "split it, or keep it elsewhere and attach a note that says where", "%s is larger than 512 MiB", file)
	}
	return os.ReadFile(file)
}

func rootCause(err error) error {
	if e, ok := err.(*os.PathError); ok {
		return e.Err
	}
	return err
}

func incoming(file string, data []byte, folder string) *Incoming {
	in := &Incoming{bytes: data}
	in.SHA256, in.Name = sum(data), filepath.Base(file)
	in.Path = fmt.Sprintf("evidence/%s/%s-%s", folder, in.SHA256[:8], slug(in.Name))
	return in
}

// slug makes a safe file name from a person's: lower-case letters, digits and
// hyphens, at most 40 characters, the ending kept.
func slug(name string) string {
	ending := safe(strings.TrimPrefix(filepath.Ext(name), "."))
	base := safe(strings.TrimSuffix(name, filepath.Ext(name)))
	if base == "" {
		base = "file"
	}
	base = strings.TrimRight(base[:min(len(base), 40)], "-")
	if ending == "" {
		return base
	}
	return base + "." + ending[:min(len(ending), 8)]
}

func safe(text string) string {
	var b strings.Builder
	for _, r := range strings.ToLower(text) {
		if r >= 'a' && r <= 'z' || r >= '0' && r <= '9' {
			b.WriteRune(r)
		} else if b.Len() > 0 && !strings.HasSuffix(b.String(), "-") {
			b.WriteByte('-')
		}
	}
	return strings.Trim(b.String(), "-")
}

// store writes the file into the job, unless the job has it already.
func (in *Incoming) store(j *Job, op *store.Operation) error {
	if j.exists(in.Path) && j.hash(in.Path, map[string]string{}) == in.SHA256 {
		return nil
	}
	_, _, err := op.CopyIn(in.Path, bytes.NewReader(in.bytes))
	if errors.Is(err, fs.ErrExist) {
		return problem(ErrIntegrity, "give the file another name; look with: proveout verify", "%s is there already with other content", in.Path)
	}
	return err
}

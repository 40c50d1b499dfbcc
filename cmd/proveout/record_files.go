package main

import (
	"fmt"
	"runtime"
	"strings"
	"sync"

	"proveout/jobs"
)

// manyPhotos is when shrinking takes long enough to tell how far it is.
const manyPhotos = 4

// readPhotos reads and shrinks photos. All files that cannot be read are
// reported.
func (d *desk) readPhotos(files []string) ([]*jobs.Incoming, error) {
	if len(files) == 0 {
		return nil, nil
	}
	photos, errs := d.shrink(files)
	if err := d.c.Context().Err(); err != nil {
		return nil, fmt.Errorf("%w: nothing was written", err)
	}
	return photos, unreadable(errs)
}

// shrink reads photos, several at a time, and tells how far it is.
func (d *desk) shrink(files []string) ([]*jobs.Incoming, []error) {
	photos, errs := make([]*jobs.Incoming, len(files)), make([]error, len(files))
	done := 0
	var lock sync.Mutex
	var workers sync.WaitGroup
	work := make(chan int)
	for range min(runtime.NumCPU(), len(files)) {
		workers.Go(func() {
			for i := range work {
				path := d.e.path(files[i])
				photos[i], errs[i] = jobs.ReadPhoto(path, d.job.PhotoSize)
				errs[i] = asTyped(errs[i], path, files[i])
				lock.Lock()
				done++
				d.progress(done, len(files))
				lock.Unlock()
			}
		})
	}
	for i := range files {
		if d.c.Context().Err() != nil {
			break
		}
		work <- i
	}
	close(work)
	workers.Wait()
	return photos, errs
}

// progress tells how many photos are read: on one line of a terminal, else
// every fifty.
func (d *desk) progress(n, of int) {
	switch {
	case of < manyPhotos:
	case d.e.terminal && n == of:
		d.e.sayf("\rphoto %d of %d\n", n, of)
	case d.e.terminal:
		d.e.sayf("\rphoto %d of %d", n, of)
	case n%50 == 0 || n == of:
		d.e.sayf("photo %d of %d\n", n, of)
	}
}

// unreadable joins what is wrong with files into one error of the first one's
// kind.
func unreadable(errs []error) error {
	var first error
	var texts []string
	for _, err := range errs {
		if err == nil {
			continue
		}
		if first == nil {
			first = err
		}
		texts = append(texts, err.Error())
	}
	if len(texts) < 2 {
		return first
	}
	return &retoldError{first, strings.Join(texts, "\n") + "\nnothing was written"}
}

// retoldError says an error in other words.
type retoldError struct {
	error
	text string
}

func (e *retoldError) Error() string { return e.text }
func (e *retoldError) Unwrap() error { return e.error }

// asTyped names a file in an error as the person typed it.
func asTyped(err error, path, typed string) error {
	if err == nil || path == typed {
		return err
	}
	return &retoldError{err, strings.ReplaceAll(err.Error(), path, typed)}
}

// readFiles reads documents and logger files.
func (d *desk) readFiles(files []string) ([]*jobs.Incoming, error) {
	var all []*jobs.Incoming
	var errs []error
	for _, f := range files {
		path := d.e.path(f)
		in, err := jobs.ReadPaper(path)
		all, errs = append(all, in), append(errs, asTyped(err, path, f))
	}
	return all, unreadable(errs)
}

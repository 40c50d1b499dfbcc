package logs

import (
	"bytes"
	"errors"
	"io"

	"golang.org/x/text/transform"
)

// Read detects the zero fields of d and reads the whole file. The columns share
// their times, which are ascending: a file with its newest row first is turned
// round, one in mixed order is sorted and says so in Preview.
//
// Errors: those of Detect, and ErrEmpty when every row was rejected. A row or
// cell that cannot be read is not an error but a Rejection.
func Read(data []byte, d Dialect) (*File, error) {
	d, p, err := Detect(data, d)
	if err != nil {
		return nil, err
	}
	r, err := newReader(d, p.Interval, p.Order == newestFirst)
	if err != nil {
		return nil, err
	}
	enc, err := d.Charset.encoding()
	if err != nil {
		return nil, err
	}
	body := cutMark(data, d.Charset)
	if enc != nil {
		err = r.stream(transform.NewReader(bytes.NewReader(body), enc.NewDecoder()))
	} else {
		r.reserve(bytes.Count(body, []byte{newlineOf(body)}) + 1)
		r.newline = newlineOf(body)
		r.records(&scanner{text: body, newline: r.newline, split: &r.split})
	}
	if err != nil {
		return nil, err
	}
	return r.file(p)
}

// ReadFrom is Read for a stream. It holds the beginning of the file and the
// values, not the text; if day and month stay open it reads on until they are
// settled.
func ReadFrom(in io.Reader, d Dialect) (*File, error) {
	var head []byte
	for size := 4 * headBytes; ; size *= 2 {
		more, err := io.ReadAll(io.LimitReader(in, int64(size-len(head))))
		if err != nil {
			return nil, err
		}
		head = append(head, more...)
		if len(head) < size {
			return Read(head, d)
		}
		settled, p, err := Detect(head, d)
		if errors.Is(err, ErrAmbiguousDate) || errors.Is(err, ErrNoTimes) && size < 64*headBytes {
			continue
		}
		if err != nil {
			return nil, err
		}
		return readOn(head, in, settled, p)
	}
}

// readOn reads the file whose beginning is head.
func readOn(head []byte, in io.Reader, d Dialect, p Preview) (*File, error) {
	r, err := newReader(d, p.Interval, p.Order == newestFirst)
	if err != nil {
		return nil, err
	}
	enc, err := d.Charset.encoding()
	if err != nil {
		return nil, err
	}
	whole := io.MultiReader(bytes.NewReader(cutMark(head, d.Charset)), in)
	if enc != nil {
		whole = transform.NewReader(whole, enc.NewDecoder())
	}
	if err := r.stream(whole); err != nil {
		return nil, err
	}
	return r.file(p)
}

// longestLine ends the reading of a file whose lines have no end.
const longestLine = 1 << 20

// stream reads records from UTF-8 text that arrives in pieces.
func (r *reader) stream(in io.Reader) error {
	buf := make([]byte, 0, 64<<10)
	scan := scanner{split: &r.split}
	for {
		n, err := io.ReadFull(in, buf[len(buf):cap(buf)])
		buf = buf[:len(buf)+n]
		if r.newline == 0 {
			r.newline = newlineOf(buf)
			scan.newline = r.newline
		}
		scan.more = err == nil
		scan.text = buf
		r.records(&scan)
		switch {
		case err == io.EOF || err == io.ErrUnexpectedEOF:
			return nil
		case err != nil:
			return err
		case len(scan.text) >= longestLine:
			return problemf(ErrNotText, "line %d is longer than %d bytes: this is not a logger's text file", scan.lines+1, longestLine)
		}
		rest := copy(buf[:cap(buf)], scan.text)
		buf = buf[:rest]
		if rest*2 > cap(buf) {
			buf = append(make([]byte, 0, cap(buf)*2), buf...)
		}
	}
}

// records reads all records that are complete.
func (r *reader) records(scan *scanner) {
	for {
		record, ended, ok := scan.next()
		if !ok {
			return
		}
		if scan.line >= r.d.First {
			r.line = scan.line
			r.row(record, ended)
		}
	}
}

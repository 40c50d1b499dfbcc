package store

import (
	"bytes"
	"crypto/sha1"
	"encoding/binary"
	"errors"
	"fmt"
	"io/fs"
	"slices"

	"github.com/go-git/go-git/v5/plumbing"
	gitindex "github.com/go-git/go-git/v5/plumbing/format/index"
)

// The index, format version 2, kept as the bytes of its entries, so that one
// entry is changed without decoding thousands: git's
// Documentation/gitformat-index.txt. Versions 3 and 4 are read with go-git and
// written back as 2.
const (
	entryHead     = 62 // stamp, hash, flags
	entryHash     = 40
	entryFlags    = 60
	flagNameMask  = 0x0fff
	flagStageMask = 0x3000
	flagExtended  = 0x4000
	maxIndex      = 256 << 20
)

// index is a read index. One that is missing or unreadable has no entries; it
// is only a copy of the head commit and of what the system says of the files.
type index struct {
	entries        []indexEntry // sorted by name
	mtime, mtimeNs uint32       // of the index file
}

// indexEntry points into the index's bytes.
type indexEntry struct {
	raw  []byte
	name []byte
}

func (e indexEntry) stamp() stamp        { return decodeStamp(e.raw) }
func (e indexEntry) hash() plumbing.Hash { return plumbing.Hash(e.raw[entryHash:entryFlags]) }

// newIndexEntry encodes a plain file.
func newIndexEntry(name string, h plumbing.Hash, s stamp) indexEntry {
	raw := make([]byte, entryLength(len(name)))
	s.encode(raw)
	copy(raw[entryHash:], h[:])
	binary.BigEndian.PutUint16(raw[entryFlags:], uint16(min(len(name), flagNameMask)))
	copy(raw[entryHead:], name)
	return indexEntry{raw, raw[entryHead : entryHead+len(name)]}
}

// entryLength is padded with one to eight zero bytes to a multiple of eight.
func entryLength(name int) int { return (entryHead + name + 8) &^ 7 }

// find returns the entry of a name. Names are looked up in order of name.
func (x *index) find(name string) (indexEntry, bool) {
	at, found := slices.BinarySearchFunc(x.entries, name, func(e indexEntry, name string) int {
		return bytes.Compare(e.name, []byte(name))
	})
	if !found {
		return indexEntry{}, false
	}
	return x.entries[at], true
}

// trusts reports whether an entry's stamp proves that a file is unchanged. One
// changed in the same tick of the clock as the index was written, or later,
// proves nothing: it may have changed again.
func (x *index) trusts(s stamp) bool { return s.before(x.mtime, x.mtimeNs) }

// readIndex reads the index file. ok is false when there is none that can be
// used.
func (r *Repo) readIndex() (x *index, ok bool, err error) {
	info, err := r.git.Lstat("index")
	if errors.Is(err, fs.ErrNotExist) {
		return &index{}, false, nil
	}
	if err != nil {
		return nil, false, err
	}
	data, err := readAll(r.git, "index", maxIndex)
	if err != nil && !errors.Is(err, ErrCorrupt) {
		return nil, false, err
	}
	x, err = parseIndex(data)
	if err != nil {
		return &index{}, false, nil
	}
	x.mtime, x.mtimeNs = uint32(info.ModTime().Unix()), uint32(info.ModTime().Nanosecond())
	return x, true, nil
}

// parseIndex reads the bytes of an index file.
func parseIndex(data []byte) (*index, error) {
	if len(data) < 12+sha1.Size || string(data[:4]) != "DIRC" {
		return nil, errors.New("not an index")
	}
	if version := binary.BigEndian.Uint32(data[4:]); version != 2 {
		return convertIndex(data)
	}
	end := len(data) - sha1.Size
	sum := sha1.Sum(data[:end])
	if !bytes.Equal(sum[:], data[end:]) && !bytes.Equal(data[end:], make([]byte, sha1.Size)) { // zero: git's index.skipHash
		return nil, errors.New("its checksum is wrong")
	}
	count := int(binary.BigEndian.Uint32(data[8:]))
	body := data[12:end]
	x := &index{entries: make([]indexEntry, 0, min(count, len(body)/entryLength(1)))}
	for range count {
		e, rest, err := cutEntry(body)
		if err != nil {
			return nil, err
		}
		if n := len(x.entries); n > 0 && bytes.Compare(x.entries[n-1].name, e.name) >= 0 {
			return nil, fmt.Errorf("entry %q is out of order or unmerged", e.name)
		}
		x.entries, body = append(x.entries, e), rest
	}
	return x, checkExtensions(body)
}

// cutEntry cuts the first entry off.
func cutEntry(body []byte) (e indexEntry, rest []byte, err error) {
	if len(body) < entryHead {
		return e, nil, errors.New("an entry is cut off")
	}
	flags := binary.BigEndian.Uint16(body[entryFlags:])
	if flags&(flagExtended|flagStageMask) != 0 {
		return e, nil, errors.New("an entry is unmerged or of a newer format")
	}
	length := bytes.IndexByte(body[entryHead:], 0)
	if length < 1 || entryLength(length) > len(body) || min(length, flagNameMask) != int(flags&flagNameMask) {
		return e, nil, errors.New("an entry's name is cut off")
	}
	end := entryLength(length)
	return indexEntry{body[:end], body[entryHead : entryHead+length]}, body[end:], nil
}

// checkExtensions refuses an index that needs one to be understood; optional
// ones, which begin with a capital, are left out when it is written again.
func checkExtensions(body []byte) error {
	for len(body) > 0 {
		if len(body) < 8 {
			return errors.New("an extension is cut off")
		}
		if body[0] < 'A' || body[0] > 'Z' {
			return fmt.Errorf("the extension %q is unknown", body[:4])
		}
		size := int(binary.BigEndian.Uint32(body[4:]))
		if size > len(body)-8 {
			return errors.New("an extension is cut off")
		}
		body = body[8+size:]
	}
	return nil
}

// convertIndex reads versions 3 and 4.
func convertIndex(data []byte) (*index, error) {
	var old gitindex.Index
	if err := gitindex.NewDecoder(bytes.NewReader(data)).Decode(&old); err != nil {
		return nil, err
	}
	x := &index{}
	for _, e := range old.Entries {
		if e.Stage != 0 {
			return nil, errors.New("an entry is unmerged")
		}
		if e.IntentToAdd {
			continue
		}
		x.entries = append(x.entries, newIndexEntry(e.Name, e.Hash, stamp{
			ctime: uint32(e.CreatedAt.Unix()), ctimeNs: uint32(e.CreatedAt.Nanosecond()),
			mtime: uint32(e.ModifiedAt.Unix()), mtimeNs: uint32(e.ModifiedAt.Nanosecond()),
			dev: e.Dev, ino: e.Inode, uid: e.UID, gid: e.GID, size: e.Size,
		}))
	}
	slices.SortFunc(x.entries, func(a, b indexEntry) int { return bytes.Compare(a.name, b.name) })
	return x, nil
}

// encode is the index file's bytes.
func (x *index) encode() []byte {
	size := 12 + sha1.Size
	for _, e := range x.entries {
		size += len(e.raw)
	}
	out := append(make([]byte, 0, size), "DIRC\x00\x00\x00\x02"...)
	out = binary.BigEndian.AppendUint32(out, uint32(len(x.entries)))
	for _, e := range x.entries {
		out = append(out, e.raw...)
	}
	sum := sha1.Sum(out)
	return append(out, sum[:]...)
}

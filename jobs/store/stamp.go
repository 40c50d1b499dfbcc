package store

import (
	"encoding/binary"
	"io/fs"
)

// stamp is what the system says of a file, cut to 32 bits each as git's index
// keeps it. Two equal stamps mean an unchanged file, if it was last changed
// before the index was written: on Linux and macOS ctime cannot be set, so that
// an edit which puts back the old mtime is seen too. Windows has no ctime for
// programs; there the field is the time of creation and a deliberate edit can
// hide, which [Repo.ChangesByContent] finds.
type stamp struct {
	ctime, ctimeNs uint32
	mtime, mtimeNs uint32
	dev, ino       uint32
	uid, gid       uint32
	size           uint32
}

// same ignores owner and device: the one is in ctime, the other changes when a
// disk is plugged in again.
func (s stamp) same(t stamp) bool {
	s.dev, s.uid, s.gid = t.dev, t.uid, t.gid
	return s == t
}

// before reports whether s was last changed before a moment in index time.
func (s stamp) before(seconds, nanoseconds uint32) bool {
	return s.mtime < seconds || s.mtime == seconds && s.mtimeNs < nanoseconds
}

// newStamp has the zero owner, device and inode where the system has none.
func newStamp(info fs.FileInfo) stamp {
	s := systemStamp(info)
	s.mtime, s.mtimeNs = uint32(info.ModTime().Unix()), uint32(info.ModTime().Nanosecond())
	s.size = uint32(info.Size())
	return s
}

// Offsets in an index entry, from git's Documentation/gitformat-index.txt:
// ten 32-bit numbers in network order, then the hash, then the flags.
func decodeStamp(raw []byte) stamp {
	at := func(i int) uint32 { return binary.BigEndian.Uint32(raw[4*i:]) }
	return stamp{at(0), at(1), at(2), at(3), at(4), at(5), at(7), at(8), at(9)}
}

func (s stamp) encode(raw []byte) {
	for i, v := range []uint32{s.ctime, s.ctimeNs, s.mtime, s.mtimeNs, s.dev, s.ino, 0o100644, s.uid, s.gid, s.size} {
		binary.BigEndian.PutUint32(raw[4*i:], v)
	}
}

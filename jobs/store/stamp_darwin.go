package store

import (
	"io/fs"
	"syscall"
)

func systemStamp(info fs.FileInfo) stamp {
	sys, ok := info.Sys().(*syscall.Stat_t)
	if !ok {
		return stamp{}
	}
	return stamp{
		ctime: uint32(sys.Ctimespec.Sec), ctimeNs: uint32(sys.Ctimespec.Nsec),
		dev: uint32(sys.Dev), ino: uint32(sys.Ino), uid: sys.Uid, gid: sys.Gid,
	}
}

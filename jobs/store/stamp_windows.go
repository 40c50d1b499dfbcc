package store

import (
	"io/fs"
	"syscall"
)

func systemStamp(info fs.FileInfo) stamp {
	sys, ok := info.Sys().(*syscall.Win32FileAttributeData)
	if !ok {
		return stamp{}
	}
	ns := sys.CreationTime.Nanoseconds()
	return stamp{ctime: uint32(ns / 1e9), ctimeNs: uint32(ns % 1e9)}
}

package store

import "errors"

// The disks of these children are made with mount namespaces, which Linux has.
var errLinux = errors.New("for Linux")

func childFull(string) error      { return errLinux }
func childLimited(string) error   { return errLinux }
func childReadOnly(string) error  { return errLinux }
func childProtected(string) error { return errLinux }

package store

import (
	"errors"
	"io/fs"
	"path"
)

// WriteFile writes or replaces a file below dir that belongs to no job, such as
// a client's, as safely as a job's files: it is there in whole or not at all,
// and on the disk when WriteFile returns.
func WriteFile(dir, name string, data []byte) error {
	if err := CheckPath(name); err != nil {
		return err
	}
	folder, err := osFilesystem{}.OpenFolder(dir)
	if err != nil {
		return onDisk(err)
	}
	err = replaceFile(folder, name, data)
	return onDisk(errors.Join(err, folder.Close()))
}

func replaceFile(folder Folder, name string, data []byte) error {
	if err := makeFolders(folder, path.Dir(name), 0o755); err != nil {
		return err
	}
	temp := path.Join(path.Dir(name), ".proveout-"+path.Base(name)+".tmp")
	if err := folder.Remove(temp); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err // what a killed process left
	}
	if err := durableFile(folder, temp, 0o644, text(data)); err != nil {
		return err
	}
	if err := folder.Rename(temp, name); err != nil {
		return err
	}
	return folder.Sync(path.Dir(name))
}

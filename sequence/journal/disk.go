package journal

// The few file operations that the journal needs, as a seam: tests make the
// n-th of them fail, or take the power away.

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"syscall"
)

// Disk opens a journal's files. Names have no path in them.
type Disk interface {
	// Create makes a new file to append to, and its folder where it is
	// missing. It fails with fs.ErrExist where there is one of that name.
	Create(folder, name string) (File, error)
	// Open opens a file to append to.
	Open(folder, name string) (File, error)
	// Rename gives a closed file another name in its folder.
	Rename(folder, from, to string) error
	// Remove deletes a file.
	Remove(folder, name string) error
	// SyncFolder makes the names in a folder last.
	SyncFolder(folder string) error
}

// File is an open file. After a failed Sync it is only closed: what the kernel
// then still holds of it is unknown.
type File interface {
	Write(p []byte) (int, error)
	Sync() error
	Truncate(size int64) error
	Close() error
	// Lock takes the file for this process alone until it is closed.
	Lock() error
	// At says what has become of the file where it is no longer the regular file of
	// that name, with that size; nil where it is.
	At(folder, name string, size int64) error
}

// System is the computer's own disk: files 0600, folders 0700.
type System struct{}

// Create makes a new file.
func (System) Create(folder, name string) (File, error) {
	if err := makeFolder(folder); err != nil {
		return nil, err
	}
	return openIn(folder, name, os.O_CREATE|os.O_EXCL|os.O_WRONLY|os.O_APPEND)
}

// Open opens an existing file.
func (System) Open(folder, name string) (File, error) {
	return openIn(folder, name, os.O_WRONLY|os.O_APPEND)
}

// Rename gives a file another name.
func (System) Rename(folder, from, to string) error {
	root, err := os.OpenRoot(folder)
	if err != nil {
		return err
	}
	defer root.Close()
	return root.Rename(from, to)
}

// Remove deletes a file.
func (System) Remove(folder, name string) error {
	root, err := os.OpenRoot(folder)
	if err != nil {
		return err
	}
	defer root.Close()
	return root.Remove(name)
}

// SyncFolder syncs the directory. Windows has no such thing; some network
// file systems refuse.
func (System) SyncFolder(folder string) error {
	if runtime.GOOS == "windows" {
		return nil
	}
	d, err := os.Open(folder)
	if err != nil {
		return err
	}
	defer d.Close()
	return unlessUnknown(d.Sync())
}

// unlessUnknown is a failure to sync, but for that of a file system that knows no such thing.
func unlessUnknown(err error) error {
	if errors.Is(err, syscall.EINVAL) || errors.Is(err, errors.ErrUnsupported) {
		return nil
	}
	return err
}

func openIn(folder, name string, flag int) (File, error) {
	root, err := os.OpenRoot(folder)
	if err != nil {
		return nil, err
	}
	defer root.Close()
	f, err := root.OpenFile(name, flag, 0o600)
	if err != nil {
		return nil, err
	}
	return systemFile{f}, nil
}

// systemFile is a file of the computer's.
type systemFile struct{ *os.File }

// Lock takes the file.
func (f systemFile) Lock() error { return lockFile(f.File) }

// At compares the open file with the one of that name: device, inode, kind and size.
func (f systemFile) At(folder, name string, size int64) error {
	is, err := os.Lstat(filepath.Join(folder, name))
	if errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("%s was moved away or deleted", name)
	}
	if err != nil {
		return err
	}
	have, err := f.Stat()
	if err != nil {
		return err
	}
	switch {
	case is.Mode()&fs.ModeSymlink != 0:
		return fmt.Errorf("%s was made a link", name)
	case !is.Mode().IsRegular() || !os.SameFile(is, have):
		return fmt.Errorf("%s was replaced", name)
	case is.Size() != size:
		return fmt.Errorf("%s has %d bytes; expected the %d that were written", name, is.Size(), size)
	}
	return nil
}

// makeFolder makes a folder and those above it that are missing, each synced
// into the one above.
func makeFolder(folder string) error {
	if info, err := os.Stat(folder); err == nil {
		if !info.IsDir() {
			return &fs.PathError{Op: "mkdir", Path: folder, Err: syscall.ENOTDIR}
		}
		return trusted(folder)
	}
	above := filepath.Dir(folder)
	if above == folder {
		return &fs.PathError{Op: "mkdir", Path: folder, Err: fs.ErrNotExist}
	}
	if _, err := os.Stat(above); err != nil {
		if err := makeFolder(above); err != nil {
			return err
		}
	}
	if err := os.Mkdir(folder, 0o700); err != nil && !errors.Is(err, fs.ErrExist) {
		return err
	}
	if err := trusted(folder); err != nil {
		return err
	}
	return System{}.SyncFolder(above)
}

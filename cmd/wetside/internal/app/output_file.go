package app

// Files that a command writes because it was asked to (--picture, --csv, --html, --wall, wav:FILE):
// none is written over unasked, and none ever that was read or that wetside keeps.

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/places"
)

// WriteOutput writes a file whole or not at all. One that is there is left alone unless force is
// set; one of those that were read, and one that wetside keeps, always.
func WriteOutput(name string, text []byte, force bool, read ...string) error {
	if err := CheckOutput(name, force, read...); err != nil {
		return err
	}
	info, err := os.Stat(name)
	switch {
	case err != nil:
		return alreadyThere(name, WriteNewFile(name, text))
	case !info.Mode().IsRegular(): // a pipe, a terminal: nothing is lost there
		return writeInto(name, text)
	}
	path, err := filepath.EvalSymlinks(name)
	if err != nil {
		return err
	}
	return writeBeside(path, text)
}

// CheckOutput says why a file may not be written.
func CheckOutput(name string, force bool, read ...string) error {
	info, err := os.Stat(name)
	switch {
	case err == nil && info.IsDir():
		return fmt.Errorf("%s: a folder; expected the name of a file", safetext.Clean(name))
	case err != nil || !info.Mode().IsRegular():
		return nil
	}
	for _, other := range read {
		if is, err := os.Stat(other); err == nil && os.SameFile(is, info) {
			return fmt.Errorf("%s: is read by this command, and is not written over; expected another name", safetext.Clean(name))
		}
	}
	if isKept(name) {
		return fmt.Errorf("%s: is kept by wetside, and is not written over; expected another name", safetext.Clean(name))
	}
	if !force {
		return alreadyThere(name, fs.ErrExist)
	}
	return nil
}

// MakeWay is CheckOutput for a file that is written later: one that may be written over is taken away.
func MakeWay(name string, force bool, read ...string) error {
	if err := CheckOutput(name, force, read...); err != nil || !force {
		return err
	}
	if info, err := os.Stat(name); err == nil && info.Mode().IsRegular() {
		return os.Remove(name)
	}
	return nil
}

// CheckFolder says that the folder of a file that is written later is not there.
func CheckFolder(name string) error {
	if _, err := os.Stat(filepath.Dir(name)); errors.Is(err, fs.ErrNotExist) {
		return noFolder(name)
	}
	return nil
}

// FreeName is a file's name, or where that is taken by a file the next with a number: heard-2.wav.
func FreeName(name string) string {
	ending := filepath.Ext(name)
	stem := strings.TrimSuffix(name, ending)
	for n := 2; ; n++ {
		info, err := os.Lstat(name)
		if err != nil || info.Mode()&(fs.ModeNamedPipe|fs.ModeDevice) != 0 {
			return name
		}
		name = fmt.Sprintf("%s-%d%s", stem, n, ending)
	}
}

func alreadyThere(name string, err error) error {
	if errors.Is(err, fs.ErrExist) {
		return fmt.Errorf("%s: is there already; expected a new name, or --force to write over it", safetext.Clean(name))
	}
	return err
}

// isKept reports whether a file lies in one of wetside's own folders, or is a session's record
// wherever it lies.
func isKept(name string) bool {
	path, err := filepath.EvalSymlinks(name)
	if err != nil {
		return true
	}
	if path, err = filepath.Abs(path); err != nil {
		return true
	}
	own := append(journal.Folders(), places.State(""), places.Data(""), places.Config(""))
	for _, folder := range own {
		if real, err := filepath.EvalSymlinks(folder); err == nil && folder != "" {
			if inside, err := filepath.Rel(real, path); err == nil && filepath.IsLocal(inside) {
				return true
			}
		}
	}
	f, err := os.Open(path)
	if err != nil {
		return false // nor can it be written
	}
	defer f.Close()
	head := make([]byte, len(recordHead))
	n, _ := f.Read(head)
	return bytes.Equal(head[:n], recordHead)
}

// recordHead begins every journal.
var recordHead = []byte(`{"v":1,"seq":0,`)

func writeInto(name string, text []byte) error {
	f, err := os.OpenFile(name, os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	return writeClose(f, text)
}

func writeClose(f *os.File, text []byte) error {
	_, err := f.Write(text)
	return cmp.Or(err, f.Close())
}

// writeBeside writes a file anew, so that at no moment it is half written.
func writeBeside(path string, text []byte) error {
	f, err := os.CreateTemp(filepath.Dir(path), ".wetside-*") // mode 0600
	if err != nil {
		return err
	}
	_, err = f.Write(text)
	if err == nil {
		err = f.Sync()
	}
	if err = cmp.Or(err, f.Close()); err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		_ = os.Remove(f.Name())
	}
	return err
}

// Package plainfile reads files that a person names: never more of them than is wanted, and
// without waiting for a pipe that nobody writes.
//
// For whoever reads what comes from outside. Start with Read. It knows no format.
package plainfile

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"time"
)

// patience is how long something that is no file, as a pipe, is read: answers come within a second.
const patience = 700 * time.Millisecond

// TooLargeError says that a file is larger than what it should hold ever is.
type TooLargeError struct {
	Path string
	Most int64 // bytes
}

func (e *TooLargeError) Error() string {
	return fmt.Sprintf("%s: over %d KiB; expected less", e.Path, e.Most>>10)
}

// Read reads all of a file of at most so many bytes. A pipe is read if all of it comes soon
// (patience).
func Read(path string, most int64) ([]byte, error) {
	f, err := openNamed(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	if info, err := f.Stat(); err == nil && info.IsDir() {
		return nil, fmt.Errorf("%s: a folder; expected a file", path)
	}
	f.SetReadDeadline(time.Now().Add(patience)) // of a file there is none
	data, err := io.ReadAll(io.LimitReader(f, most+1))
	switch {
	case errors.Is(err, os.ErrDeadlineExceeded):
		return nil, fmt.Errorf("%s: its end did not come soon; expected a file", path)
	case err != nil:
		return nil, err
	case int64(len(data)) > most:
		return nil, &TooLargeError{path, most}
	case len(data) == 0 && isPipe(f):
		return nil, fmt.Errorf("%s: a pipe that nobody writes into; expected a file", path)
	}
	return data, nil
}

func isPipe(f *os.File) bool {
	info, err := f.Stat()
	return err == nil && info.Mode()&fs.ModeNamedPipe != 0
}

// ReadRegular is Read for what can only be a file, and tells what the file system knows of it.
func ReadRegular(path string, most int64) ([]byte, fs.FileInfo, error) {
	f, err := openNamed(path)
	if err != nil {
		return nil, nil, err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return nil, nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, nil, fmt.Errorf("%s: %s; expected a file", path, kind(info.Mode()))
	}
	data, err := io.ReadAll(io.LimitReader(f, most+1))
	if err == nil && int64(len(data)) > most {
		err = &TooLargeError{path, most}
	}
	return data, info, err
}

// openNamed opens a file; the error says why not, the file first.
func openNamed(path string) (*os.File, error) {
	f, err := open(path)
	var failed *fs.PathError
	if errors.As(err, &failed) {
		return f, &openError{path, failed.Err}
	}
	return f, err
}

// openError says why a file cannot be read, the file first.
type openError struct {
	path string
	why  error
}

func (e *openError) Unwrap() error { return e.why }

func (e *openError) Error() string {
	switch {
	case errors.Is(e.why, fs.ErrNotExist):
		return e.path + ": no such file"
	case errors.Is(e.why, fs.ErrPermission):
		return e.path + ": you may not read it"
	}
	return e.path + ": " + e.why.Error()
}

func kind(m fs.FileMode) string {
	switch {
	case m.IsDir():
		return "a folder"
	case m&fs.ModeNamedPipe != 0:
		return "a pipe"
	}
	return "a device"
}

package plainfile

// Windows lets nobody rename or remove an open file whose reader did not allow it, and Go's
// own Open does not: a program that writes a thermometer's file anew would fail now and then.

import (
	"os"

	"golang.org/x/sys/windows"
)

// open lets another program rename over the file, or remove it, meanwhile.
func open(path string) (*os.File, error) {
	name, err := windows.UTF16PtrFromString(path)
	if err != nil {
		return nil, &os.PathError{Op: "open", Path: path, Err: err}
	}
	h, err := windows.CreateFile(name, windows.GENERIC_READ, windows.FILE_SHARE_READ|windows.FILE_SHARE_WRITE|windows.FILE_SHARE_DELETE,
		nil, windows.OPEN_EXISTING, windows.FILE_FLAG_BACKUP_SEMANTICS, 0) // a folder too, which is then told from a file
	if err != nil {
		return nil, &os.PathError{Op: "open", Path: path, Err: err}
	}
	return os.NewFile(uintptr(h), path), nil
}

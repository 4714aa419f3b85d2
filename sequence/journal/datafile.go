package journal

// Other files that are kept as a journal is: whole, synced, under a safe name.

import (
	"cmp"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"example.org/wetside/sequence"
)

// IsID reports whether the journal takes a name for an id.
func IsID(name string) bool {
	return name != "" && len(name) <= 100 && !strings.ContainsFunc(name, func(c rune) bool {
		return c != '-' && (c < '0' || c > '9') && (c < 'a' || c > 'z') && (c < 'A' || c > 'Z')
	})
}

// AddLine is AppendLine of a value's JSON. Nobody else writes to the folder meanwhile.
func AddLine(d Disk, folder, name string, value any) error {
	line, err := sequence.Marshal(value)
	if err != nil {
		return err
	}
	hold, err := LockFolder(folder)
	if err != nil {
		return err
	}
	defer hold.Release()
	return AppendLine(d, folder, name, line)
}

// AppendLine is one write and one fsync, and one more of the folder where the
// file is new. A line that an earlier write left unfinished is closed off first.
// The folder is held. A disk of nil is the computer's own.
func AppendLine(d Disk, folder, name string, line []byte) error {
	d = cmp.Or[Disk](d, System{})
	text, err := os.ReadFile(filepath.Join(folder, name))
	isNew := errors.Is(err, fs.ErrNotExist)
	if err != nil && !isNew {
		return err
	}
	line = append(line, '\n')
	if len(text) > 0 && text[len(text)-1] != '\n' {
		line = append([]byte{'\n'}, line...)
	}
	open := d.Open
	if isNew {
		open = d.Create
	}
	f, err := open(folder, name)
	if err != nil {
		return err
	}
	if err = putAll(f, line); err == nil && isNew {
		err = d.SyncFolder(folder)
	}
	return err
}

// FileName keeps of a name what any file system takes.
func FileName(name string) string {
	kept := strings.Map(func(c rune) rune {
		switch {
		case c >= 'a' && c <= 'z', c >= '0' && c <= '9', c == '-':
			return c
		case c >= 'A' && c <= 'Z':
			return c + 'a' - 'A'
		}
		return '-'
	}, name)
	const longest = 40
	kept = strings.Trim(kept, "-")
	return cmp.Or(kept[:min(len(kept), longest)], "laptop")
}

// ReplaceFile writes a file whole or not at all, on disk when it returns: a new one beside
// the old one, then its name. A disk of nil is the computer's own.
func ReplaceFile(disk Disk, folder, name string, text []byte) error {
	disk = cmp.Or[Disk](disk, System{})
	fresh := name + ".new"
	f, err := disk.Create(folder, fresh)
	if errors.Is(err, fs.ErrExist) { // of a write that was cut off
		if err = disk.Remove(folder, fresh); err == nil {
			f, err = disk.Create(folder, fresh)
		}
	}
	if err != nil {
		return err
	}
	if err = putAll(f, text); err == nil {
		err = disk.Rename(folder, fresh, name)
	}
	if err == nil {
		err = disk.SyncFolder(folder)
	}
	return err
}

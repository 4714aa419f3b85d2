//go:build unix

package journal

// Whether a folder below a shared temporary one is ours, and whose a file is.

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
)

// trusted refuses a folder that somebody else may have laid out under a folder
// where everybody may write.
func trusted(folder string) error {
	const others = 0o002 // may write
	above, err := os.Stat(filepath.Dir(folder))
	if err != nil || above.Mode()&fs.ModeSticky == 0 && above.Mode().Perm()&others == 0 {
		return err
	}
	info, err := os.Lstat(folder)
	if err != nil {
		return err
	}
	if !info.IsDir() || !IsOurs(info) || info.Mode().Perm()&0o077 != 0 {
		return fmt.Errorf("%s: folder is not ours alone; expected one that we own with mode 0700", folder)
	}
	return nil
}

// IsOurs reports whether a file or folder belongs to whoever runs this program.
func IsOurs(info fs.FileInfo) bool {
	st, ok := info.Sys().(*syscall.Stat_t)
	return ok && int(st.Uid) == os.Geteuid()
}

// othersMayWrite reports whether anybody else may put files into a folder.
func othersMayWrite(info fs.FileInfo) bool { return info.Mode().Perm()&0o022 != 0 }

//go:build unix

package journal

// Whether a folder below a shared temporary one is ours.

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
	above, err := os.Stat(filepath.Dir(folder))
	if err != nil || above.Mode()&fs.ModeSticky == 0 {
		return err
	}
	info, err := os.Lstat(folder)
	if err != nil {
		return err
	}
	st, ok := info.Sys().(*syscall.Stat_t)
	if !ok || !info.IsDir() || int(st.Uid) != os.Geteuid() || info.Mode().Perm()&0o077 != 0 {
		return fmt.Errorf("%s: folder is not ours alone; expected one that we own with mode 0700", folder)
	}
	return nil
}

//go:build linux || darwin

package doctor

// Free disk space, by a system call.

import "golang.org/x/sys/unix"

// freeSpace is how many bytes a folder's disk still takes; false where that is not known.
func freeSpace(folder string) (uint64, bool) {
	var st unix.Statfs_t
	if err := unix.Statfs(folder, &st); err != nil {
		return 0, false
	}
	return st.Bavail * uint64(st.Bsize), true
}

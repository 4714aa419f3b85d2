//go:build unix

package running

// Whether a process exists, asked by signal 0.

import "syscall"

// processExists tells whether there is a process with that number.
func processExists(pid int) bool {
	if pid <= 0 {
		return false
	}
	err := syscall.Kill(pid, 0)
	return err == nil || err == syscall.EPERM
}

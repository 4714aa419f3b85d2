//go:build unix

package main

import "syscall"

// alive tells whether there is a process with that number.
func alive(pid int) bool {
	if pid <= 0 {
		return false
	}
	err := syscall.Kill(pid, 0)
	return err == nil || err == syscall.EPERM
}

//go:build unix

package sink

// A player of our own is not reached by the terminal's keys.

import (
	"os/exec"
	"syscall"
)

// detach keeps the keys and the end of our terminal away from a program.
func detach(c *exec.Cmd) { c.SysProcAttr = &syscall.SysProcAttr{Setsid: true} }

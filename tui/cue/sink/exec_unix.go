//go:build unix

package sink

import (
	"os/exec"
	"syscall"
)

// apart keeps the keys and the end of our terminal away from a program.
func apart(c *exec.Cmd) { c.SysProcAttr = &syscall.SysProcAttr{Setsid: true} }

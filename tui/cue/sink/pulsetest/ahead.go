//go:build unix

package pulsetest

// What makes and takes sound goes ahead of what else the machine does.

import (
	"runtime"
	"syscall"
)

// ahead is the nice level at which PulseAudio runs by itself, pulse-daemon.conf(5).
const ahead = -11

// Ahead starts a program at it, where that is allowed: a desktop's sound server is not kept
// waiting by whatever else runs, and a test must not take that for a fault.
func Ahead(start func() error) error {
	runtime.LockOSThread() // a program starts at the level of the thread that starts it
	defer runtime.UnlockOSThread()
	const thisThread = 0
	if raw, err := syscall.Getpriority(syscall.PRIO_PROCESS, thisThread); err == nil &&
		syscall.Setpriority(syscall.PRIO_PROCESS, thisThread, ahead) == nil {
		defer syscall.Setpriority(syscall.PRIO_PROCESS, thisThread, 20-raw) // as getpriority(2) has it: 20 less the level
	}
	return start()
}

package supervisor

// The screens' timers may be a little late, so that the kernel can let several of them
// wake the processor up together. Most are Go's own watchman's, who naps for 20 us at a
// time while anything else is up. Nothing that is heard hangs on a timer: cues are placed
// by the sample.

import (
	"runtime"
	"time"

	"golang.org/x/sys/unix"
)

// TimerSlack is how late a timer may be; the kernel's own measure is 0.05 ms.
const TimerSlack = time.Millisecond

// withTimerSlack starts a process, by a function that forks, whose timers have slack: a thread
// hands its own on to what it starts.
func withTimerSlack(start func() error) error {
	runtime.LockOSThread()
	defer runtime.UnlockOSThread()
	own, err := unix.PrctlRetInt(unix.PR_GET_TIMERSLACK, 0, 0, 0, 0)
	if err == nil && unix.Prctl(unix.PR_SET_TIMERSLACK, uintptr(TimerSlack), 0, 0, 0) == nil {
		defer unix.Prctl(unix.PR_SET_TIMERSLACK, uintptr(own), 0, 0, 0)
	}
	return start()
}

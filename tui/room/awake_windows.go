package room

// Windows: SetThreadExecutionState holds for the thread that asked, until it asks
// for nothing. It cannot keep a closed lid from sending the computer to sleep. Built,
// never run.

import (
	"context"
	"runtime"

	"golang.org/x/sys/windows"
)

// The flags of SetThreadExecutionState (winbase.h).
const (
	esSystemRequired = 0x00000001
	esContinuous     = 0x80000000
)

var setState = windows.NewLazySystemDLL("kernel32.dll").NewProc("SetThreadExecutionState")

func (a *Awake) run(ctx context.Context) {
	runtime.LockOSThread()
	defer runtime.UnlockOSThread()
	if err := setState.Find(); err != nil {
		a.reportUnblocked(err.Error())
		return
	}
	if was, _, _ := setState.Call(esContinuous | esSystemRequired); was == 0 {
		a.reportUnblocked("the system declined")
		return
	}
	a.report("blocked, but not for the lid: leave it open", true)
	<-ctx.Done()
	setState.Call(esContinuous)
}

package app

// A session is hours of waiting on a battery: what it costs is waking up.

import (
	"runtime"
	"runtime/debug"
)

// gcPercent is how much garbage may lie about, in per cent of what is in use, which is a few
// megabytes: clearing it away finds all of it cold after each rest.
const gcPercent = 400

// SavePower lets garbage lie, and leaves Go one processor until a session has ended. Where it has more, each
// timer that fires wakes a second thread to look for work, which finds none. A thread
// that the system holds up holds up the sound then; the loudspeaker has a tenth of a
// second in hand, and through a silence two seconds.
func SavePower(ended <-chan struct{}) {
	runtime.GOMAXPROCS(1)
	was := debug.SetGCPercent(gcPercent)
	go func() {
		<-ended
		runtime.SetDefaultGOMAXPROCS()
		debug.SetGCPercent(was)
	}()
}

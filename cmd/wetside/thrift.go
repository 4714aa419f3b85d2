package main

// A session is hours of waiting on a battery: what it costs is waking up.

import "runtime"

// thrifty leaves Go one processor until a session has ended. Where it has more, each
// timer that fires wakes a second thread to look for work, which finds none. A thread
// that the system holds up holds up the sound then; the loudspeaker has a tenth of a
// second in hand, and through a silence two seconds.
func thrifty(ended <-chan struct{}) {
	runtime.GOMAXPROCS(1)
	go func() {
		<-ended
		runtime.SetDefaultGOMAXPROCS()
	}()
}

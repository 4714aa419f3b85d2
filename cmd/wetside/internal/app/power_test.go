package app

import (
	"runtime"
	"runtime/debug"
	"testing"
	"testing/synctest"
)

// What a session saves is given back at its end.
func TestThriftEndsWithTheSession(t *testing.T) {
	had, garbage := runtime.GOMAXPROCS(0), debug.SetGCPercent(100)
	defer debug.SetGCPercent(garbage)
	defer runtime.GOMAXPROCS(had)
	runtime.SetDefaultGOMAXPROCS()
	all := runtime.GOMAXPROCS(0)
	look := func(when string, processors, percent int) {
		t.Helper()
		p, g := runtime.GOMAXPROCS(0), debug.SetGCPercent(percent)
		if p != processors || g != percent {
			t.Errorf("%s: %d processors and %d %% of garbage; expected %d and %d", when, p, g, processors, percent)
		}
	}
	synctest.Test(t, func(t *testing.T) {
		ended := make(chan struct{})
		SavePower(ended)
		look("in a session", 1, gcPercent)
		close(ended)
		synctest.Wait()
	})
	look("after it", all, 100)
}

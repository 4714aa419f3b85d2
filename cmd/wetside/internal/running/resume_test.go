package running

import (
	"strings"
	"testing"
	"time"

	"example.org/wetside/sequence/clock"
)

// That a computer was started anew is said where that is known, and nowhere else.
func TestWhyTheTimeIsInDoubt(t *testing.T) {
	named := clock.Mark{Boot: "boot-8", Boottime: time.Minute}
	unnamed := clock.Mark{Boot: "process-12-x", Boottime: time.Minute}
	for _, c := range []struct {
		now       clock.Mark
		certainty clock.Certainty
		begins    string
	}{
		{named, clock.Estimated, "the computer was started anew: about"},
		{named, clock.Unknown, "the computer was started anew, and its wall clock is wrong"},
		{unnamed, clock.Estimated, "whether the computer was started anew is not known: about"},
		{unnamed, clock.Unknown, "whether the computer was started anew is not known, and its wall clock is wrong"},
	} {
		if got := resumedTimeText(clock.Resumption{Certainty: c.certainty, Now: c.now}); !strings.HasPrefix(got, c.begins) {
			t.Errorf("%s, %s: %q", c.now.Boot, c.certainty, got)
		}
	}
	if got := resumedTimeText(clock.Resumption{Certainty: clock.Exact, Now: named}); got != "" {
		t.Errorf("exact: %q", got)
	}
}

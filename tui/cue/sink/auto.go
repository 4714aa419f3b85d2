package sink

// The choice among the ways out: the best one that works, and why not a better.

import (
	"os"
	"strings"
)

// way is one way out.
type way struct {
	name string
	open func(Source) (Sink, error)
}

// ways out to a loudspeaker, the best first.
var ways = []way{
	{"pulse", func(s Source) (Sink, error) { return openPulse(s, os.Getenv) }},
	{"device", openDevice},
	{"exec", func(s Source) (Sink, error) { return openExec(s) }},
}

// openAuto opens the first way that works; where none does, the silent one. What
// did not work is in the state.
func openAuto(ways []way, source Source) Sink {
	var reasons []string
	for _, w := range ways {
		s, err := w.open(source)
		if err != nil {
			reasons = append(reasons, w.name+": "+err.Error())
			continue
		}
		if c, tells := s.(interface{ because(string) }); tells {
			c.because(strings.Join(reasons, "; "))
		}
		return s
	}
	return openOff(strings.Join(reasons, "; "), source)
}

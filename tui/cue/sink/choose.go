package sink

// The choice among the ways out: the best one that works, and why not a better.
// Where none works silence stands in, and reconnect.go looks again and again.

import (
	"os"
	"strings"
)

// output is one way out.
type output struct {
	name string
	open func(Source) (Sink, error)
}

// outputs out to a loudspeaker, the best first. The first is cheap to ask for.
var outputs = []output{
	{"pulse", func(s Source) (Sink, error) { return openPulse(s, os.Getenv) }},
	{"device", openDevice},
	{"exec", func(s Source) (Sink, error) { return openExec(s) }},
}

// triedOutputs are those that auto tries: Windows has no sound server and no player to ask.
func triedOutputs(system string) []output {
	if system == "windows" {
		return outputs[1:2]
	}
	return outputs
}

// openAuto opens the first way that works; where none does, a reconnector. What did not
// work is in the state.
func openAuto(ways []output, source Source) Sink {
	out, reasons := firstThatWorks(ways, source)
	if out == nil {
		return newReconnector(ways, source, reasons)
	}
	return out
}

// firstThatWorks opens one way, or says why none opened.
func firstThatWorks(ways []output, source Source) (Sink, string) {
	var reasons []string
	for _, w := range ways {
		s, err := w.open(source)
		if err != nil {
			reasons = append(reasons, w.name+": "+err.Error())
			continue
		}
		if c, tells := s.(interface{ setReason(string) }); tells {
			c.setReason(strings.Join(reasons, "; "))
		}
		return s, ""
	}
	return nil, strings.Join(reasons, "; ")
}

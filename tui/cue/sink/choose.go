package sink

// The choice among the ways out: the best one that works, and why not a better.
// Where none works silence stands in, and it is looked again and again.

import (
	"os"
	"strings"
	"sync"
	"time"
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

// openAuto opens the first way that works; where none does, a seeker. What did not
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
		if c, tells := s.(interface{ because(string) }); tells {
			c.because(strings.Join(reasons, "; "))
		}
		return s, ""
	}
	return nil, strings.Join(reasons, "; ")
}

// reconnector is silent until a way out is found, and is that one from then on.
type reconnector struct {
	worker
	outputs []output
	silent  *silentSink
	gate    *sourceGate

	mu      sync.Mutex
	current Sink // what the person is told of
}

func newReconnector(ways []output, source Source, reasons string) *reconnector {
	g := &sourceGate{source: source}
	g.owner = &gatedSource{g}
	quiet := openSilent(reasons, g.owner)
	s := &reconnector{worker: newWorker(), outputs: ways, silent: quiet, gate: g, current: quiet}
	go s.run()
	return s
}

// run looks for the first way twice a second, and for all with patience: some of
// them start programs.
func (s *reconnector) run() {
	defer close(s.ended)
	var patience backoff
	all := time.Now().Add(patience.next(0))
	for s.sleep(retryFirst) {
		look := s.outputs[:min(1, len(s.outputs))]
		if !time.Now().Before(all) {
			look = s.outputs
			all = time.Now().Add(patience.next(0))
		}
		next := &gatedSource{s.gate}
		out, reasons := firstThatWorks(look, next)
		if out != nil {
			s.gate.handTo(next)
			s.replace(out)
			s.silent.Close()
			return
		}
		if len(look) == len(s.outputs) {
			s.silent.failed(reasons)
		}
	}
}

func (s *reconnector) replace(out Sink) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.current = out
}

func (s *reconnector) currentSink() Sink {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.current
}

func (s *reconnector) Name() string           { return s.currentSink().Name() }
func (s *reconnector) State() string          { return s.currentSink().State() }
func (s *reconnector) Sounding() bool         { return s.currentSink().Sounding() }
func (s *reconnector) Latency() time.Duration { return s.currentSink().Latency() }

// Close ends the looking, and what stands.
func (s *reconnector) Close() error {
	s.worker.Close()
	return s.currentSink().Close()
}

// sourceGate lets one of several sinks pull from a source.
type sourceGate struct {
	source Source
	mu     sync.Mutex
	owner  *gatedSource // whose it is
}

func (g *sourceGate) handTo(t *gatedSource) {
	g.mu.Lock()
	defer g.mu.Unlock()
	g.owner = t
}

// gatedSource is the source as one sink sees it: silent while it is another's turn.
type gatedSource struct{ gate *sourceGate }

// Pull fills frames.
func (t *gatedSource) Pull(frames [][2]float64, heard time.Time) time.Duration {
	t.gate.mu.Lock()
	defer t.gate.mu.Unlock()
	if t.gate.owner != t {
		clear(frames)
		return 0 // nobody knows
	}
	return t.gate.source.Pull(frames, heard)
}

// Wake is the source's: who has no turn is told nothing by what comes of it.
func (t *gatedSource) Wake() <-chan struct{} { return t.gate.source.Wake() }

// Rewind takes back frames.
func (t *gatedSource) Rewind(frames int64) int64 {
	t.gate.mu.Lock()
	defer t.gate.mu.Unlock()
	if t.gate.owner != t {
		return frames
	}
	return t.gate.source.Rewind(frames)
}

// SetLatency passes it on.
func (t *gatedSource) SetLatency(lead time.Duration) {
	t.gate.mu.Lock()
	defer t.gate.mu.Unlock()
	if t.gate.owner == t {
		t.gate.source.SetLatency(lead)
	}
}

package sink

// The choice among the ways out: the best one that works, and why not a better.
// Where none works silence stands in, and it is looked again and again.

import (
	"os"
	"strings"
	"sync"
	"time"
)

// way is one way out.
type way struct {
	name string
	open func(Source) (Sink, error)
}

// ways out to a loudspeaker, the best first. The first is cheap to ask for.
var ways = []way{
	{"pulse", func(s Source) (Sink, error) { return openPulse(s, os.Getenv) }},
	{"device", openDevice},
	{"exec", func(s Source) (Sink, error) { return openExec(s) }},
}

// openAuto opens the first way that works; where none does, a seeker. What did not
// work is in the state.
func openAuto(ways []way, source Source) Sink {
	out, reasons := firstThatWorks(ways, source)
	if out == nil {
		return newSeeker(ways, source, reasons)
	}
	return out
}

// firstThatWorks opens one way, or says why none opened.
func firstThatWorks(ways []way, source Source) (Sink, string) {
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

// seeker is silent until a way out is found, and is that one from then on.
type seeker struct {
	loop
	ways  []way
	quiet *off
	gate  *gate

	mu   sync.Mutex
	here Sink // what the person is told of
}

func newSeeker(ways []way, source Source, reasons string) *seeker {
	g := &gate{source: source}
	g.turn = &turn{g}
	quiet := openOff(reasons, g.turn)
	s := &seeker{loop: newLoop(), ways: ways, quiet: quiet, gate: g, here: quiet}
	go s.run()
	return s
}

// run looks for the first way twice a second, and for all with patience: some of
// them start programs.
func (s *seeker) run() {
	defer close(s.ended)
	var patience patience
	all := time.Now().Add(patience.wait(0))
	for s.pause(retryFirst) {
		look := s.ways[:min(1, len(s.ways))]
		if !time.Now().Before(all) {
			look = s.ways
			all = time.Now().Add(patience.wait(0))
		}
		next := &turn{s.gate}
		out, reasons := firstThatWorks(look, next)
		if out != nil {
			s.gate.give(next)
			s.stand(out)
			s.quiet.Close()
			return
		}
		if len(look) == len(s.ways) {
			s.quiet.fail(reasons)
		}
	}
}

func (s *seeker) stand(out Sink) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.here = out
}

func (s *seeker) present() Sink {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.here
}

func (s *seeker) Name() string           { return s.present().Name() }
func (s *seeker) State() string          { return s.present().State() }
func (s *seeker) Sounding() bool         { return s.present().Sounding() }
func (s *seeker) Latency() time.Duration { return s.present().Latency() }

// Close ends the looking, and what stands.
func (s *seeker) Close() error {
	s.loop.Close()
	return s.present().Close()
}

// gate lets one of several sinks pull from a source.
type gate struct {
	source Source
	mu     sync.Mutex
	turn   *turn // whose it is
}

func (g *gate) give(t *turn) {
	g.mu.Lock()
	defer g.mu.Unlock()
	g.turn = t
}

// turn is the source as one sink sees it: silent while it is another's turn.
type turn struct{ gate *gate }

// Pull fills frames.
func (t *turn) Pull(frames [][2]float64, heard time.Time) time.Duration {
	t.gate.mu.Lock()
	defer t.gate.mu.Unlock()
	if t.gate.turn != t {
		clear(frames)
		return 0 // nobody knows
	}
	return t.gate.source.Pull(frames, heard)
}

// Sooner is the source's: who has no turn is told nothing by what comes of it.
func (t *turn) Sooner() <-chan struct{} { return t.gate.source.Sooner() }

// Back takes back frames.
func (t *turn) Back(frames int64) int64 {
	t.gate.mu.Lock()
	defer t.gate.mu.Unlock()
	if t.gate.turn != t {
		return frames
	}
	return t.gate.source.Back(frames)
}

// Reach passes it on.
func (t *turn) Reach(lead time.Duration) {
	t.gate.mu.Lock()
	defer t.gate.mu.Unlock()
	if t.gate.turn == t {
		t.gate.source.Reach(lead)
	}
}

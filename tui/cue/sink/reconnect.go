package sink

// Sound that was not there, found again: silence stands in for it meanwhile.

import (
	"sync"
	"time"
)

// reconnector is silent until a way out is found, and is that one from then on.
type reconnector struct {
	worker
	ways  []output
	quiet *silentSink
	gate  *sourceGate

	mu   sync.Mutex
	here Sink // what the person is told of
}

func newReconnector(ways []output, source Source, reasons string) *reconnector {
	g := &sourceGate{source: source}
	g.owner = &gatedSource{g}
	quiet := openSilent(reasons, g.owner)
	r := &reconnector{worker: newWorker(), ways: ways, quiet: quiet, gate: g, here: quiet}
	go r.run()
	return r
}

// run looks for the first way twice a second, and for all with patience: some of
// them start programs.
func (r *reconnector) run() {
	defer close(r.ended)
	var patience backoff
	all := time.Now().Add(patience.next(0))
	for r.sleep(retryFirst) {
		look := r.ways[:min(1, len(r.ways))]
		if !time.Now().Before(all) {
			look = r.ways
			all = time.Now().Add(patience.next(0))
		}
		next := &gatedSource{r.gate}
		out, reasons := firstThatWorks(look, next)
		if out != nil {
			r.gate.handTo(next)
			r.stand(out)
			r.quiet.Close()
			return
		}
		if len(look) == len(r.ways) {
			r.quiet.failed(reasons)
		}
	}
}

func (r *reconnector) stand(out Sink) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.here = out
}

func (r *reconnector) present() Sink {
	r.mu.Lock()
	defer r.mu.Unlock()
	return r.here
}

func (r *reconnector) State() string  { return r.present().State() }
func (r *reconnector) Sounding() bool { return r.present().Sounding() }

// Close ends the looking, and what stands.
func (r *reconnector) Close() error {
	r.worker.Close()
	return r.present().Close()
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
func (t *gatedSource) Pull(frames [][2]float64, heard time.Time) {
	t.gate.mu.Lock()
	defer t.gate.mu.Unlock()
	if t.gate.owner != t {
		clear(frames)
		return
	}
	t.gate.source.Pull(frames, heard)
}

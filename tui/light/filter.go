package light

// The guard: a writer between the screens and the terminal.

import (
	"io"
	"os"
	"sync"
	"sync/atomic"

	"golang.org/x/term"

	"example.org/wetside/sequence"
)

// Filter writes to a terminal what the light allows. It may be used by several
// goroutines at once. It stands for the terminal itself: bubbletea, given it as
// output, finds a file that is a terminal.
type Filter struct {
	tty     *os.File
	to      io.Writer                    // the terminal
	size    func() (w, h int, err error) // of the terminal, in cells
	kind    string                       // TERM
	colours int
	allowed allowedColours

	light          atomic.Value // sequence.Light: what may be shown from now on
	blackConfirmed bool         // the terminal said that its background is black
	restore        func()       // makes the terminal as it was before Begin; nil before it

	mu     sync.Mutex // of all below, and of the terminal
	parse  parser
	colour string // the SGR written last; "" in white light, where any may be
	out    []byte // what a Write has come to
}

// NewFilter guards a terminal, with the light at safelight. TERM and COLORTERM
// tell what it can.
func NewFilter(tty *os.File) *Filter {
	colours := Colours(os.Getenv)
	g := &Filter{tty: tty, to: tty, kind: os.Getenv("TERM"), colours: colours, allowed: allowedColoursFor(colours)}
	g.size = func() (int, int, error) { return term.GetSize(int(tty.Fd())) }
	g.colour = g.allowed.black
	g.light.Store(sequence.Safelight)
	return g
}

// Light is what may be shown now.
func (g *Filter) Light() sequence.Light { return g.light.Load().(sequence.Light) }

// SetLight changes what may be shown. Less light is at once: every cell has been
// painted black when it returns. More light comes with what is written next. Clear
// the screen after either, so that all is drawn anew. Anything but safelight and
// white is dark.
func (g *Filter) SetLight(l sequence.Light) {
	if l != sequence.Safelight && l != sequence.White {
		l = sequence.Dark
	}
	was := g.light.Swap(l).(sequence.Light)
	if l != sequence.Dark && (l == was || was == sequence.Dark || l == sequence.White) {
		return
	}
	g.mu.Lock()
	defer g.mu.Unlock()
	g.out = g.out[:0]
	g.paintBlack()
	g.flush()
}

// Write writes what the light allows of p. It reports all of p as written unless
// the terminal is gone.
func (g *Filter) Write(p []byte) (int, error) {
	g.mu.Lock()
	defer g.mu.Unlock()
	g.out = append(g.out[:0], g.resumeColour()...)
	empty := len(g.out)
	for _, b := range p {
		g.parse.next(b, g)
	}
	if len(g.out) == empty {
		return len(p), nil
	}
	if err := g.flush(); err != nil {
		return 0, err
	}
	return len(p), nil
}

// resumeColour sets the colour that this write goes on in: somebody else may have
// written to the terminal in between.
func (g *Filter) resumeColour() string {
	if g.colour == "" && g.Light() != sequence.White {
		g.colour = g.allowed.text
	}
	return g.colour
}

// WriteString is Write.
func (g *Filter) WriteString(s string) (int, error) { return g.Write([]byte(s)) }

// Bell rings the terminal's bell, unless it is dark: some terminals flash instead. No
// bell gets through what is written.
func (g *Filter) Bell() {
	g.mu.Lock()
	defer g.mu.Unlock()
	if g.Light() == sequence.Dark {
		return
	}
	g.out = append(g.out[:0], bel)
	g.flush()
}

// Read reads what is typed.
func (g *Filter) Read(p []byte) (int, error) { return g.tty.Read(p) }

// Close does nothing: the terminal is not ours to close. End ends the guard's work.
func (g *Filter) Close() error { return nil }

// Fd is the terminal's descriptor.
func (g *Filter) Fd() uintptr { return g.tty.Fd() }

// flush writes what has been gathered.
func (g *Filter) flush() error {
	_, err := g.to.Write(g.out)
	g.out = g.out[:0]
	return err
}

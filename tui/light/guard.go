package light

// The guard: who alone writes to the terminal while the screens have it.

import (
	"io"
	"os"
	"sync"
	"sync/atomic"

	"golang.org/x/term"
)

// Guard shows views on a terminal by the present light. It may be used by several
// goroutines at once. It stands for the terminal itself: bubbletea, given it as
// output, finds a file that is a terminal; what is written to it is dropped, since only views
// reach the glass.
type Guard struct {
	tty     *os.File
	to      io.Writer                    // the terminal
	size    func() (w, h int, err error) // of the terminal, in cells
	kind    string                       // TERM
	profile Profile

	light          atomic.Uint32 // Light: what may be shown from now on
	blackConfirmed bool          // the terminal said that its background is black
	around         Around        // what draws beside us
	tellsKeys      bool          // the terminal was asked to tell when a key is let go
	restore        func()        // makes the terminal as it was before Begin; nil before it

	mu    sync.Mutex // of all below, and of the terminal
	frame *Frame
	view  string // shown last
	reds  string // as the one red of sixteen colours was set last; "" while nobody knows

	blackened bool // the terminal's own colours are black, all of them
}

// NewGuard guards a terminal, with the light at red. TERM and COLORTERM tell what it can.
func NewGuard(tty *os.File) *Guard {
	g := newGuard(tty, os.Getenv("TERM"), ProfileOf(os.Getenv))
	g.tty = tty
	g.size = func() (int, int, error) { return term.GetSize(int(tty.Fd())) }
	return g
}

func newGuard(to io.Writer, kind string, p Profile) *Guard {
	g := &Guard{to: to, kind: kind, profile: p, frame: NewFrame(p)}
	g.light.Store(uint32(Red))
	g.frame.plain = g.isLinuxConsole()
	return g
}

// PlainGlyphs has views drawn with full blocks, lines and ASCII alone, or with all that they
// draw. Without it the Linux console has them plain, and every other terminal whole.
func (g *Guard) PlainGlyphs(plain bool) {
	g.mu.Lock()
	defer g.mu.Unlock()
	g.frame.plain = plain
	g.frame.Invalidate()
}

// Light is what may be shown now.
func (g *Guard) Light() Light { return Light(g.light.Load()) }

// SetLight changes what may be shown. Less light is at once: what was shown is seen in it when
// SetLight returns, and in the dark every cell is black. More light comes with the next view.
func (g *Guard) SetLight(l Light) {
	if l > White {
		l = Dark
	}
	was := Light(g.light.Swap(uint32(l)))
	if l > was || l == was && l != Dark {
		return
	}
	g.mu.Lock()
	defer g.mu.Unlock()
	if l == Dark {
		g.blacken()
		g.frame.Invalidate() // paints what has grown, and what somebody else has written
		g.view = ""
	}
	g.draw()
}

// Show draws a view by the present light. A view that is there already writes nothing.
func (g *Guard) Show(view string) error {
	g.mu.Lock()
	defer g.mu.Unlock()
	g.view = view
	return g.draw()
}

// tellPastes has the terminal tell pasted text from typed until End.
const tellPastes = "\x1b[?2004h"

// Redraw draws a view on a terminal of which nothing is known.
func (g *Guard) Redraw(view string) error {
	g.mu.Lock()
	defer g.mu.Unlock()
	g.frame.Invalidate()
	g.view = view
	if _, err := io.WriteString(g.to, tellPastes); err != nil {
		return err
	}
	return g.draw()
}

// draw writes what makes the terminal show the view; mu is held.
func (g *Guard) draw() error {
	w, h, err := g.size()
	if err != nil {
		w, h = 0, 0
	}
	l, anew := g.Light(), !g.frame.known // somebody else may have set the red too
	out := g.frame.Draw(g.view, w, h, l)
	if len(out) == 0 {
		return nil
	}
	reds := g.profile.Reds(l, g.isLinuxConsole())
	switch {
	case g.blackened && l != Dark:
		g.reds = reds
		out = append(out, g.colours()+reds...) // last: what somebody else wrote in the dark is painted over by now
	case reds != "" && (anew || reds != g.reds):
		g.reds = reds // before the cells: less light is at once
		out = append([]byte(reds), out...)
	}
	if _, err := g.to.Write(out); err != nil {
		g.frame.Invalidate()
		return err
	}
	return nil
}

// Write drops what anybody else would show. It reports all of it as written.
func (g *Guard) Write(p []byte) (int, error) { return len(p), nil }

// WriteString is Write.
func (g *Guard) WriteString(s string) (int, error) { return len(s), nil }

// Bell rings the terminal's bell, unless it is dark: some terminals flash instead.
func (g *Guard) Bell() {
	g.mu.Lock()
	defer g.mu.Unlock()
	if g.Light() != Dark {
		io.WriteString(g.to, "\a")
	}
}

// Read reads what is typed.
func (g *Guard) Read(p []byte) (int, error) { return g.tty.Read(p) }

// Close does nothing: the terminal is not ours to close. End ends the guard's work.
func (g *Guard) Close() error { return nil }

// Fd is the terminal's descriptor.
func (g *Guard) Fd() uintptr { return g.tty.Fd() }

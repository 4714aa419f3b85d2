package light

// Taking the terminal over, and giving it back.

import (
	"fmt"
	"io"
	"os"
	"strings"
)

// What is written at the beginning and the end. The colours of the terminal
// itself are changed too: a window that grows shows its own background before
// anybody can draw (xterm's ctlseqs, "Operating System Commands" 4, 10, 11, 12).
const (
	titlePush       = "\x1b[22;0t"
	titlePop        = "\x1b[23;0t"
	setOwnColours   = "\x1b]11;rgb:00/00/00\x1b\\\x1b]10;rgb:5f/00/00\x1b\\\x1b]12;rgb:00/00/00\x1b\\"
	blackBackground = "\x1b]11;rgb:00/00/00\x1b\\"
	inkReset        = "\x1b]110\x1b\\"
	colourReset     = "\x1b]110\x1b\\\x1b]111\x1b\\\x1b]112\x1b\\"
	fewColours      = "\x1b]4;0;rgb:00/00/00;1;rgb:aa/00/00;9;rgb:ff/00/00\x1b\\"
	// The Linux console speaks its own: entries 0, 1 and 9 (console_codes(4)).
	consoleColours = "\x1b]P0000000\x1b]P1aa0000\x1b]P9ff0000"
	consoleReset   = "\x1b]R"
	paletteReset   = "\x1b]104\x1b\\"

	alternate = "\x1b[?1049h\x1b[?7l" // without wrapping: nothing written can scroll
	// A dead program may have left bracketed paste on.
	endSequence = "\x1b[?2004l\x1b[?7h\x1b[?1049l\x1b[0m"
	showCursor  = "\x1b[?25h"
)

// Whatever else writes to the terminal in the dark, a shell that has it back, a message to all,
// writes in the terminal's own colours: in the dark each of them is black.
var (
	darkPalette = func() string {
		var b strings.Builder
		b.WriteString("\x1b]10;rgb:00/00/00\x1b\\\x1b]4")
		for i := range 256 {
			fmt.Fprintf(&b, ";%d;rgb:00/00/00", i)
		}
		return b.String() + "\x1b\\"
	}()
	darkConsole = func() string {
		var b strings.Builder
		for i := range 16 {
			fmt.Fprintf(&b, "\x1b]P%x000000", i)
		}
		return b.String()
	}()
)

// blacken makes the terminal's own colours black; mu is held.
func (g *Guard) blacken() {
	g.blackened = true
	if g.isLinuxConsole() {
		io.WriteString(g.to, darkConsole)
	} else if g.profile != NoColours {
		io.WriteString(g.to, darkPalette+g.around.through(darkPalette+blackBackground))
	}
}

// colours is what gives the terminal the colours that a light needs, behind its first frame.
func (g *Guard) colours() string {
	switch g.blackened = false; {
	case g.isLinuxConsole():
		return consoleReset + consoleColours
	case g.profile == NoColours:
		return ""
	case g.profile < TwoFiftySix:
		return paletteReset + setOwnColours + fewColours
	}
	return paletteReset + setOwnColours + g.around.through(paletteReset+inkReset)
}

// Begin takes the terminal over: title kept, own colours, cursor hidden, alternate
// screen, all black. It asks the terminal what its background is now and who it is, and
// waits for the answer 400 ms at most; what is typed meanwhile is lost.
func (g *Guard) Begin() {
	g.mu.Lock()
	defer g.mu.Unlock()
	g.restore = enableEscapes(g)
	io.WriteString(g.to, g.beginSequence())
	g.black()
	answer := ""
	if !g.isLinuxConsole() {
		answer = ask(g)
	}
	g.blackConfirmed, g.around = isBlack(answer), AroundOf(os.Getenv, answer)
	if g.tellsKeys = tellsReleases(answer); g.tellsKeys {
		io.WriteString(g.to, tellKeys)
	}
}

// blackPen is what the alternate screen is cleared with.
func (g *Guard) blackPen() string {
	if g.profile < TwoFiftySix {
		return "\x1b[22;30;40m"
	}
	return "\x1b[38;5;16;48;5;16m"
}

// black paints every cell black, in whatever light; mu is held.
func (g *Guard) black() {
	l := g.light.Swap(uint32(Dark))
	g.frame.Invalidate()
	g.draw()
	g.light.Store(l)
}

// isLinuxConsole tells whether this is the Linux console, which has neither titles nor
// colours of its own to ask for.
func (g *Guard) isLinuxConsole() bool { return g.kind == "linux" }

func (g *Guard) beginSequence() string {
	if g.isLinuxConsole() {
		return consoleColours + g.blackPen() + alternate
	}
	s := titlePush + setOwnColours
	if g.profile < TwoFiftySix {
		s += fewColours
	}
	return s + g.blackPen() + alternate
}

// Adopt takes over a terminal that another process, the supervisor, has begun and will
// end. What is painted is left as it is.
func (g *Guard) Adopt(l Light, confirmed bool, around Around) {
	g.light.Store(uint32(l))
	g.blackConfirmed, g.around = confirmed, around
	g.blackened, g.tellsKeys = true, !g.isLinuxConsole() // as far as is known
}

// BlackConfirmed tells whether the terminal said that its background is black now. tmux
// obeys without saying so. Where it is false a growing window may show the
// terminal's own background for an instant.
func (g *Guard) BlackConfirmed() bool { return g.blackConfirmed }

// Around is what draws around the screens where the guard does not reach.
func (g *Guard) Around() Around { return g.around }

// End gives the terminal back, in its own colours and with what it showed before.
// A colour that the user had set by an escape sequence, not in the terminal's
// settings, is lost: there is no sequence that keeps it.
func (g *Guard) End() {
	g.mu.Lock()
	defer g.mu.Unlock()
	out := endSequence
	if g.tellsKeys {
		out = tellNoKey + out
	}
	switch {
	case g.isLinuxConsole():
		out += consoleReset + "\x1b[H\x1b[2J" // it may have no alternate screen
	default:
		// First what is passed on: tmux drops it once it has left the alternate screen (3.3a).
		out = g.around.through(paletteReset+colourReset) + out + paletteReset + colourReset + titlePop
	}
	io.WriteString(g.to, out+showCursor)
	if g.restore != nil {
		g.restore()
	}
}

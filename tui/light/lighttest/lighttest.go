// Package lighttest looks at a screen's view by every light, on a terminal in front of film.
package lighttest

import (
	"testing"

	"github.com/charmbracelet/x/ansi"

	"example.org/wetside/tui/light"
	"example.org/wetside/tui/light/vtest"
)

// dimmest is the most red that may be shown where film lies open: entry 124 of the 256
// colours (xterm's ctlseqs: 55 + 40 x 3).
const dimmest = 175

// Every draws a view before a terminal with white defaults, of every kind of colours: in red
// and by safelight no cell has green or blue, by safelight none is brighter than a dim red,
// and in the dark, behind all of them, none is lit. In white light and in red every text can be read.
func Every(t testing.TB, view string, w, h int) {
	t.Helper()
	paper := vtest.New(w, h, vtest.Behaviour{})
	paper.Write(light.NewFrame(light.FullColour).Draw(view, w, h, light.White))
	drawn := paper.Cells()
	for _, p := range []light.Profile{light.Sixteen, light.TwoFiftySix, light.FullColour} {
		front, frame := vtest.New(w, h, vtest.Behaviour{SetsColours: p == light.Sixteen}), light.NewFrame(p)
		front.Write([]byte("\x1b]11;rgb:00/00/00\x1b\\\x1b]12;rgb:00/00/00\x1b\\")) // as the guard begins
		for _, l := range []light.Light{light.White, light.Red, light.Safelight, light.Dark} {
			front.Write([]byte(p.Reds(l, false)))
			front.Write(frame.Draw(view, w, h, l))
			if bad := forbidden(front, l); bad != "" {
				t.Errorf("%s, profile %d: %s in\n%s", l, p, bad, ansi.Strip(view))
			}
			if faint := unreadable(front, drawn, l); faint != "" {
				t.Errorf("%s, profile %d: %s in\n%s", l, p, faint, ansi.Strip(view))
			}
		}
	}
}

// forbidden is what a light does not allow of what is seen; "" where there is nothing.
func forbidden(front *vtest.Terminal, l light.Light) string {
	if l == light.Dark {
		return front.LitCell()
	}
	if front.LitCell() == "" {
		return "no lit cell"
	}
	bad := ""
	if l != light.White {
		bad = front.NonRedCell()
	}
	if l == light.Safelight && bad == "" {
		bad = front.BrighterThan(dimmest)
	}
	return bad
}

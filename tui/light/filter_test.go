package light

// The guard against a terminal with white defaults: whatever is written, no cell
// is lit in the dark and none but red under a safelight.

import (
	"bytes"
	"errors"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"example.org/wetside/sequence"
	"example.org/wetside/tui/light/vtest"
)

// terminals are the kinds that there are. Where erased cells do not take the
// pen's background and OSC 11 is not obeyed, only writing can make a cell black.
var terminals = map[string]vtest.Behaviour{
	"xterm":       {ErasesWithPen: true, SetsColours: true, Answers: true},
	"no erasing":  {SetsColours: true},
	"no colours":  {ErasesWithPen: true},
	"neither":     {},
	"the console": {ErasesWithPen: true, Console: true},
}

// guarded is a guard, begun, before a terminal.
func guarded(kind vtest.Behaviour, w, h, colours int) (*Filter, *vtest.Terminal) {
	front := vtest.New(w, h, kind)
	g := &Filter{to: front, kind: "test", colours: colours, allowed: allowedColoursFor(colours)}
	if kind.Console {
		g.kind = "linux"
	}
	g.size = func() (int, int, error) { w, h := front.Size(); return w, h, nil }
	g.light.Store(sequence.Safelight)
	g.out = append(g.out, g.beginSequence()...)
	g.paintBlack()
	g.flush()
	return g, front
}

func each(t *testing.T, run func(t *testing.T, kind vtest.Behaviour, colours int)) {
	for name, kind := range terminals {
		for _, colours := range []int{16, 256} {
			if kind.Console && colours == 256 || !kind.SetsColours && !kind.Console && colours == 16 {
				continue // sixteen colours that cannot be set are the terminal's choice
			}
			t.Run(fmt.Sprintf("%s %d", name, colours), func(t *testing.T) { run(t, kind, colours) })
		}
	}
}

// hostile are writes that would light a screen that nobody guards.
var hostile = []string{
	"plain words", "\x1b[0mreset", "\x1b[mreset", "\x1b[7mreverse", "\x1b[38;5;196;48;5;231m#", "\x1b[97;107m#",
	"\x1b[38;2;255;255;255m#", "\x1b[38:2::255:255:255m#", "\x1b[4m underline ", "\x1b[2J", "\x1b[0m\x1b[2J", "\x1b[J",
	"\x1b[K", "\x1b[2K", "\x1b[1K", "\x1b[3J", "\x1b[?25h", "\x1b[?5h", "\x1b[?1049l", "\x1b[?47l", "\x1bc", "\x1b[!p",
	"\x1b#8", "\x1b7\x1b[0m\x1b8x", "\x1b[s\x1b[ux", "\x1bD\x1bD\x1bD", "\x1bM\x1bM", "\x1bE\x1bE", "\x1b[5S", "\x1b[5T",
	"\x1b[3L", "\x1b[3M", "\x1b[5@", "\x1b[5P", "\x1b[5X", "x\x1b[99b", "\x1b[2;5r\n\n\n\n\n\n", "\x1b[4h####",
	"\x1b]11;rgb:ff/ff/ff\x07", "\x1b]11;rgb:ff/ff/ff\x1b\\", "\x1b]4;16;rgb:ff/ff/ff\x1b\\", "\x1b]111\x1b\\",
	"\x1b]104\x1b\\", "\x1b]0;title\x1b\\", "\x1bPq#0;2;100;100;100#0~~@@\x1b\\", "\x1b_Gf=24;AAAA\x1b\\",
	"\x9b7m#", "\u009b7m#", "\u009d11;rgb:ff/ff/ff\u009c", "\x9d11;rgb:ff/ff/ff\x9c", "\u0085\u0085", "\x1b[1\x1b[7m#",
	"\x1b[1\x187m", "\x1b[3\n8;5;231m#", "\x1b[\x7f7m#", strings.Repeat("\n", 99), strings.Repeat("x", 5000), "\t\t#\b\b#",
	"\a\a", "\x0e###\x0f", "\x1b(0lqqk", "\x1b%@#", "\x1b[" + strings.Repeat("0;", 200) + "7m#", "\x1b[?7h", "\xf0\x9f\x98",
	"\xe2\x96", "█▀▄ \u0301\u200b漢字", "\x1b]P7ffffff", "\x1b]R", "\x1b]52;c;AAAA\x1b\\",
}

func TestNothingShinesInTheDark(t *testing.T) {
	each(t, func(t *testing.T, kind vtest.Behaviour, colours int) {
		for _, s := range hostile {
			g, front := guarded(kind, 40, 12, colours)
			g.SetLight(sequence.Dark)
			g.WriteString(s)
			if lit := front.LitCell(); lit != "" {
				t.Errorf("%q: %s", s, lit)
			}
			for y := range 12 {
				if text := front.Text(y); strings.Trim(text, " ") != "" {
					t.Errorf("%q: row %d is %q; expected nothing to read, in black either", s, y, text)
				}
			}
			if front.Bells > 0 || front.CursorShown() || !front.Alternate() {
				t.Errorf("%q: %d bells, cursor %v, alternate screen %v", s, front.Bells, front.CursorShown(), front.Alternate())
			}
		}
	})
}

func TestOnlyRedUnderASafelight(t *testing.T) {
	each(t, func(t *testing.T, kind vtest.Behaviour, colours int) {
		for _, s := range hostile {
			g, front := guarded(kind, 40, 12, colours)
			g.WriteString(s)
			if cold := front.NonRedCell(); cold != "" {
				t.Errorf("%q: %s", s, cold)
			}
		}
	})
}

func TestTheBellIsStillInTheDark(t *testing.T) {
	for light, want := range map[sequence.Light]int{sequence.Dark: 0, sequence.Safelight: 1, sequence.White: 1} {
		g, front := guarded(terminals["xterm"], 40, 12, 256)
		g.SetLight(light)
		g.Bell()
		if front.Bells != want {
			t.Errorf("%s: %d bells, want %d", light, front.Bells, want)
		}
	}
}

// A test that cannot fail guards nothing: most of these do light a bare terminal.
func TestHostileWritesDoShineUnguarded(t *testing.T) {
	n := 0
	for _, s := range hostile {
		g, front := guarded(terminals["neither"], 40, 12, 256)
		g.SetLight(sequence.Dark)
		front.Write([]byte(s))
		if front.LitCell() != "" || front.Bells > 0 || !front.Alternate() {
			n++
		}
	}
	if n < len(hostile)/3 {
		t.Errorf("%d of %d shine unguarded", n, len(hostile))
	}
}

func TestLevelsAreLeftAsTheyAre(t *testing.T) {
	for _, colours := range []int{16, 256} {
		var to bytes.Buffer
		g := &Filter{to: &to, allowed: allowedColoursFor(colours), colour: allowedColoursFor(colours).black}
		g.light.Store(sequence.Safelight)
		for params := range g.allowed.sgr {
			to.Reset()
			g.WriteString("\x1b[" + params + "mx")
			if !strings.HasSuffix(to.String(), "\x1b["+params+"mx") {
				t.Errorf("%s became %q", params, &to)
			}
		}
		to.Reset()
		g.WriteString("\x1b[38;5;231mx")
		if !strings.HasSuffix(to.String(), g.allowed.text+"x") {
			t.Errorf("white became %q", &to)
		}
	}
}

func TestAnyColourUnderWhiteLight(t *testing.T) {
	g, front := guarded(terminals["xterm"], 40, 12, 256)
	g.SetLight(sequence.White)
	g.WriteString("\x1b[1;38;2;10;250;30mgreen\x1b[0m\a\x1b[?25h")
	if front.NonRedCell() == "" || front.Text(0)[:5] != "green" || front.Bells > 0 || front.CursorShown() {
		t.Errorf("%q, %d bells, cursor %v", front.Text(0), front.Bells, front.CursorShown())
	}
	g.SetLight(sequence.Safelight)
	if cold := front.NonRedCell(); cold != "" {
		t.Errorf("at once under the safelight: %s", cold)
	}
	g.WriteString("more")
	if cold := front.NonRedCell(); cold != "" || !strings.HasPrefix(front.Text(0), "more") {
		t.Errorf("%s; %q", cold, front.Text(0))
	}
}

func TestDarkAtOnceLightWithTheNextWrite(t *testing.T) {
	g, front := guarded(terminals["neither"], 40, 12, 256)
	g.WriteString("\x1b[38;5;196;48;5;16mred")
	g.SetLight(sequence.Dark)
	if lit := front.LitCell(); lit != "" {
		t.Fatalf("at once: %s", lit)
	}
	g.SetLight(sequence.Safelight)
	if lit := front.LitCell(); lit != "" {
		t.Fatalf("before anything was written: %s", lit)
	}
	g.WriteString("\x1b[H\x1b[38;5;196;48;5;16mred")
	if front.LitCell() == "" || front.NonRedCell() != "" || front.Text(0)[:3] != "red" {
		t.Errorf("%q: %s", front.Text(0), front.NonRedCell())
	}
	g.SetLight("brown")
	if g.Light() != sequence.Dark || front.LitCell() != "" {
		t.Errorf("a light that is none is %q", g.Light())
	}
}

// The light may go off between any two bytes of one write.
func TestDarkInsideAWrite(t *testing.T) {
	text := "\x1b[H\x1b[38;5;196;48;5;16mred█▀\x1b[2;2H\x1b[0mx\x1b[2Jy"
	for i := range len(text) {
		g, front := guarded(terminals["neither"], 20, 4, 256)
		g.WriteString("\x1b[38;5;196;48;5;16m")
		g.mu.Lock()
		g.out = append(g.out[:0], g.resumeColour()...)
		for j := range len(text) {
			if j == i {
				g.light.Store(sequence.Dark)
				front.Write(g.out)
				g.out = g.out[:0]
				g.paintBlack() // as SetLight does once the write is done; what follows may not light it again
			}
			g.parse.next(text[j], g)
		}
		g.flush()
		g.mu.Unlock()
		if lit := front.LitCell(); lit != "" {
			t.Errorf("dark at byte %d: %s", i, lit)
		}
	}
}

// So may white light; what follows is red before anything has been painted over.
func TestRedInsideAWrite(t *testing.T) {
	text := "\x1b[H\x1b[97;44mwhite\x1b[2;2H\x1b[0mx\x1b[Ky"
	for i := range len(text) {
		g, front := guarded(terminals["neither"], 20, 4, 256)
		g.SetLight(sequence.White)
		g.WriteString("\x1b[97m")
		g.mu.Lock()
		for j := range len(text) {
			if j == i {
				g.light.Store(sequence.Safelight)
				front.Write(g.out)
				g.out = g.out[:0]
				front.Write([]byte("\x1b7\x1b[40m\x1b[2J\x1b8")) // the test's own, to see what comes after
				for y := 1; y <= 4; y++ {
					fmt.Fprintf(front, "\x1b7\x1b[40m\x1b[%d;1H%20s\x1b8", y, "")
				}
			}
			g.parse.next(text[j], g)
		}
		g.flush()
		g.mu.Unlock()
		if cold := front.NonRedCell(); cold != "" {
			t.Errorf("safelight at byte %d: %s", i, cold)
		}
	}
}

// What comes in pieces comes to the same.
func TestPiecesMakeTheSame(t *testing.T) {
	all := strings.Join(hostile, "\x1b[5;5H")
	for _, light := range []sequence.Light{sequence.Safelight, sequence.Dark} {
		g, whole := guarded(terminals["xterm"], 40, 12, 256)
		g.SetLight(light)
		g.WriteString(all)
		g, split := guarded(terminals["xterm"], 40, 12, 256)
		g.SetLight(light)
		for i := range len(all) {
			g.WriteString(all[i : i+1])
		}
		for y := range 12 {
			if whole.Text(y) != split.Text(y) {
				t.Errorf("%s, row %d: %q in one, %q in bytes", light, y, whole.Text(y), split.Text(y))
			}
		}
	}
}

func TestEndGivesTheTerminalBack(t *testing.T) {
	each(t, func(t *testing.T, kind vtest.Behaviour, colours int) {
		g, front := guarded(kind, 40, 12, colours)
		if _, bg := front.DefaultColours(); kind.SetsColours && bg != (vtest.RGB{}) {
			t.Errorf("begun with background %v", bg)
		}
		g.WriteString("\x1b[38;5;196;48;5;16mred")
		g.End()
		fg, bg := front.DefaultColours()
		if front.Alternate() || !front.CursorShown() || fg != (vtest.RGB{}) || bg != (vtest.RGB{R: 255, G: 255, B: 255}) {
			t.Errorf("alternate %v, cursor %v, %v on %v", front.Alternate(), front.CursorShown(), fg, bg)
		}
		front.Write([]byte("shell " + strings.Repeat("x", 40)))
		if !strings.HasPrefix(front.Text(0), "shell ") || !strings.HasPrefix(front.Text(1), "xxxxxx ") {
			t.Errorf("after it: %q, %q; expected a line that wraps", front.Text(0), front.Text(1))
		}
	})
}

func TestIsBlack(t *testing.T) {
	for answer, want := range map[string]bool{
		"\x1b]11;rgb:0000/0000/0000\x1b\\\x1b[?62c": true, "\x1b]11;rgb:00/00/00\a": true, "\x1b]11;rgba:0/0/0/ffff\x1b\\": true,
		"typed\x1b]11;rgb:0000/0000/0000\x1b\\": true,
		"\x1b]11;rgb:ffff/ffff/ffff\x1b\\":      false, "\x1b]11;rgb:0000/0000/0100\x1b\\": false, "\x1b]11;rgb:0000/0000/0000": false,
		"\x1b]11;rgb:0000/0000\x1b\\": false, "\x1b]11;rgb://\x1b\\": false, "": false, "\x1b[?62c": false, "\x1b]10;rgb:0/0/0\a": false,
	} {
		if got := isBlack(answer); got != want {
			t.Errorf("isBlack(%q) = %v", answer, got)
		}
	}
}

func TestColours(t *testing.T) {
	for _, c := range []struct {
		kind, more string
		want       int
	}{
		{"xterm-256color", "", 256}, {"xterm", "truecolor", 256}, {"xterm", "", 16}, {"linux", "truecolor", 16}, {"screen", "", 16},
		{"xterm-direct", "", 256}, {"dumb", "truecolor", 0}, {"", "truecolor", 0},
	} {
		env := map[string]string{"TERM": c.kind, "COLORTERM": c.more, "NO_COLOR": "1"}
		if got := Colours(func(k string) string { return env[k] }); got != c.want {
			t.Errorf("TERM=%s COLORTERM=%s: %d colours; want %d", c.kind, c.more, got, c.want)
		}
	}
}

type broken struct{}

func (broken) Write([]byte) (int, error) { return 0, errors.New("gone") }

func TestATerminalThatIsGoneIsAnError(t *testing.T) {
	g := &Filter{to: broken{}, allowed: allowedColoursFor(256)}
	g.light.Store(sequence.Safelight)
	if _, err := g.WriteString("x"); err == nil {
		t.Error("no error")
	}
}

// FuzzDark: no bytes in no pieces light a cell, whatever the terminal and however
// the window changes.
func FuzzDark(f *testing.F) {
	for i, s := range hostile {
		f.Add([]byte(s), uint64(i))
	}
	f.Add([]byte(strings.Join(hostile, "")), uint64(1))
	f.Fuzz(func(t *testing.T, data []byte, seed uint64) {
		r := rand.New(rand.NewPCG(seed, 1))
		for _, kind := range terminals {
			shine(t, kind, bytes.Clone(data), r)
		}
	})
}

// shine writes data in random pieces while the light changes.
func shine(t *testing.T, kind vtest.Behaviour, data []byte, r *rand.Rand) {
	colours := 256
	if kind.Console {
		colours = 16
	}
	g, front := guarded(kind, 1+r.IntN(60), 1+r.IntN(20), colours)
	lights := []sequence.Light{sequence.Dark, sequence.Dark, sequence.Safelight, sequence.White}
	for len(data) > 0 {
		n := 1 + r.IntN(len(data))
		if r.IntN(4) == 0 {
			was := g.Light()
			g.SetLight(lights[r.IntN(len(lights))])
			if was == sequence.White && g.Light() == sequence.Safelight && front.NonRedCell() != "" {
				t.Fatal(front.NonRedCell())
			}
		}
		if kind.SetsColours && r.IntN(8) == 0 {
			front.Resize(1+r.IntN(60), 1+r.IntN(20))
		}
		k, err := g.Write(data[:n])
		if k != n || err != nil {
			t.Fatalf("wrote %d of %d: %v", k, n, err)
		}
		data = data[n:]
		if lit := front.LitCell(); g.Light() == sequence.Dark && lit != "" {
			t.Fatalf("in the dark: %s", lit)
		}
		if cold := front.NonRedCell(); g.Light() == sequence.Safelight && cold != "" {
			t.Fatalf("under a safelight: %s", cold)
		}
	}
}

// Random writes made of hostile pieces, cut and mixed with noise; the same each time.
func TestRandomWritesInTheDark(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	for range 400 {
		var data []byte
		for range r.IntN(30) {
			s := hostile[r.IntN(len(hostile))]
			data = append(data, s[:r.IntN(len(s)+1)]...)
			for range r.IntN(4) {
				data = append(data, byte(r.Uint32()))
			}
		}
		for _, kind := range terminals {
			shine(t, kind, data, r)
		}
	}
}

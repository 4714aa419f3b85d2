package light

// The guard against a terminal with white defaults: whatever a view holds, no cell
// is lit in the dark and none but red by red light and by safelight.

import (
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

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
func guarded(kind vtest.Behaviour, w, h int, p Profile) (*Guard, *vtest.Terminal) {
	front := vtest.New(w, h, kind)
	name := "test"
	if kind.Console {
		name = "linux"
	}
	g := newGuard(front, name, p)
	g.size = func() (int, int, error) { w, h := front.Size(); return w, h, nil }
	io.WriteString(g.to, g.beginSequence())
	g.black()
	return g, front
}

func each(t *testing.T, run func(t *testing.T, kind vtest.Behaviour, p Profile)) {
	for name, kind := range terminals {
		for _, p := range []Profile{Sixteen, TwoFiftySix, FullColour} {
			if kind.Console && p > Sixteen || !kind.SetsColours && !kind.Console && p == Sixteen {
				continue // sixteen colours that cannot be set are the terminal's choice
			}
			t.Run(fmt.Sprintf("%s %d", name, p), func(t *testing.T) { run(t, kind, p) })
		}
	}
}

// hostile are texts that would light a screen that nobody guards.
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
	each(t, func(t *testing.T, kind vtest.Behaviour, p Profile) {
		for _, s := range hostile {
			g, front := guarded(kind, 40, 12, p)
			g.SetLight(Dark)
			g.Show(s)
			g.Write([]byte(s))
			g.Redraw(s)
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

func TestOnlyRedInRedLight(t *testing.T) {
	each(t, func(t *testing.T, kind vtest.Behaviour, p Profile) {
		for _, s := range hostile {
			for _, l := range []Light{Safelight, Red} {
				g, front := guarded(kind, 40, 12, p)
				g.SetLight(l)
				g.Show(s)
				if cold := front.NonRedCell(); cold != "" {
					t.Errorf("%q by %s: %s", s, l, cold)
				}
			}
		}
	})
}

func TestTheBellIsStillInTheDark(t *testing.T) {
	for light, want := range map[Light]int{Dark: 0, Safelight: 1, Red: 1, White: 1} {
		g, front := guarded(terminals["xterm"], 40, 12, TwoFiftySix)
		g.SetLight(light)
		g.Bell()
		if front.Bells != want {
			t.Errorf("%s: %d bells, want %d", light, front.Bells, want)
		}
	}
}

// A test that cannot fail guards nothing: most of these do light a bare terminal.
func TestHostileTextsDoShineUnguarded(t *testing.T) {
	n := 0
	for _, s := range hostile {
		g, front := guarded(terminals["neither"], 40, 12, TwoFiftySix)
		g.SetLight(Dark)
		front.Write([]byte(s))
		if front.LitCell() != "" || front.Bells > 0 || !front.Alternate() {
			n++
		}
	}
	if n < len(hostile)/3 {
		t.Errorf("%d of %d shine unguarded", n, len(hostile))
	}
}

// Less light is at once, also of what is shown already; more comes with the next view.
func TestLessLightIsAtOnce(t *testing.T) {
	g, front := guarded(terminals["neither"], 40, 12, FullColour)
	g.SetLight(White)
	g.Show("\x1b[1;38;2;10;250;30mgreen\x1b[0m")
	if front.NonRedCell() == "" || front.Text(0)[:5] != "green" {
		t.Fatalf("in white light: %q", front.Text(0))
	}
	g.SetLight(Red)
	if cold := front.NonRedCell(); cold != "" || front.Text(0)[:5] != "green" {
		t.Errorf("at once in red: %s, %q", cold, front.Text(0))
	}
	g.SetLight(Dark)
	if lit := front.LitCell(); lit != "" {
		t.Errorf("at once: %s", lit)
	}
	g.SetLight(Red)
	if lit := front.LitCell(); lit != "" {
		t.Errorf("before anything was drawn: %s", lit)
	}
	g.Show("red")
	if front.LitCell() == "" || front.NonRedCell() != "" || front.Text(0)[:3] != "red" {
		t.Errorf("%q: %s", front.Text(0), front.NonRedCell())
	}
	for _, l := range []Light{Dark, White, Red} {
		if g.SetLight(l); front.LitCell() != "" {
			t.Errorf("of before the dark, by %s: %s", l, front.LitCell())
		}
	}
	front.Write([]byte("\x1b[0mx"))
	g.SetLight(Dark)
	front.Write([]byte("\x1b[0mx"))
	if g.SetLight(Dark); front.LitCell() != "" {
		t.Errorf("dark again: %s", front.LitCell())
	}
	g.SetLight(White + 1)
	if g.Light() != Dark || front.LitCell() != "" {
		t.Errorf("a light that is none is %q", g.Light())
	}
}

// More light comes with the next view, and the same light is there.
func TestMoreLightComesWithTheNextView(t *testing.T) {
	for _, l := range []Light{Safelight, Red, White} {
		g, _ := guarded(terminals["xterm"], 40, 12, FullColour)
		g.SetLight(Safelight)
		g.Show("words")
		var out strings.Builder
		g.to = &out
		if g.SetLight(l); out.Len() > 0 {
			t.Errorf("%s at once: %q", l, out.String())
		}
	}
}

// What was shown is on the terminal again after somebody else has written to it.
func TestRedrawAfterSomebodyElse(t *testing.T) {
	g, front := guarded(terminals["xterm"], 40, 12, TwoFiftySix)
	g.SetLight(White)
	g.Show("one\ntwo")
	front.Write([]byte("\x1b[2J\x1b[Hsomebody else's\x1b[0m\x1b[?2004l"))
	g.Redraw("six\nten")
	if front.Text(0)[:3] != "six" || front.Text(1)[:3] != "ten" || strings.Contains(front.Text(0), "else") {
		t.Errorf("%q, %q", front.Text(0), front.Text(1))
	}
}

// What somebody else writes in the dark, in the terminal's own colours, does not shine, nor when
// the light comes back: a shell that has its terminal back writes a prompt.
func TestAShellsPromptDoesNotShine(t *testing.T) {
	for _, p := range []Profile{Sixteen, TwoFiftySix, FullColour} {
		g, front := guarded(terminals["xterm"], 40, 12, p)
		g.SetLight(Dark)
		front.Write([]byte("\x1b[0m\r\n\x1b[01;32mkay@saltmarsh\x1b[00m:\x1b[01;34m~\x1b[00m$ \x1b[38;5;226mls\x1b[7m x"))
		if lit := front.LitCell(); lit != "" {
			t.Errorf("profile %d: in the dark %s", p, lit)
		}
		var out strings.Builder
		g.to = &out
		g.SetLight(Red)
		g.Show("red")
		for _, b := range []byte(out.String()) {
			front.Write([]byte{b})
			if cold := front.NonRedCell(); cold != "" {
				t.Fatalf("profile %d: as the light comes back %s", p, cold)
			}
		}
		if front.LitCell() == "" {
			t.Errorf("profile %d: it stays black", p)
		}
	}
}

// On the console, whose default colours are two of its sixteen, nor do any of these.
func TestTheConsolesColoursDoNotShine(t *testing.T) {
	g, front := guarded(terminals["the console"], 40, 12, Sixteen)
	g.SetLight(Dark)
	for i := range 8 {
		front.Write(fmt.Appendf(nil, "\x1b[%d;%dm%d\x1b[%d;%dm%d", 30+i, 40+i, i, 90+i, 100+i, i))
	}
	if lit := front.LitCell(); lit != "" {
		t.Error(lit)
	}
}

// Pasted text is asked to be told from typed.
func TestPastesAreAskedFor(t *testing.T) {
	var out strings.Builder
	g, _ := guarded(terminals["xterm"], 40, 12, TwoFiftySix)
	g.to = &out
	g.Redraw("")
	if !strings.Contains(out.String(), "\x1b[?2004h") {
		t.Errorf("wrote %q", out.String())
	}
}

func TestEndGivesTheTerminalBack(t *testing.T) {
	each(t, func(t *testing.T, kind vtest.Behaviour, p Profile) {
		g, front := guarded(kind, 40, 12, p)
		if _, bg := front.DefaultColours(); kind.SetsColours && bg != (vtest.RGB{}) {
			t.Errorf("begun with background %v", bg)
		}
		g.Show("red")
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

type broken struct{}

func (broken) Write([]byte) (int, error) { return 0, errors.New("gone") }

// A terminal that is gone is an error, and what it shows is not known any more.
func TestATerminalThatIsGoneIsAnError(t *testing.T) {
	g, front := guarded(terminals["xterm"], 40, 12, TwoFiftySix)
	g.to = broken{}
	if g.Redraw("x") == nil || g.Show("x") == nil {
		t.Error("no error")
	}
	g.to = front
	if g.Show("x"); front.Text(0)[:1] != "x" {
		t.Errorf("%q after it came back", front.Text(0))
	}
}

// FuzzDark: no view lights a cell, whatever the terminal and however the window changes.
func FuzzDark(f *testing.F) {
	for i, s := range hostile {
		f.Add([]byte(s), uint64(i))
	}
	f.Add([]byte(strings.Join(hostile, "")), uint64(1))
	f.Fuzz(func(t *testing.T, data []byte, seed uint64) {
		r := rand.New(rand.NewPCG(seed, 1))
		for _, kind := range terminals {
			shine(t, kind, data, r)
		}
	})
}

// shine shows pieces of data while the light and the window change.
func shine(t *testing.T, kind vtest.Behaviour, data []byte, r *rand.Rand) {
	p := []Profile{TwoFiftySix, FullColour}[r.IntN(2)]
	if kind.Console {
		p = Sixteen
	}
	g, front := guarded(kind, 1+r.IntN(60), 1+r.IntN(20), p)
	lights := []Light{Dark, Dark, Safelight, Red, White}
	for len(data) > 0 {
		n := 1 + r.IntN(len(data))
		if r.IntN(4) == 0 {
			was := g.Light()
			g.SetLight(lights[r.IntN(len(lights))])
			if was == White && (g.Light() == Safelight || g.Light() == Red) && front.NonRedCell() != "" {
				t.Fatal(front.NonRedCell())
			}
		}
		if kind.SetsColours && r.IntN(8) == 0 {
			front.Resize(1+r.IntN(60), 1+r.IntN(20))
		}
		if err := g.Show(string(data[:n])); err != nil {
			t.Fatal(err)
		}
		data = data[n:]
		if lit := front.LitCell(); g.Light() == Dark && lit != "" {
			t.Fatalf("in the dark: %s", lit)
		}
		if cold := front.NonRedCell(); (g.Light() == Safelight || g.Light() == Red) && cold != "" {
			t.Fatalf("by %s: %s", g.Light(), cold)
		}
	}
}

// Views made of hostile pieces, cut and mixed with noise; the same each time.
func TestRandomViewsInEveryLight(t *testing.T) {
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

// With sixteen colours there is one red: as bright as is wanted where no film is open, and dim before
// anything is seen by safelight.
func TestTheOneRedIsDimByName(t *testing.T) {
	for _, kind := range []string{"linux", "xterm"} {
		front := vtest.New(20, 2, vtest.Behaviour{SetsColours: kind == "xterm", Console: kind == "linux"})
		g := newGuard(front, kind, Sixteen)
		g.size = func() (int, int, error) { return 20, 2, nil }
		io.WriteString(front, g.beginSequence())
		for i, l := range []Light{Safelight, Red, Safelight, White, Red, Safelight, Dark, Red, Safelight, Red, Dark, Safelight, Red, Safelight, Safelight, Red} {
			g.SetLight(l)
			if err := g.Show(strconv.Itoa(i) + " words " + l.String()); err != nil {
				t.Fatal(err)
			}
			const dim = 0xaa // of entry 1, as the Linux console has it
			if over := front.BrighterThan(dim); l == Safelight && over != "" || l == Red && over == "" {
				t.Errorf("%s, %d, %s: %q", kind, i, l, over)
			}
		}
	}
}

// Set once it is not set again; where somebody else may have set it, it is.
func TestTheOneRedIsSetOnce(t *testing.T) {
	var out strings.Builder
	g := newGuard(&out, "xterm", Sixteen)
	g.size = func() (int, int, error) { return 20, 2, nil }
	if g.SetLight(Safelight); !strings.Contains(out.String(), "\x1b]4;1;") {
		t.Errorf("by safelight: %q", out.String())
	}
	for i, c := range []struct {
		show func(string) error
		set  bool
	}{{g.Show, false}, {g.Redraw, true}, {g.Show, false}} {
		out.Reset()
		if err := c.show(strconv.Itoa(i)); err != nil || strings.Contains(out.String(), "\x1b]4;1;") != c.set {
			t.Errorf("view %d: %v, %q", i, err, out.String())
		}
	}
}

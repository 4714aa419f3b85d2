package light

// What is written to the terminal at the beginning, in the dark and after it, to the byte where
// a light depends on it.

import (
	"fmt"
	"strings"
	"testing"

	"example.org/wetside/tui/light/vtest"
)

// The Linux console has sixteen colours, and in the dark each is black (console_codes(4): ESC ] P
// and one hexadecimal digit).
func TestTheConsoleIsBlackInAllSixteen(t *testing.T) {
	var want strings.Builder
	for _, digit := range "0123456789abcdef" {
		want.WriteString("\x1b]P" + string(digit) + "000000")
	}
	if darkConsole != want.String() {
		t.Errorf("%q", darkConsole)
	}
	if n := strings.Count(darkPalette, "rgb:00/00/00"); n != 257 || !strings.Contains(darkPalette, ";255;rgb:") {
		t.Errorf("%d colours of a terminal of 256 and its ink", n)
	}
}

// A terminal of few colours has its reds set with its own colours; one of 256 has them in its table.
func TestWhoIsSetFewColours(t *testing.T) {
	for p, want := range map[Profile]bool{Sixteen: true, TwoFiftySix: false, FullColour: false} {
		g := newGuard(nil, "xterm", p)
		g.blackened = true
		if got := strings.Contains(g.colours(), fewColours); got != want || g.blackened {
			t.Errorf("profile %d, after the dark: %v, still black %v", p, got, g.blackened)
		}
		if got := strings.Contains(g.blackPen(), "30;40"); got != want {
			t.Errorf("profile %d is cleared with %q", p, g.blackPen())
		}
		if got := strings.Contains(g.beginSequence(), fewColours); got != want {
			t.Errorf("profile %d, at the beginning: %v", p, got)
		}
	}
}

// The red of sixteen is set where there is one to be set, and a light that is red.
func TestWhoseRedIsSet(t *testing.T) {
	for _, p := range []Profile{NoColours, Sixteen, TwoFiftySix, FullColour} {
		for _, l := range []Light{Dark, Safelight, Red, White} {
			want := ""
			if p == Sixteen {
				want = map[Light]string{Safelight: "\x1b]4;1;rgb:aa/00/00\x1b\\", Red: "\x1b]4;1;rgb:ff/00/00\x1b\\"}[l]
			}
			if got := p.Reds(l, false); got != want {
				t.Errorf("profile %d, %s: %q; expected %q", p, l, got, want)
			}
		}
	}
}

// From the beginning every cell is black, before anything is shown.
func TestTheBeginningIsBlack(t *testing.T) {
	each(t, func(t *testing.T, kind vtest.Behaviour, p Profile) {
		g, front := guarded(kind, 12, 3, p)
		if lit := front.LitCell(); lit != "" || g.Light() != Red {
			t.Errorf("%s; light %v", lit, g.Light())
		}
	})
}

// What is taken over from another process is believed as it is told.
func TestAdopt(t *testing.T) {
	for _, console := range []bool{false, true} {
		kind := map[bool]string{false: "xterm", true: "linux"}[console]
		g := newGuard(nil, kind, TwoFiftySix)
		g.Adopt(Safelight, true, Tmux)
		if g.Light() != Safelight || !g.BlackConfirmed() || g.Around() != Tmux || !g.blackened || g.tellsKeys == console {
			t.Errorf("%s: %v, %v, %v, %v, %v", kind, g.Light(), g.BlackConfirmed(), g.Around(), g.blackened, g.tellsKeys)
		}
	}
}

// Without a width or a height the dark is erased in black, as without both.
func TestDarkWithoutAWidthOrAHeight(t *testing.T) {
	want := string(NewFrame(TwoFiftySix).Draw("tern", 0, 0, Dark))
	for _, size := range [][2]int{{0, 5}, {5, 0}, {-1, 5}, {5, -1}} {
		if got := string(NewFrame(TwoFiftySix).Draw("tern", size[0], size[1], Dark)); got != want || got == "" {
			t.Errorf("%v: %q; expected %q", size, got, want)
		}
	}
}

// The nearest of sixteen (ECMA-48's 30 to 37, 90 to 97 and 40 to 47), blue and dark grey lifted.
func TestSixteenInWhiteToTheNumber(t *testing.T) {
	for _, c := range []struct {
		fg, bg rgb
		want   string
	}{
		{0x000080, 0, "96;40"}, {0x0000ff, 0, "96;40"}, {0x808000, 0, "33;40"}, {0xffffff, 0, "97;40"}, {0x800080, 0, "35;40"},
		{0x808080, 0, "37;40"}, {0x101010, 0, "37;40"}, {0x800000, 0, "31;40"}, {0, 0, "30;40"}, {0xff0000, 0, "91;40"}, {0x008000, 0, "32;40"},
		{0xffffff, 0xffffff, "30;43"}, {0x000000, 0x808080, "30;43"}, {0xffffff, 0x3a2f1a, "30;47"},
	} {
		if got := white16(c.fg, c.bg); got != c.want {
			t.Errorf("%06x on %06x: %s; expected %s", c.fg, c.bg, got, c.want)
		}
	}
}

// Of 256 a dark filled row is the dark grey #262626; black, a grey of a picture and what is
// bright are not.
func TestTheFilledRowOf256(t *testing.T) {
	for bg, want := range map[rgb]bool{0x3a2f1a: true, 0x2a0000: true, 0: false, 0x444444: false, 0xffcc00: false, 0xffffff: false} {
		if got := back256(bg) == "235"; got != want {
			t.Errorf("%06x: %s", bg, back256(bg))
		}
	}
	for _, c := range []cell{{r: ' ', fg: red(lowest), bg: red(lowest)}, {r: 'x', fg: red(0xff), bg: red(lowest)}} {
		want := cell{r: c.r, fg: red(0xff), under: true}
		if c.fg == c.bg {
			want.fg = red(labels)
		}
		if got := underlined(c); got != want {
			t.Errorf("%+v; expected %+v", got, want)
		}
	}
}

// While film is open the levels are those of the table of 256 and no others; the cursor, too dark
// to fill, is underlined.
func TestTheLevelsOfTheSafelight(t *testing.T) {
	for lum, want := range map[float64]uint8{-1: 0, 0: 0, 1e-9: 0x5f, 0.2899: 0x5f, 0.29: 0x87, 0.7999: 0x87, 0.80: 0xaf, 1: 0xaf} {
		if got := dimInk(lum); got != want {
			t.Errorf("ink of %v: %#x; expected %#x", lum, got, want)
		}
	}
	for lum, want := range map[float64]uint8{0: 0, 0.0999: 0, 0.10: 0x5f, 1: 0x5f} {
		if got := dimBack(lum); got != want {
			t.Errorf("behind %v: %#x; expected %#x", lum, got, want)
		}
	}
	cursor := Safelight.seen(cell{r: 'x', width: 1, fg: 0, bg: 0xffffff})
	if !cursor.under || cursor.bg != red(0x5f) || cursor.fg != red(0xaf) {
		t.Errorf("the cursor: %+v", cursor)
	}
	if got := Red.seen(cell{r: 'x', width: 1, fg: 0, bg: 0xffffff}); got.under || got.fg != 0 || got.bg != red(0xff) {
		t.Errorf("the cursor in red: %+v", got)
	}
	if got := Red.seen(cell{r: 'x', width: 1, fg: 0x3a2f1a, bg: 0x3a2f1a}); got.fg != got.bg {
		t.Errorf("what is not to be read is read in red: %+v", got)
	}
	if got := fmt.Sprint(Safelight.seen(cell{r: ' ', width: 1})); got != fmt.Sprint(cell{r: ' ', width: 1}) {
		t.Errorf("nothing: %s", got)
	}
}

package light

// The filter by numbers: contrast by the formula of WCAG 2.1 ("contrast ratio", "relative
// luminance"), written here a second time from the standard's text.

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/charmbracelet/lipgloss"
	"pgregory.net/rapid"

	"example.org/wetside/tui/style"
)

func wcag(a, b rgb) float64 {
	lum := func(c rgb) float64 {
		r, g, b := c.parts()
		sum := 0.0
		for i, v := range []uint8{r, g, b} {
			s := float64(v) / 255
			if s <= 0.03928 {
				s /= 12.92
			} else {
				s = math.Pow((s+0.055)/1.055, 2.4)
			}
			sum += s * []float64{0.2126, 0.7152, 0.0722}[i]
		}
		return sum
	}
	x, y := lum(a), lum(b)
	if x < y {
		x, y = y, x
	}
	return (x + 0.05) / (y + 0.05)
}

// tokens are the colours that screens are drawn in, and the contrast that each must
// keep on black in red.
var tokens = map[string]struct {
	c     rgb
	least float64
}{
	"ink": {foreground(style.Ink), 4.5}, "strong": {foreground(style.Strong), 4.5}, "now": {foreground(style.Now), 4.5},
	"care": {foreground(style.Care), 4.5}, "danger": {foreground(style.Danger), 4.5},
	"quiet": {foreground(style.Quiet), 3}, "water": {foreground(style.Water), 3}, "done": {foreground(style.Done), 3},
}

var row = named(style.RowColour) // behind the selected row

func foreground(s lipgloss.Style) rgb { return named(s.GetForeground().(lipgloss.Color)) }

// named reads #rrggbb; lipgloss would ask the environment first.
func named(c lipgloss.Color) rgb {
	n, err := strconv.ParseUint(strings.TrimPrefix(string(c), "#"), 16, 32)
	if err != nil {
		panic(err)
	}
	return rgb(n)
}

// Every grey and every red has the contrast on black that the standard's text gives.
func TestContrastIsTheStandards(t *testing.T) {
	for level := range rgb(256) {
		for _, c := range []rgb{level * 0x010101, level << 16} {
			if got, want := contrast(c, 0), wcag(c, 0); math.Abs(got-want) > 1e-12 {
				t.Errorf("%06x: %v; want %v", c, got, want)
			}
		}
	}
}

// What is over the limit and what can hurt is as bright as what is merely said; lines stay
// darker than labels.
func TestRedKeepsItsOrder(t *testing.T) {
	at := func(s lipgloss.Style) rgb { return Red.seen(cell{r: 'x', width: 1, fg: foreground(s)}).fg }
	if at(style.Rule) >= at(style.Quiet) || at(style.Quiet) >= at(style.Danger) || at(style.Trough) >= at(style.Quiet) {
		t.Errorf("rule %06x, trough %06x, quiet %06x, danger %06x", at(style.Rule), at(style.Trough), at(style.Quiet), at(style.Danger))
	}
}

func TestRedCanBeRead(t *testing.T) {
	for name, want := range tokens {
		got := Red.seen(cell{r: 'x', width: 1, fg: want.c})
		if r := wcag(got.fg, got.bg); r < want.least {
			t.Errorf("%s: %.2f:1 on black, want %.1f:1", name, r, want.least)
		}
		on := Red.seen(cell{r: 'x', width: 1, fg: want.c, bg: row})
		if r := wcag(on.fg, on.bg); r < want.least {
			t.Errorf("%s on the selected row: %.2f:1, want %.1f:1", name, r, want.least)
		}
		if on.bg == 0 {
			t.Errorf("%s: the selected row is not to be seen", name)
		}
	}
}

// With 256 colours the same holds of the entries that are named; on the selected row, whose
// red is lighter there, 3:1 holds of all.
func TestRedCanBeReadIn256Colours(t *testing.T) {
	p := pen{profile: TwoFiftySix, light: Red}
	for name, want := range tokens {
		for _, back := range []rgb{0, row} {
			c := Red.seen(cell{r: 'x', width: 1, fg: want.c, bg: back})
			var fg, bg int
			if n, err := fmt.Sscanf(p.colours(c.fg, c.bg), "38;5;%d;48;5;%d", &fg, &bg); n != 2 {
				t.Fatal(err)
			}
			level := func(n int) rgb { // xterm's ctlseqs, "256-color cube"
				if n < 16 || (n-16)%36 != 0 {
					t.Fatalf("%s: entry %d", name, n)
				}
				return rgb([]int{0, 0x5f, 0x87, 0xaf, 0xd7, 0xff}[(n-16)/36]) << 16
			}
			least := want.least
			if back != 0 {
				least = 3
			}
			if r := wcag(level(fg), level(bg)); r < least {
				t.Errorf("%s on %06x: %.2f:1, want %.1f:1", name, back, r, least)
			}
		}
	}
}

// The selected row is filled wherever a red is dark enough for it; by red light, of 256 colours
// none is, and it is underlined.
func TestTheSelectedRowIsFilledWhereItCanBe(t *testing.T) {
	for _, c := range []struct {
		p     Profile
		l     Light
		under bool
	}{{TwoFiftySix, Red, true}, {TwoFiftySix, White, false}, {FullColour, Red, false}, {FullColour, White, false}} {
		p := pen{profile: c.p, light: c.l}
		back := row
		if c.l == Red {
			back = red(lowest)
		}
		if out := string(p.set(nil, cell{r: 'x', width: 1, fg: 0xff0000, bg: back})); strings.Contains(out, ";4;") != c.under {
			t.Errorf("profile %d, light %d: %q", c.p, c.l, out)
		}
	}
	p := pen{profile: TwoFiftySix, light: White}
	if out := string(p.set(nil, cell{r: 'x', width: 1, fg: 0xff0000, bg: red(lowest)})); strings.Contains(out, ";4;") {
		t.Errorf("a dark red in white light: %q", out)
	}
}

func TestSafelightKeepsSafetyAsBrightAsTheRest(t *testing.T) {
	ink := Safelight.seen(cell{r: 'x', fg: tokens["ink"].c}).fg
	for _, name := range []string{"care", "danger"} {
		if got := Safelight.seen(cell{r: 'x', fg: tokens[name].c}).fg; got < ink {
			t.Errorf("%s is %06x, ink %06x", name, got, ink)
		}
	}
	if brightest := Safelight.seen(cell{r: 'x', fg: 0xffffff}).fg; brightest > red(0xaf) {
		t.Errorf("white by safelight is %06x", brightest)
	}
}

// The safelight's ladder, as it is written to a terminal of 256 colours or more: entry 52 for
// lines and what is quiet, 88 for what is read, 124 for what is brightest, and the cursor
// alone is filled, by 52. Nothing is brighter while film is open (common practice, no source:
// the least three of the reds there are). The greys stand at either side of each step.
func TestTheSafelightsLadder(t *testing.T) {
	for _, p := range []Profile{TwoFiftySix, FullColour} {
		out := pen{profile: p, light: Safelight}
		for _, c := range []struct{ grey, ink, back int }{{0x00, 16, 16}, {0x01, 52, 16}, {0x58, 52, 16}, {0x5a, 52, 52}, {0x92, 52, 52}, {0x93, 88, 52}, {0xe7, 88, 52},
			{0xe8, 124, 52}, {0xff, 124, 52}} {
			grey := rgb(c.grey) * 0x010101
			got := Safelight.seen(cell{r: 'x', width: 1, fg: grey})
			if want := fmt.Sprintf("38;5;%d;48;5;16", c.ink); out.colours(got.fg, got.bg) != want {
				t.Errorf("profile %d, a letter of grey %02x: %s; want %s", p, c.grey, out.colours(got.fg, got.bg), want)
			}
			got = Safelight.seen(cell{r: 'x', width: 1, fg: 0xffffff, bg: grey})
			if want := fmt.Sprintf("38;5;124;48;5;%d", c.back); out.colours(got.fg, got.bg) != want {
				t.Errorf("profile %d, a letter on grey %02x: %s; want %s", p, c.grey, out.colours(got.fg, got.bg), want)
			}
		}
	}
	for level, want := range map[int]string{1: "52", 0x5f: "52", 0x60: "88", 0x87: "88", 0x88: "124", 0xaf: "124", 0xb0: "160", 0xd7: "160", 0xd8: "196"} {
		if got := entry(red(uint8(level))); got != want {
			t.Errorf("level %#x is entry %s; want %s", level, got, want)
		}
	}
}

func TestFilteredCellsAreRedOnly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := cell{r: rapid.Rune().Draw(t, "r"), width: 1,
			fg: rgb(rapid.Uint32Range(0, 0xffffff).Draw(t, "fg")), bg: rgb(rapid.Uint32Range(0, 0xffffff).Draw(t, "bg"))}
		for _, l := range []Light{Red, Safelight} {
			got := l.seen(c)
			for _, v := range []rgb{got.fg, got.bg} {
				if v&0xffff != 0 {
					t.Fatalf("%v: %06x", l, v)
				}
				if v != 0 && v < red(lowest) {
					t.Fatalf("%v: %06x; darker than the least level, a terminal may make it grey", l, v)
				}
			}
			if cursor := l == Red && got.bg >= red(readable); got.bg > red(map[Light]uint8{Red: lowest, Safelight: 0x5f}[l]) && !cursor {
				t.Fatalf("%v: background %06x", l, got.bg)
			} else if cursor && c.r != ' ' && wcag(got.fg, got.bg) < 4.5 {
				t.Fatalf("%v: %06x on %06x", l, got.fg, got.bg)
			}
		}
		if Dark.seen(c) != blank {
			t.Fatal("the dark shows something")
		}
		if White.seen(c) != c {
			t.Fatal("white light changes something")
		}
	})
}

// What is brighter in white light is never darker in red, so that weight is kept.
func TestBrighterIsNeverDarker(t *testing.T) {
	for _, ink := range []func(float64) uint8{redInk, dimInk, redBack, dimBack} {
		before := uint8(0)
		for i := range 1001 {
			level := ink(float64(i) / 1000)
			if level < before {
				t.Fatalf("luminance %.3f: %d after %d", float64(i)/1000, level, before)
			}
			before = level
		}
	}
}

// Up to labels what is somewhat brighter in white light is brighter in red: lines are told from bars.
func TestSomewhatBrighterIsBrighter(t *testing.T) {
	for i := range 28 {
		if at := float64(i) / 100; redInk(at+0.015) <= redInk(at) {
			t.Errorf("at a luminance of %.3f as at %.2f: %#x", at+0.015, at, redInk(at))
		}
	}
}

// On a row that is filled an ink is as little brighter as gives it the contrast that it has on black.
func TestLegibleIsTheLeastThatIs(t *testing.T) {
	for _, back := range []uint8{0, lowest, 0x5f} {
		for ink := lowest; ink <= 0xff; ink++ {
			want := ink
			for want < 0xff && wcag(red(uint8(want)), red(back)) < wcag(red(uint8(ink)), 0) {
				want++
			}
			if got := legible(uint8(ink), back); int(got) != want {
				t.Errorf("%#x on %#x: %#x; want %#x", ink, back, got, want)
			}
		}
	}
}

// tmux (colour.c, colour_find_rgb, from memory) makes the nearest of 256 of a colour where the
// terminal behind it has no more: no level of ours may come out as a grey.
func TestNoRedBecomesGrey(t *testing.T) {
	levels := []int{0, 0x5f, 0x87, 0xaf, 0xd7, 0xff}
	for r := lowest; r <= 0xff; r++ {
		cube := math.MaxInt
		for _, l := range levels {
			cube = min(cube, (r-l)*(r-l))
		}
		for n := range 24 {
			g := 8 + 10*n
			if grey := (r-g)*(r-g) + 2*g*g; grey < cube {
				t.Errorf("red %#x is nearer to grey %#x (%d) than to a red (%d)", r, g, grey, cube)
			}
		}
	}
}

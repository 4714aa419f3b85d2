package light

// Names, levels and mixtures, each against its rule written out.

import (
	"os"
	"testing"

	"pgregory.net/rapid"
)

func TestLightsAreNamed(t *testing.T) {
	for l, name := range map[Light]string{Dark: "dark", Safelight: "safelight", Red: "red", White: "white", White + 1: "dark", 255: "dark"} {
		if l.String() != name {
			t.Errorf("%d is %s; expected %s", l, l, name)
		}
		if got := Named(name); l <= White && got != l {
			t.Errorf("%s is %v", name, got)
		}
	}
	for _, name := range []string{"", "White", "RED", "on", "safe"} {
		if got := Named(name); got != Dark {
			t.Errorf("%q is %v; what is no light's name is the dark", name, got)
		}
	}
}

// A grey between two colours is the mean of each part, by division.
func TestMiddle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := rgb(rapid.Uint32Range(0, 0xffffff).Draw(t, "a")), rgb(rapid.Uint32Range(0, 0xffffff).Draw(t, "b"))
		got := middle(a, b)
		for shift := 0; shift < 24; shift += 8 {
			x, y, z := a>>shift&0xff, b>>shift&0xff, got>>shift&0xff
			if z != (x+y)/2 {
				t.Fatalf("between %06x and %06x: %06x", a, b, got)
			}
		}
		if got>>24 != 0 {
			t.Fatalf("%x", got)
		}
	})
}

// Between two levels there is a straight line, rounded, and nothing past its ends.
func TestBetween(t *testing.T) {
	for _, c := range []struct {
		lum, from, to float64
		least, most   uint8
		want          uint8
	}{{0, 0.1, 0.2, 100, 200, 100}, {0.1, 0.1, 0.2, 100, 200, 100}, {0.2, 0.1, 0.2, 100, 200, 200}, {0.9, 0.1, 0.2, 100, 200, 200},
		{0.25, 0, 1, 0, 100, 25}, {0.5, 0, 1, 10, 20, 15}, {0.75, 0.5, 1, 0, 0xff, 128}, {0.146, 0, 1, 0, 10, 1}, {0.154, 0, 1, 0, 10, 2}} {
		if got := between(c.lum, c.from, c.to, c.least, c.most); got != c.want {
			t.Errorf("%+v: %d", c, got)
		}
	}
}

// The ladder of red light: from each step of luminance on, and at its top (tui/light/filter.go's
// own choice; what it must come to is held by TestRedCanBeRead).
func TestTheStepsOfRed(t *testing.T) {
	for _, c := range []struct {
		lum  float64
		want uint8
	}{{-1, 0}, {0, 0}, {1e-9, lowest}, {0.05, (lowest + 0x6f + 1) / 2}, {0.09, 0x69}, {0.245, 0xc9}, {0.10, 0x6f}, {0.15, (0x6f + labels) / 2}, {0.20, labels},
		{0.29, readable}, {0.58, (readable + 0xff) / 2}, {0.87, 0xff}, {1, 0xff}} {
		if got := redInk(c.lum); got != c.want {
			t.Errorf("at %v: %#x; expected %#x", c.lum, got, c.want)
		}
	}
	if got := redInk(0.2899999); got != 0xcf {
		t.Errorf("just below what is read: %#x", got)
	}
	for lum, want := range map[float64]uint8{0: 0, 0.0049: 0, 0.005: lowest, 1: lowest} {
		if got := redBack(lum); got != want {
			t.Errorf("behind letters at %v: %#x; expected %#x", lum, got, want)
		}
	}
}

// Every character of braille, by where its dots are: eight of them, in rows of two.
func TestEveryBrailleHasItsPlace(t *testing.T) {
	for dots := range 256 {
		on := [4]bool{dots&0x09 != 0, dots&0x12 != 0, dots&0x24 != 0, dots&0xc0 != 0} // rows from the top, by Unicode's numbers of dots
		want := '.'
		switch {
		case on == [4]bool{}:
			want = ' '
		case on[0] && on[3]:
			want = '│'
		case (on[0] || on[1]) && (on[2] || on[3]):
			want = '-'
		case on[0] || on[1]:
			want = '\''
		case on[3] && !on[2]:
			want = '_'
		}
		if got := plainGlyph(0x2800 + rune(dots)); got != want {
			t.Errorf("%c: %c; expected %c", 0x2800+rune(dots), got, want)
		}
	}
	for r, want := range map[rune]rune{0x27ff: '?', 0x2900: '?', '~': '~', '}': '}', 'é': 'é', '²': '2', '٣': '٣', '☃': '?', 0: 0} {
		if got := plainGlyph(r); got != want {
			t.Errorf("%U: %U; expected %U", r, got, want)
		}
	}
}

// The guard stands for the terminal where it is read from, and lets nothing through that is
// written to it.
func TestTheGuardStandsForTheTerminal(t *testing.T) {
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	g := NewGuard(r)
	if g.Fd() != r.Fd() {
		t.Errorf("descriptor %d; expected %d", g.Fd(), r.Fd())
	}
	if n, err := g.Write([]byte("tern")); n != 4 || err != nil {
		t.Errorf("%d, %v", n, err)
	}
	if n, err := g.WriteString("plover"); n != 6 || err != nil {
		t.Errorf("%d, %v", n, err)
	}
	w.WriteString("k")
	buf := make([]byte, 8)
	if n, err := g.Read(buf); n != 1 || err != nil || buf[0] != 'k' {
		t.Errorf("%q, %v", buf[:n], err)
	}
	if err := g.Close(); err != nil {
		t.Error(err)
	}
	w.WriteString("e")
	if n, err := g.Read(buf); n != 1 || err != nil {
		t.Errorf("closed by the guard: %v", err)
	}
	w.Close()
}

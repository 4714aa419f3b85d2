package tui

// Every view is whole: so many lines of so many cells, in colours of one palette,
// at any size, whatever it is to show; and what drawing costs.

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode"

	"pgregory.net/rapid"
)

// Three hundred resizes, any size, any screen, any palette: every view is whole. A
// look reads every cell and fails on a wrong one.
func TestResizes(t *testing.T) {
	names := make([]string, 0, len(pictures))
	for name := range pictures {
		names = append(names, name)
	}
	slices.Sort(names)
	rapid.Check(t, func(r *rapid.T) {
		d := pictures[rapid.SampledFrom(names).Draw(r, "picture")](t)
		d.m.o.Colours = rapid.SampledFrom([]int{16, 256}).Draw(r, "colours")
		d.m.white = rapid.Bool().Draw(r, "white")
		for range 3 {
			d.size(rapid.IntRange(0, 220).Draw(r, "w"), rapid.IntRange(0, 70).Draw(r, "h"))
			d.look()
		}
	})
}

// Text from outside, of any script, keeps every cell in its place.
func TestAnyTextKeepsItsColumns(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		w, h := rapid.IntRange(1, 60).Draw(r, "w"), rapid.IntRange(1, 8).Draw(r, "h")
		s := rapid.StringOf(rapid.RuneFrom(nil, unicode.Latin, unicode.Han, unicode.Mn, unicode.So, unicode.Arabic, unicode.Cc, unicode.Cf)).Draw(r, "text")
		g := newGrid(w, h)
		all := rect{0, 0, w, h}
		g.text(all, s, text)
		g.paragraphs(all, lined(s, strong))
		g.right(all.row(h-1), s, dim)
		if _, err := read(g.render(red256), w, h, red256); err != nil {
			r.Fatal(err)
		}
	})
}

// Broken lines hold every character but blanks, and none is too wide.
func TestWrappedLosesNothing(t *testing.T) {
	squeeze := func(s string) string { return strings.Join(strings.Fields(s), "") }
	rapid.Check(t, func(r *rapid.T) {
		s := rapid.StringOf(rapid.SampledFrom([]rune("ab é. "))).Draw(r, "text")
		n := rapid.IntRange(1, 20).Draw(r, "n")
		lines := wrapText(s, n)
		for _, line := range lines {
			if len([]rune(line)) > n {
				r.Fatalf("%q is wider than %d", line, n)
			}
		}
		if got := strings.Join(lines, ""); squeeze(got) != squeeze(s) {
			r.Fatalf("%q became %q", s, got)
		}
	})
}

func TestCutIsMarked(t *testing.T) {
	for _, c := range []struct {
		s    string
		n    int
		want string
	}{{"fixer", 5, "fixer"}, {"fixer", 4, "fix…"}, {"fixer", 1, "…"}, {"", 0, ""}} {
		if got := cut(c.s, c.n); got != c.want {
			t.Errorf("cut(%q, %d) = %q; expected %q", c.s, c.n, got, c.want)
		}
	}
}

// In 256 colours the resting palette uses those entries alone that have neither
// green nor blue: 16 + 36 r (xterm's ctlseqs, "256-color cube"). In sixteen it uses
// black and red (ECMA-48, SGR 30, 31, 40) and brightness.
func TestRedPalettesHaveNoGreenAndNoBlue(t *testing.T) {
	form := regexp.MustCompile(`^\x1b\[38;5;(\d+);48;5;16m$`)
	for i, sgr := range slices.Concat(red256[:], dim256[:]) {
		l := i % len(red256)
		parts := form.FindStringSubmatch(sgr)
		if parts == nil {
			t.Fatalf("level %d: %q names not both colours", l, sgr)
		}
		n, _ := strconv.Atoi(parts[1])
		if cube := n - 16; cube < 0 || cube%36 != 0 || cube/36 > 5 {
			t.Errorf("level %d: entry %d has green or blue", l, n)
		} else if dim := i >= len(red256); dim && cube/36 > 3 {
			t.Errorf("level %d: entry %d is brighter than film may lie open to", l, n)
		}
	}
	few := regexp.MustCompile(`^\x1b\[(1|22);3[01];40m$`)
	for l, sgr := range red16 {
		if !few.MatchString(sgr) {
			t.Errorf("level %d in sixteen colours: %q is more than black, red and brightness", l, sgr)
		}
	}
	if red16[black] != "\x1b[22;30;40m" || red256[black] != "\x1b[38;5;16;48;5;16m" || white256[black] != red256[black] {
		t.Error("black is not black on black")
	}
}

// Where the terminal has few colours the palette is red whatever was asked.
func TestPalettes(t *testing.T) {
	for _, c := range []struct {
		colours int
		white   bool
		want    palette
	}{{256, false, red256}, {256, true, white256}, {16, false, red16}, {16, true, red16}} {
		m := Model{o: Options{Colours: c.colours}, white: c.white}
		if m.palette() != c.want {
			t.Errorf("%d colours, white %v: another palette", c.colours, c.white)
		}
	}
}

// No two parts of a screen share a cell, and none lies outside the window.
func TestLayoutsDoNotOverlap(t *testing.T) {
	for w := leastWidth; w <= 220; w += 3 {
		for h := leastHeight; h <= 70; h++ {
			for message := 1; message <= 9; message += 2 {
				f := frameOf(w, h, message)
				apart(t, "frame", w, h, f.head, f.body, f.message, f.keys)
				l := listOf(f.body, 1+(w+h)%20)
				if (w+h)%2 == 0 {
					l = l.stripless(f.body)
				}
				apart(t, "list", w, h, f.head, f.message, l.list, l.about, l.strip)
				p := planOf(f.body, len(fields))
				apart(t, "plan", w, h, f.head, f.message, p.strip, p.sums, p.fields, p.side, p.know)
				r := prepOf(f.body, min(message, 3))
				apart(t, "prep", w, h, f.head, f.message, r.left, r.right, r.question)
				run := runOf(f.body)
				apart(t, "run", w, h, f.head, f.message, run.strip, run.numeral, run.word, run.lines)
				a := afterOf(f.body)
				o := oldOf(f.body)
				e := readOf(f.body)
				apart(t, "read", w, h, f.head, f.message, e.numeral, e.typed, e.lines, e.picture)
				y := familyOf(f.body)
				apart(t, "family", w, h, f.head, f.message, y.picture, y.lines)
				if e.lines.h < 1 || e.numeral.h < 1 || y.lines.h < 1 {
					t.Fatalf("%dx%d, message of %d rows: no room to read", w, h, message)
				}
				apart(t, "old", w, h, f.head, f.message, o.planned, o.actual, o.lines)
				apart(t, "after", w, h, f.head, f.message, a.strip, a.lines)
				if run.numeral.h < 1 || run.lines.h < 1 || p.fields.h < 1 || l.list.h < 1 || r.left.h < 1 {
					t.Fatalf("%dx%d, message of %d rows: something needed has no room", w, h, message)
				}
			}
		}
	}
}

func apart(t *testing.T, what string, w, h int, parts ...rect) {
	t.Helper()
	for i, a := range parts {
		if a.w < 0 || a.h < 0 || a.w > 0 && a.h > 0 && (a.x < 0 || a.y < 0 || a.x+a.w > w || a.y+a.h > h) {
			t.Fatalf("%s %dx%d: %+v is outside", what, w, h, a)
		}
		for _, b := range parts[:i] {
			if a.x < b.x+b.w && b.x < a.x+a.w && a.y < b.y+b.h && b.y < a.y+a.h {
				t.Fatalf("%s %dx%d: %+v and %+v overlap", what, w, h, a, b)
			}
		}
	}
}

// A large text fills the cells that were counted for it, and no others.
func TestLargeTextStaysInItsPlace(t *testing.T) {
	for _, s := range []string{"0:00", "-1:23:45", "AGITATE 200", "TAKE OUT 3", "READY", "1"} {
		for scale := 1; scale <= 5; scale++ {
			w, h := digitSize(s, scale)
			if fitScale(s, w, h) != scale || fitScale(s, w-1, h) >= scale || fitScale(s, w, h-1) >= scale {
				t.Errorf("%q at %d: %d x %d is not what it needs", s, scale, w, h)
			}
			const edge = 2
			g := newGrid(w+2*edge, h+2*edge)
			g.drawLarge(edge, edge, s, scale, bright)
			for i, c := range g.cells {
				x, y := i%g.w-edge, i/g.w-edge
				if c.r != ' ' && (x < 0 || x >= w || y < 0 || y >= h) {
					t.Fatalf("%q at %d: a dot at %d,%d outside %d x %d", s, scale, x, y, w, h)
				}
			}
		}
	}
}

// The strip is to scale: a step's columns are its share of the time, to one column.
func TestStripIsToScale(t *testing.T) {
	d := sit(t, with("hangers")).size(120, 40)
	s := d.m.plan.strip
	at := planOf(frameOf(120, 40, 1).body, len(fields)).strip
	row := d.look().runes[at.y+2]
	for i, seg := range s.segments {
		n := 0
		for x := at.x; x < at.x+at.w; x++ {
			if row[x] == ' ' {
				continue
			}
			share := float64(x-at.x) / float64(at.w-1) * float64(s.end)
			if share >= float64(seg.From)-1 && share < float64(seg.To) {
				n++
			}
		}
		want := float64(seg.To-seg.From) / float64(s.end) * float64(at.w-1)
		if diff := float64(n) + 1 - want; i < len(s.segments)-1 && (diff < -1.01 || diff > 1.01) {
			t.Errorf("step %d has %d columns and a gap; expected %.1f", i, n, want)
		}
	}
}

func BenchmarkView200x60(b *testing.B) { benchmarkView(b, 200, 60) }
func BenchmarkView80x24(b *testing.B)  { benchmarkView(b, 80, 24) }

func benchmarkView(b *testing.B, w, h int) {
	d := pictures["running-turn"](b).size(w, h)
	for b.Loop() {
		_ = d.m.View()
	}
}

func BenchmarkTick(b *testing.B) {
	d := pictures["running-turn"](b)
	for b.Loop() {
		d.send(tickMsg{d.m.generation})
	}
}

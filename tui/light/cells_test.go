package light

// One cell: what a terminal may colour by itself, what combines, what is wider than it should be.

import (
	"slices"
	"strings"
	"testing"

	"github.com/charmbracelet/x/cellbuf"

	"example.org/wetside/tui/light/vtest"
	"example.org/wetside/tui/style"
)

// emoji are the characters up to U+FFFF outside ASCII with the property Emoji, as Perl 5.36 has
// them of Unicode 14.
var emoji = [][2]rune{
	{0x00a9, 0x00a9}, {0x00ae, 0x00ae}, {0x203c, 0x203c}, {0x2049, 0x2049}, {0x2122, 0x2122}, {0x2139, 0x2139}, {0x2194, 0x2199}, {0x21a9, 0x21aa},
	{0x231a, 0x231b}, {0x2328, 0x2328}, {0x23cf, 0x23cf}, {0x23e9, 0x23f3}, {0x23f8, 0x23fa}, {0x24c2, 0x24c2}, {0x25aa, 0x25ab}, {0x25b6, 0x25b6},
	{0x25c0, 0x25c0}, {0x25fb, 0x25fe}, {0x2600, 0x2604}, {0x260e, 0x260e}, {0x2611, 0x2611}, {0x2614, 0x2615}, {0x2618, 0x2618}, {0x261d, 0x261d},
	{0x2620, 0x2620}, {0x2622, 0x2623}, {0x2626, 0x2626}, {0x262a, 0x262a}, {0x262e, 0x262f}, {0x2638, 0x263a}, {0x2640, 0x2640}, {0x2642, 0x2642},
	{0x2648, 0x2653}, {0x265f, 0x2660}, {0x2663, 0x2663}, {0x2665, 0x2666}, {0x2668, 0x2668}, {0x267b, 0x267b}, {0x267e, 0x267f}, {0x2692, 0x2697},
	{0x2699, 0x2699}, {0x269b, 0x269c}, {0x26a0, 0x26a1}, {0x26a7, 0x26a7}, {0x26aa, 0x26ab}, {0x26b0, 0x26b1}, {0x26bd, 0x26be}, {0x26c4, 0x26c5},
	{0x26c8, 0x26c8}, {0x26ce, 0x26cf}, {0x26d1, 0x26d1}, {0x26d3, 0x26d4}, {0x26e9, 0x26ea}, {0x26f0, 0x26f5}, {0x26f7, 0x26fa}, {0x26fd, 0x26fd},
	{0x2702, 0x2702}, {0x2705, 0x2705}, {0x2708, 0x270d}, {0x270f, 0x270f}, {0x2712, 0x2712}, {0x2714, 0x2714}, {0x2716, 0x2716}, {0x271d, 0x271d},
	{0x2721, 0x2721}, {0x2728, 0x2728}, {0x2733, 0x2734}, {0x2744, 0x2744}, {0x2747, 0x2747}, {0x274c, 0x274c}, {0x274e, 0x274e}, {0x2753, 0x2755},
	{0x2757, 0x2757}, {0x2763, 0x2764}, {0x2795, 0x2797}, {0x27a1, 0x27a1}, {0x27b0, 0x27b0}, {0x27bf, 0x27bf}, {0x2934, 0x2935}, {0x2b05, 0x2b07},
	{0x2b1b, 0x2b1c}, {0x2b50, 0x2b50}, {0x2b55, 0x2b55}, {0x3030, 0x3030}, {0x303d, 0x303d}, {0x3297, 0x3297}, {0x3299, 0x3299},
}

// wholeBlocks may come to have more of them: Unicode's blocks Miscellaneous Technical,
// Miscellaneous Symbols, Dingbats, Miscellaneous Symbols and Arrows, Private Use Area; the
// keycap that is a component of emoji; the planes of pictures, and from tags on.
var wholeBlocks = [][2]rune{{0x20e3, 0x20e3}, {0x2300, 0x23ff}, {0x2600, 0x26ff}, {0x2700, 0x27bf}, {0x2b00, 0x2bff}, {0xe000, 0xf8ff},
	{0x1f000, 0x1ffff}, {0xe0000, 0x10ffff}}

func TestWhatGlows(t *testing.T) {
	within := func(r rune) func([2]rune) bool { return func(p [2]rune) bool { return p[0] <= r && r <= p[1] } }
	for r := rune(0); r <= 0x10ffff; r++ {
		want := slices.ContainsFunc(wholeBlocks, within(r)) || slices.ContainsFunc(emoji, within(r))
		if glows(r) != want {
			t.Errorf("U+%04X: %t", r, !want)
		}
	}
}

func TestWhatIsSeenOfACell(t *testing.T) {
	for _, c := range []struct {
		cell  cellbuf.Cell
		r     rune
		marks string
	}{
		{cellbuf.Cell{Rune: 'e', Comb: []rune{0x301}, Width: 1}, 'e', "\u0301"},
		{cellbuf.Cell{Rune: 'a', Comb: []rune{0x301, 0x302, 0x303}, Width: 1}, 'a', "\u0301\u0302"},
		{cellbuf.Cell{Rune: 'a', Comb: []rune{'b'}, Width: 1}, 'a', ""},
		{cellbuf.Cell{Rune: 'a', Comb: []rune{'b'}, Width: 2}, mark, ""},
		{cellbuf.Cell{Rune: '\u0301', Comb: []rune{'e'}, Width: 1}, 'e', ""},
		{cellbuf.Cell{Rune: 0x20dd, Comb: []rune{'e'}, Width: 1}, 'e', ""}, // a circle around a letter
		{cellbuf.Cell{Rune: '漢', Comb: []rune{0xfe0f}, Width: 2}, '漢', ""},
		{cellbuf.Cell{Rune: '漢', Comb: []rune{0xfe0f}, Width: 1}, mark, ""},
		{cellbuf.Cell{Rune: 0x200b, Width: 1}, mark, ""},
		{cellbuf.Cell{Rune: 0x301, Width: 1}, mark, ""}, // an accent on nothing
	} {
		if r, marks := character(&c.cell); r != c.r || marks != c.marks {
			t.Errorf("%q %q of width %d: %q %q; want %q %q", c.cell.Rune, c.cell.Comb, c.cell.Width, r, marks, c.r, c.marks)
		}
		if s := drawn(&c.cell); s.r != c.r || s.marks != c.marks {
			t.Errorf("%q %q is drawn as %q %q", c.cell.Rune, c.cell.Comb, s.r, s.marks)
		}
	}
}

// What is wider than two columns is a mark and blanks, one column each, and so is a mark itself.
func TestAMarkStandsForWhatIsTooWide(t *testing.T) {
	for _, c := range []struct {
		r     rune
		width int
		want  []cell
	}{
		{'漢', 2, []cell{{r: '漢', width: 2}, {}}},
		{mark, 2, []cell{{r: mark, width: 1}, {r: ' ', width: 1}}},
		{0x2e3b, 3, []cell{{r: mark, width: 1}, {r: ' ', width: 1}, {r: ' ', width: 1}}},
	} {
		p := picture{w: 3, h: 1, cells: make([]cell, 3)}
		p.wide(0, c.width, cell{r: c.r, width: 1, marks: "\u0301"})
		got := p.cells[:c.width]
		c.want[0].marks = map[bool]string{true: "\u0301"}[c.want[0].width == 2]
		if !slices.Equal(got, c.want) {
			t.Errorf("%q: %+v; want %+v", c.r, got, c.want)
		}
	}
}

// A wide character that has one column left is a mark there, and touches no other line.
func TestAWideCharacterAtTheEdge(t *testing.T) {
	p := picture{w: 3, h: 2, cells: make([]cell, 6)}
	p.SetCell(2, 0, &cellbuf.Cell{Rune: '漢', Width: 2})
	if p.cells[2].r != mark || p.cells[2].width != 1 || p.cells[3] != (cell{}) {
		t.Errorf("%+v", p.cells)
	}
}

// A blank is a blank, drawn or not; a letter is bold where that is drawn, and underlined blanks
// are to be seen.
func TestWeightAndLinesAreThoseDrawn(t *testing.T) {
	if s := drawn(&cellbuf.Cell{Rune: ' ', Width: 1}); s != blank {
		t.Errorf("%+v; want %+v", s, blank)
	}
	g := front(4, 1)
	g.Write(NewFrame(FullColour).Draw("a\x1b[4m \x1b[24;1mb\x1b[22m ", 4, 1, White))
	for x, s := range g.Cells() {
		if s.Underlined != (x == 1) || x == 1 && s.Fg == s.Bg {
			t.Errorf("column %d: %+v", x, s)
		}
	}
	if s := string(NewFrame(Sixteen).Draw("tern", 4, 1, White)); strings.Contains(s, "\x1b[1;24;") {
		t.Errorf("bold: %q", s)
	}
}

// What would move in a line is left out of it.
func TestNothingMovesInALine(t *testing.T) {
	for _, s := range []string{"\r", "\v", "\f", "\u0085", "\b", "\r\r"} {
		g := front(8, 1)
		if g.Write(NewFrame(FullColour).Draw("one"+s+"two\r\nnext", 8, 1, White)); g.Text(0) != "onetwo  " {
			t.Errorf("%q: %q", s, g.Text(0))
		}
	}
}

// Text without a colour is drawn in the colour of what is merely said.
func TestTextWithoutAColour(t *testing.T) {
	if want := foreground(style.Ink); plainInk != want {
		t.Errorf("%06x; want %06x", plainInk, want)
	}
}

// After a terminal without a size every cell is written again.
func TestAllIsWrittenAfterNoSize(t *testing.T) {
	f := NewFrame(FullColour)
	first := string(f.Draw("tern", 8, 1, White))
	if again := string(f.Draw("tern", 8, 1, White)); again != "" {
		t.Errorf("the same again: %q", again)
	}
	f.Draw("tern", 0, 0, White)
	if after := string(f.Draw("tern", 8, 1, White)); after != first {
		t.Errorf("%q; want %q", after, first)
	}
}

// A blank behind what is underlined is not.
func TestABlankIsNotUnderlined(t *testing.T) {
	g := front(6, 1)
	g.Write(NewFrame(FullColour).Draw("a\x1b[4mb\x1b[24m c", 6, 1, White))
	for x, s := range g.Cells() {
		if s.Underlined != (x == 1) {
			t.Errorf("column %d, %q: underlined %t", x, s.Rune, s.Underlined)
		}
	}
}

// What was asked of the terminal's system at the start is taken back at the end.
func TestEndRestores(t *testing.T) {
	for _, tells := range []bool{true, false} {
		g, _ := guarded(vtest.Behaviour{}, 4, 1, FullColour)
		var order strings.Builder
		g.to, g.restore, g.tellsKeys = &order, func() { order.WriteString("restored") }, tells
		g.End()
		if s := order.String(); !strings.HasSuffix(s, "restored") || strings.Contains(s, tellNoKey) != tells {
			t.Errorf("keys are told %t: %q", tells, s)
		}
	}
}

// Whoever took the terminal back, for an editor, has it black again at the next beginning.
func TestBegunAgain(t *testing.T) {
	for _, l := range []Light{Red, Dark} {
		g, front := guarded(vtest.Behaviour{}, 12, 2, FullColour)
		g.SetLight(l)
		g.Show("red")
		g.End()
		front.Write([]byte("\x1b[0m$ edit"))
		front.Write([]byte(g.beginSequence() + "\x1b[0mlit"))
		if g.black(); front.LitCell() != "" {
			t.Errorf("begun by %s: %s", l, front.LitCell())
		}
	}
}

package light

// What a Frame writes, judged by a terminal of its own account (tui/light/vtest) with white
// defaults, the worst case.

import (
	"fmt"
	"reflect"
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"

	"example.org/wetside/tui/light/vtest"
)

// front is a terminal as the guard leaves it: without wrapping, black where it can be set.
func front(w, h int) *vtest.Terminal {
	g := vtest.New(w, h, vtest.Behaviour{ErasesWithPen: true})
	g.Write([]byte("\x1b[?25l\x1b[?7l"))
	return g
}

// cellsOf is what the terminal shows, cell by cell: of a blank its background.
func cellsOf(g *vtest.Terminal) string {
	var b strings.Builder
	cells := reflect.ValueOf(g).Elem().FieldByName("cells")
	for i := range cells.Len() {
		r, pen := rune(cells.Index(i).FieldByName("r").Int()), cells.Index(i).FieldByName("pen")
		if r == ' ' && !pen.FieldByName("underline").Bool() {
			fmt.Fprintln(&b, pen.FieldByName("bg"), pen.FieldByName("reverse"))
			continue
		}
		fmt.Fprintln(&b, string(r), pen)
	}
	return b.String()
}

// pieces are what views are made of here: words, colours, and whatever else a terminal
// might obey.
var pieces = []string{
	"plain", " ", "  ", "\n", "\n\n", "é", "ü", "e\u0301", "a\u0301\u0302\u0303", "漢字", "한", "░█▀▄━┃", "⠿⣿", "°×−…",
	"\u200b", "\u200d", "\u202e", "\u2066", "\ufeff", "\ufe0f", "\u00ad", "👍", "👩‍🚀", "🇩🇪", "⚠\ufe0f", "☀", "▶", "©", "1\ufe0f\u20e3",
	"\x1b[0m", "\x1b[m", "\x1b[1m", "\x1b[4m", "\x1b[7m", "\x1b[8m", "\x1b[38;2;216;212;204m", "\x1b[48;2;58;47;26m",
	"\x1b[38;5;231;48;5;21m", "\x1b[97;107m", "\x1b[31;44m", "\x1b[38:2::255:255:255m", "\x1b[58;2;0;255;0;4:3m", "\x1b[5m", "\x1b[9m",
	"\x1b[2J", "\x1b[K", "\x1b[H", "\x1b[9;9H", "\x1b[5B", "\x1bc", "\x1b#8", "\x1b[?1049l", "\x1b[?25h", "\x1b[?5h", "\x1b[4h", "\x1b[5@",
	"\x1b]11;rgb:ff/ff/ff\x07", "\x1b]0;title\x1b\\", "\x1b]8;;http://x\x1b\\", "\x1bPq#0~~\x1b\\", "\x9b7m", "\u009b7m", "\u0085",
	"\a", "\b", "\t", "\r", "\v", "\f", "\x0e", "\x7f", "\x00", "\x1b", "\x1b[", "\x1b]", "\xff", "\xe2\x96", "\x1b[1\x187m", "\x1b(0lqk",
}

func anyView(t *rapid.T, name string) string {
	part := rapid.OneOf(rapid.SampledFrom(pieces), rapid.SampledFrom(pieces), rapid.String())
	return strings.Join(rapid.SliceOfN(part, 0, 40).Draw(t, name), "")
}

var profiles = []Profile{Sixteen, TwoFiftySix, FullColour}

// setReds is what the guard sets the sixteen colours to.
func setReds(g *vtest.Terminal, p Profile) {
	if p == Sixteen {
		g.Behaviour.SetsColours = true
		g.Write([]byte("\x1b]4;0;rgb:00/00/00;1;rgb:aa/00/00;9;rgb:ff/00/00\x1b\\\x1b]11;rgb:00/00/00\x1b\\"))
	}
}

func TestNoGreenAndNoBlue(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, l := rapid.SampledFrom(profiles).Draw(t, "profile"), rapid.SampledFrom([]Light{Red, Safelight}).Draw(t, "light")
		g, f := front(20, 5), NewFrame(p)
		setReds(g, p)
		for i := range 3 {
			g.Write(f.Draw(anyView(t, fmt.Sprint("view ", i)), 20, 5, l))
			if cold := g.NonRedCell(); cold != "" {
				t.Fatalf("%v: %s", l, cold)
			}
		}
		if most := uint8(0xaf); l == Safelight && g.BrighterThan(most) != "" {
			t.Fatalf("brighter than %#x: %s", most, g.BrighterThan(most))
		}
		if g.Bells > 0 || g.CursorShown() || g.Alternate() {
			t.Fatalf("%d bells, cursor %v, alternate screen %v", g.Bells, g.CursorShown(), g.Alternate())
		}
	})
}

func TestTheDarkIsWrittenOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := rapid.SampledFrom(profiles).Draw(t, "profile")
		g, f := front(20, 5), NewFrame(p)
		setReds(g, p)
		g.Write(f.Draw(anyView(t, "lit"), 20, 5, White))
		g.Write(f.Draw(anyView(t, "dark"), 20, 5, Dark))
		if lit := g.LitCell(); lit != "" {
			t.Fatal(lit)
		}
		for y := range 5 {
			if text := g.Text(y); strings.Trim(text, " ") != "" {
				t.Fatalf("row %d is %q; expected nothing to read, in black either", y, text)
			}
		}
		if more := f.Draw(anyView(t, "again"), 20, 5, Dark); len(more) > 0 {
			t.Fatalf("wrote %q into the dark", more)
		}
		g.Write([]byte("a stray write"))
		if lit := g.LitCell(); lit != "" {
			t.Fatal("a stray write: ", lit)
		}
	})
}

// What was written by and by looks like what is written at once.
func TestChangesComeToTheSame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := rapid.SampledFrom(profiles).Draw(t, "profile")
		g, f := front(24, 4), NewFrame(p)
		var view string
		var l Light
		for i := range rapid.IntRange(1, 5).Draw(t, "views") {
			view = anyView(t, fmt.Sprint("view ", i))
			l = rapid.SampledFrom([]Light{Dark, Safelight, Red, White}).Draw(t, "light")
			g.Write(f.Draw(view, 24, 4, l))
		}
		whole := front(24, 4)
		whole.Write(NewFrame(p).Draw(view, 24, 4, l))
		if cellsOf(g) != cellsOf(whole) {
			t.Fatalf("by and by\n%s\nat once\n%s", textOf(g), textOf(whole))
		}
	})
}

func textOf(g *vtest.Terminal) string {
	_, h := g.Size()
	var rows []string
	for y := range h {
		rows = append(rows, g.Text(y))
	}
	return strings.Join(rows, "\n")
}

// Nothing that is hard to measure moves what stands beside it.
func TestNothingShiftsALine(t *testing.T) {
	for _, s := range pieces {
		if strings.ContainsAny(s, "\n") || s == "\x1b" || s == "\x1b[" || s == "\x1b]" {
			continue // these take what follows with them
		}
		for _, l := range []Light{Red, White} {
			g := front(30, 3)
			g.Write(NewFrame(TwoFiftySix).Draw("first\n"+s+"\x1b[0m\nlast row|", 30, 3, l))
			if got := strings.TrimRight(g.Text(0), " "); got != "first" {
				t.Errorf("%q: row 0 is %q", s, got)
			}
			if got := strings.TrimRight(g.Text(2), " "); got != "last row|" && l == White && !strings.Contains(s, "\x1b[8m") {
				t.Errorf("%q: row 2 is %q", s, got)
			}
		}
	}
	g := front(12, 1)
	g.Write(NewFrame(FullColour).Draw("a漢e\u0301\u200bb\tc👍d", 12, 1, White))
	if got, want := []rune(g.Text(0)), "a"; string(got[0]) != want || got[1] != '漢' || got[3] != 'e' || got[4] != 'b' || got[5] != 'c' || got[8] != 'd' {
		t.Errorf("row %q", string(got))
	}
}

func TestPicturesInTheirOwnColoursAreNotShownInRed(t *testing.T) {
	for _, s := range []string{"👍", "☀", "⚠", "▶", "©", "↔", "⏰", "❤"} {
		g := front(4, 1)
		g.Write(NewFrame(FullColour).Draw(s, 4, 1, Red))
		if r, _ := utf8.DecodeRuneInString(g.Text(0)); r != mark {
			t.Errorf("%s is shown as %q", s, g.Text(0))
		}
	}
	for _, s := range []string{"█", "▄", "━", "┃", "─", "⠿", "°", "×", "−", "…", "↑", "→", "▸", "▌", "é", "½"} {
		g := front(4, 1)
		g.Write(NewFrame(FullColour).Draw(s, 4, 1, Red))
		if !strings.HasPrefix(g.Text(0), s) {
			t.Errorf("%s is shown as %q", s, g.Text(0))
		}
	}
}

func TestOnlyWhatChangedIsWritten(t *testing.T) {
	f := NewFrame(FullColour)
	view := strings.Repeat("the same words in every row\n", 9)
	first := len(f.Draw(view+"2:48", 80, 10, White))
	if again := f.Draw(view+"2:48", 80, 10, White); len(again) > 0 {
		t.Errorf("an unchanged view wrote %q", again)
	}
	second := f.Draw(view+"2:47", 80, 10, White)
	if len(second) > 150 || !strings.Contains(string(second), "\x1b[10;4H") {
		t.Errorf("one digit: %d bytes %q", len(second), second)
	}
	if same := f.Draw(view+"2:47\x1b[0m", 80, 10, White); len(same) > 0 {
		t.Errorf("what looks the same wrote %q", same)
	}
	if lit := string(NewFrame(FullColour).Draw("", 80, 1, White)); strings.Count(lit, " ") != 80 || len(lit) > 160 {
		t.Errorf("a row without a word: %q", lit)
	}
	if nothing := string(f.Draw("", 80, 10, White)); !strings.Contains(nothing, "     ") {
		t.Errorf("a view without a word wrote %q over one with words", nothing)
	}
	f.Invalidate()
	if anew := len(f.Draw(view+"2:47", 80, 10, White)); anew != first {
		t.Errorf("a redraw wrote %d bytes, the first view %d", anew, first)
	}
	if resized := f.Draw(view+"2:47", 81, 10, White); len(resized) < first {
		t.Errorf("after a resize %d bytes were written", len(resized))
	}
}

// A light that is none is the dark.
func TestALightThatIsNone(t *testing.T) {
	for _, w := range []int{10, 0} { // also where the size is not known
		want := string(NewFrame(FullColour).Draw("words", w, 1, Dark))
		if got := string(NewFrame(FullColour).Draw("words", w, 1, White+1)); got != want {
			t.Errorf("%q; want %q", got, want)
		}
	}
}

// Where a terminal may have given a character another width the next column is written again with it,
// up to the last.
func TestBehindAnUnsureWidth(t *testing.T) {
	f := NewFrame(FullColour)
	f.Draw("abc", 3, 1, White)
	if out := string(f.Draw("añ\u0301c", 3, 1, White)); !strings.Contains(out, "c") {
		t.Errorf("%q", out)
	}
	if out := string(f.Draw("abñ\u0301", 3, 1, White)); !strings.Contains(out, "ñ\u0301") {
		t.Errorf("in the last column: %q", out)
	}
}

func TestWithoutColoursNothingIsRed(t *testing.T) {
	f := NewFrame(NoColours)
	for _, l := range []Light{Red, Safelight, Dark} {
		if s := string(f.Draw("words", 10, 1, l)); strings.Contains(s, "words") || strings.Contains(s, "m") {
			t.Errorf("%v: %q", l, s)
		}
	}
	if s := string(f.Draw("words", 10, 1, White)); !strings.Contains(s, "words") {
		t.Errorf("white: %q", s)
	}
}

func TestProfileOf(t *testing.T) {
	for in, want := range map[string]Profile{
		"dumb ": NoColours, " ": bareTerminal, "linux truecolor": Sixteen, "xterm ": Sixteen, "xterm-256color ": TwoFiftySix,
		"screen 1": TwoFiftySix, "xterm truecolor": FullColour, "tmux-256color 24bit": FullColour, "xterm-direct ": FullColour,
	} {
		kind, more, _ := strings.Cut(in, " ")
		env := map[string]string{"TERM": kind, "COLORTERM": more, "NO_COLOR": "1"}
		if got := ProfileOf(func(k string) string { return env[k] }); got != want {
			t.Errorf("%q: %v, want %v", in, got, want)
		}
	}
}

// Whatever somebody else wrote before, a cell looks as it should; what somebody else
// writes afterwards does not shine.
func TestStrayWrites(t *testing.T) {
	for _, stray := range []string{"\x1b[7m", "\x1b[8m", "\x1b[1;4m", "\x1b[97;107m"} {
		g, clean := front(10, 1), front(10, 1)
		g.Write([]byte(stray))
		out := NewFrame(FullColour).Draw("words", 10, 1, Red)
		g.Write(out)
		clean.Write(out)
		if cellsOf(g) != cellsOf(clean) {
			t.Errorf("after %q the words look otherwise", stray)
		}
		if !strings.HasSuffix(string(out), "\x1b[22;24;38;5;16;48;5;16m") {
			t.Errorf("the last pen is not black on black: %q", out)
		}
	}
}

// While film may be open only entries of the table are named, whatever was named in
// another light before.
func TestSafelightNamesTheTableOnly(t *testing.T) {
	f := NewFrame(FullColour)
	if s := string(f.Draw("\x1b[38;2;135;0;0mwords", 10, 1, White)); !strings.Contains(s, "38;2;135;0;0") {
		t.Errorf("white: %q", s)
	}
	if s := string(f.Draw("words", 10, 1, Safelight)); strings.Contains(s, "8;2;") || !strings.Contains(s, "38;5;88;48;5;16") {
		t.Errorf("safelight: %q", s)
	}
}

func TestReversedIsTheOtherWayRound(t *testing.T) {
	a, b := front(3, 1), front(3, 1)
	a.Write(NewFrame(FullColour).Draw("\x1b[38;2;1;2;3;48;2;40;50;60;7mx", 3, 1, White))
	b.Write(NewFrame(FullColour).Draw("\x1b[38;2;40;50;60;48;2;1;2;3mx", 3, 1, White))
	if cellsOf(a) != cellsOf(b) {
		t.Errorf("%s\n%s", cellsOf(a), cellsOf(b))
	}
}

// Bold may be shown as the lighter of sixteen reds, which nobody can vouch for.
func TestNoBoldRedInSixteenColours(t *testing.T) {
	for l, want := range map[Light]bool{White: true, Red: false, Safelight: false} {
		if s := string(NewFrame(Sixteen).Draw("\x1b[1mwords", 10, 1, l)); strings.Contains(s, "\x1b[1;24;") != want {
			t.Errorf("%v: %q", l, s)
		}
	}
}

// In sixteen colours amber is not the red of danger, labels are not the dark grey that many
// terminals show as black, and the selected row is to be seen.
func TestSixteenColoursInWhiteLight(t *testing.T) {
	for view, want := range map[string]string{
		"\x1b[38;2;242;169;59mx": "93;40", "\x1b[38;2;255;95;86mx": "91;40", "\x1b[38;2;69;66;62mx": "37;40",
		"\x1b[38;2;216;212;204;48;2;58;47;26mx": "30;47",
	} {
		if s := string(NewFrame(Sixteen).Draw(view, 1, 1, White)); !strings.Contains(s, want+"mx") {
			t.Errorf("%q: %q, want %s", view, s, want)
		}
	}
}

func TestDarkWithoutASize(t *testing.T) {
	g, f := front(20, 5), NewFrame(TwoFiftySix)
	g.Write(f.Draw("words", 20, 5, White))
	g.Write(f.Draw("words", 0, 0, White))
	if g.LitCell() == "" {
		t.Error("white light without a size erased the screen")
	}
	g.Write([]byte("\x1b[?25h"))
	g.Write(f.Draw("words", 0, 0, Dark))
	if lit := g.LitCell(); lit != "" {
		t.Error(lit)
	}
	g.Write([]byte("\x1b[?25h"))
	f.Invalidate()
	if g.Write(f.Draw("words", 20, 5, Dark)); g.CursorShown() || g.LitCell() != "" {
		t.Errorf("cursor %v, %s", g.CursorShown(), g.LitCell())
	}
}

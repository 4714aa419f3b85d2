package widget

// What holds of every component at every width: no row is wider than was told, no more
// rows than there is room for, nothing cut without a mark, numbers beneath each other.

import (
	"fmt"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"

	"example.org/wetside/tui/style"
	"example.org/wetside/tui/timeline"
)

func fits(t *rapid.T, view string, w, h int) {
	rows := strings.Split(view, "\n")
	if h > 0 && len(rows) > h {
		t.Fatalf("%d rows, told %d:\n%s", len(rows), h, ansi.Strip(view))
	}
	for _, row := range rows {
		if n := ansi.StringWidth(row); n > w {
			t.Fatalf("%d columns, told %d:\n%s", n, w, ansi.Strip(view))
		}
	}
}

var words = []string{"develop", "stop bath", "fix", "wetting agent", "Plover 80, six sheets shuffled in trays", "é", "漢字の", "a\u0301b", "24.0 °C", "1:02:03", ""}

func word(t *rapid.T) string { return rapid.SampledFrom(words).Draw(t, "word") }

func widths(t *rapid.T) int { return rapid.IntRange(20, 220).Draw(t, "width") }

func TestTableFits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, h := widths(t), rapid.IntRange(0, 20).Draw(t, "height")
		table := Table{Width: w, Height: h, Plain: rapid.Bool().Draw(t, "plain"), Empty: "Nothing is kept here yet; n makes the first one."}
		for range rapid.IntRange(1, 7).Draw(t, "columns") {
			table.Columns = append(table.Columns, Column{Title: word(t), Right: rapid.Bool().Draw(t, "right"), Least: rapid.IntRange(0, 12).Draw(t, "least")})
		}
		for range rapid.IntRange(0, 30).Draw(t, "rows") {
			var row []string
			for range len(table.Columns) {
				row = append(row, word(t))
			}
			table.Rows = append(table.Rows, row)
		}
		table.Selected = rapid.IntRange(-1, len(table.Rows)-1).Draw(t, "selected")
		view := table.View()
		if h == 0 || len(table.Rows) == 0 {
			fits(t, view, w, 0)
		} else {
			fits(t, view, w, h)
		}
		if s := table.Selected; s >= 0 {
			if first, n := table.Shown(); s < first || s >= first+n {
				t.Fatalf("row %d is selected, %d to %d are shown", s, first, first+n)
			}
			for _, row := range strings.Split(view, "\n") {
				if strings.Contains(row, "48;2;") && ansi.StringWidth(row) != w {
					t.Fatalf("the selected row is filled for %d columns of %d", ansi.StringWidth(row), w)
				}
			}
		}
		// Where all has room, all of it is there; where it has not, there is a mark.
		plain := ansi.Strip(view)
		for i, row := range table.Rows {
			if first, n := table.Shown(); i < first || i >= first+n {
				continue
			}
			for _, cell := range row {
				if !strings.Contains(plain, strings.TrimSpace(cell)) && !strings.Contains(plain, cutMark) {
					t.Fatalf("%q is cut without a mark:\n%s", cell, plain)
				}
			}
		}
	})
}

func TestNumbersStandBeneathEachOther(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		table := Table{Plain: true, Selected: -1, Width: 60, Columns: []Column{{Title: "bath"}, {Title: "time", Right: true}, {Title: "hands"}}}
		for i := range rapid.IntRange(2, 9).Draw(t, "rows") {
			n := rapid.IntRange(0, 100000).Draw(t, "n")
			table.Rows = append(table.Rows, []string{fmt.Sprint("bath ", i), fmt.Sprintf("%d ml", n), "|"})
		}
		want := -1
		for _, row := range strings.Split(ansi.Strip(table.View()), "\n")[1:] {
			at := strings.Index(row, " ml")
			if want >= 0 && at != want {
				t.Fatalf("units at %d and %d:\n%s", want, at, table.View())
			}
			want = at
		}
	})
}

func TestStripFits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, h := widths(t), rapid.IntRange(1, 6).Draw(t, "rows")
		l := trays()
		for i := range l.Segments {
			l.Segments[i].Name = word(t)
		}
		l = limited(l, clock(rapid.IntRange(0, 120).Draw(t, "limit"), 0))
		if rapid.Bool().Draw(t, "running") {
			l = at(l, clock(rapid.IntRange(0, 40).Draw(t, "now"), 0))
		}
		view := Strip{l, w, h, ""}.View()
		fits(t, view, w, min(h, StripRows))
		rows := strings.Split(ansi.Strip(view), "\n")
		if h >= 4 { // a name and its time come or go together
			for _, s := range l.Segments {
				shown := strings.Contains(rows[0], s.Name)
				if strings.Contains(rows[0], cutMark) || !shown && s.Name != "" && strings.Contains(rows[2], " "+clocked(s)+" ") {
					t.Fatalf("%q at %s:\n%s", s.Name, clocked(s), ansi.Strip(view))
				}
			}
		}
		band := rows[0]
		if h >= 4 {
			band = rows[1]
		}
		for _, full := range []string{"█", "▄"} {
			if !strings.Contains(band, full) {
				t.Fatalf("no %s on the band:\n%s", full, ansi.Strip(view))
			}
		}
	})
}

func clocked(s timeline.Segment) string {
	m := int(s.From.Minutes())
	return fmt.Sprintf("%d:%02d", m, int(s.From.Seconds())-60*m)
}

func TestPlotFits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := Plot{X: Axis{Name: word(t)}, Y: Axis{Name: word(t)}, Width: widths(t), Height: rapid.IntRange(0, 60).Draw(t, "height")}
		value := rapid.OneOf(rapid.Float64Range(-4, 4), rapid.Float64Range(-1e6, 1e6), rapid.Float64())
		for range rapid.IntRange(0, 6).Draw(t, "curves") {
			k := Curve{Label: rapid.SampledFrom([]string{"5:00", "N+1", "13:00", ""}).Draw(t, "label")}
			for range rapid.IntRange(0, 20).Draw(t, "points") {
				k.Points = append(k.Points, Point{value.Draw(t, "x"), value.Draw(t, "y")})
			}
			p.Curves = append(p.Curves, k)
		}
		fits(t, p.View(), p.Width, max(1, p.Height))
	})
}

// Every curve ends in its label, and ticks stand at round values: 1, 2 or 5 by a power of ten apart.
func TestPlotIsLabelled(t *testing.T) {
	for w := 40; w <= 220; w += 20 {
		p := family()
		p.Width, p.Height = w, 24
		for _, k := range p.Curves {
			if !strings.Contains(ansi.Strip(p.View()), k.Label) {
				t.Errorf("width %d: %s has no label", w, k.Label)
			}
		}
		for _, name := range []string{"D ", "log H"} {
			if !strings.Contains(ansi.Strip(p.View()), name) {
				t.Errorf("width %d: the axis %s has no name", w, name)
			}
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		s := span{least: rapid.Float64Range(-1000, 1000).Draw(t, "from")}
		s.most = s.least + rapid.Float64Range(0.01, 1000).Draw(t, "span")
		list, step := s.ticks(rapid.IntRange(1, 20).Draw(t, "most"))
		digits := strings.TrimRight(strings.NewReplacer(".", "", "+", "").Replace(strings.SplitN(fmt.Sprintf("%.6e", step), "e", 2)[0]), "0")
		if digits != "1" && digits != "2" && digits != "5" {
			t.Fatalf("a step of %v", step)
		}
		for _, v := range list {
			if v < s.least-step*1e-6 || v > s.most+step*1e-6 {
				t.Fatalf("a tick at %v outside %v", v, s)
			}
		}
	})
}

func TestTheRestFits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, h := widths(t), rapid.IntRange(1, 40).Draw(t, "height")
		var keys []key.Binding
		for range rapid.IntRange(0, 12).Draw(t, "keys") {
			keys = append(keys, Bind(rapid.SampledFrom([]string{"x", "↑↓", "enter"}).Draw(t, "key"), word(t)))
		}
		foot := Keys(w, keys...)
		fits(t, foot, w, 1)
		if !strings.HasSuffix(ansi.Strip(foot), "? all keys") {
			t.Fatalf("the foot is %q", ansi.Strip(foot))
		}
		k := help()
		k.Width, k.Height, k.First = w, h, rapid.IntRange(-5, 60).Draw(t, "first")
		fits(t, k.Scroll().View(), w, h)
		d := BigDigits{Text: rapid.SampledFrom([]string{"2:48", "SHUFFLE", "1:02:03", "abc ?"}).Draw(t, "text"), Width: w, Height: h}
		fits(t, d.View(), w, h)
		c := Columns{Width: w, Left: rapid.IntRange(0, 60).Draw(t, "left"), Least: rapid.IntRange(0, 60).Draw(t, "least"), Ruled: rapid.Bool().Draw(t, "ruled")}
		fits(t, c.Join(strings.Join(words, "\n"), strings.Join(words[3:], "\n\n")), w, 0)
		fits(t, Spread(word(t), word(t), w), w, 1)
		fits(t, Field(word(t), word(t), 12, w), w, 1)
	})
}

func TestFootHasSevenKeysThatWork(t *testing.T) {
	off := Bind("o", "nothing now")
	off.SetEnabled(false)
	foot := ansi.Strip(Keys(220, append([]key.Binding{off, AllKeys}, append(planKeys(), planKeys()...)...)...))
	want := "enter prepare   ↑↓ choose   ←→ change   + shorten   r rehearse   esc recipes   ? all keys"
	if foot != want {
		t.Errorf("%q, want %q", foot, want)
	}
}

func TestWrapLosesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := rapid.IntRange(1, 220).Draw(t, "width")
		s := strings.Join(rapid.SliceOfN(rapid.SampledFrom([]string{"handle", "sheets", "24", "°C", "by", "their", "edges.", "10", "s", "anextraordinarilylongword"}), 0, 30).Draw(t, "text"), " ")
		rows := Wrap(s, w)
		fits(t, strings.Join(rows, "\n"), w, 0)
		joined := strings.Join(rows, "")
		if strings.ReplaceAll(joined, " ", "") != strings.ReplaceAll(s, " ", "") {
			t.Fatalf("%q became %q", s, rows)
		}
	})
	if got := Wrap("shuffle them for 10 s and wait", 20); got[0] != "shuffle them for" {
		t.Errorf("a number is parted from its unit: %q", got)
	}
}

func TestScrollShowsAllOfItByAndBy(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, h := rapid.IntRange(1, 60).Draw(t, "rows"), rapid.IntRange(1, 20).Draw(t, "height")
		var rows []string
		for i := range n {
			rows = append(rows, fmt.Sprintf("row-%d-", i))
		}
		s := Scroll{Text: strings.Join(rows, "\n"), Width: 30, Height: h}
		seen := map[string]bool{}
		for range n + 1 {
			fits(t, s.View(), 30, h)
			for _, row := range strings.Split(ansi.Strip(s.View()), "\n") {
				seen[strings.Fields(row)[0]] = true
			}
			if (n > h) != strings.Contains(s.View(), "┃") {
				t.Fatalf("%d rows in %d:\n%s", n, h, s.View())
			}
			s, _ = s.Key("pgdown")
		}
		if len(seen) != n {
			t.Fatalf("%d rows of %d seen", len(seen), n)
		}
		if row := rapid.IntRange(0, n-1).Draw(t, "row"); !strings.Contains(s.Shows(row).View(), rows[row]) {
			t.Fatalf("row %d is not shown", row)
		}
	})
}

// cursorCell is a character in reverse.
var cursorCell = regexp.MustCompile("\x1b\\[7;[0-9;]*m[^\x1b]")

func TestPromptShowsItsCursor(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := NewPrompt("developer", "°C", rapid.StringMatching(`[a-z0-9]{0,300}`).Draw(t, "value"))
		p.Fault = rapid.SampledFrom([]string{"", "at most 40 °C", "a time such as 5:30 is expected here"}).Draw(t, "fault")
		for range rapid.IntRange(0, 20).Draw(t, "lefts") {
			p = p.Typed(tea.KeyMsg{Type: rapid.SampledFrom([]tea.KeyType{tea.KeyLeft, tea.KeyHome, tea.KeyEnd, tea.KeyRight}).Draw(t, "key")})
		}
		w := rapid.IntRange(30, 220).Draw(t, "width")
		view := p.View(w)
		fits(t, view, w, 1)
		if !cursorCell.MatchString(view) {
			t.Fatalf("no cursor in %q", view)
		}
		if shown := strings.Contains(ansi.Strip(view), p.Value()); !shown && !strings.Contains(view, cutMark) {
			t.Fatalf("%q is cut without a mark: %q", p.Value(), view)
		}
	})
}

func TestPromptKeys(t *testing.T) {
	p := NewPrompt("name", "", "two words")
	p.Fault = "taken"
	p = p.Typed(tea.KeyMsg{Type: tea.KeyCtrlW})
	if p.Value() != "two " || p.Fault != "" {
		t.Errorf("ctrl-w: %q, fault %q", p.Value(), p.Fault)
	}
	p = p.Typed(tea.KeyMsg{Type: tea.KeyHome}).Typed(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("x")})
	p = p.Typed(tea.KeyMsg{Type: tea.KeyEnd}).Typed(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("y")})
	if p.Value() != "xtwo y" {
		t.Errorf("home and end: %q", p.Value())
	}
	if p = p.Typed(tea.KeyMsg{Type: tea.KeyCtrlU}); p.Value() != "" {
		t.Errorf("ctrl-u: %q", p.Value())
	}
	if !utf8.ValidString(p.Hint("7:30").View(40)) || !strings.Contains(ansi.Strip(p.Hint("7:30").View(40)), ":30") {
		t.Errorf("hint: %q", p.Hint("7:30").View(40))
	}
}

// The selected row, and what is typed, can be told without any colour.
func TestShapesSayItToo(t *testing.T) {
	if table := stepTable(1); !strings.Contains(Table{Columns: table.Columns, Rows: table.Rows, Selected: 1, Width: 80}.View(), style.Now.Render(rowMark)) {
		t.Error("the selected row has no mark")
	}
	past := ansi.Strip(Strip{at(trays(), clock(4, 30)), 80, StripRows, ""}.View())
	if later := ansi.Strip(Strip{at(trays(), clock(9, 30)), 80, StripRows, ""}.View()); past == later {
		t.Error("without colours the strip does not say where the session is")
	}
}

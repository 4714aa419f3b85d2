package widget

// Each component drawn at 80 columns, without its colours: testdata/NAME.txt. With -update
// the pictures are written anew, to be looked at before they are kept.

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/x/ansi"

	"example.org/wetside/sequence"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/timeline"
)

var update = flag.Bool("update", false, "write the pictures anew")

func clock(m, s int) time.Duration {
	return time.Duration(m)*time.Minute + time.Duration(s)*time.Second
}

// trays is six sheets of Plover 80, shuffled.
func trays() timeline.Timeline {
	limit := clock(29, 12)
	return timeline.Timeline{Limit: &limit, Segments: []timeline.Segment{
		{Name: "presoak", From: 0, To: clock(1, 50)},
		{Name: "develop", From: clock(1, 50), To: clock(7, 18)},
		{Name: "stop bath", From: clock(7, 18), To: clock(9, 8)},
		{Name: "fix", From: clock(9, 8), To: clock(12, 28)},
		{Name: "wash", From: clock(12, 28), To: clock(23, 18), Light: sequence.White},
		{Name: "wetting agent", From: clock(23, 18), To: clock(24, 18), Light: sequence.White},
	}}
}

func at(l timeline.Timeline, now time.Duration) timeline.Timeline {
	l.Now = &now
	return l
}

func limited(l timeline.Timeline, limit time.Duration) timeline.Timeline {
	l.Limit = &limit
	return l
}

func stepTable(selected int) Table {
	return Table{Selected: selected, Columns: []Column{{}, {Title: "start", Right: true}, {Title: "time", Right: true}, {Title: "light"}, {Title: "hands"}},
		Rows: [][]string{
			{"presoak", "0:00", "1:00", "dark", "shuffle, a turn each 10 s"}, {"develop", "1:50", "5:28", "dark", "shuffle, drain 8 s"},
			{"stop bath", "7:18", "1:00", "dark", "shuffle, drain 5 s"}, {"fix", "9:08", "2:30", "dark", "shuffle; light after 2:00"},
			{"wash", "12:28", "10:00", "on", "hangers, 10 s each minute"}, {"wetting agent", "23:18", "1:00", "on", "stand"},
		}}
}

func family() Plot {
	p := Plot{X: Axis{Name: "log H"}, Y: Axis{Name: "D", From: 0, To: 2.2}}
	for i, g := range []float64{0.50, 0.73, 0.84, 0.63} {
		k := Curve{Label: []string{"5:00", "9:30", "13:00", "7:00"}[i]}
		if i == 3 {
			k.Ink = &style.Now
		}
		for x := -3.2; x < 0; x += 0.05 {
			k.Points = append(k.Points, Point{x, 0.16 + g*softplus(x+2.3)})
		}
		p.Curves = append(p.Curves, k)
	}
	return p
}

func softplus(x float64) float64 {
	if x < -0.5 {
		return 0
	}
	if x < 0.5 {
		return (x + 0.5) * (x + 0.5) / 2
	}
	return x
}

func planKeys() []key.Binding {
	return []key.Binding{Bind("enter", "prepare"), Bind("↑↓", "choose"), Bind("←→", "change"), Bind("+", "shorten"), Bind("r", "rehearse"), Bind("esc", "recipes"), Bind("w", "wall sheet")}
}

func help() Help {
	return Help{About: "The plan for today: what the recipe becomes at today's temperature. The developing time follows from the temperature that was measured; a change shows at once what it does to wet time.",
		Groups: []KeyGroup{
			{"The plan", planKeys()[:4]}, {"Looking", []key.Binding{Bind("n", "notes about this recipe, the whole of them, with what was found in earlier sessions"), Bind("e", "the error budget")}},
			{"The hands", []key.Binding{Bind("r", "rehearse"), Bind("d", "rehearse in the dark")}}, {"Leaving", []key.Binding{Bind("esc", "back to the recipes"), Bind("q", "end the program")}},
		}}
}

func TestPictures(t *testing.T) {
	const w = 80
	prompt := NewPrompt("developer", "°C", "240")
	prompt.Fault = "at most 40 °C"
	short := stepTable(4)
	short.Width, short.Height = w, 5
	table := stepTable(1)
	table.Width = w
	empty := Table{Width: w, Empty: "No bottle is kept yet. m mixes the first one."}
	plot := family()
	plot.Width, plot.Height = w, 22
	keys := help()
	keys.Width, keys.Height = w, 12
	plan := Columns{Width: w, Left: 30, Least: 20, Ruled: true}
	narrow := stepTable(-1)
	narrow.Plain, narrow.Width = true, 44
	for name, view := range map[string]string{
		"strip-plan":  Strip{trays(), w, StripRows, ""}.View(),
		"strip-run":   Strip{at(trays(), clock(4, 30)), w, StripRows, ""}.View(),
		"strip-over":  Strip{at(limited(trays(), clock(20, 0)), clock(22, 0)), w, StripRows, ""}.View(),
		"strip-far":   Strip{limited(trays(), clock(90, 0)), w, 3, ""}.View(),
		"digits-time": BigDigits{Text: "2:48", Width: w, Height: 11, Ink: style.Strong}.View(),
		"digits-word": BigDigits{Text: "shuffle", Width: w, Height: 5, Ink: style.Now}.View(),
		"table":       table.View(),
		"table-short": short.View(),
		"table-empty": empty.View(),
		"plot":        plot.View(),
		"prompt":      prompt.View(w),
		"keys":        Keys(w, planKeys()...),
		"help":        keys.Scroll().View(),
		"columns":     plan.Join(Field("sheets", style.Value("6"), 16, 30)+"\n"+Field("vessel", style.Value("trays"), 16, 30), narrow.View()),
	} {
		golden(t, name, ansi.Strip(view)+"\n")
	}
}

func golden(t *testing.T, name, got string) {
	t.Helper()
	file := filepath.Join("testdata", name+".txt")
	if *update {
		if err := os.WriteFile(file, []byte(got), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if strings.TrimRight(string(want), "\n") != strings.TrimRight(got, "\n") {
		t.Errorf("%s\ngot\n%s\nwant\n%s", name, got, want)
	}
}

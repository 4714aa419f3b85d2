package main

// The whole path in tmux, by the keys that the screens show: a film test planned and rehearsed, its
// densities read, curves, the new recipe, the next session; and each number followed
// back to its record.

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/wetside/recipes"
)

// densities is what a densitometer reads off the four negatives of an invented film,
// sheet by sheet, base plus fog first, then from the densest step on.
func densities(t *testing.T) (typed []string) {
	t.Helper()
	text, err := os.ReadFile("../../chem/curve/testdata/plover-200.csv")
	if err != nil {
		t.Fatal(err)
	}
	var rows [][]string
	for line := range strings.Lines(string(text)) {
		if !strings.HasPrefix(line, "#") {
			rows = append(rows, strings.Split(strings.TrimSpace(line), ","))
		}
	}
	for sheet := 1; sheet <= 4; sheet++ {
		typed = append(typed, rows[1][sheet])
		for i := len(rows) - 1; i > 1; i-- {
			typed = append(typed, rows[i][sheet])
		}
	}
	return typed
}

func TestFromFilmTestToNextSession(t *testing.T) {
	requireTool(t, "tmux", "-V")
	t.Parallel()
	program, err := builtProgram()
	if err != nil {
		t.Fatal(err)
	}
	l := newLaptop(t, "5m", "3m", "2m")
	source, _ := recipes.ShippedSource("plover-cradle")
	own := l.path("xdg_config_home/wetside/recipes")
	if err := os.MkdirAll(own, 0o700); err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{filepath.Join(own, "aaa.toml"): string(source),
		l.path("xdg_config_home/wetside/config.toml"): "[limits]\nrehearse = 600\n"} {
		if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	w := l.walk(program)
	w.sees("▌ Plover 80, six sheets in a cradle")
	w.keys("t")
	w.sees("Nothing is known of the film yet")
	w.keys("Down", "Down", "Down")
	w.keys("8m")
	w.sees("guess         8m")
	w.sees("6:45, 9:30, 13:15")
	w.keys("Enter")
	w.sees("▌ sheets leave")
	w.keys("Enter")
	w.sees("▌ Write the test and plan it")
	w.keys("Enter")
	w.sees("Written: Film test: ")
	w.keys("F5")
	w.sees("Rehearsal 600×")
	w.sees("Summary")
	w.keys("d") // the densities, as ? says
	w.sees("times    4:45 6:45 9:30 13:15")
	w.keys("PageDown")
	w.sees("▌ Begin reading")
	w.keys("Enter")
	w.sees("Base plus fog first")
	for _, x := range densities(t) {
		w.keys(x, "Enter") // what comes all at once is a paste, whose Enter is none
	}
	w.sees("That was the last step")
	w.keys("c")
	w.sees("for N   ")
	w.sees("gradient 0.58")
	w.keys("w")
	w.sees("Written: Plover 80, 4 sheets in a cradle, tested ")
	w.keys("p")
	w.sees("Develop 6:00")
	w.keys("i", "PageDown") // all that follows
	w.sees("The time was found by a film")
	w.keys("F5")
	w.sees("Rehearsal 600×")
	w.sees("Summary")
	w.keys("n") // in its record
	w.sees("what the next session should know")
	w.keys("as hoped", "Enter")
	w.sees("Noted.")
	w.keys("Escape")
	w.sees("Summary")
	w.keys("Enter")
	w.sees("N notebook")
	w.keys("N")
	w.sees("2 rehearsals hidden")
	w.keys("r")
	w.sees("2 sessions, rehearsals too")
	w.keys("/", "tested hoped", "Enter")
	w.sees("1 session, rehearsals too")
	w.keys("Enter")
	w.sees("Steps        start  planned")
	w.keys("End")
	w.sees("Times found by a film test: session ")
	w.keys("C-c")
	w.sees("STATUS 0")
	l.traced(own)
}

// traced follows the new recipe's numbers back to the session and the readings that it
// names.
func (l machine) traced(own string) {
	l.t.Helper()
	written, err := filepath.Glob(filepath.Join(own, "*-tested-*.toml"))
	if err != nil || len(written) != 1 {
		l.t.Fatalf("%q, %v; expected one new recipe", written, err)
	}
	text, err := os.ReadFile(written[0])
	if err != nil {
		l.t.Fatal(err)
	}
	r, err := recipes.Read(written[0], text)
	if err != nil {
		l.t.Fatal(err)
	}
	session, readings, ok := strings.Cut(strings.TrimPrefix(r.Origin(), "session "), ", readings ")
	if !ok || !strings.Contains(r.About, r.Origin()) {
		l.t.Fatalf("%q in %q; expected a session and readings", r.Origin(), r.About)
	}
	if _, err := os.Stat(l.path("xdg_state_home/wetside/sessions/" + session + ".jsonl")); err != nil {
		l.t.Error(err)
	}
	kept, err := os.ReadFile(l.path("xdg_data_home/wetside/readings/" + readings))
	if err != nil || !strings.Contains(string(kept), session) {
		l.t.Errorf("%v; expected readings that name the session in\n%s", err, kept)
	}
}

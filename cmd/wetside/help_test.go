package main

// Help: every command has worked examples, and every one of them runs as printed.

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/spf13/cobra"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli"
	"example.org/wetside/cmd/wetside/internal/hometest"
	"example.org/wetside/recipes"
	"example.org/wetside/recipes/settings"
	"example.org/wetside/sequence/journal"
)

// examplesOf are the command lines of a command's help.
func examplesOf(c *cobra.Command) []string {
	var list []string
	for line := range strings.Lines(c.Example) {
		list = append(list, strings.TrimSpace(line))
	}
	return list
}

// put writes what an example reads.
func put(t *testing.T, name string, text []byte) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(name), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(name, text, 0o600); err != nil {
		t.Fatal(err)
	}
}

// furnish lays out what the examples take for granted: a recipe and densities in the
// folder, a session that is over under the name they give it, one that is cut off.
func furnish(t *testing.T) {
	t.Helper()
	densities, err := os.ReadFile("../../chem/curve/testdata/plover-200.csv")
	cgats, err2 := os.ReadFile("../../chem/curve/testdata/plover-200.cgats")
	if err != nil || err2 != nil {
		t.Fatal(err, err2)
	}
	hometest.New(t)
	t.Chdir(t.TempDir())
	t.Setenv("VISUAL", "true")
	t.Setenv("PULSE_SERVER", "unix:/nonexistent")
	put(t, settings.Path(), []byte("sound.out = \"off\"\n"))
	source, _ := recipes.ShippedSource("plover-film-test")
	put(t, "my-recipe.toml", source)
	put(t, "densities.csv", densities)
	put(t, "five.cgats", cgats)
	put(t, "seven.cgats", cgats)
	if s := runVirtually(t, nil, "baths", "stock", "A", "500ml", "--name", "a-2026-11-25"); s.status != app.ExitOK {
		t.Fatalf("no stock to draw on: %s", &s.err)
	}
	if s := runVirtually(t, nil, "run", "my-recipe.toml", "--plain"); s.status != app.ExitOK {
		t.Fatalf("no session to tell of: %s", &s.err)
	}
	store := journal.Default()
	kept, err := store.Read(store.IDs()[0])
	if err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(kept.Path)
	if err != nil {
		t.Fatal(err)
	}
	for _, id := range []string{"2026-11-25T1912-plover-80", "2026-11-25T1912-plover"} {
		put(t, filepath.Join(store.Folders[0], id+".jsonl"), text)
	}
	lines := strings.SplitAfter(string(text), "\n")
	put(t, filepath.Join(store.Folders[0], "2026-11-26T0800-cut-off.jsonl"), []byte(strings.Join(lines[:9], "")))
}

// hands type what a command waits for.
var hands = map[string]func(io.Writer){
	"resume": func(typed io.Writer) { fmt.Fprint(typed, "go\nstop\n") },
	"clearing": func(typed io.Writer) {
		fmt.Fprint(typed, "\n")
		time.Sleep(40 * time.Second) // virtual, while the scrap clears
		fmt.Fprint(typed, "\n")
	},
}

func TestExamplesRunAsPrinted(t *testing.T) {
	furnish(t)
	var all []*cobra.Command
	for _, c := range cli.NewRoot((&app.Env{})).Commands() {
		if len(flatten([]*cobra.Command{c})) == 0 {
			t.Errorf("wetside %s --help shows no example", c.Name())
		}
		all = append(all, c)
	}
	// a recipe is made before it is edited; these settings are for the others
	slices.SortStableFunc(all, func(a, b *cobra.Command) int { return rank(a) - rank(b) })
	for _, line := range append(examplesOf(cli.NewRoot((&app.Env{}))), flatten(all)...) {
		args := shellWords(line)[1:]
		if slices.Equal(args, []string{"config", "--write"}) {
			os.Remove(settings.Path())
		}
		hand := hands[args[0]]
		if slices.Contains(args, "--took") { // measured already
			hand = nil
		}
		s := runVirtually(t, hand, args...)
		told := strings.HasPrefix(line, "wetside clearing") || strings.HasPrefix(s.err.String(), "noted") ||
			strings.HasPrefix(s.err.String(), "wetside: care: Fixer") // a bottle that another example opened is small for this tank
		unfit := strings.HasPrefix(line, "wetside ready") && s.status == app.ExitFailed // this machine's verdict
		if s.status != app.ExitOK && !unfit || s.err.Len() > 0 && !told {
			t.Errorf("%s: status %d: %s", line, s.status, &s.err)
		}
	}
}

func rank(c *cobra.Command) int { return slices.Index([]string{"edit", "config"}, c.Name()) }

// flatten is the examples of commands, then those of the commands beneath them.
func flatten(all []*cobra.Command) []string {
	var list, beneath []string
	for _, c := range all {
		list = append(list, examplesOf(c)...)
		beneath = append(beneath, flatten(c.Commands())...)
	}
	return append(list, beneath...)
}

// A help text says everything in words that a person reads: no flag without its
// meaning, no line wider than a terminal.
func TestHelpReads(t *testing.T) {
	for _, c := range append(cli.NewRoot((&app.Env{})).Commands(), cli.NewRoot((&app.Env{}))) {
		for line := range strings.Lines(c.Long) {
			if len([]rune(line)) > 100 {
				t.Errorf("%s: %q is wider than 100 columns", c.Name(), line)
			}
		}
		if c.Short == "" || strings.HasSuffix(c.Short, ".") {
			t.Errorf("%s: %q is no short text", c.Name(), c.Short)
		}
	}
}

package main

// Help: every command has worked examples, and every one of them runs as printed.

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli"
	"example.org/wetside/cmd/wetside/internal/cli/help"
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
	shot, err := filepath.Abs("../../chem/scan/testdata")
	if err != nil {
		t.Fatal(err)
	}
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
	for _, name := range []string{"negatives.png", "panel.png", "tablet.csv"} {
		data, err := os.ReadFile(filepath.Join(shot, name))
		if err != nil {
			t.Fatal(err)
		}
		put(t, name, data)
	}
	put(t, "five.cgats", cgats)
	put(t, "seven.cgats", cgats)
	put(t, "readings.csv", []byte("0,24.5\n10m,23.01\n20m,21.89\n30m,21.05\n40m,20.41\n50m,19.94\n"))
	put(t, "times.csv", []byte("10m,18\n7m,22\n"))
	put(t, "tests.csv", []byte("metered,needed\n1,1\n10,14.5\n100,212\n"))
	put(t, "waiting.csv", []byte("holder,side,film\n5,A,Tern 125\n"))
	for _, bath := range []string{"first fixer", "second fixer"} {
		if s := runVirtually(t, nil, "bottles", "open", "tern-two-fixers", "--bath", bath); s.status != app.ExitOK {
			t.Fatalf("no fixers to swap: %s", &s.err)
		}
	}
	if s := runVirtually(t, nil, "bottles", "stock", "A", "500ml", "--name", "a-2026-11-25"); s.status != app.ExitOK {
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
	"bottles": func(typed io.Writer) {
		fmt.Fprint(typed, "\n")
		time.Sleep(40 * time.Second) // virtual, while the scrap clears
		fmt.Fprint(typed, "\n")
	},
}

func TestExamplesRunAsPrinted(t *testing.T) {
	if ownProcess(t) {
		return
	}
	furnish(t)
	var all []*cobra.Command
	for _, c := range cli.NewRoot((&app.Env{})).Commands() {
		for _, each := range append(c.Commands(), c) {
			if each.Example == "" {
				t.Errorf("%s --help shows no example", each.CommandPath())
			}
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
		if slices.Contains(args, "--cleared-in") || args[0] == "bottles" && !slices.Contains(args, "clearing") { // nothing is timed
			hand = nil
		}
		s := runVirtually(t, hand, args...)
		told := strings.HasPrefix(line, "wetside bottles clearing") || strings.HasPrefix(s.err.String(), "noted") || strings.HasPrefix(s.err.String(), "put 1 sheet") ||
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

// aligned is a line of sentences with a column in it.
var aligned = regexp.MustCompile(`^[^ |].*\S {3,}\S`)

// Every command of a guide's blocks runs as it stands, and every command and option that its
// sentences name is one.
func TestGuides(t *testing.T) {
	if ownProcess(t) {
		return
	}
	top, err := filepath.Abs("../..")
	if err != nil {
		t.Fatal(err)
	}
	for _, topic := range help.Topics {
		t.Run(topic, func(t *testing.T) {
			text, err := help.Guide(topic)
			if err != nil {
				t.Fatal(err)
			}
			most := 80
			if topic == "files" { // every format with its example
				most = 110
			}
			checkOrder(t, topic, text)
			if n := strings.Count(text, "\n"); n < 15 || n > most {
				t.Errorf("%d lines; expected 15 to %d", n, most)
			}
			hometest.New(t)
			t.Chdir(t.TempDir())
			if err := os.Symlink(filepath.Join(top, "chem"), "chem"); err != nil {
				t.Skip(err)
			}
			putExamples(t, text)
			ran := 0
			for line := range strings.Lines(text) {
				if args, ok := strings.CutPrefix(strings.TrimSpace(line), "wetside "); ok && strings.HasPrefix(line, "    ") {
					ran++
					if s := runVirtually(t, nil, shellWords(args)...); s.status != app.ExitOK && args != "ready" {
						t.Errorf("wetside %s: status %d: %s", args, s.status, &s.err)
					}
				}
				if aligned.MatchString(line) {
					t.Errorf("%q: sentences are wrapped anew, and columns in them are lost", line)
				}
				if len([]rune(line)) > 101 && !(strings.HasPrefix(line, "    wetside ") && len([]rune(line)) <= 110) { // a command stays on one line
					t.Errorf("%q is wider than 100 columns", line)
				}
			}
			if ran == 0 {
				t.Error("no command ran; were the blocks found?")
			}
			checkNamedCommands(t, text)
		})
	}
}

// checkOrder: a guide ends with why, and what can go wrong; what it is about and how it is done stand before. Safety is
// about nothing else.
func checkOrder(t *testing.T, topic, text string) {
	t.Helper()
	parts := strings.Split(text, "\n## ")
	if topic == "safety" {
		return
	}
	if n := len(parts); n < 4 || !strings.HasPrefix(parts[n-2], "Why") || !strings.HasPrefix(parts[n-1], "What can go wrong\n") {
		t.Error("the order is not what, how, why, what can go wrong")
	}
}

// Every guide is offered by the ? of some screen, and every one that a screen offers is there.
func TestEveryGuideIsOfferedOnAScreen(t *testing.T) {
	sources, err := filepath.Glob("../../tui/screen/*/*.go")
	if err != nil {
		t.Fatal(err)
	}
	offered := map[string]bool{}
	for _, name := range sources {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range regexp.MustCompile(`Guides: \[\]string\{([^}]*)\}`).FindAllStringSubmatch(string(text), -1) {
			for _, topic := range strings.Split(m[1], ", ") {
				offered[strings.Trim(topic, `"`)] = true
			}
		}
	}
	for _, topic := range help.Topics {
		if !offered[topic] {
			t.Errorf("no screen offers the guide %s", topic)
		}
		delete(offered, topic)
	}
	for topic := range offered {
		t.Errorf("a screen offers %q, which is no guide", topic)
	}
}

// putExamples writes the files that a guide shows, each under a heading with its name; of the
// settings those that hold.
func putExamples(t *testing.T, guide string) {
	t.Helper()
	for _, part := range strings.Split(guide, "\n### ")[1:] {
		name, rest, _ := strings.Cut(part, "\n\n")
		if name == "config.toml" {
			name = settings.Path()
		}
		var text []byte
		for line := range strings.Lines(rest) {
			line, inside := strings.CutPrefix(line, "    ")
			if !inside && len(text) == 0 { // what it is
				continue
			}
			if !inside && line != "\n" || strings.HasPrefix(line, "wetside ") {
				break
			}
			text = append(text, line...)
		}
		put(t, name, text)
	}
}

// checkNamedCommands looks each command between backticks up, with its options.
func checkNamedCommands(t *testing.T, text string) {
	t.Helper()
	for _, m := range regexp.MustCompile("`wetside ([a-z][^`]*)`").FindAllStringSubmatch(text, -1) {
		words := strings.Fields(m[1])
		c, _, err := cli.NewRoot(&app.Env{}).Find(words)
		if words[0] == "help" && len(words) > 1 {
			if !slices.Contains(help.Topics, words[1]) {
				t.Errorf("there is no guide %s", words[1])
			}
			continue
		}
		if err != nil || !c.HasParent() {
			t.Errorf("wetside %s is no command", m[1])
			continue
		}
		for _, w := range words {
			if name, ok := strings.CutPrefix(w, "--"); ok && name != "help" && c.Flag(name) == nil {
				t.Errorf("wetside %s: there is no %s", m[1], w)
			}
		}
	}
	known := map[string]bool{"help": true}
	var add func(*cobra.Command)
	add = func(c *cobra.Command) {
		c.Flags().VisitAll(func(f *pflag.Flag) { known[f.Name] = true })
		c.PersistentFlags().VisitAll(func(f *pflag.Flag) { known[f.Name] = true })
		for _, sub := range c.Commands() {
			add(sub)
		}
	}
	add(cli.NewRoot(&app.Env{}))
	for _, m := range regexp.MustCompile(`--([a-z][a-z0-9-]*)`).FindAllStringSubmatch(text, -1) {
		if !known[m[1]] {
			t.Errorf("no command has --%s", m[1])
		}
	}
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
		c.Flags().VisitAll(func(f *pflag.Flag) {
			if value, _ := pflag.UnquoteUsage(f); slices.Contains([]string{"string", "int", "float", "strings", "stringArray"}, value) {
				t.Errorf("%s --%s: %q is not a value's name in words", c.Name(), f.Name, value)
			}
		})
		if c.Short == "" || strings.HasSuffix(c.Short, ".") {
			t.Errorf("%s: %q is no short text", c.Name(), c.Short)
		}
	}
}

package cli

// No option does nothing: every combination that would make one idle is wrong usage, and
// says which flags are meant.

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli/flags"
)

// operands are what a command needs besides flags, so that only these are wrong.
var operands = map[string][]string{
	"wetside plan": {"tern-hangers"}, "wetside run": {"tern-hangers"}, "wetside curve": {"readings.csv"}, "wetside scan": {"negatives.png"}, "wetside mix": {"plover-tray"},
	"wetside bottles open": {"plover-tray"}, "wetside notebook": {"a-session"},
}

// sample is a flag with a value that it may have.
func sample(f *pflag.Flag) string {
	switch f.Value.Type() {
	case "bool":
		return "--" + f.Name
	case "string":
		return "--" + f.Name + "=5m"
	}
	return "--" + f.Name + "=1"
}

// refused carries out a command line that must be wrong usage, and returns what it says.
func refused(t *testing.T, args ...string) string {
	t.Helper()
	for _, env := range []string{"XDG_CONFIG_HOME", "XDG_STATE_HOME", "XDG_DATA_HOME", "XDG_RUNTIME_DIR"} {
		t.Setenv(env, t.TempDir())
	}
	var out, said bytes.Buffer
	p := &app.Env{In: strings.NewReader(""), Out: &out, Err: &said, Signals: app.EndSignals}
	if status := Run(p, args); status != app.ExitUsage || out.Len() > 0 {
		t.Errorf("%q: exit status %d and %q; expected wrong usage", args, status, out.String())
	}
	return said.String()
}

// every calls f for each command of the tree.
func every(c *cobra.Command, f func(*cobra.Command)) {
	f(c)
	for _, sub := range c.Commands() {
		every(sub, f)
	}
}

// exclusive are the pairs of flags that a command does not take together, as cobra keeps them.
func exclusive(c *cobra.Command) (pairs [][]string) {
	c.Flags().VisitAll(func(f *pflag.Flag) {
		for _, group := range f.Annotations["cobra_annotation_mutually_exclusive"] {
			for _, other := range strings.Fields(group) {
				if f.Name < other {
					pairs = append(pairs, []string{f.Name, other})
				}
			}
		}
	})
	return pairs
}

// Every command line with two flags that exclude each other, and every one with a flag but
// none of those that it needs, is wrong usage that names them.
func TestFlagsThatDoNotGoTogether(t *testing.T) {
	tried := 0
	every(NewRoot((&app.Env{})), func(c *cobra.Command) {
		line := func(names ...string) []string {
			args := append(strings.Fields(c.CommandPath())[1:], operands[c.CommandPath()]...)
			for _, name := range names {
				args = append(args, sample(c.Flags().Lookup(name)))
			}
			return args
		}
		for _, pair := range exclusive(c) {
			tried++
			said := refused(t, line(pair...)...)
			if !strings.Contains(said, "--"+pair[0]) || !strings.Contains(said, "--"+pair[1]) {
				if said = refused(t, line(withNeeds(c, pair)...)...); !strings.Contains(said, "--"+pair[0]) && !strings.Contains(said, "--"+pair[1]) || !strings.Contains(said, "do not go together") {
					t.Errorf("%s --%s with --%s: says %q", c.CommandPath(), pair[0], pair[1], said)
				}
			}
		}
		c.Flags().VisitAll(func(f *pflag.Flag) {
			for i, oneOf := range flags.NeedsOf(f) {
				tried++
				names := []string{f.Name}
				for k, others := range flags.NeedsOf(f) { // what else it needs is there
					if k != i {
						names = append(names, others[0])
					}
				}
				if said := refused(t, line(names...)...); !strings.Contains(said, "--"+f.Name) || !strings.Contains(said, "--"+oneOf[0]) {
					t.Errorf("%s --%s alone: says %q", c.CommandPath(), f.Name, said)
				}
			}
		})
	})
	if tried < 60 {
		t.Errorf("%d command lines tried; were the flags found?", tried)
	}
}

// withNeeds are flags with what they need besides, so that only their being together is wrong.
func withNeeds(c *cobra.Command, names []string) []string {
	list := slices.Clone(names)
	for i := 0; i < len(list); i++ {
		for _, group := range c.Flags().Lookup(list[i]).Annotations["cobra_annotation_required_if_others_set"] {
			for _, other := range strings.Fields(group) {
				if !slices.Contains(list, other) {
					list = append(list, other)
				}
			}
		}
		for _, oneOf := range flags.NeedsOf(c.Flags().Lookup(list[i])) {
			if !slices.ContainsFunc(oneOf, func(s string) bool { return slices.Contains(list, s) }) {
				list = append(list, oneOf[0])
			}
		}
	}
	return list
}

// What depends on a value, or on a file.
func TestOptionsThatWouldDoNothing(t *testing.T) {
	for _, c := range []struct{ line, says string }{
		{"wash --running 3m --compare", "--compare and --running do not go together"},
		{"wash --running 3m --temp 14C", "--temp goes with --compare or --changes or --residue or --microfilm or --flow; alone it does nothing"},
		{"wash --carry-over 10ml --volume 1l --running 3m", "--carry-over goes with --changes or --residue or --microfilm or --flow; alone it does nothing"},
		{"wash --compare --changes 2 --carry-over 10ml --volume 1l --strength 100 --sheets 4", "--compare and --strength"},
		{"wash --carry-over 10ml --volume 1l --residue 0", "--residue: 0"},
		{"wash --carry-over 10ml --volume 1l --changes 2 --strength 0 --sheets 0", "both above zero"},
		{"run tern-hangers --rehearse 60 --countdown 30s", "begins at once"},
		{"run tern-hangers --plain --sound off --voice full", "nothing would be heard"},
		{"resume --plain --sound off --voice sparse", "nothing would be heard"},
		{"plan tern-hangers --total 8 --sheets 4", "--sheets and --total do not go together"},
	} {
		if said := refused(t, strings.Fields(c.line)...); !strings.Contains(said, c.says) || !strings.Contains(said, "hint: ") {
			t.Errorf("%s: says %q; expected %q and a hint", c.line, said, c.says)
		}
	}
}

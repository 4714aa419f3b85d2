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
	"wetside plan": {"tern-hangers"}, "wetside run": {"tern-hangers"}, "wetside curve": {"readings.csv"}, "wetside mix": {"plover-tray"},
	"wetside baths mix": {"plover-tray"}, "wetside notebook": {"a-session"},
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

// Every pairing, one command line for each flag that it excludes, and one without any that
// it needs.
func TestFlagsThatDoNotGoTogether(t *testing.T) {
	for path, rules := range flags.Rules {
		words := strings.Fields(path)[1:]
		cmd, _, err := NewRoot((&app.Env{})).Find(words)
		if err != nil || cmd.CommandPath() != path {
			t.Errorf("%s is no command", path)
			continue
		}
		for _, r := range rules {
			for _, name := range slices.Concat([]string{r.Flag}, r.With, r.Excludes) {
				if cmd.Flags().Lookup(name) == nil {
					t.Errorf("%s has no --%s", path, name)
				}
			}
			if !t.Failed() {
				tryPairing(t, cmd, r)
			}
		}
	}
}

func tryPairing(t *testing.T, cmd *cobra.Command, r flags.Rule) {
	line := func(flags ...string) []string {
		args := append(strings.Fields(cmd.CommandPath())[1:], operands[cmd.CommandPath()]...)
		for _, f := range flags {
			args = append(args, sample(cmd.Flags().Lookup(f)))
		}
		return args
	}
	for _, other := range r.Excludes {
		if said := refused(t, line(r.Flag, other)...); !strings.Contains(said, "--"+r.Flag) && !strings.Contains(said, "--"+other) {
			t.Errorf("--%s with --%s: says %q", r.Flag, other, said)
		}
	}
	if len(r.With) > 0 {
		names := []string{r.Flag}
		for _, other := range flags.Rules[cmd.CommandPath()] { // what else it needs is there
			if other.Flag == r.Flag && len(other.With) > 0 && other.With[0] != r.With[0] {
				names = append(names, other.With[0])
			}
		}
		if said := refused(t, line(names...)...); !strings.Contains(said, "--"+r.Flag) || !strings.Contains(said, "--"+r.With[0]) {
			t.Errorf("--%s alone: says %q", r.Flag, said)
		}
	}
}

// What depends on a value, or on a file.
func TestOptionsThatWouldDoNothing(t *testing.T) {
	for _, c := range []struct{ line, says string }{
		{"wash --running 3m --ways", "--running and --ways do not go together"},
		{"wash --carry-over 10ml --volume 1l --changes 2 --temp 14C", "--temp goes with --ways; alone it does nothing"},
		{"wash --ways --changes 2 --carry-over 10ml --volume 1l --strength 100 --sheets 4", "--ways and --strength"},
		{"wash --carry-over 10ml --volume 1l --residue 0", "--residue: 0"},
		{"wash --carry-over 10ml --volume 1l --changes 2 --strength 0 --sheets 0", "both above zero"},
		{"run tern-hangers --rehearse 60 --lead 30s", "begins at once"},
		{"run tern-hangers --plain --sound off --voice full", "nothing would be heard"},
		{"resume --plain --sound off --voice sparse", "nothing would be heard"},
		{"temper --two 10m@18,7m@22 --to 20", "--two and --to"},
	} {
		if said := refused(t, strings.Fields(c.line)...); !strings.Contains(said, c.says) || !strings.Contains(said, "hint: ") {
			t.Errorf("%s: says %q; expected %q and a hint", c.line, said, c.says)
		}
	}
}

// Command wetside plans the development of sheet film, carries it out on time,
// and keeps the record.
//
// This package is wiring only: flags, files, exit codes. The recipe is read by
// package recipes, planned and run by sequence and sequence/live, heard through
// tui/cue, shown on paper by tui/page. Each command has a file of its own.
package main

import (
	"errors"
	"fmt"
	"io"
	"os"

	"github.com/spf13/cobra"

	"example.org/wetside/recipes/settings"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/tui/cue"
	"example.org/wetside/tui/room"
)

// program is what the commands share: where they read, write and take the time.
type program struct {
	in     io.Reader
	out    io.Writer
	err    io.Writer
	source clock.Source
	stop   func() <-chan os.Signal       // what ends a session from outside
	awake  func(room.Waking) *room.Awake // keeps the laptop awake; nil for no laptop

	settings  settings.Settings // the person's own
	unsettled error             // why they could not be read; nil where they could
}

// keepAwake keeps the laptop awake until what it returns is closed.
func (p *program) keepAwake(w room.Waking) io.Closer {
	if p.awake == nil {
		return io.NopCloser(nil)
	}
	return p.awake(w)
}

func main() {
	p := &program{in: os.Stdin, out: os.Stdout, err: os.Stderr, source: clock.System(), stop: signals, awake: room.KeepAwake}
	os.Exit(p.run(os.Args[1:]))
}

// The exit statuses of the contract.
const (
	fine   = 0
	failed = 1 // it cannot be done, or a check found something
	misuse = 2 // wrong usage
)

// usageError is an error in the words of the command line.
type usageError struct{ error }

func usage(format string, args ...any) error { return usageError{fmt.Errorf(format, args...)} }

// errFound ends a command with status 1 when all has been said already.
var errFound = errors.New("")

// run carries out one command line and returns its exit status.
func (p *program) run(args []string) int {
	p.settle()
	root := p.root()
	root.SetArgs(args)
	err := root.Execute()
	var wrong usageError
	switch {
	case err == nil:
		return fine
	case errors.Is(err, errFound):
		return failed
	case errors.As(err, &wrong):
		fmt.Fprintf(p.err, "wetside: %v\nhint: wetside --help\n", err)
		return misuse
	}
	fmt.Fprintf(p.err, "wetside: %v\n", err)
	return failed
}

// root is the command tree.
func (p *program) root() *cobra.Command {
	root := &cobra.Command{
		Use:   "wetside",
		Short: "plans, runs and records the development of sheet film",
		Long: "wetside plans the development of sheet film, carries it out on time with the screen\n" +
			"black, reads the negatives and keeps the record. Alone it opens the screens; where\n" +
			"there is no terminal it lists the recipes and says what to type next.",
		Example: "  wetside plan tern-hangers --temp 22\n" +
			"  wetside run tern-hangers --plain --rehearse 60\n" +
			"  wetside new plover-at-my-sink --from plover-tray --unopened",
		Version:       version,
		Args:          words(cobra.NoArgs),
		SilenceErrors: true,
		SilenceUsage:  true,
		RunE: func(*cobra.Command, []string) error {
			return p.screens(look{aloud: aloud{p.settings.Sound, cue.Level(p.settings.Voice)}, lead: p.settings.Lead})
		},
		PersistentPreRunE: p.settled,
	}
	root.SetIn(p.in)
	root.SetOut(p.out)
	root.SetErr(p.err)
	root.CompletionOptions.DisableDefaultCmd = true
	root.SetFlagErrorFunc(func(_ *cobra.Command, err error) error { return usageError{err} })
	root.AddCommand(p.check(), p.plan(), p.carryOut(), p.resume(), p.cues(), p.ready(),
		p.batches(), p.mix(), p.baths(), p.clearing(), p.temper(), p.wash(), p.expose(), p.curve(), p.filmTest(), p.sheets(), p.notebook(), p.config())
	root.AddCommand(p.newRecipe(), p.editRecipe(), p.completion())
	complete(root)
	p.habits(root)
	heed(root)
	return root
}

// words makes a wrong number of arguments wrong usage.
func words(check cobra.PositionalArgs) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		if err := check(c, args); err != nil {
			return usageError{err}
		}
		return nil
	}
}

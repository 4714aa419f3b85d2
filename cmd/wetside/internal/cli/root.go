// Package cli is the command line: one file for each command, named after it (cmd_plan.go), or
// a package below for a command of several files. What commands share is in flags and app.
//
// Start with NewRoot and Run. A command reads flags, calls the rooms below and prints; rules and
// arithmetic are never here.
package cli

// The command tree: every command under its heading, and what becomes of an error.

import (
	"errors"
	"slices"

	"github.com/spf13/cobra"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/backend"
	"example.org/wetside/cmd/wetside/internal/cli/bottlescmd"
	"example.org/wetside/cmd/wetside/internal/cli/curvecmd"
	"example.org/wetside/cmd/wetside/internal/cli/exposecmd"
	"example.org/wetside/cmd/wetside/internal/cli/fitcmd"
	"example.org/wetside/cmd/wetside/internal/cli/flags"
	"example.org/wetside/cmd/wetside/internal/cli/notebookcmd"
	"example.org/wetside/cmd/wetside/internal/cli/scancmd"
	"example.org/wetside/cmd/wetside/internal/running"
	"example.org/wetside/cmd/wetside/internal/screens"
	"example.org/wetside/tui/cue"
)

// needNoSettings are the commands that go on where the settings cannot be read: those
// that film may be waiting for, and those that do not need them.
var needNoSettings = []string{"resume", "check", "ready", "edit", "config", "help", "completion", cobra.ShellCompRequestCmd, cobra.ShellCompNoDescRequestCmd}

// checkSettings refuses a command whose units and sound would not be those that the person
// set. A session that was cut off is taken up all the same, and it is said.
func checkSettings(p *app.Env, cmd *cobra.Command) error {
	if p.SettingsErr == nil {
		return nil
	}
	for c := cmd; c != nil; c = c.Parent() {
		if slices.Contains(needNoSettings, c.Name()) {
			if c.Name() == "resume" {
				p.PrintError(p.SettingsErr)
			}
			return nil
		}
	}
	p.PrintError(p.SettingsErr)
	p.Hint("the settings must be right, or out of the way, before anything else is done")
	return app.ErrReported
}

// Run carries out one command line and returns its exit status.
func Run(p *app.Env, args []string) int {
	p.ReadSettings()
	root := NewRoot(p)
	root.SetArgs(args)
	cmd, err := flags.CheckCommand(root, args)
	if err == nil {
		cmd, err = root.ExecuteC()
		err = flags.GroupError(err)
	}
	var wrong app.UsageError
	switch {
	case err == nil:
		return app.ExitOK
	case errors.Is(err, app.ErrReported):
		return app.ExitFailed
	case errors.As(err, &wrong):
		p.Complain("%s", p.Words(err))
		p.Hint(cmd.CommandPath() + " --help")
		return app.ExitUsage
	}
	p.PrintError(err)
	return app.ExitFailed
}

// NewRoot is the command tree.
func NewRoot(p *app.Env) *cobra.Command {
	cobra.MousetrapHelpText = "" // a double click on Windows opens the screens, no lecture
	root := &cobra.Command{
		Use:   "wetside",
		Short: "plans, runs and records the development of sheet film",
		Long: "wetside plans the development of sheet film, carries it out on time with the screen\n" +
			"black, reads the negatives and keeps the record. Without a command it opens the screens;\n" +
			"where there is no terminal it lists the recipes and says what to type next.\n\n" +
			"Begin with: wetside help start. Guides, each by wetside help TOPIC:\n" + wrapTopics(),
		Example: "  wetside plan tern-hangers --temp 22\n" +
			"  wetside run tern-hangers --plain --rehearse 60\n" +
			"  wetside new plover-at-my-sink --from plover-tray --no-edit",
		Version:       app.Version,
		Args:          flags.UsageArgs(cobra.NoArgs),
		SilenceErrors: true,
		SilenceUsage:  true,
		RunE: func(*cobra.Command, []string) error {
			return screens.Open(p, backend.ScreenOptions{SoundOptions: running.SoundOptions{Sink: p.Settings.Sound, Voice: cue.Level(p.Settings.Voice)}, Countdown: p.Settings.Countdown})
		},
		PersistentPreRunE: func(c *cobra.Command, _ []string) error {
			if err := flags.CheckNeeds(c); err != nil {
				return err
			}
			return checkSettings(p, c)
		},
	}
	root.SetIn(p.In)
	root.SetOut(p.Out)
	root.SetErr(p.Err)
	root.CompletionOptions.DisableDefaultCmd = true
	root.SetFlagErrorFunc(flags.FlagError)
	addGroups(p, root)
	root.SetHelpCommand(newHelpCommand(p))
	root.InitDefaultHelpCmd()
	flags.AddCompletions(p, root)
	flags.AddUnits(p, root)
	flags.AddUsage(p, root)
	return root
}

// addGroups adds all commands, under the headings that help lists them by.
func addGroups(p *app.Env, root *cobra.Command) {
	for _, g := range []struct {
		id, title string
		commands  []*cobra.Command
	}{
		{"sessions", "Sessions:", []*cobra.Command{newPlanCommand(p), newRunCommand(p), newResumeCommand(p), notebookcmd.NewNotebookCommand(p)}},
		{"recipes", "Recipes:", []*cobra.Command{newNewCommand(p), newEditCommand(p), newCheckCommand(p)}},
		{"chemistry", "Chemistry:", []*cobra.Command{newMixCommand(p), bottlescmd.NewBottlesCommand(p), newTemperCommand(p), newWashCommand(p), fitcmd.NewFitCommand(p)}},
		{"film", "Film:", []*cobra.Command{exposecmd.NewExposeCommand(p), newFilmCommand(p), newHoldersCommand(p), newFilmTestCommand(p), scancmd.NewScanCommand(p), curvecmd.NewCurveCommand(p)}},
		{"laptop", "This laptop:", []*cobra.Command{newReadyCommand(p), newCuesCommand(p), newConfigCommand(p), newDemoCommand(p), newCompletionCommand(p)}},
	} {
		root.AddGroup(&cobra.Group{ID: g.id, Title: g.title})
		for _, c := range g.commands {
			c.GroupID = g.id
			root.AddCommand(c)
		}
	}
	root.SetHelpCommandGroupID("laptop")
}

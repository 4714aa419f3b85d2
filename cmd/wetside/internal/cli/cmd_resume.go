package cli

// wetside resume: a session that was cut off, taken up.

import (
	"errors"

	"github.com/spf13/cobra"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/backend"
	"example.org/wetside/cmd/wetside/internal/cli/flags"
	"example.org/wetside/cmd/wetside/internal/running"
	"example.org/wetside/cmd/wetside/internal/screens"
	"example.org/wetside/cmd/wetside/internal/supervisor"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
)

func newResumeCommand(p *app.Env) *cobra.Command {
	var how flags.RunFlags
	var behindDamage bool
	cmd := &cobra.Command{
		Use:   "resume [SESSION]",
		Short: "take up the session that was cut off",
		Long: "Takes up the latest session that is open, film before rehearsals, or the one named.\n" +
			"Where its time is known and no transfer was missed it goes on by itself; otherwise\n" +
			"it says how it stands and waits for go. A record that is damaged is left as it is,\n" +
			"and its last good line is shown: --from-last-good-line goes on from there, in a new\n" +
			"file, and keeps the damaged one beside it. The thermometer that it began with is\n" +
			"read again, or another one with --thermometer.",
		Example: "  wetside resume --plain",
		Args:    flags.UsageArgs(cobra.MaximumNArgs(1)),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := how.CheckTyped(cmd.Flags().Changed); err != nil {
				return err
			}
			if _, _, err := how.Parse(p.Settings.Countdown); err != nil {
				return err
			}
			if err := how.Thermometer.Check(); err != nil {
				return err
			}
			return runResume(p, how, args, behindDamage)
		},
	}
	how.Add(cmd, p.Settings)
	how.AddThermometer(cmd)
	cmd.Flags().BoolVar(&behindDamage, "from-last-good-line", false, "take up a damaged session where its record is still good")
	flags.Needs(cmd, "json", "plain")
	return cmd
}

func runResume(p *app.Env, how flags.RunFlags, args []string, behindDamage bool) error {
	if len(args) == 1 && (app.IsSupervised() || supervisor.IsAnnouncer()) {
		return screens.Open(p, backend.ScreenOptions{SoundOptions: how.SoundOptions, Thermometer: how.Thermometer, TakeUp: args[0]})
	}
	id, err := running.FindSession(journal.Default(), args)
	if damaged := (*running.DamagedSessionError)(nil); behindDamage && errors.As(err, &damaged) {
		err = journal.Default().GoBehindDamage(id)
	}
	if err != nil {
		return err
	}
	if !how.Plain {
		return screens.Open(p, backend.ScreenOptions{SoundOptions: how.SoundOptions, Thermometer: how.Thermometer, TakeUp: id})
	}
	s, err := running.TakeUp(p, id, how.SoundOptions, how.Thermometer, func(plan *sequence.Plan, lit bool) error {
		return how.CheckTerminal(plan, lit, p.Out)
	}, func(string, running.Rehearsal) {})
	if err != nil {
		return err
	}
	return runUntilOver(p, s, how)
}

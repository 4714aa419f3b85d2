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
		Long: "Takes up a session after a crash or a power cut: the one named, else the newest with\n" +
			"film, else the newest rehearsal. Where its time is known and no transfer was missed it\n" +
			"goes on by itself; otherwise it says how things stand and waits for go. The thermometer\n" +
			"that it began with is read again, or another one with --thermometer.\n\n" +
			"A damaged record is left as it is, and its last good line is shown:\n" +
			"--from-last-good-line goes on from there in a new file.",
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
	allowed := func(plan *sequence.Plan, lit bool) error { return how.CheckTerminal(plan, lit, p.Out) }
	s, err := running.TakeUp(p, id, how.SoundOptions, how.Thermometer, running.Taking{Allowed: allowed})
	if err != nil {
		return err
	}
	return runUntilOver(p, s, how)
}

package cli

// wetside ready: whether this laptop and this room are fit for a session in the dark.

import (
	"github.com/spf13/cobra"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli/flags"
	"example.org/wetside/cmd/wetside/internal/doctor"
)

func newReadyCommand(p *app.Env) *cobra.Command {
	var spec string
	var plain, asJSON bool
	cmd := &cobra.Command{
		Use:   "ready",
		Short: "check this laptop and this room before film is opened",
		Long: "Checks this laptop and this room before film is opened: sound, screen, sleep, lid,\n" +
			"lamps, disk and clock, each line ok, care or no, with what to do. On a terminal it plays\n" +
			"sounds and asks what you heard, makes the screen black for a moment, and has you press\n" +
			"your switch. Exit status 1 where a line is no.",
		Example: "  wetside ready\n  wetside ready --plain\n  wetside ready --json",
		Args:    flags.UsageArgs(cobra.NoArgs),
		RunE: func(cmd *cobra.Command, _ []string) error {
			if !cmd.Flags().Changed("sound") && p.Settings.Sound != "" {
				spec = p.Settings.Sound
			}
			var who *doctor.Prompter
			if tty, terminal := p.Terminal(); terminal && !plain && !asJSON {
				who = &doctor.Prompter{In: p.In, Out: p.Out, TTY: tty, Width: p.Width()}
			}
			return doctor.Run(p, spec, who, asJSON)
		},
	}
	cmd.Flags().BoolVar(&plain, "plain", false, "ask nothing and play nothing")
	cmd.Flags().BoolVar(&asJSON, "json", false, "print JSON, and ask nothing")
	cmd.Flags().StringVar(&spec, "sound", "auto", "`OUT`: where sound goes: auto, pulse, exec, device or off")
	flags.Excludes(cmd, "json", "plain")
	return cmd
}

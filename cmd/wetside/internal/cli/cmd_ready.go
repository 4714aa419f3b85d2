package cli

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
		Long: "Looks at sound, screen, sleep, lid, lamps, disk and clock; each line ok, care or no, with\n" +
			"what to do. On a terminal it plays sounds and asks what you heard, makes the screen black\n" +
			"for a moment, and has you press your switch. Exit status 1 where a line is no.",
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
	cmd.Flags().BoolVar(&asJSON, "json", false, "as JSON; asks nothing")
	cmd.Flags().StringVar(&spec, "sound", "auto", "the way `OUT`: auto, pulse, exec, device or off")
	flags.Excludes(cmd, "json", "plain")
	return cmd
}

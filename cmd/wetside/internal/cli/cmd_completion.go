package cli

// wetside completion: completion for the shells.

import (
	"io"

	"github.com/spf13/cobra"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli/flags"
)

func newCompletionCommand(p *app.Env) *cobra.Command {
	shells := map[string]func(*cobra.Command, io.Writer) error{
		"bash":       func(c *cobra.Command, w io.Writer) error { return c.GenBashCompletionV2(w, true) },
		"zsh":        func(c *cobra.Command, w io.Writer) error { return c.GenZshCompletion(w) },
		"fish":       func(c *cobra.Command, w io.Writer) error { return c.GenFishCompletion(w, true) },
		"powershell": func(c *cobra.Command, w io.Writer) error { return c.GenPowerShellCompletionWithDesc(w) },
	}
	return &cobra.Command{
		Use:   "completion SHELL",
		Short: "write a completion script for bash, zsh, fish or powershell",
		Long: "Writes a script by which a shell completes commands, flags, and recipes, sessions\n" +
			"and vessels by name. For bash, once: wetside completion bash > ~/.wetside-completion,\n" +
			"and in ~/.bashrc: source ~/.wetside-completion. It needs the package bash-completion\n" +
			"(apt install bash-completion, brew install bash-completion@2). For PowerShell, in\n" +
			"$PROFILE: wetside completion powershell | Out-String | Invoke-Expression",
		Example:   "  wetside completion bash",
		Args:      flags.UsageArgs(cobra.ExactArgs(1)),
		ValidArgs: []string{"bash", "zsh", "fish", "powershell"},
		RunE: func(cmd *cobra.Command, args []string) error {
			write, known := shells[args[0]]
			if !known {
				return app.Usagef("completion: %q; expected bash, zsh, fish or powershell", args[0])
			}
			return write(cmd.Root(), p.Out)
		},
	}
}

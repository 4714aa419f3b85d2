package cli

// wetside help: the guides, and the help of each command.

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli/flags"
	"example.org/wetside/cmd/wetside/internal/cli/help"
	"example.org/wetside/tui/widget"
)

// wrapTopics is the topics as a sentence in rows that a terminal holds.
func wrapTopics() string {
	return strings.Join(widget.Wrap(strings.Join(help.Topics, ", ")+".", 80), "\n")
}

// forTerminal is a guide as a terminal of so many columns shows it.
func forTerminal(guide string, width int) string {
	plain := func(s string) string { return s }
	bold := func(s string) string { return "\x1b[1m" + s + "\x1b[22m" }
	return strings.Join(widget.GuideRows(guide, width, plain, bold), "\n") + "\n"
}

func newHelpCommand(p *app.Env) *cobra.Command {
	return &cobra.Command{
		Use:   "help [TOPIC|COMMAND]",
		Short: "show a guide, or what a command does",
		Long: "Prints a guide to one topic, or the help of a command. Begin with: wetside help start.\n\nGuides:\n" +
			wrapTopics(),
		Example: "  wetside help dark\n  wetside help bottles clearing",
		GroupID: "laptop",
		ValidArgsFunction: func(c *cobra.Command, args []string, typed string) ([]cobra.Completion, cobra.ShellCompDirective) {
			names := help.Topics
			for _, sub := range c.Root().Commands() {
				names = append(names[:len(names):len(names)], sub.Name())
			}
			return flags.WithPrefix(names, typed), cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(c *cobra.Command, args []string) error { return runHelp(p, c.Root(), args) },
	}
}

// runHelp prints a guide; a command that has the same name tells its own options by --help.
func runHelp(p *app.Env, root *cobra.Command, args []string) error {
	if len(args) == 0 {
		return root.Help()
	}
	if text, err := help.Guide(args[0]); err == nil && len(args) == 1 {
		if _, shown := app.TerminalOf(p.Out); shown {
			text = forTerminal(text, p.Width())
		}
		_, err = fmt.Fprint(p.Out, text)
		return err
	}
	found, rest, err := root.Find(args)
	if err == nil && found != root && len(rest) == 0 {
		found.InitDefaultHelpFlag()
		return found.Help()
	}
	if err := flags.UnknownCommand(root, args); strings.Contains(err.Error(), " is now ") {
		return err
	}
	return app.Usagef("no help on %q; expected one of %s, or a command", strings.Join(args, " "), strings.Join(help.Topics, ", "))
}

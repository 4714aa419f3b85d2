package flags

// What --help prints: what a command is for, how it is typed, examples, the commands beneath it, its options.

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/tui/widget"
)

// widestOption is how wide an option may be that has its meaning beside it; a wider one has it beneath.
const widestOption = 26

// AddUsage sets the page for the root and all commands beneath it.
func AddUsage(p *app.Env, root *cobra.Command) {
	root.SetHelpFunc(func(c *cobra.Command, _ []string) {
		c.InitDefaultHelpFlag()
		fmt.Fprintf(c.OutOrStdout(), "%s\n%s", about(c, p.Width()), usagePage(c, p.Width()))
	})
	root.SetUsageFunc(func(c *cobra.Command) error {
		c.InitDefaultHelpFlag()
		_, err := io.WriteString(c.OutOrStderr(), usagePage(c, p.Width()))
		return err
	})
}

// about is what a command is for, its paragraphs as wide as the terminal.
func about(c *cobra.Command, width int) string {
	b := &strings.Builder{}
	for _, paragraph := range strings.Split(c.Long, "\n\n") {
		fmt.Fprintf(b, "%s\n\n", strings.Join(widget.Wrap(strings.Join(strings.Fields(paragraph), " "), width), "\n"))
	}
	return strings.TrimSuffix(b.String(), "\n")
}

func usagePage(c *cobra.Command, width int) string {
	b := &strings.Builder{}
	fmt.Fprintln(b, "Usage:")
	if c.Runnable() {
		fmt.Fprintf(b, "  %s%s [options]\n", c.CommandPath(), strings.TrimPrefix(c.Use, c.Name()))
	}
	if c.HasAvailableSubCommands() {
		fmt.Fprintf(b, "  %s COMMAND\n", c.CommandPath())
	}
	if c.HasExample() {
		fmt.Fprintf(b, "\nExamples:\n%s\n", c.Example)
	}
	commandRows(b, c)
	optionRows(b, "Options:", c.LocalNonPersistentFlags(), width)
	everywhere := c.InheritedFlags()
	if !c.HasParent() {
		everywhere = c.PersistentFlags()
	}
	optionRows(b, "Options of every command:", everywhere, width)
	if c.HasAvailableSubCommands() {
		fmt.Fprintf(b, "\n%s COMMAND --help says more of each.\n", c.CommandPath())
	}
	return b.String()
}

// commandRows are the commands beneath one, under their headings where they have some.
func commandRows(b *strings.Builder, c *cobra.Command) {
	groups := c.Groups()
	if len(groups) == 0 && c.HasAvailableSubCommands() {
		groups = []*cobra.Group{{Title: "Commands:"}}
	}
	for _, g := range groups {
		fmt.Fprintf(b, "\n%s\n", g.Title)
		for _, sub := range c.Commands() {
			if sub.GroupID == g.ID && (sub.IsAvailableCommand() || sub.Name() == "help") {
				fmt.Fprintf(b, "  %-*s  %s\n", sub.NamePadding(), sub.Name(), sub.Short)
			}
		}
	}
}

// optionRows are options with what they mean, in columns that a terminal holds.
func optionRows(b *strings.Builder, heading string, options *pflag.FlagSet, width int) {
	if !options.HasAvailableFlags() {
		return
	}
	fmt.Fprintf(b, "\n%s\n", heading)
	wide := 0
	options.VisitAll(func(f *pflag.Flag) {
		if n := len(optionName(f)); n <= widestOption {
			wide = max(wide, n)
		}
	})
	options.VisitAll(func(f *pflag.Flag) {
		name := optionName(f)
		for i, row := range widget.Wrap(meaning(f), max(20, width-wide-4)) {
			if i == 0 && len(name) > wide {
				fmt.Fprintf(b, "  %s\n", name)
			}
			if i > 0 || len(name) > wide {
				name = ""
			}
			fmt.Fprintf(b, "  %-*s  %s\n", wide, name, row)
		}
	})
}

// optionName is an option as it is typed, with its value's name.
func optionName(f *pflag.Flag) string {
	value, _ := pflag.UnquoteUsage(f)
	name := strings.TrimSpace("--" + f.Name + " " + value)
	if f.Shorthand != "" {
		name = "-" + f.Shorthand + ", " + name
	}
	return name
}

// meaning is what an option does, with what holds where it is not given. The value's name, which stands before a colon
// there, stands behind the option already.
func meaning(f *pflag.Flag) string {
	value, text := pflag.UnquoteUsage(f)
	switch f.Name {
	case "help":
		text = "this help"
	case "version":
		text = "print the version"
	}
	text = strings.TrimPrefix(text, value+": ")
	switch f.DefValue {
	case "", "0", "false", "[]":
		return text
	}
	if strings.Contains(text, "(default") || f.Value.Type() == "bool" {
		return text
	}
	return text + " (default " + f.DefValue + ")"
}

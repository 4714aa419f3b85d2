package cli

// wetside help: the guides, and the help of each command.

import (
	"embed"
	"fmt"
	"io/fs"
	"regexp"
	"strings"

	"github.com/spf13/cobra"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli/flags"
	"example.org/wetside/tui/widget"
)

// Guides are the texts of help, one file a topic; the manual pages have them too.
//
//go:embed help/*.md
var Guides embed.FS

// Topics are the guides in the order in which help lists them.
var Topics = []string{
	"start", "dark", "voice", "recipe", "wet-time", "temperature", "bottles",
	"film-test", "curves", "print", "scan", "reciprocity",
	"files", "settings", "sharing", "safety", "machines",
}

// Guide is the text of a topic.
func Guide(topic string) (string, error) {
	text, err := fs.ReadFile(Guides, "help/"+topic+".md")
	return string(text), err
}

// wrapTopics is the topics as a sentence in rows that a terminal holds.
func wrapTopics() string {
	return strings.Join(widget.Wrap(strings.Join(Topics, ", ")+".", 80), "\n")
}

// emphasis is what a guide sets apart within a line: code and strong words.
var emphasis = regexp.MustCompile("`([^`]+)`|\\*\\*([^*]+)\\*\\*|\\*([^* ][^*]*)\\*")

// forTerminal is a guide as a terminal shows it: headings and what is set apart in bold, without
// the marks that say so; what is typed as it stands.
func forTerminal(guide string) string {
	const bold, plain = "\x1b[1m", "\x1b[22m"
	lines := strings.SplitAfter(guide, "\n")
	for i, line := range lines {
		text := strings.TrimRight(line, "\n")
		head := strings.TrimLeft(text, "#")
		switch {
		case strings.HasPrefix(text, "    "):
			continue
		case head != text:
			lines[i] = bold + strings.TrimSpace(head) + plain + "\n"
		case strings.HasPrefix(text, "|--"):
			lines[i] = ""
		default:
			lines[i] = emphasis.ReplaceAllString(strings.TrimSuffix(strings.TrimPrefix(line, "| "), " |\n"), bold+"$1$2$3"+plain)
			if strings.HasPrefix(text, "|") {
				lines[i] = strings.Replace(lines[i], " | ", "   ", 1) + "\n"
			}
		}
	}
	return strings.Join(lines, "")
}

func newHelpCommand(p *app.Env) *cobra.Command {
	return &cobra.Command{
		Use:   "help [TOPIC|COMMAND]",
		Short: "a guide, or what a command does",
		Long: "Prints a guide to one topic, or the help of a command. Begin with: wetside help start.\nTopics: " +
			wrapTopics(),
		Example: "  wetside help dark\n  wetside help bottles clearing",
		GroupID: "laptop",
		ValidArgsFunction: func(c *cobra.Command, args []string, typed string) ([]cobra.Completion, cobra.ShellCompDirective) {
			names := Topics
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
	if text, err := Guide(args[0]); err == nil && len(args) == 1 {
		if p.OnTerminal() {
			text = forTerminal(text)
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
	return app.Usagef("no help on %q; expected one of %s, or a command", strings.Join(args, " "), strings.Join(Topics, ", "))
}

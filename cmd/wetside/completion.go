package main

// wetside completion: a script for the shell, and the words that it asks for.

import (
	"io"
	"strings"

	"github.com/spf13/cobra"

	"example.org/wetside/recipes"
	"example.org/wetside/recipes/settings"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
)

func (p *program) completion() *cobra.Command {
	shells := map[string]func(*cobra.Command, io.Writer) error{
		"bash":       func(c *cobra.Command, w io.Writer) error { return c.GenBashCompletionV2(w, true) },
		"zsh":        func(c *cobra.Command, w io.Writer) error { return c.GenZshCompletion(w) },
		"fish":       func(c *cobra.Command, w io.Writer) error { return c.GenFishCompletion(w, true) },
		"powershell": func(c *cobra.Command, w io.Writer) error { return c.GenPowerShellCompletionWithDesc(w) },
	}
	return &cobra.Command{
		Use:   "completion SHELL",
		Short: "a completion script for bash, zsh, fish or powershell",
		Long: "Writes a script by which a shell completes commands, flags, and recipes, sessions\n" +
			"and vessels by name. For bash, once: wetside completion bash > ~/.wetside-completion,\n" +
			"and in ~/.bashrc: source ~/.wetside-completion",
		Example:   "  wetside completion bash",
		Args:      words(cobra.ExactArgs(1)),
		ValidArgs: []string{"bash", "zsh", "fish", "powershell"},
		RunE: func(cmd *cobra.Command, args []string) error {
			write, known := shells[args[0]]
			if !known {
				return usage("completion: %q; expected bash, zsh, fish or powershell", args[0])
			}
			return write(cmd.Root(), p.out)
		},
	}
}

// complete gives every command of the tree its words: by what its usage line calls
// them, and by what its flags are called.
func complete(cmd *cobra.Command) {
	for _, c := range cmd.Commands() {
		use := c.Use
		if c.ValidArgsFunction == nil && len(c.ValidArgs) == 0 {
			c.ValidArgsFunction = argumentsOf(use)
		}
		for name, list := range flagWords {
			if c.Flags().Lookup(name) != nil {
				// an error would mean that the flag has its words already
				_ = c.RegisterFlagCompletionFunc(name, among(list))
			}
		}
		complete(c)
	}
}

// argumentsOf completes what a usage line names.
func argumentsOf(use string) cobra.CompletionFunc {
	return func(_ *cobra.Command, args []string, typed string) ([]cobra.Completion, cobra.ShellCompDirective) {
		switch {
		case strings.Contains(use, "FILE"):
			return nil, cobra.ShellCompDirectiveDefault
		case strings.Contains(use, "RECIPE") && len(args) == 0:
			return beginning(recipeNames(), typed), cobra.ShellCompDirectiveDefault // or a path
		case strings.Contains(use, "SESSION") && len(args) < strings.Count(use, "SESSION"):
			return beginning(sessionNames(), typed), cobra.ShellCompDirectiveNoFileComp
		}
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
}

// flagWords are the flags whose words are known.
var flagWords = map[string][]string{
	"vessel":   vesselNames(),
	"sound":    append(settings.Outs[:len(settings.Outs):len(settings.Outs)], "wav:"),
	"voice":    settings.Voices,
	"hangs-in": {"developer", "jacket", "room"},
	"channel":  {"vis", "blue", "green", "red"},
}

func vesselNames() []string {
	var list []string
	for _, v := range sequence.Vessels {
		list = append(list, string(v))
	}
	return list
}

func among(list []string) cobra.CompletionFunc {
	return func(_ *cobra.Command, _ []string, typed string) ([]cobra.Completion, cobra.ShellCompDirective) {
		return beginning(list, typed), cobra.ShellCompDirectiveNoFileComp
	}
}

func beginning(list []string, with string) []cobra.Completion {
	var fit []cobra.Completion
	for _, w := range list {
		if strings.HasPrefix(w, with) {
			fit = append(fit, w)
		}
	}
	return fit
}

func recipeNames() []string {
	var list []string
	for _, e := range recipes.List(ownRecipes()) {
		list = append(list, e.Name)
	}
	return list
}

// sessionNames are the ids of all sessions, newest first; no journal is read.
func sessionNames() []string { return journal.Default().IDs() }

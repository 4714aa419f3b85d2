package flags

// wetside completion: a script for the shell, and the words that it asks for.

import (
	"strings"

	"github.com/spf13/cobra"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/recipes"
	"example.org/wetside/recipes/settings"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
)

// AddCompletions gives every command of the tree its words: by what its usage line calls
// them, and by what its flags are called.
func AddCompletions(p *app.Env, cmd *cobra.Command) {
	for _, c := range cmd.Commands() {
		use := c.Use
		if c.ValidArgsFunction == nil && len(c.ValidArgs) == 0 {
			c.ValidArgsFunction = completeArgs(use)
		}
		for name, list := range flagValues {
			if c.Flags().Lookup(name) != nil {
				// an error would mean that the flag has its words already
				_ = c.RegisterFlagCompletionFunc(name, completeFrom(list))
			}
		}
		AddCompletions(p, c)
	}
}

// completeArgs completes what a usage line names.
func completeArgs(use string) cobra.CompletionFunc {
	return func(_ *cobra.Command, args []string, typed string) ([]cobra.Completion, cobra.ShellCompDirective) {
		switch {
		case strings.Contains(use, "FILE"):
			return nil, cobra.ShellCompDirectiveDefault
		case strings.Contains(use, "RECIPE") && len(args) == 0:
			return WithPrefix(RecipeNames(), typed), cobra.ShellCompDirectiveDefault // or a path
		case strings.Contains(use, "SESSION") && len(args) < strings.Count(use, "SESSION"):
			return WithPrefix(SessionNames(), typed), cobra.ShellCompDirectiveNoFileComp
		}
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
}

// flagValues are the flags whose words are known.
var flagValues = map[string][]string{
	"vessel":    vesselNames(),
	"sound":     append(settings.SoundOutputs[:len(settings.SoundOutputs):len(settings.SoundOutputs)], "wav:"),
	"voice":     settings.VoiceLevels,
	"sensor-in": {"developer", "jacket", "room"},
	"channel":   {"vis", "blue", "green", "red"},
}

func vesselNames() []string {
	var list []string
	for _, v := range sequence.Vessels {
		list = append(list, string(v))
	}
	return list
}

func completeFrom(list []string) cobra.CompletionFunc {
	return func(_ *cobra.Command, _ []string, typed string) ([]cobra.Completion, cobra.ShellCompDirective) {
		return WithPrefix(list, typed), cobra.ShellCompDirectiveNoFileComp
	}
}

func WithPrefix(list []string, with string) []cobra.Completion {
	var fit []cobra.Completion
	for _, w := range list {
		if strings.HasPrefix(w, with) {
			fit = append(fit, w)
		}
	}
	return fit
}

func RecipeNames() []string {
	var list []string
	for _, e := range recipes.List(app.RecipesFolder()) {
		list = append(list, e.Name)
	}
	return list
}

// SessionNames are the ids of all sessions, newest first; no journal is read.
func SessionNames() []string { return journal.Default().IDs() }

package flags

// What is wrong with a command line, in a person's words: which word is missing, unknown
// or no longer used, and what was probably meant.

import (
	"errors"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/recipes"
	"example.org/wetside/recipes/safetext"
)

// UsageArgs makes a wrong number of arguments wrong usage, and says which.
func UsageArgs(check cobra.PositionalArgs) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		err := check(c, args)
		switch operands := operandsOf(c); {
		case err == nil:
			return nil
		case c.HasAvailableSubCommands() && len(args) > 0:
			return UnknownCommand(c, args) // behind an option
		case len(args) < len(operands):
			return app.Usagef("%s is missing; expected %s", operands[len(args)], c.CommandPath()+strings.TrimPrefix(c.Use, c.Name()))
		case len(operands) == 0 && !strings.Contains(c.Use, "[") && len(args) > 0:
			return app.Usagef("%q is one word too many; expected only options", safetext.Clean(args[0]))
		}
		return app.Usagef("%q is one word too many; expected %s", safetext.Clean(args[len(args)-1]), c.CommandPath()+strings.TrimPrefix(c.Use, c.Name()))
	}
}

// operandsOf are the words that a command cannot do without, as its usage line has them.
func operandsOf(c *cobra.Command) []string {
	var list []string
	for _, word := range strings.Fields(c.Use)[1:] {
		if strings.HasPrefix(word, "[") || strings.HasPrefix(word, "-") {
			break
		}
		list = append(list, strings.TrimSuffix(word, "..."))
	}
	return list
}

// CheckCommand refuses a command that is none, before its options are looked at: those of an
// old command are no longer known, and would be blamed instead.
func CheckCommand(root *cobra.Command, args []string) (*cobra.Command, error) {
	if len(args) > 0 && strings.HasPrefix(args[0], cobra.ShellCompRequestCmd) {
		return root, nil
	}
	c, rest, err := root.Find(args)
	if err != nil || !c.HasAvailableSubCommands() || len(rest) == 0 || strings.HasPrefix(rest[0], "-") {
		return root, nil
	}
	return c, UnknownCommand(c, rest)
}

// UnknownCommand says that a command is none, and which was meant or took its place.
func UnknownCommand(c *cobra.Command, args []string) error {
	under := strings.Fields(c.CommandPath())[1:]
	if old, now := renamedCommand(append(under, args...)); now != "" {
		return app.Usagef("%q is now wetside %s", old, now)
	}
	word := safetext.Clean(args[0])
	if instead := otherWords[strings.Join(append(under, args[0]), " ")]; instead != "" {
		return app.Usagef("unknown command %q; %s", word, instead)
	}
	c.SuggestionsMinimumDistance = 2 // letters
	if near := c.SuggestionsFor(args[0]); len(near) > 0 {
		return app.Usagef("unknown command %q; did you mean %s?", word, strings.Join(near, " or "))
	}
	return app.Usagef("unknown command %q", word)
}

// FlagError says what is wrong with an option as it was typed.
func FlagError(c *cobra.Command, err error) error {
	var unknown *pflag.NotExistError
	var missing *pflag.ValueRequiredError
	var invalid *pflag.InvalidValueError
	switch {
	case errors.As(err, &unknown) && unknown.GetSpecifiedShortnames() != "":
		return app.Usagef("unknown option -%s", safetext.Clean(unknown.GetSpecifiedShortnames()))
	case errors.As(err, &unknown):
		return unknownFlag(c, unknown.GetSpecifiedName())
	case errors.As(err, &missing):
		return Missing(c, missing.GetFlag().Name)
	case errors.As(err, &invalid):
		f := invalid.GetFlag()
		return app.Usagef("--%s: %q; expected %s", f.Name, safetext.Clean(invalid.GetValue()), expectedOf[f.Value.Type()])
	}
	return app.AsUsage(err)
}

// expectedOf is what a flag takes, by its kind.
var expectedOf = map[string]string{"int": "a whole number", "float64": "a number with a point for decimals", "bool": "true or false"}

// Missing says that a flag, or its value, is not there.
func Missing(c *cobra.Command, name string) error {
	value, _ := pflag.UnquoteUsage(c.Flag(name))
	return app.Usagef("--%s %s is missing", name, value)
}

// unknownFlag says which flag was meant, or what took its place.
func unknownFlag(c *cobra.Command, name string) error {
	if now := renamedFlag(c.CommandPath(), name); now != "" {
		return app.Usagef("--%s is now %s", name, now)
	}
	var known []string
	c.Flags().VisitAll(func(f *pflag.Flag) { known = append(known, f.Name) })
	if near := recipes.NearestWord(name, known); near != "" {
		return app.Usagef("unknown option --%s; did you mean --%s?", safetext.Clean(name), near)
	}
	return app.Usagef("unknown option --%s", safetext.Clean(name))
}

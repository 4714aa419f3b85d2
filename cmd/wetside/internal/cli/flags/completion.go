package flags

// wetside completion: the words that a shell asks for. A recipe's developments, the open
// bottles, the holders that wait and the films are looked up as they are typed.

import (
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/recipes"
	"example.org/wetside/recipes/settings"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
)

// lookup finds the words that may stand somewhere; args are those typed before.
type lookup func(p *app.Env, args []string) []string

// operandWords are by what a usage line calls an operand.
var operandWords = map[string]lookup{
	"RECIPE":  func(*app.Env, []string) []string { return RecipeNames() },
	"SESSION": func(*app.Env, []string) []string { return SessionNames() },
	"OTHER":   func(*app.Env, []string) []string { return SessionNames() },
	"BOTTLE":  bottleNames,
	"FIRST":   bottleNames,
	"SECOND":  bottleNames,
	"HOLDER":  holderNames,
}

// flagWords are by a flag's name.
var flagWords = map[string]lookup{
	"vessel":      words(vesselNames()...),
	"sound":       words(append(slices.Clone(settings.SoundOutputs), "wav:")...),
	"voice":       words(settings.VoiceLevels...),
	"sensor-in":   words("developer", "jacket", "room"),
	"channel":     words("vis", "blue", "green", "red"),
	"emulsion":    words("sound", "edges", "frayed"),
	"look":        words("good", "thin", "dense", "fogged", "uneven", "scratched"),
	"development": developmentNames,
	"bottles": func(p *app.Env, args []string) []string {
		return append([]string{"kept", "fresh"}, bottleNames(p, args)...)
	},
	"film":    filmNames,
	"with":    operandWords["RECIPE"],
	"recipe":  operandWords["RECIPE"],
	"session": operandWords["SESSION"],
	"from":    func(*app.Env, []string) []string { return slices.Concat(RecipeNames(), SessionNames()) },
}

// AddCompletions gives every command of the tree its words: by what its usage line calls
// them, and by what its flags are called.
func AddCompletions(p *app.Env, cmd *cobra.Command) {
	for _, c := range cmd.Commands() {
		if c.ValidArgsFunction == nil && len(c.ValidArgs) == 0 {
			c.ValidArgsFunction = completeOperands(p, strings.Fields(c.Use)[1:])
		}
		for name, find := range flagWords {
			if c.Flags().Lookup(name) != nil {
				// an error would mean that the flag has its words already
				_ = c.RegisterFlagCompletionFunc(name, func(_ *cobra.Command, args []string, typed string) ([]cobra.Completion, cobra.ShellCompDirective) {
					return WithPrefix(find(p, args), typed), cobra.ShellCompDirectiveNoFileComp
				})
			}
		}
		AddCompletions(p, c)
	}
}

// completeOperands completes what a usage line names; a name may be a path too where it is a
// recipe's or a file's.
func completeOperands(p *app.Env, operands []string) cobra.CompletionFunc {
	return func(_ *cobra.Command, args []string, typed string) ([]cobra.Completion, cobra.ShellCompDirective) {
		at := len(args)
		if at >= len(operands) {
			if at = len(operands) - 1; at < 0 || !strings.HasSuffix(operands[at], "...") {
				return nil, cobra.ShellCompDirectiveNoFileComp
			}
		}
		var found []cobra.Completion
		files := cobra.ShellCompDirectiveNoFileComp
		for name := range strings.SplitSeq(strings.Trim(operands[at], "[]."), "|") {
			if find := operandWords[name]; find != nil {
				found = append(found, WithPrefix(find(p, args), typed)...)
			}
			if name == "RECIPE" || name == "FILE" {
				files = cobra.ShellCompDirectiveDefault
			}
		}
		return found, files
	}
}

// words are always the same.
func words(list ...string) lookup { return func(*app.Env, []string) []string { return list } }

func vesselNames() []string {
	var list []string
	for _, v := range sequence.Vessels {
		list = append(list, string(v))
	}
	return list
}

// developmentNames are those of the recipe typed before.
func developmentNames(_ *app.Env, args []string) []string {
	if len(args) == 0 {
		return nil
	}
	r, err := app.FindPlainRecipe(args[0])
	if err != nil {
		return nil
	}
	var list []string
	for _, st := range r.Steps {
		for _, t := range st.Times {
			if !slices.Contains(list, t.Name) {
				list = append(list, t.Name)
			}
		}
	}
	return list
}

// bottleNames are the open bottles, of baths and of stock.
func bottleNames(*app.Env, []string) []string {
	b, err := app.BottleLedger().Read()
	if err != nil {
		return nil
	}
	var list []string
	for _, c := range b.OpenBottles() {
		list = append(list, c.Name)
	}
	for _, s := range b.StockOpen() {
		list = append(list, s.Bottle)
	}
	return list
}

// holderNames are the sheets that wait.
func holderNames(p *app.Env, _ []string) []string {
	waiting, err := p.WaitingSheets()
	if err != nil {
		return nil
	}
	var list []string
	for i := range waiting {
		list = append(list, waiting[i].Name())
	}
	return list
}

// filmNames are the films that recipes and waiting sheets name.
func filmNames(p *app.Env, _ []string) []string {
	var list []string
	for _, e := range recipes.List(app.RecipesFolder()) {
		list = append(list, e.Film) // "" where it cannot be read
	}
	waiting, err := p.WaitingSheets()
	for i := range waiting {
		if err == nil {
			list = append(list, waiting[i].Film)
		}
	}
	slices.Sort(list)
	return slices.DeleteFunc(slices.Compact(list), func(s string) bool { return s == "" })
}

// WithPrefix are the words that begin with what was typed.
func WithPrefix(list []string, with string) []cobra.Completion {
	var fit []cobra.Completion
	for _, w := range list {
		if strings.HasPrefix(w, with) {
			fit = append(fit, w)
		}
	}
	return fit
}

// RecipeNames are the recipes by name.
func RecipeNames() []string {
	var list []string
	for _, e := range recipes.List(app.RecipesFolder()) {
		list = append(list, e.Name)
	}
	return list
}

// SessionNames are the ids of all sessions, newest first; no journal is read.
func SessionNames() []string { return journal.Default().IDs() }

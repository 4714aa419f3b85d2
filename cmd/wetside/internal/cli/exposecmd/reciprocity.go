package exposecmd

// Which law of long exposures a film follows: a recipe's table, one typed, or
// an exponent. One's own tests come to either by wetside fit reciprocity.

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"example.org/wetside/chem"
	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/recipes/safetext"
	"example.org/wetside/tui/say"
)

// reciprocityFlags are the laws as typed.
type reciprocityFlags struct {
	table    string
	exponent float64
}

func (l *reciprocityFlags) add(f *pflag.FlagSet) {
	f.StringVar(&l.table, "table", "", "`\"1:1.4,8:40\"`: metered and corrected seconds")
	f.Float64Var(&l.exponent, "exponent", 0, "`P`: exposure = metered^(1/P) from one second up")
}

// reciprocity is a law with what is known of it. Law is nil for none.
type reciprocity struct {
	law     chem.Reciprocity
	longest time.Duration // longest sensible metered time; 0 where none is known
	source  string        // what it is of, for a heading
}

// choose is the one asked for.
func (l reciprocityFlags) choose(cmd *cobra.Command, args []string) (reciprocity, error) {
	ways := len(args)
	for _, flag := range []string{"table", "exponent"} {
		if cmd.Flags().Changed(flag) {
			ways++
		}
	}
	switch {
	case ways > 1:
		return reciprocity{}, app.Usagef("expected one of RECIPE, --table and --exponent")
	case cmd.Flags().Changed("table"):
		entries, err := parseReciprocityTable(l.table)
		if err != nil {
			return reciprocity{}, app.Usagef("--table: %v", err)
		}
		law, err := chem.NewExposureTable(entries)
		return reciprocity{law: law, source: "your table of " + say.Count(len(entries), "time")}, err
	case cmd.Flags().Changed("exponent"):
		return reciprocity{law: chem.Exponent(l.exponent), source: fmt.Sprintf("exponent %g", l.exponent)}, nil
	case len(args) == 0:
		return reciprocity{source: "no reciprocity failure"}, nil
	}
	return reciprocityOfRecipe(args[0])
}

// reciprocityOfRecipe is the table of a recipe's film.
func reciprocityOfRecipe(recipe string) (reciprocity, error) {
	r, err := app.FindPlainRecipe(recipe)
	if err != nil {
		return reciprocity{}, err
	}
	table := r.Film.Reciprocity
	if table == nil {
		return reciprocity{}, fmt.Errorf("%s: the recipe has no reciprocity table for %s; expected --table or --exponent",
			safetext.Clean(recipe), safetext.Clean(r.Film.Name))
	}
	law, err := chem.NewExposureTable(table.Table)
	return reciprocity{law: law, longest: table.Longest, source: safetext.Clean(r.Film.Name)}, err
}

// parseReciprocityTable reads "1:1.4,8:40": metered and corrected seconds.
func parseReciprocityTable(text string) ([][2]time.Duration, error) {
	var list [][2]time.Duration
	for _, entry := range strings.Split(text, ",") {
		from, to, ok := strings.Cut(entry, ":")
		a, errA := strconv.ParseFloat(strings.TrimSpace(from), 64)
		b, errB := strconv.ParseFloat(strings.TrimSpace(to), 64)
		if !ok || errA != nil || errB != nil || !(a > 0 && b > 0 && a < 1e6 && b < 1e6) {
			return nil, fmt.Errorf("%q; expected metered:corrected in seconds", entry)
		}
		list = append(list, [2]time.Duration{time.Duration(math.Round(a * 1e9)), time.Duration(math.Round(b * 1e9))})
	}
	return list, nil
}

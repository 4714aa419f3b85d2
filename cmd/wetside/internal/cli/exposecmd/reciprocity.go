package exposecmd

// Which law of long exposures a film follows: a recipe's table, one typed, an
// exponent, or the person's own tests.

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"example.org/wetside/chem"
	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli/flags"
	"example.org/wetside/recipes/safetext"
)

// reciprocityFlags are the laws as typed.
type reciprocityFlags struct {
	table, tests string
	exponent     float64
	gradient     float64
}

func (l *reciprocityFlags) add(f *pflag.FlagSet) {
	f.StringVar(&l.table, "table", "", "metered and corrected seconds, `\"1:1.4,8:40\"`")
	f.Float64Var(&l.exponent, "exponent", 0, "exposure = metered^(1/`P`) from one second up")
	f.StringVar(&l.tests, "tests", "", "your own tests, `FILE`: lines of metered,needed or metered,stops or metered,density")
	f.Float64Var(&l.gradient, "gradient", 0, "the film's average gradient `G` there, for tests with densities")
}

// reciprocity is a law with what is known of it. Law is nil for none.
type reciprocity struct {
	law     chem.Reciprocity
	longest time.Duration        // longest sensible metered time; 0 where none is known
	tested  time.Duration        // longest metered time among tests; 0 without tests
	note    string               // what is to be known of it
	source  string               // what it is of, for a heading
	fit     *chem.ReciprocityFit // where it comes from tests
}

// extrapolates reports whether an exposure is past what is known of the film.
func (n reciprocity) extrapolates(e chem.Exposure) bool {
	return e.OutsideTests || n.tested > 0 && e.Extended > n.tested
}

// choose is the one asked for.
func (l reciprocityFlags) choose(cmd *cobra.Command, args []string) (reciprocity, error) {
	ways := len(args)
	for _, flag := range []string{"table", "exponent", "tests"} {
		if cmd.Flags().Changed(flag) {
			ways++
		}
	}
	switch {
	case ways > 1:
		return reciprocity{}, app.Usagef("expected one of RECIPE, --table, --exponent and --tests")
	case cmd.Flags().Changed("table"):
		entries, err := parseReciprocityTable(l.table)
		if err != nil {
			return reciprocity{}, app.Usagef("--table: %v", err)
		}
		law, err := chem.NewExposureTable(entries)
		return reciprocity{law: law, source: "a table of " + strconv.Itoa(len(entries)) + " times"}, err
	case cmd.Flags().Changed("exponent"):
		return reciprocity{law: chem.Exponent(l.exponent), source: fmt.Sprintf("exponent %g", l.exponent)}, nil
	case cmd.Flags().Changed("tests"):
		return l.fitTests()
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
		return reciprocity{}, fmt.Errorf("%s: the recipe has no reciprocity table for %s; expected --table, --exponent or --tests",
			safetext.Clean(recipe), safetext.Clean(r.Film.Name))
	}
	law, err := chem.NewExposureTable(table.Table)
	return reciprocity{law: law, longest: table.Longest, source: safetext.Clean(r.Film.Name)}, err
}

// fitTests fits the person's own tests.
func (l reciprocityFlags) fitTests() (reciprocity, error) {
	f, err := os.Open(l.tests)
	if err != nil {
		return reciprocity{}, err
	}
	defer f.Close()
	tests, err := readReciprocityTests(l.tests, io.LimitReader(f, 1<<20), l.gradient)
	if err != nil {
		return reciprocity{}, err
	}
	fit, err := chem.FitReciprocity(tests)
	if err != nil {
		return reciprocity{}, fmt.Errorf("%s: %w", l.tests, err)
	}
	n := reciprocity{law: fit.Law(), source: fmt.Sprintf("your own %d tests", len(tests)), fit: &fit}
	for _, t := range tests {
		n.tested = max(n.tested, t.Metered)
	}
	if l.gradient != 0 {
		n.note = densityTestsNote
	}
	return n, nil
}

// densityTestsNote is what is to be known of tests that were densities: the loss is taken for
// what must be given more. That is exact for a gradient over time in weak light; with
// a step tablet's, under a constant exponent P, it is P times what is needed (the
// gradient over time is P times that over light).
const densityTestsNote = "from densities times come out a little short where much is lost: expose once more as told, and add it as metered,needed"

// readReciprocityTests reads lines of a metered time and, as the heading says, the time needed
// for the same density, the stops needed more, or the density that the metered time
// gave: less than the first line's by so much that a gradient tells the loss.
func readReciprocityTests(name string, in io.Reader, gradient float64) ([]chem.ReciprocityTest, error) {
	r := csv.NewReader(in)
	r.Comment, r.FieldsPerRecord, r.TrimLeadingSpace = '#', 2, true
	head, err := r.Read()
	if err != nil {
		return nil, fmt.Errorf("%s: %w; expected a heading: metered,needed or metered,stops or metered,density", name, err)
	}
	read, err := secondColumn(head, gradient)
	if err != nil {
		return nil, fmt.Errorf("%s:1: %w", name, err)
	}
	var tests []chem.ReciprocityTest
	for {
		row, err := r.Read()
		if errors.Is(err, io.EOF) {
			return tests, nil
		}
		if err != nil {
			return nil, fmt.Errorf("%s: %w; expected two columns", name, err)
		}
		line, _ := r.FieldPos(0)
		metered, err := flags.TimeOrSeconds(row[0])
		if err != nil {
			return nil, fmt.Errorf("%s:%d: %w", name, line, err)
		}
		needed, err := read(metered, row[1])
		if err != nil {
			return nil, fmt.Errorf("%s:%d: %w", name, line, err)
		}
		tests = append(tests, chem.ReciprocityTest{Metered: metered, Needed: needed})
	}
}

// secondColumn reads the second column as its heading says.
func secondColumn(head []string, gradient float64) (func(metered time.Duration, cell string) (time.Duration, error), error) {
	if !strings.EqualFold(head[0], "metered") {
		return nil, fmt.Errorf("heading %q; expected metered first", head[0])
	}
	more := func(metered time.Duration, stops float64) (time.Duration, error) {
		if !(math.Abs(stops) < 20) {
			return 0, fmt.Errorf("%g stops; expected fewer than 20", stops)
		}
		return time.Duration(float64(metered) * math.Exp2(stops)), nil
	}
	number := func(cell string) (float64, error) {
		v, err := strconv.ParseFloat(cell, 64)
		if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
			return 0, fmt.Errorf("%q; expected a number with a point for decimals", cell)
		}
		return v, nil
	}
	switch strings.ToLower(head[1]) {
	case "needed":
		return func(_ time.Duration, cell string) (time.Duration, error) { return flags.TimeOrSeconds(cell) }, nil
	case "stops":
		return func(metered time.Duration, cell string) (time.Duration, error) {
			v, err := number(cell)
			if err != nil {
				return 0, err
			}
			return more(metered, v)
		}, nil
	case "density":
		if !(gradient > 0.1 && gradient < 4) {
			return nil, app.Usagef("--gradient: %g; tests with densities need the film's average gradient, 0.1 to 4", gradient)
		}
		reference := math.NaN()
		return func(metered time.Duration, cell string) (time.Duration, error) {
			d, err := number(cell)
			if err != nil {
				return 0, err
			}
			if math.IsNaN(reference) {
				reference = d
			}
			return more(metered, (reference-d)/gradient*math.Log2(10))
		}, nil
	}
	return nil, fmt.Errorf("heading %q; expected needed, stops or density", head[1])
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

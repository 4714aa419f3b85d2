package main

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
	"example.org/wetside/recipes"
)

// lawFlags are the laws as typed.
type lawFlags struct {
	table, tests string
	exponent     float64
	gradient     float64
}

func (l *lawFlags) flags(f *pflag.FlagSet) {
	f.StringVar(&l.table, "table", "", "metered and corrected seconds, `\"1:1.4,8:40\"`")
	f.Float64Var(&l.exponent, "exponent", 0, "exposure = metered^(1/`P`) from one second up")
	f.StringVar(&l.tests, "tests", "", "your own tests, `FILE`: lines of metered,needed or metered,stops or metered,density")
	f.Float64Var(&l.gradient, "gradient", 0, "the film's average gradient `G` there, for tests with densities")
}

// namedLaw is a law with what is known of it. Law is nil for none.
type namedLaw struct {
	law     chem.Reciprocity
	longest time.Duration // longest sensible metered time; 0 where none is known
	tested  time.Duration // longest metered time among tests; 0 without tests
	note    string        // what is to be known of it
	of      string        // what it is of, for a heading
	fit     *chem.LongFit // where it comes from tests
}

// beyond reports whether an exposure is past what is known of the film.
func (n namedLaw) beyond(e chem.Exposure) bool {
	return e.Beyond || n.tested > 0 && e.Extended > n.tested
}

// law is the one asked for.
func (l lawFlags) law(cmd *cobra.Command, args []string) (namedLaw, error) {
	ways := len(args)
	for _, flag := range []string{"table", "exponent", "tests"} {
		if cmd.Flags().Changed(flag) {
			ways++
		}
	}
	switch {
	case ways > 1:
		return namedLaw{}, usage("expected one of RECIPE, --table, --exponent and --tests")
	case cmd.Flags().Changed("table"):
		entries, err := parseTable(l.table)
		if err != nil {
			return namedLaw{}, usage("--table: %v", err)
		}
		law, err := chem.NewExposureTable(entries)
		return namedLaw{law: law, of: "a table of " + strconv.Itoa(len(entries)) + " times"}, err
	case cmd.Flags().Changed("exponent"):
		return namedLaw{law: chem.Exponent(l.exponent), of: fmt.Sprintf("exponent %g", l.exponent)}, nil
	case cmd.Flags().Changed("tests"):
		return l.tested()
	case len(args) == 0:
		return namedLaw{of: "no reciprocity failure"}, nil
	}
	return filmLaw(args[0])
}

// filmLaw is the table of a recipe's film.
func filmLaw(recipe string) (namedLaw, error) {
	r, err := recipeOf(recipe)
	if err != nil {
		return namedLaw{}, err
	}
	table := r.Film.Reciprocity
	if table == nil {
		return namedLaw{}, fmt.Errorf("%s: the recipe has no reciprocity table for %s; expected --table, --exponent or --tests",
			recipes.Clean(recipe), recipes.Clean(r.Film.Name))
	}
	law, err := chem.NewExposureTable(table.Table)
	return namedLaw{law: law, longest: table.Longest, of: recipes.Clean(r.Film.Name)}, err
}

// tested fits the person's own tests.
func (l lawFlags) tested() (namedLaw, error) {
	f, err := os.Open(l.tests)
	if err != nil {
		return namedLaw{}, err
	}
	defer f.Close()
	tests, err := readTests(l.tests, io.LimitReader(f, 1<<20), l.gradient)
	if err != nil {
		return namedLaw{}, err
	}
	fit, err := chem.FitLong(tests)
	if err != nil {
		return namedLaw{}, fmt.Errorf("%s: %w", l.tests, err)
	}
	n := namedLaw{law: fit.Law(), of: fmt.Sprintf("your own %d tests", len(tests)), fit: &fit}
	for _, t := range tests {
		n.tested = max(n.tested, t.Metered)
	}
	if l.gradient != 0 {
		n.note = firstAnswer
	}
	return n, nil
}

// firstAnswer is what is to be known of tests that were densities: the loss is taken for
// what must be given more. That is exact for a gradient over time in weak light; with
// a step tablet's, under a constant exponent P, it is P times what is needed (the
// gradient over time is P times that over light).
const firstAnswer = "from densities times come out a little short where much is lost: expose once more as told, and add it as metered,needed"

// readTests reads lines of a metered time and, as the heading says, the time needed
// for the same density, the stops needed more, or the density that the metered time
// gave: less than the first line's by so much that a gradient tells the loss.
func readTests(name string, in io.Reader, gradient float64) ([]chem.LongExposure, error) {
	r := csv.NewReader(in)
	r.Comment, r.FieldsPerRecord, r.TrimLeadingSpace = '#', 2, true
	head, err := r.Read()
	if err != nil {
		return nil, fmt.Errorf("%s: %w; expected a heading: metered,needed or metered,stops or metered,density", name, err)
	}
	read, err := testColumn(head, gradient)
	if err != nil {
		return nil, fmt.Errorf("%s:1: %w", name, err)
	}
	var tests []chem.LongExposure
	for {
		row, err := r.Read()
		if errors.Is(err, io.EOF) {
			return tests, nil
		}
		if err != nil {
			return nil, fmt.Errorf("%s: %w; expected two columns", name, err)
		}
		line, _ := r.FieldPos(0)
		metered, err := trialTime(row[0])
		if err != nil {
			return nil, fmt.Errorf("%s:%d: %w", name, line, err)
		}
		needed, err := read(metered, row[1])
		if err != nil {
			return nil, fmt.Errorf("%s:%d: %w", name, line, err)
		}
		tests = append(tests, chem.LongExposure{Metered: metered, Needed: needed})
	}
}

// testColumn reads the second column as its heading says.
func testColumn(head []string, gradient float64) (func(metered time.Duration, cell string) (time.Duration, error), error) {
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
		return func(_ time.Duration, cell string) (time.Duration, error) { return trialTime(cell) }, nil
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
			return nil, usage("--gradient: %g; tests with densities need the film's average gradient, 0.1 to 4", gradient)
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

// parseTable reads "1:1.4,8:40": metered and corrected seconds.
func parseTable(text string) ([][2]time.Duration, error) {
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

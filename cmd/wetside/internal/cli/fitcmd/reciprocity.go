package fitcmd

// wetside fit reciprocity: the law of long exposures that one's own tests tell.

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli/flags"
	"example.org/wetside/sequence/plainfile"
)

// runFitReciprocity fits the person's own tests.
func runFitReciprocity(p *app.Env, file string, gradient float64, withGradient, asJSON bool) error {
	data, err := plainfile.Read(file, app.MaxTableFile)
	if err != nil {
		return err
	}
	tests, ofDensities, err := readReciprocityTests(file, bytes.NewReader(chem.PlainCSV(data)), gradient)
	if err != nil {
		return err
	}
	if withGradient && !ofDensities {
		return app.Usagef("--gradient goes with tests of densities; %s has none", file)
	}
	fit, err := chem.FitReciprocity(tests)
	if err != nil {
		return fmt.Errorf("%s: %w", file, err)
	}
	if asJSON {
		return p.WriteJSON(asReciprocityFitJSON(fit))
	}
	text, err := reciprocityFitText(fit, tests, ofDensities)
	if err != nil {
		return err
	}
	_, err = fmt.Fprint(p.Out, text)
	return err
}

// reciprocityFitJSON is a fitted law for a script.
type reciprocityFitJSON struct {
	Exponent   float64        `json:"exponent"`
	Low        float64        `json:"exponent_low"`
	High       float64        `json:"exponent_high"`
	Scatter    float64        `json:"exponent_scatter_stops"`
	KronA      *float64       `json:"two_parameter_a"`
	KronLow    *float64       `json:"two_parameter_a_low"`
	KronHigh   *float64       `json:"two_parameter_a_high"`
	KronFrom   *time.Duration `json:"two_parameter_from_s"`
	KronScat   *float64       `json:"two_parameter_scatter_stops"`
	Prefers    string         `json:"prefers"`
	Confidence float64        `json:"confidence"`
}

func asReciprocityFitJSON(f chem.ReciprocityFit) reciprocityFitJSON {
	t := reciprocityFitJSON{Exponent: float64(f.Exponent), Low: f.ExponentInterval.Low, High: f.ExponentInterval.High, Scatter: f.ExponentScatter,
		Prefers: f.Preferred, Confidence: f.Confidence}
	if f.Kron != nil {
		t.KronA, t.KronLow, t.KronHigh = &f.Kron.A, &f.KronInterval.Low, &f.KronInterval.High
		t.KronFrom, t.KronScat = &f.Kron.T0, &f.KronScatter
	}
	return t
}

// reciprocityFitText is the laws, which of them the tests prefer, and how to expose by it.
func reciprocityFitText(f chem.ReciprocityFit, tests []chem.ReciprocityTest, ofDensities bool) (string, error) {
	b := &strings.Builder{}
	fmt.Fprintf(b, "constant exponent %.3f (%.3f to %.3f, %.0f%%), the tests scatter by %.2f stops about it\n",
		float64(f.Exponent), f.ExponentInterval.Low, f.ExponentInterval.High, 100*f.Confidence, f.ExponentScatter)
	if f.Kron != nil {
		fmt.Fprintf(b, "two-parameter law: a %.3f (%.3f to %.3f), nothing lost up to %.3g s; in weak light the exponent %.3f; scatter %.2f stops\n",
			f.Kron.A, f.KronInterval.Low, f.KronInterval.High, f.Kron.T0.Seconds(), 1/(1+f.Kron.A), f.KronScatter)
	}
	switch f.Preferred {
	case "two-parameter":
		table, err := lawAsTable(f.Law(), tests)
		if err != nil {
			return "", err
		}
		fmt.Fprintf(b, "the tests prefer the two-parameter law; expose by it: --table \"%s\"\n", table)
	case "exponent":
		fmt.Fprintf(b, "the tests prefer the constant exponent; expose by it: --exponent %.3f\n", float64(f.Exponent))
	default:
		fmt.Fprintf(b, "the tests do not tell the two laws apart; expose by the exponent: --exponent %.3f. More tests at longer times tell\n", float64(f.Exponent))
	}
	if ofDensities {
		fmt.Fprintln(b, "note: "+densityTestsNote)
	}
	return b.String(), nil
}

// lawAsTable is a law as wetside expose takes it: metered and corrected seconds in whole
// stops from one second to the longest test. Between them expose goes straight in log-log,
// which follows a law that bends as slowly as Kron's.
func lawAsTable(law chem.Reciprocity, tests []chem.ReciprocityTest) (string, error) {
	longest := time.Second
	for _, t := range tests {
		longest = max(longest, t.Metered)
	}
	var list []string
	for metered := time.Second; ; metered *= 2 {
		last := metered >= longest
		if last {
			metered = longest
		}
		needed, _, err := law.Correct(metered)
		if err != nil {
			return "", err
		}
		list = append(list, fmt.Sprintf("%.4g:%.4g", metered.Seconds(), needed.Seconds()))
		if last {
			return strings.Join(list, ","), nil
		}
	}
}

// densityTestsNote is what is to be known of tests that were densities: the loss is taken for
// what must be given more. That is exact for a gradient over time in weak light; with
// a step tablet's, under a constant exponent P, it is P times what is needed (the
// gradient over time is P times that over light).
const densityTestsNote = "from densities times come out a little short where much is lost: expose once more by this result, and add it as metered,needed"

// readReciprocityTests reads lines of a metered time and, as the heading says, the time needed
// for the same density, the stops needed more, or the density that the metered time
// gave: less than the first line's by so much that a gradient tells the loss.
func readReciprocityTests(name string, in io.Reader, gradient float64) (tests []chem.ReciprocityTest, ofDensities bool, err error) {
	r := csv.NewReader(in)
	r.Comment, r.FieldsPerRecord, r.TrimLeadingSpace = '#', 2, true
	head, err := r.Read()
	if err != nil {
		return nil, false, fmt.Errorf("%s: %s; expected a heading: metered,needed or metered,stops or metered,density", name, csvFault(err))
	}
	read, err := secondColumn(head, gradient)
	if err != nil {
		return nil, false, fmt.Errorf("%s:1: %w", name, err)
	}
	ofDensities = strings.EqualFold(head[1], "density")
	for {
		row, err := r.Read()
		if errors.Is(err, io.EOF) {
			return tests, ofDensities, nil
		}
		if err != nil {
			return nil, false, fmt.Errorf("%s: %s; expected two columns", name, csvFault(err))
		}
		line, _ := r.FieldPos(0)
		metered, err := flags.TimeOrSeconds(row[0])
		if err != nil {
			return nil, false, fmt.Errorf("%s:%d: %w", name, line, err)
		}
		needed, err := read(metered, row[1])
		if err != nil {
			return nil, false, fmt.Errorf("%s:%d: %w", name, line, err)
		}
		if len(tests) == maxReciprocityTests {
			return nil, false, fmt.Errorf("%s:%d: over %d tests; expected fewer", name, line, maxReciprocityTests)
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

package curve

// Standard errors that came with densities read off a picture: how they are kept with the readings,
// and how the fit weighs by them.

import (
	"math"
	"slices"
	"strconv"
	"strings"
)

// leastShare is the least that one reading's error counts as, of the usual one's: no reading draws
// the curve through itself alone (our own rule).
const leastShare = 0.25

// OriginMark begins the remark that says which picture readings come from.
const OriginMark = "# read off a picture: "

// BaseRow is the row of base plus fog, for Put.
const BaseRow = -1

// Error is the standard error of a step, or of base plus fog; 0 where it is not known.
func (s SheetReadings) Error(row int) Density {
	if s.Errors == nil {
		return 0
	}
	return s.Errors[row+1]
}

// Put enters a density, or nothing, with its standard error, in a copy of the columns.
func (s SheetReadings) Put(row int, d *Density, err Density) SheetReadings {
	s.Steps = slices.Clone(s.Steps)
	if row == BaseRow {
		s.Base = d
	} else {
		s.Steps[row] = d
	}
	list := slices.Clone(s.Errors)
	if list == nil {
		list = make([]Density, len(s.Steps)+1)
	}
	list[row+1] = err
	return s.withErrors(list)
}

// withErrors keeps errors that belong to a density and are in range; none where there is none.
func (s SheetReadings) withErrors(list []Density) SheetReadings {
	s.Errors = nil
	if len(list) != len(s.Steps)+1 {
		return s
	}
	known := false
	list = slices.Clone(list)
	for i, e := range list {
		d := s.Base
		if i > 0 {
			d = s.Steps[i-1]
		}
		if d == nil || !(e > 0 && e <= maxReadingError) {
			list[i] = 0
		}
		known = known || list[i] > 0
	}
	if known {
		s.Errors = list
	}
	return s
}

// errorList is a column's errors as its `#` line has them; "" for none.
func (s SheetReadings) errorList() string {
	var words []string
	for _, e := range s.Errors {
		word := "-"
		if e > 0 {
			word = strconv.FormatFloat(float64(e), 'f', -1, 64)
		}
		words = append(words, word)
	}
	return strings.Join(words, " ")
}

// errorsColumn is the column that a `#` line of errors is of; 0 for any other line.
func errorsColumn(what string) int {
	number, ok := strings.CutPrefix(what, keyErrors)
	if !ok {
		return 0
	}
	k, err := strconv.Atoi(number)
	if err != nil || k < 1 || k > maxCurves || strconv.Itoa(k) != number {
		return 0
	}
	return k
}

func parseErrors(value string) (list []Density) {
	for _, word := range strings.Fields(value) {
		e, err := strconv.ParseFloat(word, 64)
		if err != nil || !(e > 0 && e <= maxReadingError) {
			e = 0
		}
		list = append(list, Density(e))
	}
	return list
}

// withErrors gives each reading the error of its step: base plus fog's first, then by step.
func (c Curve) withErrors(list []Density) Curve {
	c.BaseErr, c.Errors = list[0], nil
	for i := range c.Readings {
		c.Errors = append(c.Errors, list[c.Step(i)])
	}
	if !slices.ContainsFunc(c.Errors, func(e Density) bool { return e > 0 }) {
		c.Errors = nil
	}
	return c
}

// pictureErrorOf is the root mean square of the errors that pictures told; 0 where none did.
func pictureErrorOf(curves []Curve) Density {
	var squares, n float64
	for _, c := range curves {
		for _, e := range c.Errors {
			if e > 0 {
				squares, n = squares+float64(e*e), n+1
			}
		}
	}
	if n == 0 {
		return 0
	}
	return Density(math.Sqrt(squares / n))
}

// variances are those of each reading, of the usual one's, where a picture told its errors: what
// readings scatter beyond that is the same for all. Nil where all are alike.
func (c Curve) variances(e Density) []float64 {
	own := float64(pictureErrorOf([]Curve{c}))
	if own == 0 {
		return nil
	}
	more := max(0, float64(e*e)-own*own)
	list := make([]float64, len(c.Readings))
	for i, one := range c.Errors {
		if one == 0 {
			one = Density(own) // typed in among them
		}
		list[i] = max((float64(one*one)+more)/(own*own+more), leastShare*leastShare)
	}
	return list
}

// deviation is the standard deviation of a reading, of the usual one's.
func (d *fitResult) deviation(i int) float64 {
	if d.variances == nil {
		return 1
	}
	return math.Sqrt(d.variances[i])
}

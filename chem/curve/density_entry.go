package curve

// One reading as a tired hand types it: a decimal comma is a decimal mark here,
// where a line holds one number; a number without a mark is asked about; nothing
// typed is a reading left out. Nothing ever becomes a zero by itself.

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"time"
	"unicode"

	"example.org/wetside/chem"
)

// DensityEntry is what a line that was typed comes to.
type DensityEntry struct {
	Density Density
	Empty   bool   // nothing was typed: the step is left out
	Confirm string // to be confirmed before it is taken; "" where it is plain
	TakenAs string // how it was taken, where that is worth saying
}

// ParseDensity reads a line: a density or, with stops, how many stops a spot meter reads
// below clear light ("4.3", "4,3", "4 1/3"). Digits without a mark are asked about:
// 56 as 0.56, 123 as 1.23. It errs for what is no number or out of range.
func ParseDensity(line string, stops bool) (DensityEntry, error) {
	text := strings.Join(strings.Fields(line), " ")
	if text == "" {
		return DensityEntry{Empty: true}, nil
	}
	var a DensityEntry
	if strings.Count(text, ",") == 1 && !strings.Contains(text, ".") {
		text = strings.Replace(text, ",", ".", 1)
		a.TakenAs = fmt.Sprintf("%q taken as %s", line, text)
	}
	v, ok := parseDecimal(text)
	if stops {
		if !ok {
			v, ok = parseThirds(text)
		}
		return a.inStops(line, v, ok)
	}
	switch {
	case !ok:
		return a, fmt.Errorf("%s is no density; expected one such as 0.56", quoted(line))
	case !strings.ContainsAny(text, ".eE+-"):
		v, a.Confirm = withoutPoint(text)
	case v == 0:
		a.Confirm = "a density of 0.00? enter again: yes"
	}
	if !densityLimits.holds(v) {
		return a, fmt.Errorf("%s is out of range; expected %s", quoted(line), densityLimits)
	}
	a.Density = Density(v)
	return a, nil
}

// withoutPoint is a number typed without a decimal mark, and the question about it.
func withoutPoint(digits string) (v float64, ask string) {
	if v, _ = parseDecimal(digits); len(digits) > 1 {
		v /= 100
	}
	return v, fmt.Sprintf("%q has no decimal mark: %.2f? enter again: yes", digits, v)
}

// maxStops is as far below clear light as a meter is believed.
const maxStops = 20

func (a DensityEntry) inStops(line string, stops float64, ok bool) (DensityEntry, error) {
	if !ok {
		return a, fmt.Errorf("%s is no number of stops; expected one such as 4.3 or 4 1/3", quoted(line))
	}
	if stops < 0 || stops > maxStops {
		return a, fmt.Errorf("%s is out of range; expected 0 to %d stops below clear light", quoted(line), maxStops)
	}
	a.Density = Density(math.Round(1000*float64(FromStops(stops))) / 1000)
	a.TakenAs = fmt.Sprintf("%.4g stops are a density of %.2f", stops, float64(a.Density))
	if stops == 0 {
		a.Confirm = "as bright as clear light, a density of 0.00? enter again: yes"
	}
	return a, nil
}

// parseThirds reads "4 1/3", "4 2/3", "1/3".
func parseThirds(text string) (float64, bool) {
	head, tail, found := strings.Cut(text, " ")
	if !found {
		head, tail = "0", text
	}
	whole, ok := parseCount(head)
	part, known := map[string]float64{"1/3": 1.0 / 3, "2/3": 2.0 / 3, "1/2": 0.5}[tail]
	return float64(whole) + part, ok && known
}

// ParseTimes reads developing times with blanks or commas between them. It errs for
// none, and for what is no time from 1 s to 24 h.
func ParseTimes(line string) (times []time.Duration, err error) {
	for _, word := range strings.FieldsFunc(line, func(r rune) bool { return r == ',' || unicode.IsSpace(r) }) {
		t, err := chem.ParseDuration(word)
		if err != nil {
			return nil, err
		}
		if t < time.Second || t > maxMinutes*time.Minute {
			return nil, fmt.Errorf("developing time %s is out of range; expected 1 s to %d h", quoted(word), maxMinutes/60)
		}
		times = append(times, t)
	}
	switch {
	case len(times) == 0:
		return nil, errors.New("no developing time; expected one for each sheet, such as 5m 7m 9m30s 13m")
	case len(times) > maxCurves:
		return nil, fmt.Errorf("%d developing times; expected %d at most", len(times), maxCurves)
	}
	return times, nil
}

package page

// A pocket card: what to expose for what the meter says, for one film.

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"example.org/wetside/tui/say"
	"example.org/wetside/tui/widget"
)

// ExposureCard is a table of exposures.
type ExposureCard struct {
	Source  string  // the film, or where the law comes from
	Filter  float64 // factor; 1 for none
	Longest time.Duration
	Rows    []ExposureRow
}

// ExposureRow is one metered time. Beyond says that it is past what is known of the film.
type ExposureRow struct {
	Metered, Exposure time.Duration
	Stops             float64
	OutsideTests      bool
}

// head is what the card is for.
func (c ExposureCard) head() string {
	if c.Filter != 1 {
		return fmt.Sprintf("Long exposures: %s, filter ×%g", c.Source, c.Filter)
	}
	return "Long exposures: " + c.Source
}

// notes are what to know of the table: what its mark means first.
func (c ExposureCard) notes() (list []string) {
	if slices.ContainsFunc(c.Rows, func(r ExposureRow) bool { return r.OutsideTests }) {
		past := "past the end of what was tested"
		if c.Longest > 0 {
			past = "past " + say.Shutter(c.Longest)
		}
		list = append(list, "? "+past+": a guess, bracket.")
	}
	return append(list, "Stops are what is given more than metered. Bellows come before this table: multiply the metered time first. Long exposures gain contrast: consider less development (common practice).")
}

// more is by how many stops the exposure is longer: "+2.3", "0".
func (r ExposureRow) more() string {
	if math.Abs(r.Stops) < 0.05 {
		return "0"
	}
	return say.Minus(fmt.Sprintf("%+.1f", r.Stops))
}

func (r ExposureRow) mark() string {
	if r.OutsideTests {
		return "?"
	}
	return ""
}

// ExposureCardText is the card in plain letters.
func ExposureCardText(c ExposureCard) string {
	b := &strings.Builder{}
	fmt.Fprintf(b, "%s\n\n%10s %12s %8s\n", c.head(), "metered", "expose", "stops")
	for _, r := range c.Rows {
		line := fmt.Sprintf("%10s %12s %8s %s", say.Shutter(r.Metered), say.Shutter(r.Exposure), r.more(), r.mark())
		fmt.Fprintln(b, strings.TrimRight(line, " "))
	}
	for _, n := range c.notes() {
		fmt.Fprintln(b)
		for _, line := range widget.Wrap(n, 40) {
			fmt.Fprintln(b, line)
		}
	}
	return b.String()
}

const cardStyle = `body { font-family: sans-serif; margin: 1em; }
table { border-collapse: collapse; border: 1px solid #000; }
caption { text-align: left; font-weight: bold; padding-bottom: .3em; }
td, th { text-align: right; padding: .15em .6em; border-bottom: 1px solid #999; font-variant-numeric: tabular-nums; }
p { width: 22em; font-size: .8em; }
@media print { @page { margin: 8mm } body { margin: 0; font-size: 10pt } }
`

// ExposureCardHTML is the card as one file to print and cut out.
func ExposureCardHTML(c ExposureCard) string {
	b := &strings.Builder{}
	fmt.Fprintf(b, "<!DOCTYPE html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"><title>%[1]s</title>\n<style>\n%[2]s</style></head><body>\n"+
		"<table><caption>%[1]s</caption>\n<tr><th>metered</th><th>expose</th><th>stops</th><th></th></tr>\n", escapeHTML(c.head()), cardStyle)
	for _, r := range c.Rows {
		fmt.Fprintf(b, "<tr><td>%s</td><td>%s</td><td>%s</td><td>%s</td></tr>\n", say.Shutter(r.Metered), say.Shutter(r.Exposure), r.more(), r.mark())
	}
	b.WriteString("</table>\n")
	for _, n := range c.notes() {
		fmt.Fprintf(b, "<p>%s</p>\n", escapeHTML(n))
	}
	b.WriteString("</body></html>\n")
	return strings.Map(printableRune, b.String())
}

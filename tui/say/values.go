package say

// Sentences of codes with values: the tables of cautions, refusals and reasons name a value in
// braces, and here it is put there as it is written on every surface.

import (
	"fmt"
	"strconv"
	"strings"

	"example.org/wetside/sequence"
)

// filledIn is a sentence with the values that it names; own are others, each behind its name.
func filledIn(sentence string, v sequence.Values, h sequence.Units, own ...string) string {
	return strings.NewReplacer(append(own,
		"{step}", v.Step, "{bath}", v.Bath, "{bottle}", v.Bottle, "{part}", v.Part, "{words}", v.Words,
		"{in}", v.Vessel.In(), "{found in}", v.FoundIn.In(), "{vessel}", string(v.Vessel),
		"{step quoted}", strconv.Quote(v.Step), "{words quoted}", strconv.Quote(v.Words), "{vessel quoted}", strconv.Quote(string(v.Vessel)),
		"{time}", Elapsed(v.Time), "{of}", Elapsed(v.Of), "{each}", Elapsed(v.Each), "{over}", Elapsed(-v.Margin),
		"{span of}", Span(v.Of), "{span each}", Span(v.Each), "{span ago}", Span(v.Ago), "{span to come}", Span(-v.Ago), "{age}", Age(v.Ago),
		"{temperature}", Temperature(v.Temperature, h), "{range}", TemperatureRange(v.Low, v.High, h), "{low}", Temperature(v.Low, h),
		"{expected}", Temperature(v.Expected, h), "{expected read}", Reading(v.Expected, h), "{difference}", Difference(v.Change, h),
		"{read}", Reading(v.Temperature, h), "{low read}", Reading(v.Low, h),
		"{volume}", Volume(v.Volume, h), "{need}", Volume(v.Need, h), "{need in ml}", fmt.Sprintf("%.4g ml", float64(v.Need)),
		"{sheet}", strconv.Itoa(v.Sheet), "{n}", strconv.Itoa(v.Sheets), "{sheets}", Sheets(v.Sheets), "{room}", strconv.Itoa(v.Room), "{room sheets}", Sheets(v.Room),
		"{done}", SheetsDone(v.Done), "{serves}", strconv.Itoa(wholeDown(v.Serves)), "{count}", strconv.Itoa(wholeUp(v.Count)),
		"{count typed}", fmt.Sprintf("%g", v.Count), "{factor}", fmt.Sprintf("%.1f", v.Factor), "{factor typed}", fmt.Sprintf("%g", v.Factor),
		"{share}", Percent(v.Share), "{longer}", longer(v.Factor),
	)...).Replace(sentence)
}

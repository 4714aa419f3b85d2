package say

// Why a command does nothing, a plan cannot be made, a sheet is in no session; and the one thing that can still be done.

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/engine"
	"example.org/wetside/sequence/holders"
)

// refusals are their sentences; a plan's are for behind a colon.
var refusals = map[string]string{
	"begun-already":     "The session has begun already",
	"not-begun":         "The session has not begun",
	"over":              "The session is over",
	"nothing-to-move":   "Nothing is left to transfer",
	"no-test-sheet":     "No sheet of a film test is in the developer",
	"nothing-to-undo":   "Nothing was done in the last ten seconds",
	"held-already":      "Held already",
	"not-held":          "Nothing is held",
	"point-left-out":    "{temperature} is no temperature of a bath: is it {expected}?",
	"no-bath-so-warm":   "{temperature} is no temperature of a bath; expected {range}",
	"reading-too-old":   "A reading of {span ago} ago; expected up to {span of}",
	"outside-table":     "{temperature} is outside the recipe's table, {range}, and no time is known there{confirm}",
	"not-expected":      "{temperature} where {expected read} was expected{confirm}",
	"no-such-sheet":     "There is no sheet {sheet}; expected 1–{n}",
	"set-aside-already": "Sheet {sheet} is set aside in water",
	"not-in-a-bath":     "Sheet {sheet} is not in a bath",
	"last-sheet":        "Sheet {sheet} is the last one; end the session instead",
	"not-transferred":   "Sheet {sheet} has not been transferred",

	"drift-half":           "drift: where the bath settles and its time constant belong together; expected both",
	"drift-negative":       "drift: negative time; expected a time of 1 s or more",
	"no-step":              "the recipe has no step",
	"wet-limit":            "wet limit: expected 1 s to 24 h",
	"clearing-time":        "clearing time: expected 1 s to 1 h",
	"nothing-to-clear":     "clearing time: the recipe has no fix step",
	"nothing-to-multiply":  "factor: the recipe does not develop",
	"order-of-test":        "a film test has a sheet for each of its times; expected a recipe for any number of sheets",
	"temperature":          "temperature: {temperature}; expected {range}",
	"settles-at":           "where the bath settles: {temperature}; expected {range}",
	"sheets":               "sheets: {n}; expected 1 to 200",
	"sheets-named":         "sheets: {n}; the recipe names {room}",
	"vessel":               "vessel: {vessel quoted} is none; expected {vessels}",
	"factor":               "factor: {factor typed}; expected 0.1 to 10",
	"development":          "development: {words quoted} is none of the recipe's; expected {names}",
	"development-one-only": "development: {words quoted}; the recipe has one development only; expected none (a factor pushes or pulls)",
	"no-start":             "temperature {words quoted}: no start makes the recipe's time right in this drift; expected a temperature",
	"order":                "sheets: {n} in all; expected 1 to 1000",
	"one-sheet-too-wet":    "even a single sheet is wet for {over} too long; expected a plan under its limit: shorten it first",

	"session-no-developer": "the recipe does not develop",
	"session-closed":       "sheets of several times in a closed vessel",
	"session-full":         "{n} sheets; the vessel takes {room}",
	"session-same-name":    "a second sheet called {words}",
	"session-too-wet":      "wet for {time}, over the limit of {of}",
	"session-stock-short":  "{bath}: too little {part}; expected {need in ml}",
	"session-capacity":     "{bath} does not serve {n} sheets",
	"session-stale":        "{bath} is past its working life before the end",
}

// stepRefusals are what is wrong with a step, behind its name.
var stepRefusals = map[string]string{
	"pull-count":           "{count typed} times to pull sheets, {n} sheets; expected as many of the one as of the other",
	"nothing-to-join-from": "sheets that leave together wait for their times in the bath before; expected a step before it",
	"pull-from-closed":     "no sheet can be pulled from a {vessel}; expected an open vessel",
	"pulls-last":           "sheets are pulled and no bath follows; expected a step after it",
	"straight-on-baths":    "sheets that go straight on need a stop bath and then a fixer; expected stop and fix as the next two steps",
	"straight-on-acid": "sheets that go straight on to the fixer need an acid stop bath, and the recipe names no more than water; " +
		"expected the parts of a stop bath",
	"straight-on-waits":   `sheets that go straight on leave the stop bath by themselves; expected advance = "auto" in {words}`,
	"light-fogs":          "{words} light before the film is fixed fogs a pan film {in}; expected dark",
	"drain-too-long":      "drains {time} of its {of}; expected a shorter drain",
	"drain-between-moves": "draining for {time} does not fit between sheets moved every {of}; expected less",
	"no-time-to-shuffle": "{time} left to turn {n} sheets between the last in and the first out; expected at least {of} " +
		"(fewer sheets, or another vessel)",
}

// Refusal is a refusal in a sentence without its full stop, for a line of its own; "" where
// nothing was refused.
func Refusal(r sequence.Refusal, h sequence.Units) string {
	return refusal(r, h, ". If it is right, type it with sure")
}

// Unlikely is Refusal where there is another way to confirm than a word.
func Unlikely(r sequence.Refusal, h sequence.Units) string { return refusal(r, h, "") }

func refusal(r sequence.Refusal, h sequence.Units, confirm string) string {
	text := refusals[r.Code]
	switch {
	case r.Code == "development" && len(r.Names) == 0:
		text = refusals["development-one-only"]
	case stepRefusals[r.Code] != "":
		text = "step {step quoted}: " + stepRefusals[r.Code]
	case text == "" && r.Refused():
		return "Not possible (" + r.Code + ")"
	}
	return filledIn(text, r.Values, h, "{confirm}", confirm, "{vessels}", sequence.OneOf(sequence.Vessels), "{names}", sequence.OneOf(r.Names))
}

// Error is an error in words: what was refused in its sentences, one a line, and the rest as it is.
func Error(err error, h sequence.Units) string {
	var refused sequence.RefusedError
	if !errors.As(err, &refused) {
		return err.Error()
	}
	lines := make([]string, len(refused))
	for i, r := range refused {
		lines[i] = Refusal(r, h)
	}
	return strings.Replace(err.Error(), refused.Error(), strings.Join(lines, "\n"), 1)
}

// Advice is what is best now for the wet time, and what that leaves; found is what the
// engine said of it.
func Advice(a engine.Advice, found bool, p *sequence.Plan) string {
	if !found {
		return "Nothing more would shorten the wet time"
	}
	text := "Best now: " + action(a, p)
	switch {
	case a.Margin == nil:
		return text
	case *a.Margin < 0:
		return text + "; still " + Elapsed(-*a.Margin) + " too long"
	}
	return text + "; leaves " + Elapsed(*a.Margin) + " in hand"
}

func action(a engine.Advice, p *sequence.Plan) string {
	step := "loading"
	if a.Step >= 0 {
		step = p.Steps[a.Step].Name
	}
	switch a.Action {
	case engine.IntoHangers:
		return step + " " + a.In.In() + ", once the room light is on"
	case engine.LeastTime:
		return fmt.Sprintf("%s for %s is enough: transfer at %s", step, Elapsed(a.For), Elapsed(a.At))
	case engine.LeaveOut:
		return "leave out " + step
	}
	return fmt.Sprintf("go on: %s is %s over its time", step, Elapsed(a.For))
}

// Unplaced is the reason, for after a colon.
func Unplaced(u holders.Unplaced, e *holders.ExposedSheet, h sequence.Units) string {
	switch u.Code {
	case holders.SameName:
		return "another " + e.Name() + " of this film, exposed before it, waits too: sessions tell sheets apart by name alone, so it goes first"
	case holders.NoRecipe:
		return "no recipe for " + e.Film
	}
	return Error(u.Err, h)
}

// filledIn is a sentence of a table of cautions, refusals or reasons with the values that it names in
// braces, as they are written on every surface; own are others, each behind its name.
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

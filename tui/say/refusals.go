package say

// Why a command does nothing, a plan cannot be made, a sheet is in no session; and the one thing that can still be done.

import (
	"errors"
	"fmt"
	"strings"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/engine"
	"example.org/wetside/sequence/holders"
)

// refusals are those that are about nothing but themselves.
var refusals = map[string]string{
	"begun-already":   "The session has begun already",
	"not-begun":       "The session has not begun",
	"over":            "The session is over",
	"nothing-to-move": "Nothing is left to transfer",
	"no-test-sheet":   "No sheet of a film test is in the developer",
	"nothing-to-undo": "Nothing was done in the last ten seconds",
	"held-already":    "Held already",
	"not-held":        "Nothing is held",
}

// Refusal is a refusal in a sentence without its full stop, for a line of its own; "" where
// nothing was refused.
func Refusal(r sequence.Refusal, h sequence.Units) string {
	return refusal(r, h, ". If it is right, type it with sure")
}

// Unlikely is Refusal where there is another way to confirm than a word.
func Unlikely(r sequence.Refusal, h sequence.Units) string { return refusal(r, h, "") }

func refusal(r sequence.Refusal, h sequence.Units, confirm string) string {
	if text, ok := refusals[r.Code]; ok || !r.Refused() {
		return text
	}
	sheet := fmt.Sprintf("Sheet %d", r.Sheet)
	read := Temperature(r.Temperature, h)
	switch r.Code {
	case "point-left-out":
		return fmt.Sprintf("%s is no temperature of a bath: is it %s?", read, Temperature(r.Expected, h))
	case "no-bath-so-warm":
		return fmt.Sprintf("%s is no temperature of a bath; expected %s", read, TemperatureRange(r.Low, r.High, h))
	case "reading-too-old":
		return fmt.Sprintf("A reading of %s ago; expected up to %s", Span(r.Ago), Span(r.Of))
	case "outside-table":
		return fmt.Sprintf("%s is outside the recipe's table, %s, and no time is known there%s", read, TemperatureRange(r.Low, r.High, h), confirm)
	case "not-expected":
		return fmt.Sprintf("%s where %s was expected%s", read, Reading(r.Expected, h), confirm)
	case "no-such-sheet":
		return fmt.Sprintf("There is no sheet %d; expected 1–%d", r.Sheet, r.Sheets)
	case "set-aside-already":
		return sheet + " is set aside in water"
	case "not-in-a-bath":
		return sheet + " is not in a bath"
	case "last-sheet":
		return sheet + " is the last one; end the session instead"
	case "not-transferred":
		return sheet + " has not been transferred"
	}
	if text := planRefusal(r.Code, r.Values, h); text != "" {
		return text
	}
	return "Not possible (" + r.Code + ")"
}

// planRefusals are those of a plan that are about nothing but themselves.
var planRefusals = map[string]string{
	"drift-half":           "drift: where the bath settles and its time constant belong together; expected both",
	"drift-negative":       "drift: negative time; expected a time of 1 s or more",
	"no-step":              "the recipe has no step",
	"wet-limit":            "wet limit: expected 1 s to 24 h",
	"clearing-time":        "clearing time: expected 1 s to 1 h",
	"nothing-to-clear":     "clearing time: the recipe has no fix step",
	"nothing-to-multiply":  "factor: the recipe does not develop",
	"order-of-test":        "a film test has a sheet for each of its times; expected a recipe for any number of sheets",
	"session-no-developer": "the recipe does not develop",
	"session-closed":       "sheets of several times in a closed vessel",
}

// planRefusal is why no plan can be made, as an error; "" for another code.
func planRefusal(code string, v sequence.Values, h sequence.Units) string {
	if text := planRefusals[code]; text != "" {
		return text
	}
	if text := stepRefusal(code, v); text != "" {
		return fmt.Sprintf("step %q: %s", v.Step, text)
	}
	between := func(what string) string {
		return fmt.Sprintf("%s: %s; expected %s", what, Temperature(v.Temperature, h), TemperatureRange(v.Low, v.High, h))
	}
	switch code {
	case "temperature":
		return between("temperature")
	case "settles-at":
		return between("where the bath settles")
	case "sheets":
		return fmt.Sprintf("sheets: %d; expected 1 to 200", v.Sheets)
	case "sheets-named":
		return fmt.Sprintf("sheets: %d; the recipe names %d", v.Sheets, v.Room)
	case "vessel":
		return fmt.Sprintf("vessel: %q is none; expected %s", string(v.Vessel), sequence.OneOf(sequence.Vessels))
	case "factor":
		return fmt.Sprintf("factor: %g; expected 0.1 to 10", v.Factor)
	case "development":
		if len(v.Names) == 0 {
			return fmt.Sprintf("development: %q; the recipe has one development only; expected none (a factor pushes or pulls)", v.Words)
		}
		return fmt.Sprintf("development: %q is none of the recipe's; expected %s", v.Words, sequence.OneOf(v.Names))
	case "no-start":
		return fmt.Sprintf("temperature %q: no start makes the recipe's time right in this drift; expected a temperature", v.Words)
	case "order":
		return fmt.Sprintf("sheets: %d in all; expected 1 to 1000", v.Sheets)
	case "one-sheet-too-wet":
		return "even a single sheet is wet for " + Elapsed(-v.Margin) + " too long; expected a plan under its limit: shorten it first"
	}
	return sessionRefusal(code, v)
}

// stepRefusal is what is wrong with a step.
func stepRefusal(code string, v sequence.Values) string {
	switch code {
	case "pull-count":
		return fmt.Sprintf("%g times to pull sheets, %d sheets; expected as many of the one as of the other", v.Count, v.Sheets)
	case "nothing-to-join-from":
		return "sheets that leave together wait for their times in the bath before; expected a step before it"
	case "pull-from-closed":
		return fmt.Sprintf("no sheet can be pulled from a %s; expected an open vessel", v.Vessel)
	case "pulls-last":
		return "sheets are pulled and no bath follows; expected a step after it"
	case "straight-on-baths":
		return "sheets that go straight on need a stop bath and then a fixer; expected stop and fix as the next two steps"
	case "straight-on-acid":
		return "sheets that go straight on to the fixer need an acid stop bath, and the recipe names no more than water; expected the parts of a stop bath"
	case "straight-on-waits":
		return `sheets that go straight on leave the stop bath by themselves; expected advance = "auto" in ` + v.Words
	case "light-fogs":
		return fmt.Sprintf("%s light before the film is fixed fogs a pan film %s; expected dark", v.Words, v.Vessel.In())
	case "drain-too-long":
		return fmt.Sprintf("drains %s of its %s; expected a shorter drain", chem.FormatDuration(v.Time), chem.FormatDuration(v.Of))
	case "drain-between-moves":
		return fmt.Sprintf("draining for %s does not fit between sheets moved every %s; expected less", chem.FormatDuration(v.Time), chem.FormatDuration(v.Of))
	case "no-time-to-shuffle":
		return fmt.Sprintf("%s left to turn %d sheets between the last in and the first out; expected at least %s (fewer sheets, or another vessel)",
			chem.FormatDuration(v.Time), v.Sheets, chem.FormatDuration(v.Of))
	}
	return ""
}

// sessionRefusal is why sheets that wait cannot go through one session.
func sessionRefusal(code string, v sequence.Values) string {
	switch code {
	case "session-full":
		return fmt.Sprintf("%d sheets; the vessel takes %d", v.Sheets, v.Room)
	case "session-same-name":
		return "a second sheet called " + v.Words
	case "session-too-wet":
		return fmt.Sprintf("wet for %s, over the limit of %s", Elapsed(v.Time), Elapsed(v.Of))
	case "session-stock-short":
		return fmt.Sprintf("%s: too little %s; expected %.4g ml", v.Bath, v.Part, float64(v.Need))
	case "session-capacity":
		return fmt.Sprintf("%s does not serve %d sheets", v.Bath, v.Sheets)
	case "session-stale":
		return v.Bath + " is past its working life before the end"
	}
	return ""
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

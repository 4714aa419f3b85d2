package say

// Why a command does nothing, why a sheet is in no session, and the one thing that can still be done.

import (
	"errors"
	"fmt"

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
	return "Not possible (" + r.Code + ")"
}

// Error is an error in words: a refusal in its sentence, any other as it is.
func Error(err error, h sequence.Units) string {
	if refused := (sequence.RefusedError{}); errors.As(err, &refused) {
		return Refusal(refused.Refusal, h)
	}
	return err.Error()
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
func Unplaced(u holders.Unplaced, e *holders.ExposedSheet) string {
	switch u.Code {
	case holders.SameName:
		return "another " + e.Name() + " of this film, exposed before it, waits too: sessions tell sheets apart by name alone, so it goes first"
	case holders.NoRecipe:
		return "no recipe for " + e.Film
	}
	return u.Err.Error()
}

package tui

// A film test planned by keys: from a recipe to its plan.

import (
	"errors"
	"fmt"
	"testing"
	"time"

	"example.org/wetside/sequence"
)

// FilmTest takes a sheet out every three minutes; "x" is no time.
func (h *hall) FilmTest(r sequence.Recipe, sheets int, guess string) (sequence.Recipe, []string, error) {
	if guess == "x" {
		return r, nil, errors.New("guess: \"x\" is no time")
	}
	st := sequence.Step{Name: "develop", Kind: sequence.Develop, RoomLight: sequence.Dark, Agitate: sequence.Agitation{Mode: sequence.Continuous}}
	for k := range sheets {
		st.PullTimes = append(st.PullTimes, time.Duration(k+1)*3*time.Minute)
	}
	r.Title, r.Load.Vessel, r.Load.Sheets = "Film test: "+r.Title, sequence.Hangers, sheets
	r.Steps = []sequence.Step{st, {Name: "fix", Kind: sequence.Fix, Time: 4 * time.Minute, RoomLight: sequence.Dark, Agitate: st.Agitate}}
	return r, []string{fmt.Sprintf("%d sheets in hangers", sheets), "Expose each sheet alike.", "Mask a corner."}, nil
}

func (h *hall) Forecast(_ sequence.Recipe, sheets int, guess string) string {
	return fmt.Sprintf("to be expected of %d sheets round %q", sheets, guess)
}

func TestAFilmTestIsPlanned(t *testing.T) {
	d := sit(t).press("down", "down", "t")
	d.shows("4 sheets in hangers")
	d.shows("being worked out")
	late := d.cmd
	d.press("right").done()
	d.shows("5 sheets in hangers")
	d.shows("to be expected of 5 sheets round \"\"")
	d.send(late())
	d.shows("to be expected of 5 sheets")
	d.press("down").types("x")
	d.shows("\"x\" is no time")
	d.press("enter")
	if d.m.screen != filmTestScreen || d.h.wrote != nil {
		t.Fatalf("screen %d: a test was written that there is not", d.m.screen)
	}
	d.press("backspace").types("7m").done()
	d.shows("to be expected of 5 sheets round \"7m\"")
	d.press("enter")
	d.shows("written: Film test: ")
	if d.m.screen != planScreen || len(d.m.plan.plan.Steps[0].Doses) != 5 {
		t.Fatalf("screen %d, %+v", d.m.screen, d.m.plan.plan)
	}
}

// No fewer than two sheets, no more than twelve.
func TestHowManySheetsATestTakes(t *testing.T) {
	d := sit(t).press("down", "down", "t")
	for range 9 {
		d.press("left")
	}
	d.shows("2 sheets in hangers")
	for range 19 {
		d.press("right")
	}
	d.shows("12 sheets in hangers")
	d.press("esc")
	if d.m.screen != recipeListScreen {
		t.Errorf("screen %d", d.m.screen)
	}
}

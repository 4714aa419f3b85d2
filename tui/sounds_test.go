package tui

// The screen of the sounds: each is played as the cursor comes to it.

import (
	"slices"
	"testing"
)

func learning(t testing.TB) *desk { return sit(t).press("l") }

func TestSoundsArePlayedOneByOne(t *testing.T) {
	d := learning(t).press("enter", "down", "down", "up")
	d.shows("turn: bottom sheet to the top")
	for range 5 {
		d.press("down")
	}
	d.shows("The sounds, 3 of 3")
	d.press("esc")
	if d.m.screen != recipeListScreen {
		t.Errorf("escape leads to screen %d", d.m.screen)
	}
	want := []string{"tick", "turn", "move", "turn", "move", "move", "move", "move", "move", ""}
	if !slices.Equal(d.h.played, want) {
		t.Errorf("played %q; expected %q", d.h.played, want)
	}
}

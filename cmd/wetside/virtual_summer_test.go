package main

// The README's summer session: six soft sheets in a stack, tap water at 25 C, a
// limit of eighteen minutes; shortened, rehearsed, recorded.

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/hometest"
	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
)

// shortened is the recipe after the kindest proposal was taken so many times, in a file.
func shortened(t *testing.T, times int) (file string, before, after sequence.Plan) {
	t.Helper()
	r, err := recipes.Find("plover-warm-water", "")
	if err != nil {
		t.Fatal(err)
	}
	c, err := sequence.RawConditions{Sheets: "6", Temp: "25"}.Conditions()
	if err != nil {
		t.Fatal(err)
	}
	if before, err = planning.Resolve(r, c); err != nil {
		t.Fatal(err)
	}
	after = before
	for range times {
		r, c, ok := planning.ApplyShortening(&after, after.Shorten[0])
		if !ok {
			t.Fatalf("%s cannot be carried out", after.Shorten[0].Text)
		}
		if after, err = planning.Resolve(r, c); err != nil {
			t.Fatal(err)
		}
	}
	file = filepath.Join(t.TempDir(), "summer.toml")
	if err := os.WriteFile(file, recipes.Write(after.Recipe), 0o600); err != nil {
		t.Fatal(err)
	}
	return file, before, after
}

func TestTheSummerSessionIsRehearsed(t *testing.T) {
	if ownProcess(t) {
		return
	}
	hometest.New(t)
	file, before, after := shortened(t, 2)
	today := []string{"--sheets", "6", "--temp", "25", "--clearing", "1m"}
	plan := planned(t, append([]string{file}, today...)...)
	if *before.Wet.Margin >= 0 || *after.Wet.Margin < 0 || *plan.Wet.Margin < after.Recipe.Film.WetWarning {
		t.Fatalf("the margin goes from %v to %v, then %v; expected from over the limit to under it, then the warning's time", *before.Wet.Margin, *after.Wet.Margin, *plan.Wet.Margin)
	}
	wav := filepath.Join(t.TempDir(), "summer.wav")
	s := runVirtually(t, nil, append([]string{"run", file, "--rehearse", "1", "--plain", "--json", "--sound", "wav:" + wav, "--voice", "off"}, today...)...)
	if s.status != app.ExitOK {
		t.Fatalf("status %d: %s", s.status, &s.err)
	}
	given := cuesOf(eventsOf(t, s.out.Bytes()))
	sameCues(t, given, pause{}.cues(plan))
	heard(t, wav, given)
	inOrder(t, given)
}

// inOrder holds the acts against the contract, by hand: a dry sheet every ten seconds;
// moves ten seconds apart, sheet 1 first; turns in rounds of six.
func inOrder(t *testing.T, given []sequence.Cue) {
	t.Helper()
	turns, last := map[string]int{}, map[string]sequence.Cue{}
	for _, c := range given {
		switch c.Kind {
		case sequence.CueLoad:
			if c.At != time.Duration(c.Sheet-1)*10*time.Second {
				t.Errorf("sheet %d is loaded at %v", c.Sheet, c.At)
			}
		case sequence.CueShuffle:
			turns[c.Step]++
		case sequence.CueTransfer:
			if c.Sheet == 0 {
				continue
			}
			if before := last[c.Step]; c.Sheet != before.Sheet+1 || c.Sheet > 1 && c.At-before.At != 10*time.Second {
				t.Errorf("%s: sheet %d moves at %v after sheet %d at %v", c.Step, c.Sheet, c.At, before.Sheet, before.At)
			}
			last[c.Step] = c
		}
	}
	for _, step := range []string{"presoak", "develop", "stop", "fix"} {
		if turns[step] == 0 || turns[step]%6 != 0 || last[step].Sheet != 6 {
			t.Errorf("%s: %d turns, %d sheets moved; expected whole rounds of six, and six", step, turns[step], last[step].Sheet)
		}
	}
}

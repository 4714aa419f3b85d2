package tui

// Who cannot hear a cue can read it: the large word is what the hands do, and beside it
// stands a sentence for each kind of cue.

import (
	"strings"
	"testing"
	"time"

	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/engine"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/sequence/schedule"
	"example.org/wetside/tui/say"
)

// byHands are the cues that what the hands do tells already.
var byHands = map[sequence.CueKind]bool{"agitate": true, "rest": true, "tick": true}

func TestEveryCueHasASentenceOnTheScreen(t *testing.T) {
	plan := starterPlan(t, "plover-cradle")
	seen := map[string]sequence.CueKind{}
	for _, kind := range sequence.CueKinds {
		c := &sequence.Cue{At: 5 * time.Minute, Kind: kind, For: 10 * time.Second, Step: plan.Steps[0].Name, Sheet: 2}
		h := &sequence.Hand{At: 0, Until: 10 * time.Minute, Do: sequence.Standing, Step: c.Step}
		l := engine.Snapshot{Now: c.At + time.Second, Step: 0, Left: time.Minute, LastCue: c, Hands: h, Next: engine.Transfer{Step: 1, Sheet: 2}}
		switch kind { // what is heard because of how the session stands
		case sequence.CueReady:
			l.Left = say.ReadyTime - time.Second
		case sequence.CueOverdue:
			l.Held, l.Overdue = true, 10*time.Second
		case sequence.CueDone:
			l.Over = sequence.SessionDone
		}
		word, plain := say.Instruction(plan, l)
		if !strings.HasPrefix(word, "STAND") && l.Over == "" {
			t.Errorf("%s: the screen says %q while film stands", kind, word)
		}
		if other, taken := seen[plain]; plain == "" || taken && !byHands[kind] {
			t.Errorf("%s: %q in plain letters, as for %s", kind, plain, other)
		}
		seen[plain] = kind
	}
}

// The word is what the hands do, from the first sheet in to the last out, whatever was
// heard last: a tick while film is agitated does not make it stand.
func TestTheWordIsWhatTheHandsDo(t *testing.T) {
	for _, name := range []string{"tern-hangers", "dunlin-ortho", "curlew-tank", "plover-tray"} {
		plan := starterPlan(t, name)
		for i := range plan.Steps {
			plan.Steps[i].WaitForPerson = false // nobody is there to press
		}
		s, err := engine.NewState(plan)
		if err != nil {
			t.Fatal(err)
		}
		do := func(c sequence.Command, now time.Duration) {
			for _, e := range engine.Decide(s, c, now) {
				s = engine.Apply(s, e)
			}
		}
		do(sequence.Begin{ID: "saltmarsh"}, 0)
		for _, h := range schedule.PlannedHands(plan) {
			for now := h.At; now < h.Until; now += time.Second {
				do(sequence.Wake{}, now)
				word, _ := say.Instruction(plan, s.Snapshot(now))
				if want := strings.ToUpper(string(h.Do)); word != want && !strings.HasPrefix(word, want+" ") {
					t.Fatalf("%s at %v: %s; the plan says %s", name, now, word, want)
				}
			}
		}
	}
}

func starterPlan(t *testing.T, name string) *sequence.Plan {
	t.Helper()
	r, err := recipes.Find(name, "")
	if err != nil {
		t.Fatal(err)
	}
	plan, err := planning.Resolve(r, sequence.Conditions{})
	if err != nil {
		t.Fatal(err)
	}
	return &plan
}

package tui

// Every key on every screen: what it does, what help says of it, and that nothing
// else does anything.

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/sequence"
)

func TestNoKeyMeansTwoThings(t *testing.T) {
	for s, list := range bindings {
		seen := map[string]bool{}
		for _, b := range list {
			for _, k := range b.keys {
				if seen[k] {
					t.Errorf("screen %d: %q is bound twice", s, k)
				}
				seen[k] = true
			}
		}
	}
}

// The keys of a running session ask for what help says they do.
func TestRunningKeys(t *testing.T) {
	d := rehearsing(t, "stack").wait(4 * time.Minute)
	s := d.session()
	d.press("h")
	if _, ok := s.last().(sequence.Hold); !ok {
		t.Errorf("h asked %T; expected Hold", s.last())
	}
	d.press("h")
	if _, ok := s.last().(sequence.EndHold); !ok {
		t.Errorf("h again asked %T; expected Go", s.last())
	}
	d.press("t").types("22.5@3m").press("enter")
	if r, ok := s.last().(sequence.TakeReading); !ok || r.T != 22.5 || r.Ago != 3*time.Minute || r.Source != sequence.ByHand {
		t.Errorf("a temperature asked %+v", s.last())
	}
	d.press("n").types("a note").press("enter")
	if r, ok := s.last().(sequence.AddNote); !ok || r.Text != "a note" {
		t.Errorf("a note asked %+v", s.last())
	}
	d.press("l").types("2").press("enter")
	if r, ok := s.last().(sequence.MarkLate); !ok || r.Sheet != 2 {
		t.Errorf("a late sheet asked %+v", s.last())
	}
	d.press("u")
	if _, ok := s.last().(sequence.Undo); !ok {
		t.Errorf("u asked %T; expected Undo", s.last())
	}
	d.press("s").types("no").press("enter")
	if _, ok := s.last().(sequence.EndSession); ok {
		t.Error("stopped without a yes")
	}
	d.press("s").types("yes").press("enter")
	if _, ok := s.last().(sequence.EndSession); !ok {
		t.Errorf("s and yes asked %T; expected Stop", s.last())
	}
}

func TestBigKeyInTheLightMovesOnOnce(t *testing.T) {
	d := rehearsing(t, "hangers").wait(time.Minute + 10*time.Second)
	for range 10 { // held down
		d.press(" ")
		d.now = d.now.Add(30 * time.Millisecond)
	}
	n := 0
	for _, c := range d.session().did {
		if _, ok := c.(sequence.MoveOn); ok {
			n++
		}
	}
	if n != 1 {
		t.Errorf("moved on %d times; expected once", n)
	}
}

// What cannot be done is said, and what was typed wrongly changes nothing.
func TestWhatCannotBeDoneIsSaid(t *testing.T) {
	d := rehearsing(t, "hangers").wait(time.Minute)
	d.press("u")
	d.shows("Nothing was done in the last ten seconds")
	d.press("t").types("warm").press("enter")
	if !d.m.messageIsError || d.session().last() != nil {
		t.Errorf("a temperature that is none asked %+v", d.session().last())
	}
	d.press("l").types("99").press("enter")
	d.shows("There is no sheet 99")
}

func TestASessionThatCannotBeginSaysWhy(t *testing.T) {
	d := sit(t, with("tank"), func(h *hall, _ *Options) { h.fails = errNoRoom }).press("enter", " ").done()
	d.shows("no room left on the disk")
	if d.m.screen == runScreen {
		t.Error("a session runs that did not begin")
	}
	d.hides("REHEARSAL")
}

// Pasted text is left alone; several runes of one read are keys one by one.
func TestPasteAndSeveralRunes(t *testing.T) {
	d := sit(t, with("stack"))
	d.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("24"), Paste: true})
	if d.m.plan.conditions.Temp != "" {
		t.Errorf("pasted text was taken: %q", d.m.plan.conditions.Temp)
	}
	d.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("24")})
	if d.m.plan.conditions.Temp != "24" {
		t.Errorf("two runes at once gave %q; expected 24", d.m.plan.conditions.Temp)
	}
}

// A stale tick does nothing: only the last one asked for redraws.
func TestStaleTicksAreDropped(t *testing.T) {
	d := rehearsing(t, "hangers")
	d.now = d.now.Add(time.Minute)
	before := d.m.run.look.Now
	d.send(tickMsg{d.m.generation - 1})
	if d.m.run.look.Now != before || d.cmd != nil {
		t.Error("a stale tick was heeded")
	}
	d.send(tickMsg{d.m.generation})
	if d.m.run.look.Now == before || d.cmd == nil {
		t.Error("the tick that was awaited was dropped")
	}
}

// state is what a key can change.
type state struct {
	view, words string
	screen      screenID
	asked       int
	lights      int
	cmd         bool
}

func (d *desk) state() state {
	s := state{view: d.m.View(), words: fmt.Sprintf("%+v", d.m.plan.conditions), screen: d.m.screen, lights: len(d.h.lights), cmd: d.cmd != nil}
	for _, b := range d.h.sessions {
		s.asked += len(b.did) + b.answers
	}
	s.asked += len(d.h.played)
	return s
}

// ripe are screens on which every key that is bound has something to do.
var ripe = map[screenID]func(testing.TB) *desk{
	recipeListScreen: func(t testing.TB) *desk { return sit(t).press("down", "down") },
	planScreen: func(t testing.TB) *desk {
		return sit(t, with("stack")).press("down", "down", "down")
	},
	prepareScreen: func(t testing.TB) *desk { return sit(t, with("stack")).size(40, 12).press("enter", "down", "down") },
	runScreen: func(t testing.TB) *desk {
		return rehearsing(t, "stack").wait(4 * time.Minute).press("h").wait(time.Second)
	},
	summaryScreen: func(t testing.TB) *desk {
		return rehearsing(t, "stack").wait(5*time.Hour).size(40, 12).press("down", "down")
	},
	notebookScreen: func(t testing.TB) *desk { return notebookOpen(t).press("down").done() },
	soundsScreen:   func(t testing.TB) *desk { return learning(t).press("down") },
	bottlesScreen:  func(t testing.TB) *desk { return rackOpen(t).press("down") },
	sessionScreen: func(t testing.TB) *desk {
		return sit(t, keptAlone(t)).press("n").done().press("down", "down", "enter").size(40, 12).press("down", "down")
	},
	holdersScreen: func(t testing.TB) *desk { return waitingOpen(t).press("down", "down") },
	holderGroupsScreen: func(t testing.TB) *desk {
		d := sit(t, boxed(t), func(h *hall, _ *Options) { h.only = []string{"stack", "hangers", "limit"} }).press("s").done()
		return d.press("g", "m").types("2").press("enter", "down", "down", "down", "down")
	},
	compareScreen: func(t testing.TB) *desk {
		return notebookOpen(t).press("c", "down", "down", "c").size(40, 12).press("down", "down")
	},
	densitiesScreen:    func(t testing.TB) *desk { return laid(t, 30) },
	readingSetupScreen: func(t testing.TB) *desk { return laid(t, 0).press("up", "enter") },
	filmTestScreen:     func(t testing.TB) *desk { return sit(t).press("down", "down", "t") },
	readingsScreen:     func(t testing.TB) *desk { return laid(t, 30).press("enter").types("0.5").press("enter") },
	curvesScreen:       func(t testing.TB) *desk { return laid(t, 88).press("c").size(40, 12).press("down", "down") },
}

// TestEveryBoundKeyDoesSomething presses each key of each screen. In the light the
// second key of a running session has nothing to do but to leave a line being typed.
func TestEveryBoundKeyDoesSomething(t *testing.T) {
	for s, list := range bindings {
		for _, b := range list {
			for _, key := range b.keys {
				d := ripe[s](t)
				if d.m.screen != s {
					t.Fatalf("screen %d; expected %d", d.m.screen, s)
				}
				switch {
				case s == runScreen && b.act == goBack:
					d.press("n")
				case s == recipeListScreen && b.act == acceptIt:
					d = sit(t, cutOff, func(h *hall, _ *Options) { h.unfinished[0].Running = true }).press("enter")
				case b.act == acceptIt:
					d = sit(t, with("stack"), func(_ *hall, o *Options) { o.RawConditions.WetLimit = "5m" }).press("enter")
				}
				d.cmd = nil
				before := d.state()
				if d.press(key); d.state() == before {
					t.Errorf("screen %d: %q does nothing", s, key)
				}
			}
		}
	}
}

// TestOtherKeysDoNothing presses keys that are bound nowhere, and those bound on
// other screens.
func TestOtherKeysDoNothing(t *testing.T) {
	others := []string{"x", "z", "é", "漢", "home", "f1", "pgup", "tab", "1", "backspace"}
	for _, list := range bindings {
		for _, b := range list {
			others = append(others, b.keys...)
		}
	}
	slices.Sort(others)
	others = slices.Compact(others)
	for s, scene := range ripe {
		d := scene(t) // serves for all keys, as long as none does anything
		d.m.message = ""
		for _, key := range others {
			if actionOf(s, key) != noAction || (s == planScreen || s == readingsScreen) && (len(key) == 1 || key == "backspace") {
				continue // bound, or typed into a field
			}
			d.cmd = nil
			before := d.state()
			if d.press(key); d.state() != before {
				t.Errorf("screen %d: %q does something", s, key)
				d = scene(t)
			}
		}
	}
}

// Help names keys that are bound, and fits any width.
func TestHelpTellsTheTruth(t *testing.T) {
	named := map[string][]string{"↑↓": {"up", "down"}, "←→": {"left", "right"}, "space": {" "}}
	for s, list := range bindings {
		full := help(s, 1000, "space")
		for _, b := range list {
			if b.show == "" {
				continue
			}
			keys := named[b.show]
			if keys == nil {
				keys = []string{b.show}
			}
			for _, key := range keys {
				if actionOf(s, key) == noAction {
					t.Errorf("screen %d: help names %q, which is not bound", s, key)
				}
			}
			if actionOf(s, keys[0]) != b.act || !strings.Contains(full, b.show+" "+b.does) {
				t.Errorf("screen %d: help does not say that %q is to %s", s, b.show, b.does)
			}
		}
		for w := leastWidth - 2; w < 200; w++ {
			line := help(s, w, "space")
			if len([]rune(line)) > w {
				t.Errorf("screen %d: help is %d wide; there are %d", s, len([]rune(line)), w)
			}
			for _, b := range list {
				if !strings.Contains(line, b.show) {
					t.Errorf("screen %d, width %d: %q is not named", s, w, b.show)
				}
			}
		}
	}
}

// One key tells all keys of a screen with what they do, wherever nothing is typed.
func TestAllKeysAreTold(t *testing.T) {
	for s, scene := range ripe {
		d := scene(t).size(200, 60)
		d.press(allKeys)
		for _, b := range bindings[s] {
			if b.show != "" && !strings.Contains(d.m.message, b.show+" "+b.does) && b.act != bigKeyAction {
				t.Errorf("screen %d: %q is not told in %q", s, b.show+" "+b.does, d.m.message)
			}
		}
	}
	d := notebookOpen(t).press("/").types("why?")
	if d.m.message != "" {
		t.Errorf("told while typing: %q", d.m.message)
	}
	d.shows("why?")
}

// Space in the list opens a recipe; r rehearses it, thirty times as fast.
func TestOpeningKeys(t *testing.T) {
	d := sit(t).press("down", "down", "enter")
	if d.m.screen != planScreen || d.m.plan.name != "stack" {
		t.Fatalf("enter opened %q on screen %d", d.m.plan.name, d.m.screen)
	}
	d = sit(t).press("r")
	d.done()
	if n := len(d.h.begun); n != 1 || d.h.begun[0].RehearsalSpeed != usualSpeed || d.h.begun[0].Countdown != 0 {
		t.Errorf("r began %+v; expected a rehearsal at %d", d.h.begun, usualSpeed)
	}
	d.shows("REHEARSAL x30")
	d = sit(t).press("up", "enter")
	d.shows("broken cannot be used as it is")
	if d.m.screen != recipeListScreen {
		t.Error("a broken recipe was opened")
	}
	d = sit(t, func(h *hall, _ *Options) { h.only = []string{} }).press("down", "up", "enter", "r")
	if d.m.screen != recipeListScreen || len(d.h.begun) != 0 {
		t.Error("an empty list opened something")
	}
}

// Of rehearsals that were cut off the newest alone is offered; no session is left out.
func TestOneRehearsalIsOffered(t *testing.T) {
	d := sit(t, func(h *hall, _ *Options) {
		h.unfinished = []Unfinished{{ID: "r1", Rehearsal: true}, {ID: "s1"}, {ID: "r2", Rehearsal: true}, {ID: "s2"}}
	})
	var ids []string
	for _, u := range d.m.list.unfinished {
		ids = append(ids, u.ID)
	}
	if got := strings.Join(ids, " "); got != "r1 s1 s2" {
		t.Errorf("offered %s; expected r1 s1 s2", got)
	}
}

// The cursor stays in the list, however often it is moved, and on the screen.
func TestOpeningScrolls(t *testing.T) {
	d := sit(t, cutOff).size(40, 12)
	for range 30 {
		d.press("down")
		d.shows("█")
	}
	d.shows("█ Curlew 400, dark twice")
	for range 30 {
		d.press("up")
		d.shows("█")
	}
	d.shows("█ unfinished: Plover")
}

// A session is begun once, however often it is asked for while it begins.
func TestOneSessionAtATime(t *testing.T) {
	d := sit(t).press("r")
	first := d.cmd
	for _, key := range []string{"r", "r"} {
		if d.press(key); d.cmd != nil {
			t.Fatalf("%s asked for a second session", key)
		}
	}
	d.send(first())
	if len(d.h.begun) != 1 || d.m.screen != runScreen {
		t.Errorf("%d sessions, screen %d", len(d.h.begun), d.m.screen)
	}
	d = loading(t, "stack").twice(" ")
	first = d.cmd
	d.now = d.now.Add(3 * time.Second)
	if d.twice(" "); d.cmd != nil {
		t.Error("four presses asked for a second session")
	}
	if d.send(first()); len(d.h.begun) != 1 {
		t.Errorf("%d sessions", len(d.h.begun))
	}
}

// One that could not be begun can be asked for again.
func TestBeginningAgain(t *testing.T) {
	d := sit(t, func(h *hall, _ *Options) { h.fails = errNoRoom }).press("r").done()
	d.shows("no room left")
	d.h.fails = nil
	d.press("r").done()
	if d.m.screen != runScreen {
		t.Error("the second time it did not begin either")
	}
}

// What was done can be taken back for ten seconds; the message stands as long.
func TestUndo(t *testing.T) {
	d := rehearsing(t, "hangers").wait(2 * time.Minute).press(" ")
	d.shows("takes it back")
	d.wait(9 * time.Second)
	d.shows("takes it back")
	d.wait(2 * time.Second)
	d.hides("takes it back")
	d.press("u")
	d.shows("Nothing was done in the last ten seconds")
	d.press(" ").wait(5 * time.Second)
	step := d.m.run.look.Step
	d.press("u").wait(time.Second)
	if d.m.run.look.Step != step-1 {
		t.Errorf("in step %d after taking back; expected %d", d.m.run.look.Step, step-1)
	}
}

// A line being typed: letters, backspace, esc; keys of the screen are letters in it.
func TestTypingALine(t *testing.T) {
	d := rehearsing(t, "hangers").wait(2 * time.Minute).press("n")
	d.types("hush é").press("backspace", "up", "f1", "ctrl+c")
	d.shows("note: hush ▂")
	d.press("backspace", "esc")
	d.hides("note:")
	if d.session().last() != nil {
		t.Errorf("asked %+v by a line that was left", d.session().last())
	}
	d.press("n", "enter")
	if d.session().last() != nil {
		t.Error("an empty note was kept")
	}
	d.press("n").types(strings.Repeat("x", longestNote+50)).press("enter")
	if r, ok := d.session().last().(sequence.AddNote); !ok || len(r.Text) != longestNote {
		t.Errorf("asked %+v; expected a note of %d letters", d.session().last(), longestNote)
	}
	d.press("l").types("one").press("enter")
	d.shows(`"one" is no sheet's number`)
	d.size(40, 12).press("t").types("22.5@3m")
	d.shows("22.5@3m▂")
}

// A reading far from what was expected is asked for again, and believed with sure.
func TestOddReading(t *testing.T) {
	d := rehearsing(t, "hangers").wait(2 * time.Minute).press("t").types("31").press("enter")
	d.shows("type it with sure")
	d.press("t").types("31 sure").press("enter")
	if r, ok := d.session().last().(sequence.TakeReading); !ok || r.T != 31 || !r.Confirmed {
		t.Errorf("asked %+v", d.session().last())
	}
}

// A session that is taken up is shown at once, or said to be lost.
func TestTakingUp(t *testing.T) {
	d := sit(t, cutOff).press("down", "enter").done()
	if len(d.h.takenUp) != 1 || d.h.takenUp[0] != "b" || d.m.screen != runScreen {
		t.Fatalf("taken up %v, screen %d", d.h.takenUp, d.m.screen)
	}
	d = sit(t, func(h *hall, o *Options) { h.fails, o.Resume = errNoRoom, "a" }).done()
	d.shows("no room left")
	if d.m.screen != recipeListScreen {
		t.Error("a session runs that could not be taken up")
	}
}

// The last screen scrolls to its end and no further, and goes back to the list.
func TestAfterKeys(t *testing.T) {
	d := rehearsing(t, "stack").wait(5*time.Hour).size(40, 12)
	for range 100 {
		d.press("down")
	}
	d.shows(".jsonl")
	first := d.m.summary.first
	if d.press("up"); d.m.summary.first != first-1 {
		t.Errorf("one press up moved from row %d to %d", first, d.m.summary.first)
	}
	if d.press("enter"); d.m.screen != recipeListScreen {
		t.Error("enter does not lead to the recipes")
	}
}

// A reading shows the old end and the new one; taken back, it shows neither.
func TestReadingShowsOldAndNewEnd(t *testing.T) {
	d := at("hangers", 4*time.Minute)(t)
	before := sequence.FormatElapsed(d.session().Snapshot().Next.At)
	d.press("t").types("24").press("enter").wait(time.Second)
	after := sequence.FormatElapsed(d.session().Snapshot().Next.At)
	if before == after {
		t.Fatalf("24 C moved nothing: %s", before)
	}
	d.shows("since the reading it comes at " + after + " instead of " + before)
	d.press("u").wait(time.Second)
	d.hides("since the reading")
}

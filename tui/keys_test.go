package tui

import (
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"pgregory.net/rapid"

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
	if _, ok := s.last().(sequence.Go); !ok {
		t.Errorf("h again asked %T; expected Go", s.last())
	}
	d.press("t").types("22.5@3m").press("enter")
	if r, ok := s.last().(sequence.Read); !ok || r.T != 22.5 || r.Ago != 3*time.Minute || r.Source != sequence.ByHand {
		t.Errorf("a temperature asked %+v", s.last())
	}
	d.press("n").types("a note").press("enter")
	if r, ok := s.last().(sequence.Remark); !ok || r.Text != "a note" {
		t.Errorf("a note asked %+v", s.last())
	}
	d.press("l").types("2").press("enter")
	if r, ok := s.last().(sequence.Late); !ok || r.Sheet != 2 {
		t.Errorf("a late sheet asked %+v", s.last())
	}
	d.press("u")
	if _, ok := s.last().(sequence.Undo); !ok {
		t.Errorf("u asked %T; expected Undo", s.last())
	}
	d.press("s").types("no").press("enter")
	if _, ok := s.last().(sequence.Stop); ok {
		t.Error("stopped without a yes")
	}
	d.press("s").types("yes").press("enter")
	if _, ok := s.last().(sequence.Stop); !ok {
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
	d.shows("nothing was done in the last ten seconds")
	d.press("t").types("warm").press("enter")
	if !d.m.wrong || d.session().last() != nil {
		t.Errorf("a temperature that is none asked %+v", d.session().last())
	}
	d.press("l").types("99").press("enter")
	d.shows("there is no sheet 99")
}

func TestASessionThatCannotBeginSaysWhy(t *testing.T) {
	d := sit(t, with("tank"), func(h *hall, _ *Options) { h.fails = errNoRoom }).press("enter", " ").done()
	d.shows("no room left on the disk")
	if d.m.screen == running {
		t.Error("a session runs that did not begin")
	}
	d.hides("REHEARSAL")
}

// Pasted text is left alone; several runes of one read are keys one by one.
func TestPasteAndSeveralRunes(t *testing.T) {
	d := sit(t, with("stack"))
	d.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("24"), Paste: true})
	if d.m.plan.words.Temp != "" {
		t.Errorf("pasted text was taken: %q", d.m.plan.words.Temp)
	}
	d.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("24")})
	if d.m.plan.words.Temp != "24" {
		t.Errorf("two runes at once gave %q; expected 24", d.m.plan.words.Temp)
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

// Three hundred resizes, any size, any screen: every view is whole. A look reads
// every cell and fails on a wrong one.
func TestResizes(t *testing.T) {
	names := make([]string, 0, len(pictures))
	for name := range pictures {
		names = append(names, name)
	}
	rapid.Check(t, func(r *rapid.T) {
		d := pictures[rapid.SampledFrom(names).Draw(r, "picture")](t)
		for range 3 {
			d.size(rapid.IntRange(1, 220).Draw(r, "w"), rapid.IntRange(1, 70).Draw(r, "h"))
			d.look()
		}
	})
}

func BenchmarkView200x60(b *testing.B) { benchmarkView(b, 200, 60) }
func BenchmarkView80x24(b *testing.B)  { benchmarkView(b, 80, 24) }

func benchmarkView(b *testing.B, w, h int) {
	d := pictures["running-turn"](b).size(w, h)
	for b.Loop() {
		_ = d.m.View()
	}
}

func BenchmarkTick(b *testing.B) {
	d := pictures["running-turn"](b)
	for b.Loop() {
		d.send(tickMsg{d.m.generation})
	}
}

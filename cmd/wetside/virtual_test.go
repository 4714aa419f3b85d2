package main

// Whole sessions of the program's own code, in virtual time: each shipped
// recipe is planned, carried out to its end, heard and read back.

import (
	"bytes"
	"cmp"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli"
	"example.org/wetside/cmd/wetside/internal/hometest"
	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/sequence/engine"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/tui/cue"
)

// result is one session run in virtual time.
type result struct {
	out, err bytes.Buffer
	status   int
}

// runVirtually runs a command line inside a bubble. The hand types lines; it may be nil.
func runVirtually(t *testing.T, hand func(typed io.Writer), args ...string) *result {
	t.Helper()
	s := &result{}
	synctest.Test(t, func(t *testing.T) {
		in, typed := io.Pipe()
		p := &app.Env{In: in, Out: &s.out, Err: &s.err, Clock: clock.NewSimulated(nil),
			Signals: func() <-chan os.Signal { return make(chan os.Signal) }}
		go func() {
			defer typed.Close()
			if hand != nil {
				hand(typed)
			}
		}()
		s.status = cli.Run(p, args)
	})
	return s
}

// planned is a plan as a script reads it.
func planned(t *testing.T, args ...string) planning.Summary {
	t.Helper()
	var out, errs bytes.Buffer
	p := &app.Env{In: strings.NewReader(""), Out: &out, Err: &errs}
	if status := cli.Run(p, append([]string{"plan", "--json"}, args...)); status != app.ExitOK {
		t.Fatalf("plan %v: status %d: %s", args, status, &errs)
	}
	var s planning.Summary
	if err := sequence.Unmarshal(out.Bytes(), &s); err != nil {
		t.Fatal(err)
	}
	return s
}

// eventsOf is the events that a session wrote as JSON.
func eventsOf(t *testing.T, out []byte) []sequence.Event {
	t.Helper()
	var events []sequence.Event
	for line := range bytes.Lines(out) {
		var e sequence.Event
		if err := sequence.Unmarshal(line, &e); err != nil {
			t.Fatalf("%s: %v", line, err)
		}
		events = append(events, e)
	}
	return events
}

// every shipped recipe, at 24 C: none refuses it, the table of the warm one
// reaches beyond it, and the ranges of others give a caution only.
func TestEveryRecipeFromPlanToLastLift(t *testing.T) {
	if ownProcess(t) {
		return
	}
	for _, entry := range recipes.List("") {
		t.Run(entry.Name, func(t *testing.T) {
			hometest.New(t)
			plan := planned(t, entry.Name, "--temp", "24")
			file := filepath.Join(t.TempDir(), "heard.wav")
			wait, dangers := waits(t, entry.Name, plan), 0
			for _, c := range plan.Cautions {
				if c.Level == sequence.Danger {
					dangers++
				}
			}
			s := runVirtually(t, wait.hand, "run", entry.Name, "--temp", "24", "--accept-danger", "--plain", "--json", "--sound", "wav:"+file, "--voice", "off")
			if s.status != app.ExitOK || strings.Count(s.err.String(), "\n") != dangers {
				t.Fatalf("status %d, stderr %q", s.status, &s.err)
			}
			events := eventsOf(t, s.out.Bytes())
			end := wait.after(plan.Steps[len(plan.Steps)-1].End)
			if last := events[len(events)-1]; last.Kind != sequence.SessionDone || last.At != end {
				t.Errorf("the last event is %s at %v; want session-done at %v", last.Kind, last.At, end)
			}
			given := cuesOf(events)
			sameCues(t, wait.without(t, given), wait.cues(plan))
			heard(t, file, given)
			replayed(t, events)
		})
	}
}

// pause is where a recipe waits for the person, and how long this one takes.
type pause struct {
	at, takes sequence.Elapsed // 0, 0 for nowhere
}

const thinking = 3 * time.Second // less than ten: then "time is up" would be said

// waits finds the one step, if any, whose recipe waits for the person. They are asked when its
// time is up; the plan has them press at once, and the film drain from then on.
func waits(t *testing.T, name string, plan planning.Summary) pause {
	t.Helper()
	r, err := recipes.Find(name, "")
	if err != nil {
		t.Fatal(err)
	}
	for i, st := range r.Steps {
		if st.WaitForPerson {
			return pause{at: plan.Steps[i].Moves - st.Drain, takes: thinking}
		}
	}
	return pause{}
}

func (p pause) hand(typed io.Writer) {
	if p.takes > 0 {
		time.Sleep(p.at + p.takes)
		fmt.Fprintln(typed, "next")
	}
}

// after is when something planned for at happens.
func (p pause) after(at sequence.Elapsed) sequence.Elapsed {
	if p.takes > 0 && at >= p.at {
		at += p.takes
	}
	return at
}

// cues are the plan's, those from the pause on that much later.
func (p pause) cues(plan planning.Summary) []sequence.Cue {
	var list []sequence.Cue
	for _, c := range plan.Cues {
		s := sequence.Cue{At: p.after(c.At), Kind: c.Kind, Step: c.Step, Sheet: c.Sheet}
		if c.For != nil {
			s.For = *c.For
		}
		list = append(list, s)
	}
	return list
}

// without leaves out what is given during the pause: the agitation that was planned ends,
// and agitation goes on.
func (p pause) without(t *testing.T, cues []sequence.Cue) []sequence.Cue {
	t.Helper()
	var rest []sequence.Cue
	for _, c := range cues {
		during := c.At >= p.at && c.At < p.at+p.takes
		switch {
		case during && c.Kind != sequence.CueAgitate && c.Kind != sequence.CueStand:
			t.Errorf("%s is given at %v, while the person thinks", c.Kind, c.At)
		case !during:
			rest = append(rest, c)
		}
	}
	return rest
}

func cuesOf(events []sequence.Event) []sequence.Cue {
	var list []sequence.Cue
	for _, e := range events {
		if e.Kind == sequence.CueGiven {
			list = append(list, sequence.Cue{At: e.At, Kind: e.Cue, For: e.For, Step: e.Step, Sheet: e.Sheet})
		}
	}
	return list
}

// sameCues compares two lists, whatever the order within one instant.
func sameCues(t *testing.T, got, want []sequence.Cue) {
	t.Helper()
	order := func(a, b sequence.Cue) int {
		return cmp.Or(cmp.Compare(a.At, b.At), cmp.Compare(a.Kind, b.Kind), cmp.Compare(a.Sheet, b.Sheet))
	}
	slices.SortFunc(got, order)
	slices.SortFunc(want, order)
	for i := range max(len(got), len(want)) {
		if i >= len(got) || i >= len(want) || got[i] != want[i] {
			t.Fatalf("%d cues given, %d planned; cue %d differs:\n got %+v\nwant %+v", len(got), len(want), i,
				got[i:min(i+2, len(got))], want[i:min(i+2, len(want))])
		}
	}
}

// heard compares a file's onsets with the cues. A cue that begins while another
// sounds has no onset of its own; the notes inside a cue may have some.
func heard(t *testing.T, file string, cues []sequence.Cue) {
	t.Helper()
	found := tonesIn(t, file, cues)
	starts := instants(cues)
	for _, f := range found {
		if !starts.covers(f) {
			t.Errorf("an onset at %.3f s that no cue explains", float64(f)/rate)
		}
	}
}

// tonesIn wants every cue at its place in a file, and gives all onsets of it.
func tonesIn(t *testing.T, file string, cues []sequence.Cue) []int64 {
	t.Helper()
	found, frames := onsets(t, file)
	starts := instants(cues)
	alone, free := 0, int64(math.MinInt64)
	for at, ends := range starts.each() {
		if at >= free+quiet {
			alone++
			if i, _ := slices.BinarySearch(found, at-near); i == len(found) || found[i] > at+near {
				t.Errorf("no onset within %d frames of %.3f s", near, float64(at)/rate)
			}
		}
		free = max(free, ends)
	}
	if alone < len(starts)*9/10 || frames < starts[len(starts)-1].at {
		t.Errorf("%d of %d instants stand alone, in %d frames", alone, len(starts), frames)
	}
	return found
}

// With all that a voice says between them, the tones of a stack's whole session stand
// where they stood.
func TestVoiceLeavesTheTonesAlone(t *testing.T) {
	if ownProcess(t) {
		return
	}
	hometest.New(t)
	file := filepath.Join(t.TempDir(), "heard.wav")
	s := runVirtually(t, nil, "run", "plover-tray", "--plain", "--json", "--sound", "wav:"+file, "--voice", "full")
	if s.status != app.ExitOK {
		t.Fatalf("status %d, stderr %q", s.status, &s.err)
	}
	cues := cuesOf(eventsOf(t, s.out.Bytes()))
	found, starts := tonesIn(t, file, cues), instants(cues)
	words := 0
	for _, f := range found {
		if !starts.covers(f) {
			words++
		}
	}
	if words < 20 {
		t.Errorf("%d onsets beside the tones: nothing was said", words)
	}
}

// soundSpan is an instant at which one or more cues begin, in frames.
type soundSpan struct{ at, ends int64 }

type soundSpans []soundSpan

// instants are the moments at which cues begin, merged where they are one; a
// rest that another cue says anyway has no sound.
func instants(cues []sequence.Cue) soundSpans {
	frame := func(d time.Duration) int64 { return int64(math.Round(d.Seconds() * rate)) }
	var list soundSpans
	for _, c := range cues {
		others := func(o sequence.Cue) bool { return o.At == c.At && o.Kind != sequence.CueStand }
		if c.Kind == sequence.CueStand && slices.ContainsFunc(cues, others) {
			continue
		}
		s := soundSpan{frame(c.At), frame(c.At + cue.Length(c.Kind))}
		if n := len(list); n > 0 && list[n-1].at == s.at {
			list[n-1].ends = max(list[n-1].ends, s.ends)
			continue
		}
		list = append(list, s)
	}
	return list
}

func (s soundSpans) each() func(func(int64, int64) bool) {
	return func(yield func(int64, int64) bool) {
		for _, x := range s {
			if !yield(x.at, x.ends) {
				return
			}
		}
	}
}

func (s soundSpans) covers(frame int64) bool {
	return slices.ContainsFunc(s, func(x soundSpan) bool { return frame >= x.at-near && frame <= x.ends })
}

// replayed reads the journal back: it is whole, finished, and tells the same.
func replayed(t *testing.T, events []sequence.Event) {
	t.Helper()
	store := journal.Default()
	list := store.List()
	if len(list) != 1 {
		t.Fatalf("%d sessions are kept; want 1", len(list))
	}
	kept, err := store.Read(list[0].ID)
	if err != nil || kept.Status != journal.Done {
		t.Fatalf("status %s: %v", kept.Status, err)
	}
	state, err := engine.NewState(kept.First().Plan)
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for _, r := range kept.Records {
		state = engine.Apply(state, r.Event)
		if r.Event.Kind != sequence.Heartbeat && r.Event.Kind != sequence.TransferDue { // kept, and told nobody
			n++
		}
	}
	if state.Over() != sequence.SessionDone || n != len(events) {
		t.Errorf("replayed %d events to %q; want %d to session-done", n, state.Over(), len(events))
	}
}

// Package runtest is a session over the real rules that lives in a moment of its own: for
// the tests of the screens that show one. No clock is read and nothing is slept.
package runtest

import (
	"embed"
	"slices"
	"testing"
	"time"

	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/engine"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/tui/screen"
)

// Session is such a session. What was asked of it is kept.
type Session struct {
	Clock func() time.Time // the present moment
	Start time.Time        // when the countdown began
	Lead  time.Duration    // the countdown
	State engine.State

	Speed          float64 // 0 for no rehearsal
	Moves, InDark  bool
	Mute           bool
	SoundState     string
	SleepState     string
	Unsaved        string
	Refuses        sequence.Refusal // whatever is asked; "" for nothing but what the rules refuse
	Did            []sequence.Command
	Answers, Looks int
	Said           []screen.Utterance
	Named          []int // sheets
	Happened       []sequence.Event
	Ident          string
}

//go:embed testdata
var testdata embed.FS

// Recipe is one of the recipes for these tests, by its name.
func Recipe(t testing.TB, name string) sequence.Recipe {
	t.Helper()
	text, err := testdata.ReadFile("testdata/" + name + ".toml")
	if err != nil {
		t.Fatal(err)
	}
	r, err := recipes.Read(name, text)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// New begins a session of a recipe at a moment of the clock.
func New(t testing.TB, r sequence.Recipe, c sequence.Conditions, lead time.Duration, clock func() time.Time) *Session {
	t.Helper()
	p, err := planning.Resolve(r, c)
	if err != nil {
		t.Fatal(err)
	}
	s, err := engine.NewState(&p)
	if err != nil {
		t.Fatal(err)
	}
	b := &Session{Clock: clock, Start: clock(), Lead: lead, State: s, SoundState: "sound: loudspeaker", Ident: "2024-05-04-plover-80"}
	b.obey(sequence.Begin{ID: b.Ident})
	return b
}

func (b *Session) elapsed() sequence.Elapsed {
	return time.Duration(float64(b.Clock().Sub(b.Start))*max(1, b.Speed)) - b.Lead
}

func (b *Session) obey(c sequence.Command) {
	for _, e := range engine.Decide(b.State, c, b.elapsed()) {
		b.State, b.Happened = engine.Apply(b.State, e), append(b.Happened, e)
	}
}

// Give has the session do what no key asks for.
func (b *Session) Give(c sequence.Command) { b.obey(c) }

// Last is what was asked last; nil for nothing.
func (b *Session) Last() sequence.Command {
	if len(b.Did) == 0 {
		return nil
	}
	return b.Did[len(b.Did)-1]
}

// What follows is screen.Session.

func (b *Session) Snapshot() engine.Snapshot {
	b.obey(sequence.Wake{})
	b.Looks++
	return b.State.Snapshot(b.elapsed())
}

func (b *Session) Do(c sequence.Command) {
	b.Did = append(b.Did, c)
	b.obey(c)
}

// DoAndKeep is Do; the disk has it at once unless Unsaved says why not.
func (b *Session) DoAndKeep(c sequence.Command) bool {
	b.Do(c)
	return b.Unsaved == ""
}

func (b *Session) Refuse(c sequence.Command) sequence.Refusal {
	if b.Refuses.Refused() {
		return b.Refuses
	}
	b.obey(sequence.Wake{})
	return b.State.Refuse(c, b.elapsed())
}

func (b *Session) OfferSheet(u screen.Utterance, sheet int) {
	b.Said, b.Named = append(b.Said, u), append(b.Named, sheet)
}

func (b *Session) Plan() *sequence.Plan           { return b.State.Plan() }
func (b *Session) Advise() (engine.Advice, bool)  { return b.State.Advise(b.elapsed()) }
func (b *Session) SpeakState()                    { b.Answers++ }
func (b *Session) Say(u screen.Utterance)         { b.Said = append(b.Said, u) }
func (b *Session) LateSheets() []engine.LateSheet { return b.State.LateSheets(b.elapsed()) }
func (b *Session) SheetsToSetAside() []int        { return b.State.SheetsToSetAside(b.elapsed()) }
func (b *Session) Speaks() bool                   { return !b.Mute }
func (b *Session) ID() string                     { return b.Ident }
func (b *Session) Sound() string                  { return b.SoundState }
func (b *Session) Sleep() string                  { return b.SleepState }
func (b *Session) Record() string                 { return "/home/saltmarsh/sessions/" + b.Ident + ".jsonl" }
func (b *Session) UnsavedBecause() string         { return b.Unsaved }
func (b *Session) RehearsalSpeed() float64        { return b.Speed }
func (b *Session) SkipsQuiet() bool               { return b.Moves }
func (b *Session) Lit() bool                      { return b.Speed > 0 && !b.InDark }
func (b *Session) Events() []sequence.Event       { return slices.Clone(b.Happened) }

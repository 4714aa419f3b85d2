package running

// The supervisor knows of a session before its journal does, and is not told that it is over
// when another has begun since.

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/hometest"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/live"
	"example.org/wetside/tui/cue"
)

func TestASupervisorIsToldBeforeTheJournal(t *testing.T) {
	hometest.New(t)
	synctest.Test(t, func(t *testing.T) {
		p := &app.Env{Clock: clock.NewSimulated(nil)}
		mute := SoundOptions{Sink: "off", Voice: cue.Off}
		written := func() (text string) {
			synctest.Wait() // until everybody has done all that he can
			for _, folder := range journal.Folders() {
				names, _ := filepath.Glob(filepath.Join(folder, "*.jsonl"))
				for _, name := range names {
					part, _ := os.ReadFile(name)
					text += string(part)
				}
			}
			return text
		}
		plan, err := p.ResolvePlan("tern-hangers", sequence.RawConditions{})
		if err != nil {
			t.Fatal(err)
		}
		told := ""
		c, err := Begin(p, &plan, mute, Thermometer{}, Rehearsal{}, 0, true, func(id string, _ Rehearsal) {
			told = id
			if text := written(); text != "" {
				t.Errorf("the journal is before the supervisor: %.200s", text)
			}
		})
		if err != nil || told != c.SessionID || !strings.Contains(written(), `"session-began"`) {
			t.Fatalf("told of %q: %v", told, err)
		}
		c.End()
		before := written()
		again, err := TakeUp(p, c.SessionID, mute, Thermometer{}, Taking{Begins: func(id string, _ Rehearsal) {
			told = "again " + id
			if text := written(); strings.Contains(text, `"resumed"`) {
				t.Errorf("the journal is before the supervisor: %s", strings.TrimPrefix(text, before))
			}
		}})
		if err != nil || told != "again "+c.SessionID || !strings.Contains(written(), `"resumed"`) {
			t.Fatalf("told of %q: %v", told, err)
		}
		again.End()
	})
}

// The grace of a resume: away for less than ten seconds, a transfer that was missed happens at
// once; away for longer, the session holds until the person says what was done.
func TestTheGraceOfAResume(t *testing.T) {
	for away, held := range map[time.Duration]bool{9500 * time.Millisecond: false, 10500 * time.Millisecond: true} {
		hometest.New(t)
		plan, err := (&app.Env{Clock: clock.NewSimulated(nil)}).ResolvePlan("tern-hangers", sequence.RawConditions{})
		if err != nil {
			t.Fatal(err)
		}
		now := time.Now()
		source := clock.NewSimulated(func() time.Time { return now })
		p := &app.Env{Clock: source}
		transfer := plan.Steps[0].End
		watch := clock.New(source, 0, 1)
		s, err := live.Start(live.Options{Plan: &plan, Clock: watch, FirstCommand: sequence.Begin{ID: "tern"}, FirstRecord: journal.Record{Plan: &plan}})
		if err != nil {
			t.Fatal(err)
		}
		w, err := journal.Default().ReserveID("tern")
		if err != nil {
			t.Fatal(err)
		}
		s.KeepJournal(w)
		source.Advance(transfer - 5*time.Second)
		s.Do(sequence.Wake{})
		s.Ask(sequence.AddNote{Text: "tide is in"})
		s.Close()
		source.Advance(away)
		c, err := TakeUp(p, "tern", SoundOptions{Sink: "off", Voice: cue.Off}, Thermometer{}, Taking{})
		if err != nil {
			t.Fatal(err)
		}
		if got := c.Snapshot(); got.Held != held {
			t.Errorf("away for %v: held is %v; want %v", away, got.Held, held)
		}
		c.End()
	}
}

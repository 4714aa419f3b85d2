package running

// The supervisor knows of a session before its journal does, and is not told that it is over
// when another has begun since.

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/synctest"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/hometest"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/sequence/journal"
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
		again, err := TakeUp(p, c.SessionID, mute, Thermometer{}, func(*sequence.Plan, bool) error { return nil }, func(id string, _ Rehearsal) {
			told = "again " + id
			if text := written(); strings.Contains(text, `"resumed"`) {
				t.Errorf("the journal is before the supervisor: %s", strings.TrimPrefix(text, before))
			}
		})
		if err != nil || told != "again "+c.SessionID || !strings.Contains(written(), `"resumed"`) {
			t.Fatalf("told of %q: %v", told, err)
		}
		again.End()
	})
}

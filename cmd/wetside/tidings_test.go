package main

// The keeper knows of a session before its journal does, and is not told that it is over
// when another has begun since.

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/synctest"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/tui/cue"
)

func TestAKeeperIsToldBeforeTheJournal(t *testing.T) {
	home(t)
	synctest.Test(t, func(t *testing.T) {
		p := &program{source: clock.NewSimulated(nil)}
		mute := aloud{sound: "off", voice: cue.Off}
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
		plan, err := p.resolve("tern-hangers", sequence.Words{})
		if err != nil {
			t.Fatal(err)
		}
		told := ""
		c, err := p.beginSession(&plan, mute, rehearsal{}, 0, true, func(id string, _ rehearsal) {
			told = id
			if text := written(); text != "" {
				t.Errorf("the journal is before the keeper: %.200s", text)
			}
		})
		if err != nil || told != c.id || !strings.Contains(written(), `"session-began"`) {
			t.Fatalf("told of %q: %v", told, err)
		}
		c.end()
		before := written()
		again, err := p.takeUpSession(c.id, mute, func(*sequence.Plan, bool) error { return nil }, func(id string, _ rehearsal) {
			told = "again " + id
			if text := written(); strings.Contains(text, `"resumed"`) {
				t.Errorf("the journal is before the keeper: %s", strings.TrimPrefix(text, before))
			}
		})
		if err != nil || told != "again "+c.id || !strings.Contains(written(), `"resumed"`) {
			t.Fatalf("told of %q: %v", told, err)
		}
		again.end()
	})
}

func TestASessionIsOverForTheKeeperOnce(t *testing.T) {
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	k := &keeperPipe{to: w}
	k.Session("first")
	k.Rehearsal("second")
	k.Over("first") // late
	k.Over("second")
	k.Over("second")
	w.Close()
	var a account
	var heard []string
	buf := make([]byte, 1000)
	n, _ := r.Read(buf)
	for line := range strings.Lines(string(buf[:n])) {
		a = a.heard(line)
		heard = append(heard, a.session)
	}
	if got := strings.Join(heard, ","); got != "first,second," {
		t.Errorf("heard %q; want first, second, none", got)
	}
}

package tui

// Pictures of every screen, small, usual, large and very large. Look at them when
// they change: go test ./tui -run Screens -update

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/engine"
)

var update = flag.Bool("update", false, "write the pictures anew")

var sizes = [][2]int{{40, 12}, {80, 24}, {120, 40}, {200, 60}}

// noSound is a laptop whose loudspeaker is missing.
func noSound(h *hall, _ *Options) { h.sound = "NO SOUND: nothing to play on" }

// cutOff is two sessions that were cut off.
func cutOff(h *hall, _ *Options) {
	h.unfinished = []Unfinished{
		{ID: "a", Recipe: "Plover 80, six sheets shuffled in trays", Began: time.Date(2024, 5, 4, 20, 41, 0, 0, time.UTC)},
		{ID: "b", Recipe: "Tern 125, eight sheets in hangers", Began: time.Date(2024, 5, 4, 19, 5, 0, 0, time.UTC), Rehearsal: true}}
}

// at is a rehearsal of a recipe at a moment of the session.
func at(recipe string, moment time.Duration, change ...func(*hall, *Options)) func(testing.TB) *desk {
	return func(t testing.TB) *desk { return rehearsing(t, recipe, change...).wait(moment) }
}

// pictures are the moments that are drawn.
var pictures = map[string]func(testing.TB) *desk{
	"opening-newcomer": func(t testing.TB) *desk {
		return sit(t, func(h *hall, _ *Options) { h.newcomer = true })
	},
	"lessons": func(t testing.TB) *desk { return learning(t).press("down") },
	"opening-elsewhere": func(t testing.TB) *desk {
		return sit(t, cutOff, func(h *hall, _ *Options) { h.unfinished[0].Elsewhere = true })
	},
	"opening-unfinished": func(t testing.TB) *desk { return sit(t, cutOff) },
	"opening-broken": func(t testing.TB) *desk {
		return sit(t, cutOff).press("down", "down")
	},
	"opening-chosen": func(t testing.TB) *desk {
		return sit(t).press("down", "down", "down")
	},
	"planning": func(t testing.TB) *desk { return sit(t, with("stack")) },
	"planning-warm": func(t testing.TB) *desk {
		return sit(t, with("hangers")).types("24")
	},
	"planning-fault": func(t testing.TB) *desk {
		return sit(t, with("stack")).press("down", "down", "down").types("0x")
	},
	"planning-over": func(t testing.TB) *desk {
		return sit(t, with("stack")).types("17").press("down", "down", "down", "down", "down", "down", "down", "down").types("18m")
	},
	"planning-drift": func(t testing.TB) *desk {
		return sit(t, with("hangers"), func(_ *hall, o *Options) {
			o.RawConditions = sequence.RawConditions{Temp: "20", SettlesAt: "16", TimeConstant: "40m"}
		})
	},
	"planning-shortened": func(t testing.TB) *desk { return tooWarm(t).press("+", "+") },
	"preparing-question": func(t testing.TB) *desk { return sit(t, with("stack"), noSound).press("enter") },
	"preparing-ready": func(t testing.TB) *desk {
		return sit(t, with("hangers")).press("enter", " ")
	},
	"preparing-light": func(t testing.TB) *desk { return sit(t, with("tank")).press("enter") },
	"running-lead": func(t testing.TB) *desk {
		return sit(t, with("tank")).press("enter", " ").done().wait(4 * time.Second)
	},
	"running-loading":  at("stack", 21*time.Second),
	"running-turn":     at("stack", 4*time.Minute+1*time.Second),
	"running-agitate":  at("hangers", 3*time.Minute+4*time.Second),
	"running-rest":     at("hangers", 3*time.Minute+24*time.Second),
	"running-drain":    at("stack", 9*time.Minute+25*time.Second),
	"running-ready":    at("hangers", 9*time.Minute+42*time.Second),
	"running-sheet":    at("stack", 14*time.Minute+16*time.Second),
	"running-take-out": at("test", 7*time.Minute+1*time.Second),
	"running-lights":   at("stack", 14*time.Minute+2*time.Second),
	"running-note":     at("stack", 25*time.Minute+50*time.Second),
	"running-no-sound": at("hangers", 3*time.Minute+4*time.Second, noSound),
	"running-lost": at("hangers", 3*time.Minute+4*time.Second, func(h *hall, _ *Options) {
		h.sound = "NO SOUND: pulse: no sound server: /run/user/1000/pulse/native: connect: no such file or directory"
		h.sleep = "sleep NOT blocked: set it to never, leave the lid open (no system bus: not found)"
	}),
	"running-held": func(t testing.TB) *desk {
		return at("hangers", 9*time.Minute)(t).press("h").wait(75 * time.Second)
	},
	"running-waiting": func(t testing.TB) *desk { return at("ortho", 6*time.Minute+42*time.Second)(t) },
	"running-limit": func(t testing.TB) *desk {
		return at("stack", 9*time.Minute)(t).press("h").wait(12 * time.Minute)
	},
	"running-asking": func(t testing.TB) *desk {
		return at("hangers", 3*time.Minute+24*time.Second)(t).press("t").types("22.5@3m")
	},
	"after": func(t testing.TB) *desk {
		d := at("stack", 5*time.Minute)(t).press("n").types("the third sheet stuck").press("enter")
		d.press("h").wait(6 * time.Minute).press("h").wait(3 * time.Hour)
		return d
	},
	"notebook":           func(t testing.TB) *desk { return notebookOpen(t).press("down", "down").done() },
	"notebook-searching": func(t testing.TB) *desk { return notebookOpen(t).press("/").types("stuck").done() },
	"session":            func(t testing.TB) *desk { return notebookOpen(t).press("down", "down").done().press("enter") },
	"session-looks": func(t testing.TB) *desk {
		return notebookOpen(t).press("down", "down").done().press("enter", "l").types("thi")
	},
	"sheets-waiting":    func(t testing.TB) *desk { return waitingOpen(t).press("down", "a").types("4A, Plover 80, 8.5, two b") },
	"sheets-grouped":    func(t testing.TB) *desk { return waitingOpen(t).press("g", "down", "down") },
	"sessions-compared": func(t testing.TB) *desk { return notebookOpen(t).press("c", "down", "down", "c") },
	"bottles":           func(t testing.TB) *desk { return rackOpen(t) },
	"bottles-throwing":  func(t testing.TB) *desk { return rackOpen(t).press("down", "t") },
	"bottles-clearing":  func(t testing.TB) *desk { return rackOpen(t).press("down", "c", "c") },
	"bottles-opening":   func(t testing.TB) *desk { return rackOpen(t).press("o") },
	"preparing-kept":    func(t testing.TB) *desk { return sit(t, with("stack"), racked).press("enter") },
	"preparing-stock":   func(t testing.TB) *desk { return sit(t, with("stack"), shelved).press("enter") },
	"bottles-stock": func(t testing.TB) *desk {
		return sit(t, shelved, racked, func(h *hall, _ *Options) { h.only = []string{"stack", "hangers"} }).press("b").done()
	},
	"planning-kept": func(t testing.TB) *desk { return sit(t, with("stack"), racked) },
	"after-test":    func(t testing.TB) *desk { return at("test", time.Hour)(t) },
	"densities":     func(t testing.TB) *desk { return readSome(t, 30).press("esc", "esc", "esc", "d", "down") },
	"sheets":        func(t testing.TB) *desk { return withTest(t).press("d") },
	"measuring":     func(t testing.TB) *desk { return readSome(t, 30).types("0.5") },
	"measuring-doubtful": func(t testing.TB) *desk {
		return readSome(t, 10).types("0.40").press("enter").types("0.44").press("enter")
	},
	"film-test": func(t testing.TB) *desk { return sit(t).press("down", "down", "t").done() },
	"family":    func(t testing.TB) *desk { return laid(t, 88).press("c") },
}

func TestScreens(t *testing.T) {
	for name, scene := range pictures {
		t.Run(name, func(t *testing.T) {
			d := scene(t)
			var b strings.Builder
			for _, s := range sizes {
				d.size(s[0], s[1])
				seen := d.look()
				fmt.Fprintf(&b, "== %dx%d\n%s-- levels\n%s", s[0], s[1], seen.text(), seen.levelMap())
			}
			compare(t, filepath.Join("testdata", "screens", name+".txt"), b.String())
		})
	}
}

// compare holds a text against a file, or writes the file.
func compare(t *testing.T, file, got string) {
	t.Helper()
	if *update {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	gotLines, wantLines := strings.Split(got, "\n"), strings.Split(string(want), "\n")
	for i := range max(len(gotLines), len(wantLines)) {
		g, w := "", ""
		if i < len(gotLines) {
			g = gotLines[i]
		}
		if i < len(wantLines) {
			w = wantLines[i]
		}
		if g != w {
			t.Fatalf("%s:%d:\n got %q\nwant %q", file, i+1, g, w)
		}
	}
}

// TestEveryPictureIsTested fails where a file in testdata belongs to no picture.
func TestEveryPictureIsTested(t *testing.T) {
	files, err := filepath.Glob(filepath.Join("testdata", "screens", "*.txt"))
	if err != nil || len(files) == 0 {
		t.Fatal("no pictures", err)
	}
	for _, f := range files {
		if _, ok := pictures[strings.TrimSuffix(filepath.Base(f), ".txt")]; !ok {
			t.Errorf("%s belongs to no picture", f)
		}
	}
}

// TestScenesAreWhatTheySay holds the scenes that need a certain state to it.
func TestScenesAreWhatTheySay(t *testing.T) {
	for name, ok := range map[string]func(engine.Snapshot) bool{
		"running-held":    func(l engine.Snapshot) bool { return l.Held && l.Overdue > 0 },
		"running-waiting": func(l engine.Snapshot) bool { return l.Waiting },
		"running-lights":  func(l engine.Snapshot) bool { return l.LightOffered },
		"running-limit":   func(l engine.Snapshot) bool { return *l.Wet.Margin < 0 && l.Sheets[l.Wettest].Used > 1 },
	} {
		if d := pictures[name](t); !ok(d.m.run.look) {
			t.Errorf("%s is not: %+v", name, d.m.run.look)
		}
	}
}

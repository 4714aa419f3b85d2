// Package recordtest is a notebook for the tests of the screens that show it: Saltmarsh
// harbour's sessions, kept in a temporary folder as the program keeps them, and the backend
// that those screens need.
package recordtest

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/sequence/densities"
	"example.org/wetside/sequence/engine"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/sequence/sessiontest"
	"example.org/wetside/tui/light/lighttest"
	"example.org/wetside/tui/screen"
)

// Backend is the notebook in its folder.
type Backend struct {
	Store    journal.Store
	Readings []densities.ReadingsFile
	Fails    error // what writing comes to
}

func (b *Backend) Sessions() []notebook.Summary { return notebook.List(b.Store) }
func (b *Backend) ArchivedSessions() []notebook.Summary {
	return notebook.List(notebook.ArchivedStore(b.Store))
}
func (b *Backend) Read(id string) (notebook.Session, error) {
	s, err := notebook.Open(b.Store, id)
	if s.Path == "" && err != nil {
		s, err = notebook.Open(notebook.ArchivedStore(b.Store), id)
	}
	if s.Path != "" {
		s.Path = "/home/saltmarsh/.local/state/wetside/sessions/" + id + ".jsonl"
	}
	return s, err
}
func (b *Backend) Note(id string, n notebook.Note) error {
	if b.Fails != nil {
		return b.Fails
	}
	return notebook.AddNote(b.Store, id, n)
}
func (b *Backend) Archive(id string) error             { return notebook.Archive(b.Store, id) }
func (b *Backend) Restore(id string) error             { return notebook.Restore(b.Store, id) }
func (b *Backend) Densities() []densities.ReadingsFile { return b.Readings }

// The sessions of Kept: a stack that was warmer than planned and had a note, one in hangers
// that was ended early, a rehearsal, a stack as planned.
const (
	Warm      = "2024-05-01T2000-plover-80"
	Early     = "2024-05-02T2000-tern-125"
	Rehearsal = "2024-05-03T2000-plover-80"
	Good      = "2024-05-04T2000-plover-80"
)

// Now is when the tests look at them.
var Now = time.Date(2024, 5, 6, 9, 30, 0, 0, time.UTC)

// Env is that of a person without settings.
func Env() screen.Env { return screen.Env{Now: func() time.Time { return Now }} }

// Empty is a notebook without a session.
func Empty(t testing.TB) *Backend {
	return &Backend{Store: journal.Store{Folders: []string{filepath.Join(t.TempDir(), "state", "sessions")}, Disk: sessiontest.QuickDisk{}}}
}

// Kept is a notebook of four sessions, each a day after the one before.
func Kept(t testing.TB) *Backend {
	t.Helper()
	b := Empty(t)
	keep(t, b, 0, "plover-tray", 0, func(k *keeping) {
		k.do(3*time.Minute, sequence.TakeReading{T: 22.8})
		k.do(4*time.Minute, sequence.AddNote{Text: "the third sheet stuck"})
		k.finish()
	})
	keep(t, b, 24*time.Hour, "tern-hangers", 0, func(k *keeping) { k.do(9*time.Minute, sequence.EndSession{}) })
	keep(t, b, 48*time.Hour, "plover-tray", 30, (*keeping).finish)
	keep(t, b, 72*time.Hour, "plover-tray", 0, (*keeping).finish)
	return b
}

// keeping is a session while it is carried out and kept.
type keeping struct {
	t     testing.TB
	w     *journal.Writer
	state engine.State
	wall  time.Time
	seq   int
}

func keep(t testing.TB, b *Backend, after time.Duration, recipe string, factor float64, carry func(*keeping)) {
	t.Helper()
	r, err := recipes.Find(recipe, "")
	if err != nil {
		t.Fatal(err)
	}
	plan, err := planning.Resolve(r, sequence.Conditions{})
	if err != nil {
		t.Fatal(err)
	}
	k := &keeping{t: t, wall: time.Date(2024, 5, 1, 20, 0, 0, 0, time.UTC).Add(after)}
	if k.state, err = engine.NewState(&plan); err != nil {
		t.Fatal(err)
	}
	id := b.Store.NewID(k.wall, r.Film.Name)
	begun := engine.Decide(k.state, sequence.Begin{ID: id}, 0)
	k.w, err = b.Store.Create(id, journal.Record{Plan: &plan, Rehearsal: factor, Clock: clock.Mark{Wall: k.wall}, Event: begun[0]})
	if err != nil {
		t.Fatal(err)
	}
	k.state, k.seq = engine.Apply(k.state, begun[0]), 1
	k.keep(begun[1:], 0)
	carry(k)
	if err := k.w.Close(); err != nil {
		t.Fatal(err)
	}
}

func (k *keeping) keep(events []sequence.Event, now time.Duration) {
	for _, e := range events {
		mark := clock.Mark{Elapsed: now, Wall: k.wall.Add(now)}
		if err := k.w.Append(journal.Record{Seq: k.seq, Event: e, Clock: mark}); err != nil {
			k.t.Fatal(err)
		}
		k.state = engine.Apply(k.state, e)
		k.seq++
	}
}

// do asks something at a moment, after all that is due until then.
func (k *keeping) do(now time.Duration, c sequence.Command) {
	for at, due := k.state.Due(); due && at < now; at, due = k.state.Due() {
		k.keep(engine.Decide(k.state, sequence.Wake{}, at), at)
	}
	k.keep(engine.Decide(k.state, c, now), now)
}

// finish lets all that is left happen by itself; where a hand is waited for it comes at once.
func (k *keeping) finish() {
	for at, due := k.state.Due(); due && k.state.Over() == ""; at, due = k.state.Due() {
		k.keep(engine.Decide(k.state, sequence.Wake{}, at), at)
	}
}

// Keys are the messages of keys by their names, and of texts typed.
func Keys(names ...string) (list []tea.KeyMsg) {
	for _, name := range names {
		special, ok := map[string]tea.KeyType{"enter": tea.KeyEnter, "esc": tea.KeyEsc, "up": tea.KeyUp, "down": tea.KeyDown, "left": tea.KeyLeft,
			"right": tea.KeyRight, "pgup": tea.KeyPgUp, "pgdown": tea.KeyPgDown, "home": tea.KeyHome, "end": tea.KeyEnd, "space": tea.KeySpace}[name]
		if ok {
			list = append(list, tea.KeyMsg{Type: special})
			continue
		}
		for _, r := range name {
			list = append(list, tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{r}})
		}
	}
	return list
}

// Player gives a screen messages, and carries out what it asks for of its own.
type Player struct {
	Screen  screen.Screen
	Actions []screen.Action
	wait    time.Duration // for a command; what takes longer is a tick, and not waited for
}

// Play begins with a screen, and all that it has read.
func Play(s screen.Screen) *Player { return PlayTicking(s, time.Minute) }

// PlayTicking is Play for a screen with a clock, whose other commands take less than wait.
func PlayTicking(s screen.Screen, wait time.Duration) *Player {
	p := &Player{Screen: s, wait: wait}
	if started, ok := s.(screen.Started); ok {
		p.run(started.Start())
	}
	return p
}

// Press presses keys, one after the other; a name that is no key is typed.
func (p *Player) Press(names ...string) *Player {
	for _, k := range Keys(names...) {
		p.Send(k)
	}
	return p
}

// Send gives it a message, and the answers of the commands that it leads to.
func (p *Player) Send(msg tea.Msg) *Player {
	s, action, cmd := p.Screen.Update(msg)
	p.Screen = s
	if action != nil {
		p.Actions = append(p.Actions, action)
	}
	p.run(cmd)
	return p
}

func (p *Player) run(cmd tea.Cmd) {
	if cmd == nil {
		return
	}
	answer := make(chan tea.Msg, 1)
	go func() { answer <- cmd() }()
	select {
	case msg := <-answer:
		p.answered(msg)
	case <-time.After(p.wait):
	}
}

func (p *Player) answered(msg tea.Msg) {
	switch msg := msg.(type) {
	case nil:
	case tea.BatchMsg:
		for _, one := range msg {
			p.run(one)
		}
	default:
		p.Send(msg)
	}
}

// Last is what was asked of the root last; nil for nothing.
func (p *Player) Last() screen.Action {
	if len(p.Actions) == 0 {
		return nil
	}
	return p.Actions[len(p.Actions)-1]
}

// View is the screen without its colours.
func (p *Player) View(w, h int) string { return ansi.Strip(p.Screen.View(w, h)) }

var update = flag.Bool("update", false, "write the pictures anew")

// Golden compares a body of 76x18, what an 80x24 window leaves, with testdata/NAME.txt, and
// looks at it by every light.
func Golden(t *testing.T, name string, p *Player) {
	t.Helper()
	lighttest.Every(t, p.Screen.View(76, 18), 76, 18)
	got := p.View(76, 18) + "\n"
	file := filepath.Join("testdata", name+".txt")
	if *update {
		if err := os.WriteFile(file, []byte(got), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if trimmed(got) != trimmed(string(want)) {
		t.Errorf("%s\ngot\n%s\nwant\n%s", name, got, want)
	}
}

func trimmed(s string) string {
	rows := strings.Split(strings.TrimRight(s, "\n"), "\n")
	for i := range rows {
		rows[i] = strings.TrimRight(rows[i], " ")
	}
	return strings.Join(rows, "\n")
}

// Fits has a screen drawn in bodies of all sizes: no row is over its width, and there are
// not more rows than there is room for. check looks at each without its colours.
func Fits(t *testing.T, p *Player, check func(w, h int, view string) string) {
	t.Helper()
	for w := 36; w <= 196; w += 7 {
		for h := 8; h <= 56; h += 3 {
			view := p.View(w, h)
			rows := strings.Split(view, "\n")
			if len(rows) > h {
				t.Fatalf("%dx%d: %d rows\n%s", w, h, len(rows), view)
			}
			for _, row := range rows {
				if n := ansi.StringWidth(row); n > w {
					t.Fatalf("%dx%d: a row of %d: %q", w, h, n, row)
				}
			}
			if why := check(w, h, view); why != "" {
				t.Fatalf("%dx%d: %s\n%s", w, h, why, view)
			}
		}
	}
}

package tui

// What the tests stand on: a host and a session that live in one injected moment,
// and a desk at which keys are pressed. No clock is read and nothing is slept.

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/bottles"
	"example.org/wetside/sequence/densities"
	"example.org/wetside/sequence/engine"
	"example.org/wetside/sequence/holders"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/tui/say"
)

// The recipes of the list, and those that are only opened by name.
const (
	recipesFolder = "testdata/recipes"
	moreRecipes   = "testdata/more"
)

// hall is a host whose recipes lie in testdata and whose sessions follow its now.
type hall struct {
	stands     string // what notes on the emulsion say
	mu         sync.Mutex
	now        func() time.Time
	unfinished []Unfinished
	newcomer   bool
	sound      string
	fails      error // of Begin and Resume; nil where they work
	only       []string
	store      journal.Store
	box        holders.SheetStore
	bottles    []bottles.Bottle
	stock      []sequence.Stock
	desk       densities.Store
	wrote      map[string]sequence.Recipe
	mute       bool // no voice

	lights   []sequence.Light // as told, in order
	sleep    string           // "" while it is not known
	unkept   string           // "" while the disk takes the session
	begun    []SessionStart
	edited   []string
	takenUp  []string
	sessions []*bath
	said     []Utterance
	played   []string
	watch    []bool // as the stopwatch was made heard, and no more
}

func (h *hall) Recipes() []recipes.Entry {
	names := h.only
	if names == nil {
		files, err := os.ReadDir(recipesFolder)
		if err != nil {
			panic(err)
		}
		for _, f := range files {
			names = append(names, strings.TrimSuffix(f.Name(), ".toml"))
		}
	}
	var list []recipes.Entry
	for _, name := range names {
		r, err := h.Recipe(name)
		e := recipes.Entry{Name: name, IsOwn: name == "broken" || name == "ortho", Fault: err}
		if err == nil {
			e.Title, e.Film, e.About, e.Vessel, e.Sheets = r.Title, r.Film.Name, r.About, r.Load.Vessel, r.Load.Sheets
		}
		list = append(list, e)
	}
	return list
}

func (h *hall) Recipe(name string) (sequence.Recipe, error) {
	if r, ok := h.wrote[name]; ok {
		return r, nil
	}
	r, err := recipes.ReadFile(filepath.Join(recipesFolder, name+".toml"))
	if errors.Is(err, fs.ErrNotExist) {
		if r, err = recipes.ReadFile(filepath.Join(moreRecipes, name+".toml")); errors.Is(err, fs.ErrNotExist) {
			return recipes.Find(name, "") // one that is shipped
		}
	}
	return r, err
}

func (h *hall) Unfinished() []Unfinished { return h.unfinished }
func (h *hall) FirstRun() bool           { return h.newcomer }
func (h *hall) Sound() string            { return h.sound }
func (h *hall) Play(name string)         { h.played = append(h.played, name) }
func (h *hall) Sounds() []SoundLesson {
	return []SoundLesson{{"tick", "all is well"}, {"turn", "turn: bottom sheet to the top"}, {"move", "touch the next bath now"}}
}
func (h *hall) Say(s Utterance) { h.said = append(h.said, s) }

func (h *hall) Light(l sequence.Light) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.lights = append(h.lights, l)
}

// lit is the light told last; Safelight before any.
func (h *hall) lit() sequence.Light {
	h.mu.Lock()
	defer h.mu.Unlock()
	if len(h.lights) == 0 {
		return sequence.Safelight
	}
	return h.lights[len(h.lights)-1]
}

func (h *hall) Begin(s SessionStart) (SessionView, error) {
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.fails != nil {
		return nil, h.fails
	}
	h.begun = append(h.begun, s)
	b := h.fill(s.Plan, s.Countdown, s.RehearsalSpeed, "2024-05-04-plover-80")
	b.begun = s
	return b, nil
}

// Resume goes on with a session of the stack, five minutes in.
func (h *hall) Resume(id string) (SessionView, error) {
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.fails != nil {
		return nil, h.fails
	}
	r, err := h.Recipe("stack")
	if err != nil {
		return nil, err
	}
	p, err := planning.Resolve(r, sequence.Conditions{})
	if err != nil {
		return nil, err
	}
	h.takenUp = append(h.takenUp, id)
	b := h.fill(&p, 0, 0, id)
	b.start = b.start.Add(-5 * time.Minute)
	return b, nil
}

func (h *hall) fill(p *sequence.Plan, lead time.Duration, factor float64, id string) *bath {
	s, err := engine.NewState(p)
	if err != nil {
		panic(err)
	}
	b := &bath{h: h, state: s, start: h.now(), lead: lead, factor: factor, id: id}
	b.obey(sequence.Begin{ID: id})
	h.sessions = append(h.sessions, b)
	return b
}

// bath is a session over the real rules.
type bath struct {
	mu      sync.Mutex
	h       *hall
	state   engine.State
	start   time.Time
	lead    time.Duration
	factor  float64
	id      string
	events  []sequence.Event
	did     []sequence.Command
	answers int
	looks   int
	said    []Utterance
	named   []int // sheets
	begun   SessionStart
	refuses string // whatever is asked; "" for nothing but what the rules refuse
}

func (b *bath) elapsed() sequence.Elapsed {
	return time.Duration(float64(b.h.now().Sub(b.start))*max(1, b.factor)) - b.lead
}

func (b *bath) obey(c sequence.Command) {
	for _, e := range engine.Decide(b.state, c, b.elapsed()) {
		b.state, b.events = engine.Apply(b.state, e), append(b.events, e)
	}
}

func (b *bath) Snapshot() engine.Snapshot {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.obey(sequence.Wake{})
	b.looks++
	return b.state.Snapshot(b.elapsed())
}

func (b *bath) Do(c sequence.Command) {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.did = append(b.did, c)
	b.obey(c)
}

func (b *bath) Refuse(c sequence.Command) string {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.refuses != "" {
		return b.refuses
	}
	b.obey(sequence.Wake{})
	return say.Refusal(b.state.Refuse(c, b.elapsed()), sequence.Units{})
}

func (b *bath) Plan() *sequence.Plan          { return b.state.Plan() }
func (b *bath) Advise() (engine.Advice, bool) { return b.state.Advise(b.elapsed()) }
func (b *bath) SpeakState()                   { b.answers++ }
func (b *bath) Say(s Utterance)               { b.said = append(b.said, s) }
func (b *bath) OfferSheet(s Utterance, sheet int) {
	b.said, b.named = append(b.said, s), append(b.named, sheet)
}
func (b *bath) LateSheets() []engine.LateSheet { return b.state.LateSheets(b.elapsed()) }
func (b *bath) SheetsToSetAside() []int        { return b.state.SheetsToSetAside(b.elapsed()) }
func (b *bath) Speaks() bool                   { return !b.h.mute }
func (b *bath) ID() string                     { return b.id }
func (b *bath) Sound() string                  { return b.h.sound }
func (b *bath) Sleep() string                  { return b.h.sleep }
func (b *bath) Record() string {
	return "/home/saltmarsh/.local/state/wetside/sessions/" + b.id + ".jsonl"
}
func (b *bath) UnsavedBecause() string  { return b.h.unkept }
func (b *bath) RehearsalSpeed() float64 { return b.factor }
func (b *bath) SkipsQuiet() bool        { return b.begun.SkipQuiet }
func (b *bath) Lit() bool               { return b.factor > 0 && !b.begun.Dark }

func (b *bath) Events() []sequence.Event {
	b.mu.Lock()
	defer b.mu.Unlock()
	return slices.Clone(b.events)
}

// last is what was asked of the session last, nil if nothing was.
func (b *bath) last() sequence.Command {
	if len(b.did) == 0 {
		return nil
	}
	return b.did[len(b.did)-1]
}

// desk is the screens with someone at the keys.
type desk struct {
	t   testing.TB
	h   *hall
	m   Model
	now time.Time
	cmd tea.Cmd // of the last message
}

var errNoRoom = errors.New("journal: no room left on the disk")

// sit opens the screens at 80x24; change may alter what they are opened on.
func sit(t testing.TB, change ...func(*hall, *Options)) *desk {
	t.Helper()
	d := &desk{t: t, now: time.Date(2024, 5, 4, 21, 0, 0, 0, time.UTC)}
	d.h = &hall{now: func() time.Time { return d.now }, sound: "sound: loudspeaker"}
	o := Options{Backend: d.h, Now: func() time.Time { return d.now }, Colours: 256, Countdown: 10 * time.Second}
	for _, c := range change {
		c(d.h, &o)
	}
	var err error
	if d.m, err = New(o).Opened(); err != nil {
		t.Fatal(err)
	}
	d.cmd = d.m.Init()
	return d
}

// with opens a recipe at once.
func with(recipe string) func(*hall, *Options) {
	return func(_ *hall, o *Options) { o.Start = recipe }
}

func (d *desk) send(msg tea.Msg) *desk {
	next, cmd := d.m.Update(msg)
	d.m, d.cmd = next.(Model), cmd
	return d
}

func (d *desk) size(w, h int) *desk { return d.send(tea.WindowSizeMsg{Width: w, Height: h}) }

// message is a key as bubbletea tells it.
func message(key string) tea.KeyMsg {
	named := map[string]tea.KeyType{" ": tea.KeySpace, "enter": tea.KeyEnter, "esc": tea.KeyEscape, "up": tea.KeyUp,
		"down": tea.KeyDown, "left": tea.KeyLeft, "right": tea.KeyRight, "backspace": tea.KeyBackspace, "tab": tea.KeyTab,
		"pgdown": tea.KeyPgDown, "pgup": tea.KeyPgUp, "f5": tea.KeyF5, "f1": tea.KeyF1, "ctrl+c": tea.KeyCtrlC, "home": tea.KeyHome}
	if kind, ok := named[key]; ok {
		msg := tea.KeyMsg{Type: kind}
		if key == " " {
			msg.Runes = []rune(key)
		}
		return msg
	}
	return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(key)}
}

// press presses keys one after the other.
func (d *desk) press(keys ...string) *desk {
	for _, key := range keys {
		d.send(message(key))
	}
	return d
}

// types presses a key for each rune of a text.
func (d *desk) types(text string) *desk {
	for _, r := range text {
		d.press(string(r))
	}
	return d
}

// done carries out the command of the last message, which must not wait for time.
func (d *desk) done() *desk {
	d.t.Helper()
	if d.cmd == nil {
		d.t.Fatal("no command to carry out")
	}
	return d.send(d.cmd())
}

// wait lets time pass and redraws.
func (d *desk) wait(t time.Duration) *desk {
	d.now = d.now.Add(t)
	return d.send(tickMsg{d.m.generation})
}

// big touches the big key, a while after whatever was before.
func (d *desk) big() *desk {
	d.now = d.now.Add(3 * time.Second)
	return d.press(" ")
}

// twice touches a key twice, a second apart.
func (d *desk) twice(key string) *desk {
	d.press(key)
	d.now = d.now.Add(time.Second)
	d.press(key)
	return d
}

// session is the one begun last.
func (d *desk) session() *bath {
	d.t.Helper()
	if len(d.h.sessions) == 0 {
		d.t.Fatal("no session was begun")
	}
	return d.h.sessions[len(d.h.sessions)-1]
}

// rehearsing is a rehearsal of a recipe in real time: everything is shown.
func rehearsing(t testing.TB, recipe string, change ...func(*hall, *Options)) *desk {
	t.Helper()
	d := sit(t, append(change, with(recipe), func(_ *hall, o *Options) { o.RehearsalSpeed = 1 })...)
	return d.done()
}

// loading is a stack's session whose screen is dark, before it has begun.
func loading(t testing.TB, recipe string, change ...func(*hall, *Options)) *desk {
	t.Helper()
	d := sit(t, append(change, with(recipe))...).press("enter")
	for d.m.screen == prepareScreen && !d.m.dark {
		d.big()
	}
	d.now = d.now.Add(3 * time.Second)
	return d
}

// inDark is a session begun in the dark by two presses, at its first dip.
func inDark(t testing.TB, recipe string, change ...func(*hall, *Options)) *desk {
	t.Helper()
	return loading(t, recipe, change...).twice(" ").done().wait(10 * time.Second)
}

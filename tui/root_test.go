package tui

// The root with screens of its own making: where keys go, which light there is, and what
// an action does.

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/film"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/tui/light"
	"example.org/wetside/tui/light/lighttest"
	"example.org/wetside/tui/press"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/widget"
)

// world is a backend that notes what it is told. What is not overridden here is not called.
type world struct {
	shelf
	lights []light.Light
	said   []screen.Utterance
	begun  int
	start  screen.SessionStart
	err    error
}

func (w *world) Light(l light.Light) { w.lights = append(w.lights, l) }
func (w *world) Guide(topic string) (string, error) {
	if topic == "none" {
		return "", errors.New("no such guide")
	}
	return "# The " + topic + " guide\n" + strings.Repeat("\nIt has `many` rows.\n", 30), nil
}
func (w *world) Say(u screen.Utterance) { w.said = append(w.said, u) }
func (w *world) Sound() string          { return "sound: the first loudspeaker" }
func (w *world) Begin(s screen.SessionStart) (screen.Session, error) {
	w.begun++
	w.start = s
	return nil, w.err
}

// shelf is the shipped recipes and nothing else: what the first two screens ask for.
type shelf struct{ Backend }

func (shelf) Recipes() []recipes.Entry                              { return recipes.List("") }
func (shelf) Recipe(name string) (sequence.Recipe, error)           { return recipes.Find(name, "") }
func (shelf) Unfinished() []screen.Unfinished                       { return nil }
func (shelf) FirstRun() bool                                        { return false }
func (shelf) OpenBottlesFor(sequence.Recipe) []sequence.OpenBottle  { return nil }
func (shelf) Stock() []sequence.Stock                               { return nil }
func (shelf) KnownOf(string) []film.Known                           { return nil }
func (shelf) SessionScatter() *sequence.SessionScatter              { return nil }
func (shelf) WetTrials(string, sequence.Vessel) []notebook.WetTrial { return nil }

// probe is a screen that notes what comes to it and answers with what it was given.
type probe struct {
	heard   *[]string
	answer  screen.Action
	lit     light.Light
	typing  bool
	unsaved bool
}

func (p probe) Update(msg tea.Msg) (screen.Screen, screen.Action, tea.Cmd) {
	switch msg := msg.(type) {
	case tea.KeyMsg:
		*p.heard = append(*p.heard, msg.String())
	case screen.BeginFailedMsg:
		*p.heard = append(*p.heard, "failed: "+msg.Err.Error())
		return p, nil, nil
	}
	return p, p.answer, nil
}

func (p probe) Touch(t screen.Touch) (screen.Screen, screen.Action, tea.Cmd) {
	name := map[screen.Key]string{screen.BigKey: "big", screen.MenuKey: "menu", screen.EscapeKey: "escape"}[t.Key]
	*p.heard = append(*p.heard, name+map[press.Kind]string{press.One: " one", press.Two: " two"}[t.Kind])
	return p, p.answer, nil
}

func (p probe) Light() light.Light   { return p.lit }
func (p probe) Unsaved() bool        { return p.unsaved }
func (p probe) View(w, h int) string { return strings.Repeat("x", w) + "\nsecond" }
func (p probe) About() screen.About {
	return screen.About{Title: "A probe", Right: "at the right", Typing: p.typing, Help: widget.Help{Guides: []string{"dark", "none", "voice"}}}
}

// desk is a model that shows a probe, at a clock of the test's.
type desk struct {
	t     *testing.T
	m     Model
	w     *world
	now   time.Time
	heard []string
}

func at(t *testing.T, p probe) *desk {
	d := &desk{t: t, w: &world{}, now: time.Date(2026, 3, 1, 20, 0, 0, 0, time.UTC)}
	p.heard = &d.heard
	d.m = Model{o: Options{Backend: d.w, Env: screen.Env{Now: func() time.Time { return d.now }}}, w: 80, h: 24, shown: light.Red,
		stack: []screen.Screen{probe{heard: new([]string), lit: light.White}, p}}
	return d
}

// send gives a message and the messages that its commands come to at once.
func (d *desk) send(msg tea.Msg) tea.Cmd {
	next, cmd := d.m.Update(msg)
	d.m = next.(Model)
	return cmd
}

func (d *desk) press(keys ...string) {
	for _, k := range keys {
		d.send(keyOf(k))
		d.send(QuietMsg{})
		d.now = d.now.Add(time.Second)
	}
}

func keyOf(name string) tea.KeyMsg {
	switch name {
	case "esc":
		return tea.KeyMsg{Type: tea.KeyEsc}
	case "space":
		return tea.KeyMsg{Type: tea.KeySpace, Runes: []rune(" ")}
	case "ctrl+c":
		return tea.KeyMsg{Type: tea.KeyCtrlC}
	}
	return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(name)}
}

func TestKeysGoToTheScreen(t *testing.T) {
	d := at(t, probe{lit: light.White})
	d.press("a", "esc", "m", "space", "ab")
	if want := []string{"a", "esc", "m", "big one", "a", "b"}; !slices.Equal(d.heard, want) {
		t.Errorf("the screen heard %q; want %q", d.heard, want)
	}
}

// In the dark three keys are heard and no other, and nothing is drawn.
func TestInTheDarkThreeKeysCount(t *testing.T) {
	d := at(t, probe{lit: light.Dark})
	d.press("a", "space", "?", "space", "m", "esc", "esc", "ctrl+c", "q")
	if want := []string{"big one", "big two", "menu one", "escape one", "escape two"}; !slices.Equal(d.heard, want) {
		t.Errorf("the screen heard %q; want %q", d.heard, want)
	}
	if v := d.m.View(); v != "" || d.m.help != nil {
		t.Errorf("drawn in the dark: %q", v)
	}
	d.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("  "), Paste: true})
	if len(d.heard) != 5 {
		t.Error("what was pasted counted as a touch")
	}
}

// keyboards are when a held key repeats first, and how often then: xset r rate's default of
// X.org, the defaults of GNOME and Plasma (their settings), and the Linux console's 250 ms at
// 10.9 a second (kbdrate(8)).
var keyboards = map[string][2]time.Duration{
	"X.org": {660 * time.Millisecond, 40 * time.Millisecond}, "GNOME": {500 * time.Millisecond, 30 * time.Millisecond},
	"Plasma": {600 * time.Millisecond, 40 * time.Millisecond}, "console": {250 * time.Millisecond, 92 * time.Millisecond},
	"the latest": {time.Second, 100 * time.Millisecond},
}

// A key that is held counts once, in the dark and in the light, however long, and on whichever
// screen that began: silence comes when it is let go.
func TestAHeldKeyCountsOnce(t *testing.T) {
	for name, k := range keyboards {
		for _, l := range []light.Light{light.Dark, light.White} {
			for _, repeats := range []int{2, 3, 40, 400} {
				d := at(t, probe{lit: l})
				d.holds("space", k, repeats)
				if want := []string{"big one"}; !slices.Equal(d.heard, want) {
					t.Errorf("%s, %s, %d repeats: %q", name, l, repeats, d.heard)
				}
				d.now = d.now.Add(3 * time.Second)
				d.press("space")
				d.press("space")
				if n := len(d.heard); n < 3 || l == light.Dark && d.heard[n-1] != "big two" {
					t.Errorf("%s, %s: after it two touches come to %q", name, l, d.heard)
				}
			}
		}
	}
}

// holds is a key held down: the first repeat may be what another touch would be.
func (d *desk) holds(key string, k [2]time.Duration, repeats int) {
	d.send(keyOf(key))
	d.now = d.now.Add(k[0])
	if k[0] >= press.Silence {
		d.send(QuietMsg{})
	}
	for range repeats {
		d.send(keyOf(key))
		d.now = d.now.Add(k[1])
	}
	d.send(QuietMsg{})
}

// A key that leads to another screen, held on, is no touch of that one.
func TestAKeyHeldIntoAnotherScreenIsNoTouch(t *testing.T) {
	d := at(t, probe{lit: light.White, typing: true})
	d.send(keyOf("space"))
	d.now = d.now.Add(500 * time.Millisecond)
	d.send(QuietMsg{})
	d.m.stack = append(d.m.stack, probe{heard: &d.heard, lit: light.White})
	for range 20 {
		d.send(keyOf("space"))
		d.now = d.now.Add(30 * time.Millisecond)
	}
	d.send(QuietMsg{})
	if want := []string{" "}; !slices.Equal(d.heard, want) {
		t.Errorf("%q", d.heard)
	}
}

// What waits for silence is no touch any more where another key breaks it.
func TestAnotherKeyBreaksTheSilence(t *testing.T) {
	d := at(t, probe{lit: light.Dark})
	d.press("space")
	d.send(keyOf("space"))
	d.send(keyOf("q"))
	d.send(QuietMsg{})
	if want := []string{"big one"}; !slices.Equal(d.heard, want) {
		t.Errorf("%q", d.heard)
	}
}

// Where the terminal tells presses, repeats and releases apart, that is believed at once.
func TestATerminalThatTellsReleases(t *testing.T) {
	d := at(t, probe{lit: light.Dark})
	touch := func() {
		d.send(keyOf("space"))
		for range 50 {
			d.send(HeldMsg{keyOf("space")})
		}
		d.now = d.now.Add(500 * time.Millisecond)
		d.send(ReleasedMsg{" "})
	}
	touch()
	touch() // no silence behind it
	if want := []string{"big one", "big two"}; !slices.Equal(d.heard, want) {
		t.Errorf("%q", d.heard)
	}
	d = at(t, probe{lit: light.White, typing: true})
	d.send(HeldMsg{keyOf("a")})
	if want := []string{"a"}; !slices.Equal(d.heard, want) {
		t.Errorf("a held letter in a field: %q", d.heard)
	}
}

// The backend is told of each light before the frame that it is for, and once.
func TestTheLightIsTheScreens(t *testing.T) {
	d := at(t, probe{lit: light.White})
	d.press("a", "b")
	d.m.stack = append(d.m.stack, probe{heard: &d.heard, lit: light.Dark})
	d.press("c", "d")
	d.m.stack = d.m.stack[:2]
	d.press("e")
	if want := []light.Light{light.White, light.Dark, light.White}; !slices.Equal(d.w.lights, want) {
		t.Errorf("told %v; want %v", d.w.lights, want)
	}
	d.m.o.Red = true
	d.press("f")
	if last := d.w.lights[len(d.w.lights)-1]; last != light.Red {
		t.Errorf("a red desk is %s", last)
	}
}

// A session that could not begin is told to the screen; in the dark it is heard, and
// stays dark.
func TestASessionThatCannotBegin(t *testing.T) {
	d := at(t, probe{lit: light.Dark, answer: screen.Begin{}})
	d.w.err = errors.Join(errors.New("the disk is gone"), screen.ErrElsewhere)
	cmd := d.send(keyOf("space"))
	if !d.m.starting {
		t.Fatal("nothing is being begun")
	}
	d.now = d.now.Add(time.Second)
	d.send(keyOf("space"))
	d.send(QuietMsg{})
	if !d.m.starting {
		t.Error("a second one was begun")
	}
	d.send(begun(t, cmd))
	if d.w.begun != 1 || d.m.starting || !slices.Equal(d.w.said, []screen.Utterance{screen.SaysElsewhere}) {
		t.Errorf("begun %d times, starting %v, said %v", d.w.begun, d.m.starting, d.w.said)
	}
	if !strings.HasPrefix(d.heard[len(d.heard)-1], "failed: the disk is gone") || d.m.View() != "" {
		t.Errorf("heard %q, drawn %q", d.heard, d.m.View())
	}
}

// begun runs commands until one tells what became of a session.
func begun(t *testing.T, cmd tea.Cmd) tea.Msg {
	t.Helper()
	switch msg := cmd().(type) {
	case tea.BatchMsg:
		for _, c := range msg {
			if c != nil {
				if m, ok := begun(t, c).(begunMsg); ok {
					return m
				}
			}
		}
	default:
		return msg
	}
	return nil
}

// Back and home go through the screens; leaving asks where something would be lost.
func TestBackHomeAndLeaving(t *testing.T) {
	d := at(t, probe{lit: light.White, answer: screen.Back{}})
	d.press("a")
	if len(d.m.stack) != 1 {
		t.Errorf("%d screens after back", len(d.m.stack))
	}
	d.press("a")
	if len(d.m.stack) != 1 {
		t.Error("back from the first screen left it")
	}
	d = at(t, probe{lit: light.White, unsaved: true})
	if cmd := d.send(keyOf("ctrl+c")); !d.m.quitting || quits(cmd) {
		t.Error("left without a question")
	}
	if cmd := d.send(keyOf("n")); d.m.quitting || quits(cmd) || len(d.heard) != 0 {
		t.Error("another key than y is no yes, and no key of the screen's")
	}
	d.send(keyOf("ctrl+c"))
	if !quits(d.send(keyOf("y"))) {
		t.Error("y does not leave")
	}
	if d = at(t, probe{lit: light.White}); !quits(d.send(keyOf("ctrl+c"))) {
		t.Error("nothing is lost, and it is not left")
	}
}

func quits(cmd tea.Cmd) bool {
	if cmd == nil {
		return false
	}
	switch msg := cmd().(type) {
	case tea.QuitMsg:
		return true
	case tea.BatchMsg:
		return slices.ContainsFunc(msg, quits)
	}
	return false
}

// A message goes with the next key, a fault's only with it; each is all there in a few rows.
func TestMessages(t *testing.T) {
	d := at(t, probe{lit: light.White, answer: screen.Message{Text: "Undone."}})
	d.press("a")
	if !strings.Contains(d.m.View(), "Undone.") {
		t.Error("the message is not there")
	}
	d.send(messageGoneMsg{d.m.generation})
	if strings.Contains(d.m.View(), "Undone.") {
		t.Error("it stays")
	}
	d.m.message = message{"It cannot be done.", true}
	d.send(messageGoneMsg{d.m.generation})
	if !strings.Contains(ansi.Strip(d.m.View()), "It cannot be done.") {
		t.Error("a fault goes by itself")
	}
}

// What stands around a screen keeps to the light too: head, foot, help, messages, questions.
func TestWhatStandsAroundAScreenKeepsToTheLight(t *testing.T) {
	for name, change := range map[string]func(*Model){
		"head and foot": func(*Model) {},
		"a message":     func(m *Model) { m.message = message{text: "Undone."} },
		"a fault":       func(m *Model) { m.message = message{"It cannot be done.", true} },
		"a question":    func(m *Model) { m.quitting = true },
		"the help":      func(m *Model) { m.help = &help{keys: widget.Help{About: "About it."}} },
		"a guide":       func(m *Model) { m.help = openHelp(m.stack.top().About(), m.o.Backend); m.help.read = 1 },
		"too small":     func(m *Model) { m.w = 30 },
	} {
		t.Run(name, func(t *testing.T) {
			d := at(t, probe{lit: light.White})
			change(&d.m)
			lighttest.Every(t, d.m.View(), d.m.w, d.m.h)
		})
	}
}

// A rehearsal that the command line asks for begins by itself, without film and in the light;
// one in the dark is prepared as with film.
func TestARehearsalAskedForBeginsByItself(t *testing.T) {
	for _, dark := range []bool{false, true} {
		w := &world{}
		m, err := New(Options{Backend: w, Start: "tern-hangers", Env: screen.Env{Now: time.Now, Countdown: 10 * time.Second,
			Rehearsal: screen.Rehearsal{Speed: 200, Dark: dark}}})
		if err != nil {
			t.Fatal(err)
		}
		next, cmd := m.Update(openedMsg{}) // the first message, by Init
		if m = next.(Model); !dark {
			begun(t, cmd)
		}
		if m.starting == dark || w.begun != map[bool]int{false: 1, true: 0}[dark] {
			t.Fatalf("dark %v: starting %v, begun %d times", dark, m.starting, w.begun)
		}
		if !dark && (w.start.RehearsalSpeed != 200 || w.start.Dark) {
			t.Errorf("begun at %v, dark %v", w.start.RehearsalSpeed, w.start.Dark)
		}
	}
}

// What keeps a session from being taken up is said when escape twice brings the light.
func TestLightSaysWhyASessionWasNotTakenUp(t *testing.T) {
	d := at(t, probe{})
	d.m.stack = []screen.Screen{probe{heard: new([]string)}, waiting{backend: d.w, dark: true}}
	d.send(begunMsg{err: errors.New("record 7 is damaged")})
	d.press("esc", "esc")
	if v := ansi.Strip(d.m.View()); d.m.dark() || !strings.Contains(v, "record 7 is damaged") || !strings.Contains(v, "space twice tries it again") {
		t.Errorf("dark %v, shown %q", d.m.dark(), v)
	}
}

// While a session comes back by safelight no key that is struck leads to white light.
func TestNoKeyLeavesASessionThatIsBeingTakenUp(t *testing.T) {
	d := at(t, probe{})
	d.m.stack = []screen.Screen{probe{heard: new([]string), lit: light.White}, waiting{backend: d.w, env: d.m.o.Env}}
	d.m.starting = true
	d.press("esc", "esc", "q", "enter", "esc")
	if d.m.stack.light() != light.Safelight || len(d.m.stack) != 2 {
		t.Fatalf("light %q on screen %d of the stack", d.m.stack.light(), len(d.m.stack))
	}
	if quits(d.send(keyOf("ctrl+c"))) || !quits(d.send(keyOf("ctrl+c"))) {
		t.Error("ctrl+c leaves at once, or never")
	}
	d.send(begunMsg{err: errors.New("record 7 is damaged")})
	if d.press("esc"); len(d.m.stack) != 1 {
		t.Error("where it was not taken up, esc does not lead to the recipes")
	}
}

// The foot ends with ? only where it opens the help.
func TestTheFootPromisesNoHelpWhereThereIsNone(t *testing.T) {
	for _, typing := range []bool{false, true} {
		d := at(t, probe{lit: light.White, typing: typing})
		if got := strings.Contains(ansi.Strip(d.m.View()), "? all keys"); got == typing {
			t.Errorf("typing %v: promised %v", typing, got)
		}
	}
	d := at(t, probe{lit: light.White})
	if d.press("?"); strings.Contains(ansi.Strip(d.m.View()), "? all keys") || !strings.Contains(ansi.Strip(d.m.View()), "esc back to the screen") {
		t.Errorf("with the help open the foot is\n%s", ansi.Strip(d.m.View()))
	}
}

// The help offers the guides of its screen by digits; each is read and left like the help, and no
// key of it reaches the screen. One that cannot be read is not offered.
func TestTheHelpOffersGuides(t *testing.T) {
	d := at(t, probe{lit: light.White})
	shows := func(want ...string) {
		t.Helper()
		got := ansi.Strip(d.m.View())
		for _, w := range want {
			if !strings.Contains(got, w) {
				t.Fatalf("%q is not in\n%s", w, got)
			}
		}
	}
	d.press("?")
	shows("A probe", "Guides", "1   The dark guide", "2   The voice guide", "1 dark   2 voice")
	d.press("2")
	shows("The voice guide", "wetside help voice", "It has many rows.", "esc all keys")
	before := d.m.View()
	d.send(tea.KeyMsg{Type: tea.KeyPgDown})
	if d.m.View() == before {
		t.Error("pgdown reads no further")
	}
	d.press("1")
	shows("The dark guide")
	d.press("esc")
	shows("1   The dark guide", "esc back to the screen")
	d.press("3")
	shows("? all keys")
	d.press("?", "1", "?")
	shows("? all keys")
	if len(d.heard) != 0 {
		t.Errorf("the screen heard %q", d.heard)
	}
}

// sized is a probe that notes what room it is told.
type sized struct {
	probe
	told *[]string
}

func (s sized) Sized(w, h int) screen.Screen {
	*s.told = append(*s.told, fmt.Sprintf("%dx%d", w, h))
	return s
}

func (s sized) Update(msg tea.Msg) (screen.Screen, screen.Action, tea.Cmd) {
	_, a, cmd := s.probe.Update(msg)
	return s, a, cmd
}

// A screen is told the room of its body when it opens, when the window changes and when a
// message takes rows of it: what it is told is what it is drawn in.
func TestAScreenIsToldItsRoom(t *testing.T) {
	d := at(t, probe{lit: light.White})
	var told []string
	d.m.stack = append(d.m.stack, sized{probe{heard: &d.heard, lit: light.White, answer: screen.Message{Text: "Undone."}}, &told})
	d.send(tea.WindowSizeMsg{Width: 100, Height: 30})
	if last := told[len(told)-1]; last != "96x26" { // margins of 2, head, foot, and a blank row at each
		t.Errorf("told %s", last)
	}
	d.press("a")
	if last := told[len(told)-1]; last != "96x25" {
		t.Errorf("with a message: told %s", last)
	}
}

// Whatever the size, the view has its rows and none is wider; where something is typed,
// ? is a letter.
func TestTheViewFits(t *testing.T) {
	d := at(t, probe{lit: light.White})
	for w := 10; w < 200; w += 7 {
		for h := 3; h < 60; h += 5 {
			d.send(tea.WindowSizeMsg{Width: w, Height: h})
			rows := strings.Split(d.m.View(), "\n")
			for _, row := range rows {
				if n := ansi.StringWidth(row); n > max(w, 18) {
					t.Fatalf("%dx%d: a row of %d: %q", w, h, n, row)
				}
			}
			if w >= leastWidth && h >= leastHeight && len(rows) != h {
				t.Fatalf("%dx%d: %d rows", w, h, len(rows))
			}
		}
	}
	d.press("?")
	if d.m.help == nil {
		t.Error("? opens no help")
	}
	d.press("esc")
	if d.m.help != nil || len(d.heard) != 0 {
		t.Errorf("esc in the help: %q", d.heard)
	}
	d = at(t, probe{lit: light.White, typing: true})
	d.press("?", "space")
	if want := []string{"?", " "}; !slices.Equal(d.heard, want) || d.m.help != nil {
		t.Errorf("typing: heard %q", d.heard)
	}
}

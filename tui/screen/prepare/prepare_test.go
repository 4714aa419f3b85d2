package prepare

// The list before the dark: what is asked, which keys answer, which light there is, and how a
// session begins.

import (
	"errors"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"

	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/sequence/recipetest"
	"example.org/wetside/tui/light"
	"example.org/wetside/tui/press"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/screen/drive"
)

// laptop is one with a loudspeaker or without, and remembers what it said.
type laptop struct {
	sound string
	said  []screen.Utterance
}

func (l *laptop) Sound() string          { return l.sound }
func (l *laptop) Say(u screen.Utterance) { l.said = append(l.said, u) }

const (
	loud   = "sound: PulseAudio"
	silent = "NO SOUND: no audio output"
)

var env = screen.Env{Countdown: 10 * time.Second}

func planOf(t testing.TB, r sequence.Recipe, w sequence.RawConditions) *sequence.Plan {
	t.Helper()
	c, err := w.Conditions()
	if err != nil {
		t.Fatal(err)
	}
	p, err := planning.Resolve(r, c)
	if err != nil {
		t.Fatal(err)
	}
	return &p
}

func shipped(t testing.TB, name string, w sequence.RawConditions) *sequence.Plan {
	t.Helper()
	r, err := recipes.Find(name, "")
	if err != nil {
		t.Fatal(err)
	}
	return planOf(t, r, w)
}

// tray is a stack in the dark, without a danger.
func tray(t testing.TB) *sequence.Plan { return shipped(t, "plover-tray", sequence.RawConditions{}) }

// tooShort is the same with a danger: it is over its wet limit.
func tooShort(t testing.TB) *sequence.Plan {
	return shipped(t, "plover-tray", sequence.RawConditions{WetLimit: "5m"})
}

// noDark is a closed tank in a lit room.
func noDark(t testing.TB) *sequence.Plan { return shipped(t, "curlew-tank", sequence.RawConditions{}) }

// byRedLight begins by safelight.
func byRedLight(t testing.TB) *sequence.Plan {
	return shipped(t, "dunlin-ortho", sequence.RawConditions{})
}

func keyMsg(name string) tea.KeyMsg {
	for _, typ := range []tea.KeyType{tea.KeyUp, tea.KeyDown, tea.KeyEnter, tea.KeyEsc, tea.KeyBackspace, tea.KeyHome} {
		if typ.String() == name {
			return tea.KeyMsg{Type: typ}
		}
	}
	return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(name)}
}

func press1(m Model, keys ...string) (Model, screen.Action) {
	var action screen.Action
	for _, k := range keys {
		var next screen.Screen
		next, action, _ = m.Update(keyMsg(k))
		m = next.(Model)
	}
	return m, action
}

func touch(m Model, k screen.Key, kind press.Kind) (Model, screen.Action) {
	next, action, _ := m.Touch(screen.Touch{Key: k, Kind: kind})
	return next.(Model), action
}

func big(m Model) (Model, screen.Action) { return touch(m, screen.BigKey, press.One) }

// began is the session that an action begins; nil for none.
func began(a screen.Action) *screen.SessionStart {
	list, ok := a.(screen.Several)
	if !ok {
		list = screen.Several{a}
	}
	for _, a := range list {
		if b, ok := a.(screen.Begin); ok {
			return &b.Start
		}
	}
	return nil
}

func drawn(m Model, w, h int) string { return ansi.Strip(m.View(w, h)) }

func shows(t testing.TB, m Model, text string) {
	t.Helper()
	if flat := strings.Join(strings.Fields(drawn(m, 100, 300)), " "); !strings.Contains(flat, text) {
		t.Errorf("%q is not shown:\n%s", text, drawn(m, 100, 300))
	}
}

// atLoading is the dark screen of a tray session before it begins.
func atLoading(t testing.TB, l *laptop) Model {
	t.Helper()
	m, _ := press1(New(l, env, tray(t)), "c")
	if m, _ = big(m); m.Light() != light.Dark {
		t.Fatalf("light %v; expected dark", m.Light())
	}
	return m
}

// The big key answers no question, however often it is pressed.
func TestTheBigKeyAnswersNothing(t *testing.T) {
	black := env
	black.BlackUnconfirmed, black.Around, black.OverSSH = true, light.Tmux, true
	m := New(&laptop{sound: silent}, black, tooShort(t))
	for _, next := range []struct {
		ask ask
		key string
	}{{askDanger, "y"}, {askPanel, "o"}, {askBlack, "y"}, {askAround, "y"}, {askFar, "y"}, {askSound, "y"}} {
		for range 3 {
			var action screen.Action
			m, action = big(m)
			if open, _ := m.questions().open(); open != next.ask || m.Light() == light.Dark || began(action) != nil {
				t.Fatalf("the big key went past question %d: now %d, light %v", next.ask, open, m.Light())
			}
			if spent, ok := action.(screen.Several); !ok || spent[1] != (screen.TouchSpent{}) {
				t.Errorf("question %d: the touch is not spent: %#v", next.ask, action)
			}
		}
		if at := m.lines()[m.at]; at.kind != questionLine || at.ask != next.ask {
			t.Errorf("the cursor is not on question %d", next.ask)
		}
		m, _ = press1(m, next.key)
	}
	if m, _ = big(m); m.Light() != light.Dark {
		t.Error("all is answered, and the big key does not darken")
	}
}

// A question is answered by its own keys, none by those of another.
func TestAnswersAreRecorded(t *testing.T) {
	for key, want := range map[string]string{"c": "panel covered", "o": "panel checked dark", "l": "laptop outside the room"} {
		m, _ := press1(New(&laptop{sound: silent}, env, tray(t)), "y", "enter", key, "c", "o", "l")
		if open, _ := m.questions().open(); open != askSound {
			t.Fatalf("%s: open is %d; expected the sound, which c, o and l do not answer", key, open)
		}
		m, _ = press1(m, "y", "c", "o", "l")
		for range 2 { // the room is noted once, however often it was dark
			m, _ = big(m)
			m, _ = touch(m, screen.EscapeKey, press.Two)
		}
		m, _ = big(m)
		_, action := touch(m, screen.BigKey, press.Two)
		if s := began(action); s == nil || !slices.Equal(s.Notes, []string{want, "no sound, accepted", roomSeen}) || s.Countdown != env.Countdown {
			t.Errorf("%s: begun %+v", key, s)
		}
	}
}

// The danger that was accepted stands in the notes; one that comes with a reading is asked anew.
func TestDangers(t *testing.T) {
	m, _ := press1(New(&laptop{sound: loud}, env, tooShort(t)), "y", "c")
	m, _ = big(m)
	_, action := touch(m, screen.BigKey, press.Two)
	if s := began(action); s == nil || !strings.HasPrefix(s.Notes[0], "danger accepted; Wet time") {
		t.Errorf("begun %+v; expected the accepted danger among its notes", s)
	}
	m, _ = press1(New(&laptop{sound: loud}, env, tooShort(t)), "y")
	m, _ = press1(m.goTo(measureSection), "1", "8")
	if open, ok := m.questions().open(); !ok || open != askDanger {
		t.Errorf("developing takes longer, the danger is another, and it is not asked again: open %d %v", open, ok)
	}
	practice := env
	practice.Rehearsal = screen.Rehearsal{Speed: 60, SkipQuiet: true, Dark: true}
	m = New(&laptop{sound: loud}, practice, tooShort(t))
	if open, _ := m.questions().open(); open != askPanel {
		t.Error("a rehearsal is asked about a danger")
	}
	m, _ = press1(m, "c")
	m, _ = big(m)
	_, action = touch(m, screen.BigKey, press.Two)
	if s := began(action); s == nil || s.RehearsalSpeed != 60 || !s.SkipQuiet || !s.Dark {
		t.Errorf("rehearsed %+v", s)
	}
}

// A dark rehearsal is black from the start and begins by two presses as with film; a question is
// answered meanwhile, and escape twice brings the light.
func TestADarkRehearsalWaitsForTwoPresses(t *testing.T) {
	how := screen.Rehearsal{Speed: 30, Dark: true}
	l := &laptop{sound: loud}
	m := DarkRehearsal(l, env, shipped(t, "plover-tray", sequence.RawConditions{}), how)
	if m.Light() != light.Dark || m.Unsaved() {
		t.Fatalf("light %v", m.Light())
	}
	m, action := touch(m, screen.BigKey, press.One)
	if action != nil || !slices.Equal(l.said, []screen.Utterance{screen.SaysLoading}) {
		t.Errorf("one press: %+v, said %v", action, l.said)
	}
	if _, action := touch(m, screen.BigKey, press.Two); began(action) == nil || began(action).RehearsalSpeed != 30 || !began(action).Dark {
		t.Errorf("two presses: %+v", action)
	}
	_, action = touch(m, screen.EscapeKey, press.Two)
	if want := (screen.Several{screen.Back{}, screen.Message{Text: "Nothing has begun.", Fault: true}}); !reflect.DeepEqual(action, want) {
		t.Errorf("escape twice: %+v", action)
	}
}

// A rehearsal that is not as with film is none here: what is prepared is a session.
func TestPreparedIsWithFilm(t *testing.T) {
	lit := env
	lit.Rehearsal = screen.Rehearsal{Speed: 60}
	_, action := big(New(&laptop{sound: loud}, lit, noDark(t)))
	if s := began(action); s == nil || s.RehearsalSpeed != 0 || s.Dark {
		t.Errorf("begun %+v", s)
	}
}

// In the dark one touch of the big or the menu's key speaks, two of the big one begin, escape
// twice brings the light back, and no other key is anything.
func TestInTheDark(t *testing.T) {
	l := &laptop{sound: loud}
	m := atLoading(t, l)
	for _, one := range []screen.Touch{{Key: screen.BigKey, Kind: press.One}, {Key: screen.MenuKey, Kind: press.One}, {Key: screen.MenuKey, Kind: press.Two}} {
		l.said = nil
		next, action, cmd := m.Touch(one)
		if m = next.(Model); action != nil || cmd != nil || !slices.Equal(l.said, []screen.Utterance{screen.SaysLoading}) || m.Light() != light.Dark {
			t.Errorf("%+v: action %v, said %v", one, action, l.said)
		}
	}
	l.said = nil
	if m, _ = touch(m, screen.EscapeKey, press.One); m.Light() != light.Dark || len(l.said) != 0 {
		t.Error("one escape lights or speaks")
	}
	for _, k := range []string{"esc", "enter", "q", "c", "y", "1"} {
		next, action := press1(m, k)
		if action != nil || next.Light() != light.Dark {
			t.Errorf("%s: action %v, light %v", k, action, next.Light())
		}
	}
	back, action := touch(m, screen.EscapeKey, press.Two)
	if say, ok := action.(screen.Message); !ok || !strings.Contains(say.Text, "Nothing has begun") || back.Light() != light.Red {
		t.Errorf("escape twice: %v, light %v; expected red, since the panel was asked about", action, back.Light())
	}
	if _, action := touch(m, screen.BigKey, press.Two); began(action) == nil {
		t.Error("two touches do not begin")
	}
}

// While it is being begun nothing counts; a failure leaves the screen dark, since the film is
// open; two touches try again, and escape twice shows what was wrong.
func TestAFailureStaysDark(t *testing.T) {
	l := &laptop{sound: loud}
	m, _ := touch(atLoading(t, l), screen.BigKey, press.Two)
	for _, k := range []screen.Key{screen.BigKey, screen.MenuKey, screen.EscapeKey} {
		next, action := touch(m, k, press.Two)
		if action != nil || next.Light() != light.Dark || len(l.said) != 0 {
			t.Fatalf("key %d while beginning: %v, light %v, said %v", k, action, next.Light(), l.said)
		}
	}
	next, _, _ := m.Update(screen.BeginFailedMsg{Err: errors.New("no room left on the disk")})
	if m = next.(Model); m.Light() != light.Dark {
		t.Fatal("a failure lights the screen")
	}
	if _, action := touch(m, screen.BigKey, press.Two); began(action) == nil {
		t.Error("two touches do not try again")
	}
	lit, action := touch(m, screen.EscapeKey, press.Two)
	if say, ok := action.(screen.Message); !ok || !say.Fault || !strings.Contains(say.Text, "No room left") || lit.Light() != light.Red {
		t.Errorf("escape twice: %#v, light %v", action, lit.Light())
	}
}

// Where nothing is dark nothing is asked, and one touch begins in white light.
func TestNothingDarkAsksNothing(t *testing.T) {
	black := env
	black.BlackUnconfirmed, black.Around, black.OverSSH = true, light.Tmux, true
	m := New(&laptop{sound: silent}, black, noDark(t))
	if _, open := m.questions().open(); open || m.Light() != light.White {
		t.Errorf("asked %v, light %v", m.questions().asks(), m.Light())
	}
	m, action := big(m)
	if s := began(action); s == nil || len(s.Notes) != 0 || s.Countdown != env.Countdown || m.Light() == light.Dark {
		t.Errorf("begun %+v, light %v", s, m.Light())
	}
	if _, action := big(m); action != nil {
		t.Error("a second session is begun")
	}
}

// A dark step later asks as well, but the session begins in the light.
func TestDarkLaterAsksToo(t *testing.T) {
	presoak := recipetest.Lit(recipetest.Bath(sequence.Presoak, recipetest.Minute), sequence.Safelight)
	r := recipetest.Recipe(sequence.Hangers, 2, presoak, recipetest.Bath(sequence.Develop, 8*recipetest.Minute), recipetest.Bath(sequence.Fix, 5*recipetest.Minute))
	r.Film.Sensitivity = sequence.Ortho
	m := New(&laptop{sound: loud}, env, planOf(t, r, sequence.RawConditions{}))
	if open, ok := m.questions().open(); !ok || open != askPanel {
		t.Fatal("the panel is not asked about")
	}
	m, _ = press1(m, "c")
	m, _ = big(m) // to the room, as dim as can be read
	if m.Light() != light.Safelight {
		t.Errorf("light %v; expected safelight for loading", m.Light())
	}
	m, action := big(m)
	if s := began(action); s == nil || m.Light() == light.Dark || !slices.Contains(s.Notes, roomSeen) {
		t.Errorf("begun %+v, light %v", s, m.Light())
	}
}

// White at the desk; red from the question about the panel on; where film is loaded by
// safelight, as dim as can be read.
func TestLights(t *testing.T) {
	m := New(&laptop{sound: loud}, env, tray(t))
	for m.section() < laptopSection {
		if m.Light() != light.White {
			t.Fatalf("light %v in part %d", m.Light(), m.section())
		}
		m, _ = press1(m, "enter")
	}
	if m.Light() != light.Red {
		t.Errorf("light %v at the question about the panel", m.Light())
	}
	if m, _ = press1(m, "c", "home"); m.Light() != light.Red {
		t.Errorf("light %v after the panel was covered", m.Light())
	}
	m = New(&laptop{sound: loud}, env, byRedLight(t))
	if m.Light() != light.White {
		t.Errorf("light %v at the desk", m.Light())
	}
	m, action := big(m)
	if m.Light() != light.Safelight || began(action) != nil {
		t.Errorf("light %v, begun %v; expected safelight for loading first", m.Light(), began(action))
	}
	if m, action = big(m); began(action) == nil || m.Light() != light.Safelight {
		t.Errorf("light %v while it begins", m.Light())
	}
}

// Film that is loaded by safelight sees no other light from any key, however the part was come to,
// until it was said to cover it.
func TestFilmThatIsLoadedBySafelightSeesNoOther(t *testing.T) {
	touched, _ := big(New(&laptop{sound: loud}, env, byRedLight(t)))
	walked := New(&laptop{sound: loud}, env, byRedLight(t))
	for walked.section() != roomSection {
		walked, _ = press1(walked, "enter")
	}
	for name, m := range map[string]Model{"by the big key": touched, "by enter": walked} {
		for _, k := range []string{"up", "home", "c", "1", "2", "esc"} {
			if m, _ = press1(m, k); m.Light() != light.Safelight {
				t.Errorf("%s, then %s: light %v", name, k, m.Light())
			}
		}
		next, action := press1(m, "home", "esc")
		if say, ok := action.(screen.Message); !ok || !strings.Contains(say.Text, "cover it") {
			t.Errorf("%s: esc gives %#v", name, action)
		}
		if _, action = press1(next, "esc"); action == nil {
			t.Errorf("%s: esc once more does not leave", name)
		}
	}
}

// What the developer reads changes the plan as it is typed, is carried to the plan's screen,
// and blocks the way while it is none.
func TestReading(t *testing.T) {
	p := shipped(t, "tern-hangers", sequence.RawConditions{})
	m := New(&laptop{sound: loud}, env, p).goTo(measureSection)
	m, _ = press1(m, "2", "4")
	want := shipped(t, "tern-hangers", sequence.RawConditions{Temp: "24"})
	if m.plan.Wet.Total != want.Wet.Total || m.plan.Wet.Total == p.Wet.Total {
		t.Errorf("wet for %v; expected %v", m.plan.Wet.Total, want.Wet.Total)
	}
	if !m.About().Typing {
		t.Error("a space typed into the field would be the big key")
	}
	m, _ = press1(m, "enter")
	_, action := press1(m, "esc")
	if action != (screen.Back{Tell: screen.MeasuredMsg{Temperature: "24"}}) {
		t.Errorf("back with %#v", action)
	}
	broken, _ := press1(m.goTo(measureSection), "9", "9", "enter", "up", "l")
	if broken, _ = big(broken); broken.Light() == light.Dark || broken.section() != measureSection {
		t.Error("goes on though the reading makes no plan")
	}
	shows(t, broken, "expected 0")
	if text := drawn(broken, 100, 300); strings.Contains(text, "Wet ") {
		t.Error("figures of the last plan stand beside a fault")
	}
	gone, _ := press1(m.goTo(measureSection), "backspace", "backspace")
	if gone.plan != p {
		t.Error("an empty field is not the plan as it came")
	}
}

// Dangers come first; what to mix, in which order; bottles; what is mixed by its label.
func TestWhatStandsInTheList(t *testing.T) {
	m := New(&laptop{sound: silent}, env, tooShort(t))
	if l := m.lines()[0]; l.kind != dangerLine {
		t.Errorf("first stands %q", l.text)
	}
	// By hand: 1500 ml in 1 + 3 + 80 parts of 17.86 ml.
	for _, text := range []string{"danger Wet time", "developer A 17.9 ml + B 53.6 ml + water 1.43 L", "1 presoak", "in trays", "in hangers",
		"wetting agent 2 L, as its maker says", say.SafetyReminder, "behind a residual-current device", "Rehearse the order", "No sound: no audio output."} {
		shows(t, m, text)
	}
	p := *tray(t)
	p.Conditions.OpenBottles = []sequence.OpenBottle{{Bath: p.Recipe.Baths[0].ID, Bottle: "dev-3", Age: 50 * time.Hour}}
	shows(t, New(&laptop{sound: loud}, env, &p), "from dev-3, mixed 2 days ago")
	shows(t, New(&laptop{sound: loud}, env, noDark(t)), "space begins")
}

func TestPictures(t *testing.T) {
	asking := New(&laptop{sound: silent}, env, tray(t)).goTo(laptopSection)
	ready, _ := press1(New(&laptop{sound: loud}, env, shipped(t, "tern-hangers", sequence.RawConditions{})), "c")
	for name, p := range map[string]struct {
		m    Model
		w, h int
	}{
		"danger":   {New(&laptop{sound: loud}, env, tooShort(t)), 76, 18},
		"mix":      {New(&laptop{sound: loud}, env, tray(t)), 76, 18},
		"set-out":  {New(&laptop{sound: loud}, env, tray(t)).goTo(setOutSection), 76, 18},
		"question": {asking, 76, 18},
		"ready":    {ready.goTo(roomSection), 76, 18},
		"narrow":   {asking, 36, 8},
		"wide":     {asking, 116, 34},
	} {
		drive.Picture(t, name, p.m, p.w, p.h)
	}
}

// Whatever the window, no row is over its width, there are not too many, and the cursor's line
// is seen.
func TestFits(t *testing.T) {
	plans := []*sequence.Plan{tray(t), tooShort(t), noDark(t), byRedLight(t)}
	rapid.Check(t, func(r *rapid.T) {
		m := New(&laptop{sound: silent}, env, rapid.SampledFrom(plans).Draw(r, "plan"))
		m, _ = press1(m, rapid.SliceOfN(rapid.SampledFrom([]string{"down", "down", "enter", "up", "c", "y", "2"}), 0, 30).Draw(r, "keys")...)
		w, h := rapid.IntRange(36, 196).Draw(r, "w"), rapid.IntRange(8, 56).Draw(r, "h")
		rows := strings.Split(drawn(m, w, h), "\n")
		if len(rows) > h {
			r.Fatalf("%d rows of %d", len(rows), h)
		}
		seen := false
		for _, row := range rows {
			if ansi.StringWidth(row) > w {
				r.Fatalf("%d columns of %d: %q", ansi.StringWidth(row), w, row)
			}
			seen = seen || strings.Contains(row, "▌")
		}
		if !seen {
			r.Fatalf("the cursor is not seen:\n%s", strings.Join(rows, "\n"))
		}
	})
}

// A page back passes over nothing: the page that comes reaches to the one that was there. The cursor's
// line is always seen, and the list's beginning is come to.
func TestAPageBack(t *testing.T) {
	start := New(&laptop{sound: silent}, env, shipped(t, "plover-tray", sequence.RawConditions{}))
	for _, w := range []int{36, 76, 116} {
		for h := 8; h <= 40; h += 8 {
			m := start.Sized(w, h).(Model)
			m, _ = m.key(tea.KeyMsg{Type: tea.KeyEnd})
			for m.at > 0 {
				before := m
				m, _ = m.key(tea.KeyMsg{Type: tea.KeyPgUp})
				view := ansi.Strip(m.View(w, h))
				if m.at >= before.at || !strings.Contains(view, "▌") {
					t.Fatalf("%dx%d: from line %d to %d:\n%s", w, h, before.at, m.at, view)
				}
				if w >= twoFrom {
					continue
				}
				pane := m.page().pane(w, h, knowSection, roomSection)
				was, is, rows := before.page().pane(w, h, knowSection, roomSection).First, pane.First, strings.Split(pane.Text, "\n")
				if between := strings.Join(rows[min(is+h, was):was], ""); between != "" {
					t.Fatalf("%dx%d: rows %d to %d, and then from %d on: %q is passed over", w, h, is, is+h-1, was, between)
				}
				if is > 0 && before.at-m.at < 2 && was-is < h/2 {
					t.Fatalf("%dx%d: a page back goes from row %d to %d alone", w, h, was, is)
				}
			}
		}
	}
}

// What was accepted before film is opened is read whole, also in the narrower half of a wide window.
func TestAnAnswerIsNeverCut(t *testing.T) {
	q := questions{plan: tray(t), around: "tmux", hides: true}
	q.answers[askAround] = say.AroundNote(q.around, q.hides)
	for _, w := range []int{40, 56, 76} {
		rows := strings.Join(q.rows(question(askAround, "window frame"), w), "\n")
		if flat := strings.Join(strings.Fields(ansi.Strip(rows)), " "); !strings.Contains(flat, q.answers[askAround]) {
			t.Errorf("%d columns: %s", w, flat)
		}
	}
}

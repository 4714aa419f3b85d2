package supervisor

// What the supervisor hears, and which keys bring the light back.

import (
	"errors"
	"maps"
	"slices"
	"testing"
	"time"

	"example.org/wetside/recipes/settings"
	"example.org/wetside/tui/light"
)

func TestWhatNeedsTheDark(t *testing.T) {
	for _, c := range []struct {
		lines []string
		dark  bool
	}{
		{nil, false},
		{[]string{"light safelight"}, false},
		{[]string{"light dark"}, true},
		{[]string{"light dark", "light white"}, false},
		{[]string{"light safelight", "session a"}, true},
		{[]string{"light safelight", "rehearsal a"}, false},
		{[]string{"light safelight", "rehearsal a", "session b"}, true},
		{[]string{"rehearsal a", "light dark"}, true},
		{[]string{"session a", "light white"}, false},
		{[]string{"session a", "light safelight", "session "}, false},
		{[]string{"session a", "light red"}, true},
		{[]string{"session a", "light white"}, false},
		{[]string{"rehearsal a", "light red"}, false},
		{[]string{"session a", "light dark", "session "}, true},
		{[]string{"session a", "light safelight", "elsewhere"}, true},
		{[]string{"rehearsal a", "light safelight", "elsewhere"}, false},
		{[]string{"session a", "light safelight", "elsewhere", "session b", "session "}, false},
		{[]string{"light white", "bye", "", "nonsense", "light"}, true}, // no light that is known is the dark
		{[]string{"light dark", "bye", "", "nonsense", "says dark"}, true},
	} {
		a := ChildState{light: light.Red} // what the guard begins with
		for _, line := range c.lines {
			a = a.after(line)
		}
		if a.needsDark() != c.dark {
			t.Errorf("%q: needs the dark: %v", c.lines, !c.dark)
		}
	}
	a := ChildState{}.after("light dark\r\n").after("session 2031-05-04T2110-plover\n").after("say a  b").after("bye\n")
	if a.light != light.Dark || a.session != "2031-05-04T2110-plover" || a.messages[0] != "a  b" || !a.saidBye {
		t.Errorf("%+v", a)
	}
}

// typed is a key pressed some time after the last.
type typed struct {
	keys  string
	after time.Duration
}

func TestKeysThatBringTheLight(t *testing.T) {
	const ms = time.Millisecond
	held := []typed{{" ", time.Second}}
	for range 200 {
		held = append(held, typed{" ", 30 * ms})
	}
	for name, c := range map[string]struct {
		keys []typed
		at   int      // the key that does it; -1 for none
		big  []string // nil for the usual ones
	}{
		"a presenter":                {[]typed{{"\x1b[6~", time.Second}, {"\x1b[6~", 700 * ms}}, 1, nil},
		"two keys of the big ones":   {[]typed{{" ", time.Second}, {"\x1b[6~", 700 * ms}}, 1, nil},
		"a switch of one's own":      {[]typed{{" ", time.Second}, {" ", 700 * ms}, {"\x1bOP", time.Second}, {"\x1b[11~", 700 * ms}}, 3, []string{"f1"}},
		"a switch that types enter":  {[]typed{{"\r", time.Second}, {"\r", 3 * time.Second}, {"\r", 700 * ms}}, 2, []string{"enter"}},
		"enter":                      {[]typed{{"\r", time.Second}}, 0, nil},
		"enter as a line":            {[]typed{{"\n", time.Second}}, 0, nil},
		"typed ahead":                {[]typed{{"\r", 100 * ms}, {"\r", 100 * ms}}, -1, nil},
		"one touch":                  {[]typed{{" ", time.Second}}, -1, nil},
		"two touches":                {[]typed{{" ", time.Second}, {" ", 400 * ms}}, 1, nil},
		"a bounce":                   {[]typed{{" ", time.Second}, {" ", 399 * ms}}, -1, nil},
		"a bounce, then a touch":     {[]typed{{" ", time.Second}, {" ", 100 * ms}, {" ", 700 * ms}}, 2, nil},
		"held":                       {held, -1, nil},
		"too slow":                   {[]typed{{" ", time.Second}, {" ", 2001 * ms}}, -1, nil},
		"slow, then right":           {[]typed{{" ", time.Second}, {" ", 3 * time.Second}, {" ", 2 * time.Second}}, 2, nil},
		"pasted":                     {[]typed{{"\x1b[200~\r\r\x1b[201~", time.Second}, {"  ", time.Second}}, -1, nil},
		"lines without a paste mark": {[]typed{{"\r\n", time.Second}, {"  ", time.Second}, {"  ", time.Second}}, -1, nil},
		"other keys":                 {[]typed{{"q", time.Second}, {"\x1b", time.Second}, {"\x1b[6~", time.Second}, {"\x03", time.Second}}, -1, nil},
	} {
		clock, next := time.Unix(0, 0), 0
		if c.big == nil {
			c.big = settings.Default().BigKeys
		}
		waitForLightKey(func(buf []byte) (int, error) {
			next++
			if next > len(c.keys) {
				next = 0 // all were tried
				return 0, errors.New("gone")
			}
			clock = clock.Add(c.keys[next-1].after)
			return copy(buf, c.keys[next-1].keys), nil
		}, func() time.Time { return clock }, c.big)
		if next-1 != c.at {
			t.Errorf("%s: key %d of %d brought the light; want %d", name, next-1, len(c.keys), c.at)
		}
	}
}

// Every key that the settings may call the big one has bytes by which the supervisor knows it.
func TestTheSupervisorKnowsEveryKey(t *testing.T) {
	for _, name := range []string{"enter", "tab", "backspace", "delete", "insert", "home", "end", "pgup", "pgdown", "up", "down", "left", "right",
		"f1", "f4", "f5", "f6", "f10", "f11", "f12", "f13", "f16", "f17", "f20"} {
		known := slices.Contains(slices.Collect(maps.Values(keySequences)), name)
		if !known {
			t.Errorf("%s is not known", name)
		}
	}
	for bytes, want := range map[string]string{"b": "b", ".": ".", " ": " ", "é": "é", "\x02": "ctrl+b", "\t": "tab", "\x1b[24~": "f12", "\x1b[15~": "f5",
		"": "", "bb": "", "\x1b": "", "\x1b[200~": "", "\xff": ""} {
		if got := decodeKey([]byte(bytes)); got != want {
			t.Errorf("%q is taken for %q; want %q", bytes, got, want)
		}
	}
}

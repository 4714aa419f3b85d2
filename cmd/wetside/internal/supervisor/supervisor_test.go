package supervisor

// What the supervisor hears, and which keys bring the light back.

import (
	"errors"
	"strings"
	"testing"
	"time"

	"example.org/wetside/recipes/settings"
	"example.org/wetside/tui/keyboard"
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
		"enter":                      {[]typed{{"\r", time.Second}}, -1, nil},
		"enter twice":                {[]typed{{"\r", time.Second}, {"\r", 3 * time.Second}, {"\r", 700 * ms}}, 2, nil},
		"enter twice as lines":       {[]typed{{"\n", time.Second}, {"\n", time.Second}}, 1, nil},
		"enter held":                 {[]typed{{"\r", time.Second}, {"\r", 500 * ms}, {"\r", 30 * ms}, {"\r", 30 * ms}}, -1, nil},
		"no silence behind":          {[]typed{{" ", time.Second}, {" ", 700 * ms}, {"x", 200 * ms}}, -1, nil},
		"an answer behind":           {[]typed{{" ", time.Second}, {" ", 700 * ms}, {"\x1b[?62;22c", 200 * ms}}, 1, nil},
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
		if c.big == nil {
			c.big = settings.Default().BigKeys
		}
		if at := lightsAt(c.keys, c.big); at != c.at {
			t.Errorf("%s: key %d of %d brought the light; want %d", name, at, len(c.keys), c.at)
		}
	}
}

// lightsAt is the key that brings the light; -1 for none. It is quiet after each, if the next
// is as late as that.
func lightsAt(keys []typed, big []string) (at int) {
	clock, next := time.Unix(0, 0), 0
	var p keyboard.Parser
	var due []keyboard.Event
	quiet := false
	err := waitForLightKey(func() (keyboard.Event, error) {
		for len(due) == 0 {
			switch {
			case quiet && (next == len(keys) || keys[next].after >= keyboard.Silence):
				quiet, due = false, append(p.GiveUp(), keyboard.Event{What: keyboard.Quiet})
				continue
			case next == len(keys):
				return keyboard.Event{}, errors.New("gone")
			}
			clock = clock.Add(keys[next].after)
			due = p.Feed([]byte(keys[next].keys))
			quiet = quiet || len(due) > 0 || p.Wait() > 0
			next++
		}
		e := due[0]
		due = due[1:]
		return e, nil
	}, func() time.Time { return clock }, big)
	for at = next - 1; at > 0 && !strings.ContainsAny(keys[at].keys, " \r\n~P"); at-- {
	}
	if err != nil {
		return -1
	}
	return at
}

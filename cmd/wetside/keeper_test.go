package main

// What the keeper hears, and which keys bring the light back.

import (
	"errors"
	"testing"
	"time"

	"example.org/wetside/sequence"
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
		{[]string{"session a", "light dark", "session "}, true},
		{[]string{"session a", "light safelight", "elsewhere"}, true},
		{[]string{"rehearsal a", "light safelight", "elsewhere"}, false},
		{[]string{"session a", "light safelight", "elsewhere", "session b", "session "}, false},
		{[]string{"light dark", "bye", "", "nonsense", "light"}, false},
		{[]string{"light dark", "bye", "", "nonsense", "says dark"}, true},
	} {
		var a account
		for _, line := range c.lines {
			a = a.heard(line)
		}
		if a.needsDark() != c.dark {
			t.Errorf("%q: needs the dark: %v", c.lines, !c.dark)
		}
	}
	a := account{}.heard("light dark\r\n").heard("session 2031-05-04T2110-plover\n").heard("say a  b").heard("bye\n")
	if a.light != sequence.Dark || a.session != "2031-05-04T2110-plover" || a.says[0] != "a  b" || !a.bye {
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
		at   int // the key that does it; -1 for none
	}{
		"enter":                      {[]typed{{"\r", time.Second}}, 0},
		"enter as a line":            {[]typed{{"\n", time.Second}}, 0},
		"typed ahead":                {[]typed{{"\r", 100 * ms}, {"\r", 100 * ms}}, -1},
		"one touch":                  {[]typed{{" ", time.Second}}, -1},
		"two touches":                {[]typed{{" ", time.Second}, {" ", 400 * ms}}, 1},
		"a bounce":                   {[]typed{{" ", time.Second}, {" ", 399 * ms}}, -1},
		"a bounce, then a touch":     {[]typed{{" ", time.Second}, {" ", 100 * ms}, {" ", 700 * ms}}, 2},
		"held":                       {held, -1},
		"too slow":                   {[]typed{{" ", time.Second}, {" ", 2001 * ms}}, -1},
		"slow, then right":           {[]typed{{" ", time.Second}, {" ", 3 * time.Second}, {" ", 2 * time.Second}}, 2},
		"pasted":                     {[]typed{{"\x1b[200~\r\r\x1b[201~", time.Second}, {"  ", time.Second}}, -1},
		"lines without a paste mark": {[]typed{{"\r\n", time.Second}, {"  ", time.Second}, {"  ", time.Second}}, -1},
		"other keys":                 {[]typed{{"q", time.Second}, {"\x1b", time.Second}, {"\x1b[6~", time.Second}, {"\x03", time.Second}}, -1},
	} {
		clock, next := time.Unix(0, 0), 0
		awaitKey(func(buf []byte) (int, error) {
			next++
			if next > len(c.keys) {
				next = 0 // all were tried
				return 0, errors.New("gone")
			}
			clock = clock.Add(c.keys[next-1].after)
			return copy(buf, c.keys[next-1].keys), nil
		}, func() time.Time { return clock })
		if next-1 != c.at {
			t.Errorf("%s: key %d of %d brought the light; want %d", name, next-1, len(c.keys), c.at)
		}
	}
}

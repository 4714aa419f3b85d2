package settings

// Settings: what holds without a file, what each key does, and every fault at its
// place.

import (
	"errors"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"example.org/wetside/recipes"
	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
)

// taken are keys as the screens take them.
var taken = []string{"h", "u", "esc", "ctrl+c"}

// read reads text as a file.
func read(t *testing.T, text string) (Settings, error) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "config.toml")
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return Read(path, taken)
}

func TestWithoutAFile(t *testing.T) {
	s, err := Read(filepath.Join(t.TempDir(), "none", "config.toml"), taken)
	if err != nil || !reflect.DeepEqual(s, Default()) {
		t.Errorf("%+v, %v; expected what is usual", s, err)
	}
}

// The commented file says what holds without it, and names every setting.
func TestCommentedSaysWhatHolds(t *testing.T) {
	s, err := read(t, string(Example))
	want := Default()
	want.FileFound = true
	if err != nil || !reflect.DeepEqual(s, want) {
		t.Errorf("%+v, %v; expected what is usual", s, err)
	}
	for _, h := range headings {
		for _, key := range h.Keys {
			if !strings.Contains(string(Example), "\n"+key+" ") && !strings.Contains(string(Example), "\n# "+key+" ") {
				t.Errorf("%s %s is not in the commented file", h.Name, key)
			}
		}
	}
	// the example that is commented out is right too
	text := strings.Replace(string(Example), "# wet_limit", "wet_limit", 1)
	if s, err = read(t, text); err != nil || s.WetLimit.ByVessel[sequence.Tray] != 18*time.Minute {
		t.Errorf("wet limit %+v, %v", s.WetLimit, err)
	}
}

func TestEverySetting(t *testing.T) {
	got, err := read(t, `
temperature = "F"
volume = "floz"
clock = "12h"
palette = "red"
glyphs = "plain"
voice = "full"
sound = { out = "exec", volume = 40 }
[keys]
big = ["b", "f5"]
menu = [".", "space"]
[limits]
countdown = "0s"
rehearse = 12.5
wet_limit = "25m"
[thermometers]
hand = 0.5
sensor = "B"
hand_shift = -0.3
`)
	want := Settings{Habits: sequence.Units{Fahrenheit: true, FluidOunces: true, TwelveHours: true}, RedDesk: true, Glyphs: "plain", Voice: "full",
		Sound: "exec", Volume: 40, BigKeys: []string{"b", "f5"}, MenuKeys: []string{".", " "}, RehearsalSpeed: 12.5,
		WetLimit: sequence.WetLimit{All: 25 * time.Minute}, FileFound: true,
		Thermometers: sequence.Thermometers{Hand: sequence.Thermometer{Within: 0.5, Shift: -0.3}, Sensor: sequence.Thermometer{Within: 0.4}}} // IEC 60751: 0.30 + 0.005 x 20 °C
	if err != nil || !reflect.DeepEqual(got, want) {
		t.Errorf("got  %+v, %v\nwant %+v", got, err, want)
	}
}

// Every fault is told, at its line and column, and then the usual settings hold.
func TestFaults(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{`temprature = "F"`, `1:1: temprature: unknown key; expected one of temperature, volume, clock, palette, glyphs, voice, sound, keys, limits, thermometers (did you mean "temperature"?)`},
		{`temperature = "K"`, `1:1: temperature: unknown word "K"; expected one of C, F`},
		{"\n  volume = 3", `2:3: volume: the number 3; expected one of ml, floz`},
		{`countdown = "10s"`, `1:1: countdown: unknown key; expected one of temperature, volume, clock, palette, glyphs, voice, sound, keys, limits, thermometers ("countdown" stands under [limits])`},
		{"[limits]\nlead = \"10s\"", `2:1: limits.lead: unknown key; expected one of countdown, rehearse, wet_limit ("lead" is now "countdown")`},
		{"[sound]\nvolume = 101", `2:1: sound.volume: the number 101; expected a whole number from 1 to 100`},
		{"[sound]\nout = \"paulse\"", `2:1: sound.out: unknown word "paulse"; expected one of auto, pulse, exec, device, off (did you mean "pulse"?)`},
		{"[thermometers]\nhand = \"D\"", `2:1: thermometers.hand: unknown class "D"; expected one of AA, A, B, C, or degrees Celsius such as 0.5`},
		{"[thermometers]\nsensor = 9", `2:1: thermometers.sensor: the number 9; expected 0 to 5`},
		{"sound = 3", `1:1: sound: the number 3; expected a table`},
		{"[keys]\nbig = [\"u\"]", `2:1: keys.big: "u" has another meaning on the screens; expected a key that is free`},
		{"[keys]\nbig = [\"b\", \"b\"]", `2:1: keys.big: "b" stands in big already; expected each key once`},
		{"[keys]\nmenu = [\"pgdown\"]", `2:1: keys.menu: "pgdown" stands in big already; expected each key once`},
		{"[keys]\nbig = [\"f21\"]", `2:1: keys.big: "f21" is no key; expected a character, or one of space, enter, tab, backspace, delete, insert, home, end, pgup, pgdown, up, down, left, right, f1 to f20, ctrl+a to ctrl+z`},
		{"[keys]\nbig = []", `2:1: keys.big: an empty list; expected names of keys, such as ["space", "pgdown"]`},
		{"[limits]\ncountdown = \"soon\"", `2:1: limits.countdown: "soon" is not a time; expected 0 s to 24 h, such as "8s"`},
		{"[limits]\nrehearse = 0", `2:1: limits.rehearse: the number 0; expected 0.1 to 10000`},
		{"[limits]\nwet_limit = { bucket = \"3m\" }", `2:15: limits.wet_limit.bucket: unknown key; expected one of tray, single, cradle, hangers, daylight-tank, drum, tube`},
		{"voice = \"on\"\nclock = 24", `1:1: voice: unknown word "on"; expected one of off, sparse, full` + "\nFILE:" + `2:1: clock: the number 24; expected one of 24h, 12h`},
		{"voice = \"off", `1:12: `},
	} {
		s, err := read(t, c.text)
		var faults recipes.Faults
		if !errors.As(err, &faults) {
			t.Errorf("%s: %v; expected faults", c.text, err)
			continue
		}
		got := strings.ReplaceAll(faults.Error(), faults[0].File+":", "FILE:")
		if !strings.HasPrefix(got, "FILE:"+c.want) {
			t.Errorf("%s:\n got %s\nwant FILE:%s", c.text, got, c.want)
		}
		if !reflect.DeepEqual(s, Default()) {
			t.Errorf("%s: the settings are not the usual ones", c.text)
		}
	}
}

// A file that is too large is refused before it is decoded; a folder is no file.
func TestNoSettings(t *testing.T) {
	if _, err := read(t, "# "+strings.Repeat("x", 64<<10)); err == nil || !strings.Contains(err.Error(), "at most 65536") {
		t.Errorf("64 KiB and more: %v", err)
	}
	if _, err := Read(t.TempDir(), taken); err == nil {
		t.Error("a folder was read")
	}
}

func TestKeyNames(t *testing.T) {
	for _, name := range []string{"space", "a", "B", ".", "é", "f1", "f20", "pgdown", "ctrl+a", "enter"} {
		if !validKey(name) {
			t.Errorf("%q is refused", name)
		}
	}
	for _, name := range []string{"", " ", "f0", "f21", "f01", "fn", "ab", "ctrl+", "ctrl+1", "ctrl+ab", "\x1b", "play", "esc up"} {
		if validKey(name) {
			t.Errorf("%q passes", name)
		}
	}
}

// Whatever a file holds, nothing panics, every fault can be shown, and what is set is
// within its limits.
func FuzzRead(f *testing.F) {
	f.Add(Example)
	for _, text := range []string{"volume = 1", "[sound]\nvolume = 101\nout = 'pulse'", "[keys]\nbig = ['space', 'b']\nmenu = ['b']",
		"[limits]\nlead = '20s'\nrehearse = 1e9\nwet_limit = { tray = '20m' }", "voice = \"\x1b[2J\"", "\"\\"} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		s := Default()
		doc, err := recipes.ParseDocument("config.toml", data, headings)
		if err == nil {
			s.readAll(doc, taken)
			err = doc.Err()
		}
		if err != nil {
			for line := range strings.SplitSeq(err.Error(), "\n") {
				if safetext.Clean(line) != line {
					t.Errorf("%q cannot be shown", line)
				}
			}
			return
		}
		if s.Volume < 1 || s.Volume > 100 || !sequence.IsRehearsalSpeed(s.RehearsalSpeed) || s.Countdown < 0 || s.WetLimit.All < 0 ||
			!slices.Contains(SoundOutputs, s.Sound) || !slices.Contains(VoiceLevels, s.Voice) || len(s.BigKeys) == 0 || len(s.MenuKeys) == 0 {
			t.Errorf("%q: %+v", data, s)
		}
	})
}

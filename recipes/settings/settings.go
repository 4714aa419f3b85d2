// Package settings reads the person's own settings: config.toml.
//
// Read is the way in; a file that is not there gives the settings that hold where
// nothing is said. It is read with a recipe's guards, and every fault is told with
// its line and column. Commented is a file with each setting explained, to start
// from. This package never writes a file.
package settings

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
)

// Settings are what holds where the command line says nothing else.
type Settings struct {
	Habits  sequence.Habits   // units and the time of day
	White   bool              // the screen turns white by itself where the room has white light
	Voice   string            // off, sparse or full
	Sound   string            // the way out: auto, pulse, exec, device or off
	Volume  int               // of the sound, in per cent
	Big     []string          // the big key: keys as the screens' library names them
	Menu    []string          // the second key in the dark
	Lead    time.Duration     // from beginning to the first dip
	Speed   float64           // of a rehearsal: times as fast
	Wet     sequence.WetLimit // for films whose recipe states none
	Present bool              // the file is there
}

// Usual are the settings where nothing is said.
func Usual() Settings {
	return Settings{Voice: "sparse", Sound: "auto", Volume: 100, Big: []string{" ", "pgdown"}, Menu: []string{"m"},
		Lead: 10 * time.Second, Speed: 30}
}

// Path is where the file lies; "" where there is no home.
func Path() string {
	base := os.Getenv("XDG_CONFIG_HOME")
	if !filepath.IsAbs(base) {
		home, err := os.UserHomeDir()
		if err != nil {
			return ""
		}
		base = filepath.Join(home, ".config")
	}
	return filepath.Join(base, "wetside", "config.toml")
}

var headings = []recipes.Heading{
	{Name: "", Keys: []string{"temperature", "volume", "clock", "palette", "voice"}},
	{Name: "sound", Keys: []string{"out", "volume"}},
	{Name: "keys", Keys: []string{"big", "menu"}},
	{Name: "limits", Keys: []string{"lead", "rehearse", "wet_limit"}},
}

// Outs are the ways out that can be set.
var Outs = []string{"auto", "pulse", "exec", "device", "off"}

// Voices are how much is said.
var Voices = []string{"off", "sparse", "full"}

// Read reads the file at path. Taken are keys that the screens need for something
// else. The error is recipes.Faults, or that of opening the file; the settings are
// then Usual.
func Read(path string, taken []string) (Settings, error) {
	doc, err := recipes.OpenDocument(path, headings)
	if err != nil {
		return Usual(), err
	}
	s := Usual()
	if _, err := os.Stat(path); err == nil {
		s.Present = true
	}
	s.take(doc, taken)
	if err := doc.Err(); err != nil {
		return Usual(), err
	}
	return s, nil
}

// Limit is the person's own wet limit; nil where none is set.
func (s Settings) Limit() *sequence.WetLimit {
	if s.Wet.All == 0 && len(s.Wet.ByVessel) == 0 {
		return nil
	}
	return &s.Wet
}

// take reads every key.
func (s *Settings) take(doc *recipes.Document, taken []string) {
	either := func(key string, usual, other string) bool {
		word := usual
		doc.Word("", key, []string{usual, other}, &word)
		return word == other
	}
	s.Habits = sequence.Habits{Fahrenheit: either("temperature", "C", "F"),
		FluidOunces: either("volume", "ml", "floz"), TwelveHours: either("clock", "24h", "12h")}
	s.White = either("palette", "red", "white")
	doc.Word("", "voice", Voices, &s.Voice)
	doc.Word("sound", "out", Outs, &s.Sound)
	doc.Whole("sound", "volume", 1, 100, &s.Volume)
	doc.Duration("limits", "lead", &s.Lead)
	doc.Number("limits", "rehearse", slowest, fastest, &s.Speed)
	doc.WetLimit("limits", "wet_limit", &s.Wet)
	s.keys(doc, taken)
}

// The speeds of a rehearsal.
const (
	slowest = 0.1
	fastest = 10_000
)

// keys reads the two keys of the dark. No key may mean two things.
func (s *Settings) keys(doc *recipes.Document, taken []string) {
	const expected = `names of keys, such as ["space", "pgdown"]`
	used := map[string]string{}
	for _, key := range []struct {
		name string
		to   *[]string
	}{{"big", &s.Big}, {"menu", &s.Menu}} {
		names := Names(*key.to)
		doc.Texts("keys", key.name, expected, &names)
		var keys []string
		for _, name := range names {
			k := keyOf(name)
			switch {
			case !isKey(name):
				doc.Fault("keys", key.name, quoted(name)+" is no key", `a character, or one of `+strings.Join(named, ", ")+", f1 to f20, ctrl+a to ctrl+z", "")
			case slices.Contains(taken, k):
				doc.Fault("keys", key.name, quoted(name)+" has another meaning on the screens", "a key that is free", "")
			case used[k] != "":
				doc.Fault("keys", key.name, quoted(name)+" stands in "+used[k]+" already", "each key once", "")
			}
			used[k] = key.name
			keys = append(keys, k)
		}
		*key.to = keys
	}
}

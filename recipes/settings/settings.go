// Package settings reads the person's own settings: config.toml.
//
// Read is the way in; a file that is not there gives the settings that hold where
// nothing is said. It is read with a recipe's guards, and every fault is told with
// its line and column. Commented is a file with each setting explained, to start
// from. This package never writes a file.
package settings

import (
	"os"
	"slices"
	"strings"
	"time"

	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/places"
)

// Settings are what holds where the command line says nothing else.
type Settings struct {
	Habits         sequence.Units    // units and the time of day
	RedDesk        bool              // the screens are red at the desk too
	Glyphs         string            // what screens are drawn with: auto, full or plain
	Voice          string            // off, sparse or full
	Sound          string            // the way out: auto, pulse, exec, device or off
	Volume         int               // of the sound, in per cent
	BigKeys        []string          // the big key: keys as the screens' library names them
	MenuKeys       []string          // the second key in the dark
	Countdown      time.Duration     // from beginning to the first sheet in
	RehearsalSpeed float64           // of a rehearsal: times as fast
	WetLimit       sequence.WetLimit // for films whose recipe states none
	Thermometers   sequence.Thermometers
	FileFound      bool // the file is there
}

// Default are the settings where nothing is said.
func Default() Settings {
	return Settings{Glyphs: "auto", Voice: "sparse", Sound: "auto", Volume: 100, BigKeys: []string{" ", "pgdown"}, MenuKeys: []string{"m"},
		Countdown: 10 * time.Second, RehearsalSpeed: 30}
}

// Path is where the file lies; "" where there is no home.
func Path() string { return places.Config("config.toml") }

var headings = []recipes.Heading{
	{Name: "", Keys: []string{"temperature", "volume", "clock", "palette", "glyphs", "voice"}},
	{Name: "sound", Keys: []string{"out", "volume"}},
	{Name: "keys", Keys: []string{"big", "menu"}},
	{Name: "limits", Keys: []string{"countdown", "rehearse", "wet_limit"}},
	{Name: "thermometers", Keys: []string{"hand", "sensor", "hand_shift", "sensor_shift"}},
}

// SoundOutputs are the ways out that can be set.
var SoundOutputs = []string{"auto", "pulse", "exec", "device", "off"}

// glyphSets are what screens can be drawn with.
var glyphSets = []string{"auto", "full", "plain"}

// VoiceLevels are how much is said.
var VoiceLevels = []string{"off", "sparse", "full"}

// Read reads the file at path. Taken are keys that the screens need for something
// else. The error is recipes.Faults, or that of opening the file; the settings are
// then Usual.
func Read(path string, taken []string) (Settings, error) {
	doc, err := recipes.OpenDocument(path, headings)
	if err != nil {
		return Default(), err
	}
	s := Default()
	if _, err := os.Stat(path); err == nil {
		s.FileFound = true
	}
	s.readAll(doc, taken)
	if err := doc.Err(); err != nil {
		return Default(), err
	}
	return s, nil
}

// OwnWetLimit is the person's own wet limit; nil where none is set.
func (s Settings) OwnWetLimit() *sequence.WetLimit {
	if s.WetLimit.All == 0 && len(s.WetLimit.ByVessel) == 0 {
		return nil
	}
	return &s.WetLimit
}

// OwnThermometers are how far the person's thermometers are off; nil where nothing is said of them.
func (s Settings) OwnThermometers() *sequence.Thermometers {
	if s.Thermometers == (sequence.Thermometers{}) {
		return nil
	}
	return &s.Thermometers
}

// readAll reads every key.
func (s *Settings) readAll(doc *recipes.Document, taken []string) {
	either := func(key string, usual, other string) bool {
		word := usual
		doc.Enum("", key, []string{usual, other}, &word)
		return word == other
	}
	s.Habits = sequence.Units{Fahrenheit: either("temperature", "C", "F"),
		FluidOunces: either("volume", "ml", "floz"), TwelveHours: either("clock", "24h", "12h")}
	s.RedDesk = either("palette", "white", "red")
	doc.Enum("", "glyphs", glyphSets, &s.Glyphs)
	doc.Enum("", "voice", VoiceLevels, &s.Voice)
	doc.Enum("sound", "out", SoundOutputs, &s.Sound)
	doc.Integer("sound", "volume", 1, 100, &s.Volume)
	doc.Duration("limits", "countdown", &s.Countdown)
	doc.Number("limits", "rehearse", sequence.MinRehearsalSpeed, sequence.MaxRehearsalSpeed, &s.RehearsalSpeed)
	doc.WetLimit("limits", "wet_limit", &s.WetLimit)
	t := &s.Thermometers
	doc.Tolerance("thermometers", "hand", &t.Hand.Within)
	doc.Tolerance("thermometers", "sensor", &t.Sensor.Within)
	doc.Degrees("thermometers", "hand_shift", -5, &t.Hand.Shift)
	doc.Degrees("thermometers", "sensor_shift", -5, &t.Sensor.Shift)
	s.readKeys(doc, taken)
}

// readKeys reads the two keys of the dark. No key may mean two things.
func (s *Settings) readKeys(doc *recipes.Document, taken []string) {
	const expected = `names of keys, such as ["space", "pgdown"]`
	used := map[string]string{}
	for _, key := range []struct {
		name string
		to   *[]string
	}{{"big", &s.BigKeys}, {"menu", &s.MenuKeys}} {
		names := KeyNames(*key.to)
		doc.Texts("keys", key.name, expected, &names)
		var keys []string
		for _, name := range names {
			k := libraryKey(name)
			switch {
			case !validKey(name):
				doc.Fault("keys", key.name, quote(name)+" is no key", `a character, or one of `+strings.Join(namedKeys, ", ")+", f1 to f20, ctrl+a to ctrl+z", "")
			case slices.Contains(taken, k):
				doc.Fault("keys", key.name, quote(name)+" has another meaning on the screens", "a key that is free", "")
			case used[k] != "":
				doc.Fault("keys", key.name, quote(name)+" stands in "+used[k]+" already", "each key once", "")
			}
			used[k] = key.name
			keys = append(keys, k)
		}
		*key.to = keys
	}
}

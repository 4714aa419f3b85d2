package room

// The light behind the panel and under the keys: down in the dark, and back.

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"
)

// lampTree is a folder as the kernel makes one: a panel, keys, and a signal that is
// lit.
func lampTree(t *testing.T) string {
	t.Helper()
	root := t.TempDir()
	for name, value := range map[string]string{"backlight/panel": "1200\n", "leds/tpacpi::kbd_backlight": "2\n",
		"leds/input3::capslock": "1\n", "leds/odd": "much\n"} {
		dir := filepath.Join(root, name)
		if err := os.MkdirAll(dir, 0o700); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, "brightness"), []byte(value), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return root
}

func lampWords(list []Lamp) string { return strings.Trim(fmt.Sprint(list), "[]") }

func nobody(t *testing.T) { t.Setenv("DBUS_SYSTEM_BUS_ADDRESS", "unix:path=/nonexistent/bus") }

const (
	asItWas = "backlight/panel=1200 leds/input3::capslock=1 leds/tpacpi::kbd_backlight=2"
	asDark  = "backlight/panel=0 leds/input3::capslock=1 leds/tpacpi::kbd_backlight=0"
	putBack = "backlight/panel=1200 leds/tpacpi::kbd_backlight=2"
)

// told keeps what a Glow told last, and how the lamps were at the first word.
type told struct {
	mu    sync.Mutex
	root  string
	first string
	words []string
}

func (w *told) tell(out []Lamp) {
	w.mu.Lock()
	defer w.mu.Unlock()
	if len(w.words) == 0 {
		w.first = lampWords(Lamps(w.root))
	}
	w.words = append(w.words, lampWords(out))
}

func TestLampsGoDarkAndComeBack(t *testing.T) {
	nobody(t)
	root := lampTree(t)
	w := &told{root: root}
	if got := lampWords(Lamps(root)); got != asItWas {
		t.Fatalf("%s; want %s", got, asItWas)
	}
	g := NewBacklight(root, nil, w.tell)
	g.Dark(true)
	g.Close()
	if got := lampWords(Lamps(root)); got != asDark || lampWords(g.Dimmed()) != putBack {
		t.Errorf("dark: %s, to put back %s", got, lampWords(g.Dimmed()))
	}
	if w.first != asItWas || w.words[0] != putBack {
		t.Errorf("told %q when the lamps were %s; want it told before they are dark", w.words, w.first)
	}
	g = NewBacklight(root, g.Dimmed(), w.tell) // as one that takes over from another
	g.Dark(true)
	g.Dark(false)
	g.Close()
	if got := lampWords(Lamps(root)); got != asItWas || w.words[len(w.words)-1] != "" {
		t.Errorf("light: %s; told %q", got, w.words)
	}
}

// A lamp that the person lit again in the dark is theirs; one that was out stays out.
func TestLampsAreTheirs(t *testing.T) {
	nobody(t)
	root := lampTree(t)
	SetLamps(root, []Lamp{{classLEDs, "tpacpi::kbd_backlight", 0}})
	w := &told{root: root}
	g := NewBacklight(root, nil, w.tell)
	g.Dark(true)
	for until := time.Now().Add(time.Minute); len(g.Dimmed()) == 0; time.Sleep(time.Millisecond) {
		if time.Now().After(until) {
			t.Fatal("no lamp went dark")
		}
	}
	for until := time.Now().Add(time.Minute); Lamps(root)[0].Value != 0; time.Sleep(time.Millisecond) {
		if time.Now().After(until) {
			t.Fatal("the panel did not go dark")
		}
	}
	SetLamps(root, []Lamp{{classBacklight, "panel", 30}})
	g.Dark(true)
	g.Close()
	if got := lampWords(Lamps(root)); !strings.HasPrefix(got, "backlight/panel=30 ") || !strings.HasSuffix(got, "kbd_backlight=0") {
		t.Errorf("dark: %s", got)
	}
}

func TestLampsThatCannotBeSet(t *testing.T) {
	nobody(t)
	root := lampTree(t)
	gone := Lamp{classBacklight, "gone", 5}
	done, err := SetLamps(root, []Lamp{gone, {classBacklight, "panel", 7}})
	if lampWords(done) != "backlight/panel=7" || err == nil || !strings.Contains(err.Error(), "backlight/gone: ") {
		t.Errorf("%s: %v", lampWords(done), err)
	}
	if _, err := os.Stat(filepath.Join(root, "backlight", "gone")); err == nil {
		t.Error("a lamp was made")
	}
	if list := Lamps(filepath.Join(root, "nowhere")); len(list) != 0 {
		t.Errorf("%v", list)
	}
	g := NewBacklight(filepath.Join(root, "nowhere"), []Lamp{gone}, func([]Lamp) {})
	g.Dark(false)
	g.Close()
	if !slices.Equal(g.Dimmed(), []Lamp{gone}) {
		t.Errorf("%v: what was not put back is to be tried again", g.Dimmed())
	}
}

func TestParseLamps(t *testing.T) {
	for text, want := range map[string]string{
		"": "", "backlight/panel=0": "backlight/panel=0", putBack: putBack,
		"backlight/=1 leds/x= leds/x=-1 leds/x=1e3 leds/x y=2 power/x=1 leds/..=1 leds/a/b=1 leds/x=99999999999999999999": "",
		"leds/../../etc=1 nonsense backlight/panel=7 =":                                                                   "backlight/panel=7",
	} {
		if got := lampWords(ParseLamps(text)); got != want {
			t.Errorf("%q: %q; want %q", text, got, want)
		}
	}
}

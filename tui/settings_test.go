package tui

// A person's own settings on the screens: keys, and the palette by itself.

import (
	"slices"
	"testing"
	"time"

	"example.org/wetside/sequence"
)

// bigKeys makes keys the big key.
func bigKeys(keys ...string) func(*hall, *Options) {
	return func(_ *hall, o *Options) { o.BigKeys = keys }
}

// A big key of one's own does what space did, in the light and in the dark, help
// and questions name it, and space does nothing any more; in a line that is typed
// every key is itself.
func TestABigKeyOfOnesOwn(t *testing.T) {
	d := sit(t, with("stack"), bigKeys("b", "f5")).press("enter")
	d.shows("b: covered")
	d.shows("b go on")
	d.press(" ", "pgdown")
	d.shows("b: covered")
	for d.m.screen == prepareScreen && !d.m.dark {
		d.press("f5")
		d.now = d.now.Add(time.Second)
	}
	d.twice(" ")
	if len(d.h.begun) != 0 {
		t.Fatal("space begins though it is not the big key")
	}
	d.twice("b").done()
	if len(d.h.begun) != 1 {
		t.Fatal("two presses of the big key do not begin")
	}
	d = rehearsing(t, "hangers", bigKeys("b")).wait(time.Minute).press("n").types("a b c").press("enter")
	if r, ok := d.session().last().(sequence.AddNote); !ok || r.Text != "a b c" {
		t.Errorf("noted %+v", d.session().last())
	}
	d.shows("b move on")
}

// What other keys mean while the big key counts cannot be the big key.
func TestTaken(t *testing.T) {
	keys := Taken()
	for _, key := range []string{"h", "u", "s", "esc", "up", "ctrl+c"} {
		if !slices.Contains(keys, key) {
			t.Errorf("%q is not taken", key)
		}
	}
	for _, key := range []string{" ", "pgdown", "b", ".", "f5", "enter"} {
		if slices.Contains(keys, key) {
			t.Errorf("%q is taken", key)
		}
	}
}

// White comes by itself where the room has it, once a step: what the person then
// chooses stays.
func TestWhiteByItself(t *testing.T) {
	d := sit(t, with("red-again"), func(_ *hall, o *Options) { o.AutoWhite = true }).press("enter")
	for d.m.screen == prepareScreen && !d.m.starting {
		d.big()
	}
	d.done().wait(10 * time.Second)
	if d.m.palette() != dim256 {
		t.Fatal("white under a safelight")
	}
	d.wait(5 * time.Minute)
	if d.m.palette() != white256 || d.h.lit() != sequence.White {
		t.Fatalf("no white in a white step; told %q", d.h.lit())
	}
	d.press("w").wait(5 * time.Second)
	if d.m.palette() != red256 {
		t.Error("white came back though the person chose red")
	}
}

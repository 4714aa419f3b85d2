package room

import (
	"os"
	"path/filepath"
	"testing"

	"example.org/wetside/tui/room/bustest"
)

// Through logind no right to the files is needed: here there are none to write to,
// as far as this process knows.
func TestLampsThroughLogind(t *testing.T) {
	bus := bustest.Start(t)
	bus.Logind()
	root, seen := lampTree(t), t.TempDir()
	bus.AllowBrightness(root)
	if err := os.Symlink(filepath.Join(root, "leds"), filepath.Join(seen, "leds")); err != nil {
		t.Skip(err)
	}
	done, err := SetLamps(seen, []Lamp{{classBacklight, "panel", 0}, {classLEDs, "tpacpi::kbd_backlight", 1}})
	if err != nil || len(done) != 2 {
		t.Errorf("set %v: %v", done, err)
	}
	if got := lampWords(Lamps(root)); got != "backlight/panel=0 leds/input3::capslock=1 leds/tpacpi::kbd_backlight=1" {
		t.Error(got)
	}
}

// Where logind does not answer the files are written.
func TestLampsWithoutAnAnswer(t *testing.T) {
	bus := bustest.Start(t)
	bus.Logind()
	bus.Freeze()
	root := lampTree(t)
	var done []Lamp
	var err error
	ends(t, "setting", func() {
		done, err = SetLamps(root, []Lamp{{classBacklight, "panel", 0}, {classLEDs, "tpacpi::kbd_backlight", 0}})
	})
	if err != nil || len(done) != 2 {
		t.Errorf("set %v: %v", done, err)
	}
	if got := lampWords(Lamps(root)); got != asDark {
		t.Error(got)
	}
}

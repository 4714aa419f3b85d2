package main

import (
	"encoding/binary"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/hometest"
)

// loudest is the greatest sample of a WAV file.
func loudest(t *testing.T, path string) int {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	most := 0
	for i := wavHeader; i+1 < len(b); i += 2 {
		x := int(int16(binary.LittleEndian.Uint16(b[i:])))
		most = max(most, x, -x)
	}
	return most
}

func TestTheVolumeOfTheSettingsIsHeard(t *testing.T) {
	heights := map[int]int{}
	for _, volume := range []int{100, 25} {
		hometest.New(t)
		dir := filepath.Join(os.Getenv("XDG_CONFIG_HOME"), "wetside")
		if err := os.Mkdir(dir, 0o700); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, "config.toml"), fmt.Appendf(nil, "[sound]\nvolume = %d\n", volume), 0o600); err != nil {
			t.Fatal(err)
		}
		file := filepath.Join(t.TempDir(), "cues.wav")
		if s := runVirtually(t, nil, "cues", "--sound", "wav:"+file); s.status != app.ExitOK {
			t.Fatalf("status %d: %s", s.status, &s.err)
		}
		heights[volume] = loudest(t, file)
	}
	if full := heights[100]; full < 10_000 || heights[25] < full/4-1 || heights[25] > full/4+1 {
		t.Errorf("a quarter of the volume gives a greatest sample of %d; full volume %d", heights[25], full)
	}
}

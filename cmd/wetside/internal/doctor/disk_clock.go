package doctor

// wetside ready, what keeps the record and the time: disk and clock.

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/tui/say"
)

// A long session's journal is 2 MB; a disk has other writers. An fsync of half a
// second is told: the record then lags behind what happens, though no cue does.
const (
	minFree   = 16 << 20
	lowFree   = 200 << 20
	slowSync  = 500 * time.Millisecond
	syncCount = 8
)

// checkDisk writes where sessions are kept, and takes it away again.
func checkDisk() finding {
	folder := journal.Folders()[0]
	slowest, err := slowestSync(folder)
	free, known := freeSpace(folder)
	switch {
	case err != nil:
		return finding{"disk", LevelNo, err.Error(), "make room or give leave to write in " + folder + "; elsewhere a restart may lose the record"}
	case known && free < minFree:
		return finding{"disk", LevelNo, fmt.Sprintf("%s free in %s", megabytes(free), folder), "make room"}
	case known && free < lowFree:
		return finding{"disk", LevelCare, fmt.Sprintf("%s free in %s", megabytes(free), folder), "make room"}
	case slowest > slowSync:
		return finding{"disk", LevelCare, fmt.Sprintf("slow: a record takes up to %d ms to be safe in %s", slowest.Milliseconds(), folder), "end what else is writing"}
	}
	said := fmt.Sprintf("a record is safe within %.2g ms in %s", float64(slowest.Microseconds())/1000, folder)
	if known {
		said += ", " + megabytes(free) + " free"
	}
	return finding{"disk", LevelOK, said, ""}
}

func megabytes(n uint64) string {
	if n >= 10<<30 {
		return fmt.Sprintf("%d GB", n>>30)
	}
	return fmt.Sprintf("%d MB", n>>20)
}

// slowestSync writes and syncs a few times and returns the slowest but one: a busy
// machine stalls now and then. Folders that it had to make stay; they are needed.
func slowestSync(folder string) (time.Duration, error) {
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return 0, err
	}
	f, err := os.CreateTemp(folder, "ready-*")
	if err != nil {
		return 0, err
	}
	defer os.Remove(f.Name())
	defer f.Close()
	var took []time.Duration
	for range syncCount {
		began := time.Now()
		if _, err := f.WriteString(strings.Repeat("-", 500) + "\n"); err != nil {
			return 0, fmt.Errorf("%s: %w", filepath.Dir(f.Name()), err)
		}
		if err := f.Sync(); err != nil {
			return 0, fmt.Errorf("%s: %w", filepath.Dir(f.Name()), err)
		}
		took = append(took, time.Since(began))
	}
	slices.Sort(took)
	return took[syncCount-2], nil
}

// oldestSaneClock is before this program was: a clock that says less was never set.
var oldestSaneClock = time.Date(2024, 1, 1, 0, 0, 0, 0, time.UTC)

// checkClock checks whether elapsed time survives sleep and a restart.
func checkClock(now clock.Mark, h sequence.Units) finding {
	switch {
	case now.Wall.Before(oldestSaneClock):
		return finding{"clock", LevelCare, "the wall clock says " + now.Wall.Local().Format(time.DateOnly), "set it: after a restart nothing else gives the time"}
	case !now.CountsSleep():
		return finding{"clock", LevelCare, "no clock is known here that counts sleep", "leave the laptop awake; after a restart you are asked for the time"}
	}
	return finding{"clock", LevelOK, fmt.Sprintf("counts sleep, on boot %.8s; the wall clock says %s", now.Boot, say.TimeOfDay(now.Wall.Local(), h)), ""}
}

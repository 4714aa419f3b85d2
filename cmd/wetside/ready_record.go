package main

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
)

// A long session's journal is 2 MB; a disk has other writers. An fsync of half a
// second is told: the record then lags behind what happens, though no cue does.
const (
	roomLeast = 16 << 20
	roomCare  = 200 << 20
	syncCare  = 500 * time.Millisecond
	syncs     = 8
)

// diskReady writes where sessions are kept, and takes it away again.
func diskReady() finding {
	folder := journal.Folders()[0]
	slowest, err := tryFolder(folder)
	free, known := freeIn(folder)
	switch {
	case err != nil:
		return found("disk", no, err.Error(), "make room or give leave to write in "+folder+"; elsewhere a restart may lose the record")
	case known && free < roomLeast:
		return found("disk", no, fmt.Sprintf("%s free in %s", megabytes(free), folder), "make room")
	case known && free < roomCare:
		return found("disk", care, fmt.Sprintf("%s free in %s", megabytes(free), folder), "make room")
	case slowest > syncCare:
		return found("disk", care, fmt.Sprintf("slow: a record takes up to %d ms to be safe in %s", slowest.Milliseconds(), folder), "end what else is writing")
	}
	said := fmt.Sprintf("a record is safe within %.2g ms in %s", float64(slowest.Microseconds())/1000, folder)
	if known {
		said += ", " + megabytes(free) + " free"
	}
	return found("disk", ok, said, "")
}

func megabytes(n uint64) string {
	if n >= 10<<30 {
		return fmt.Sprintf("%d GB", n>>30)
	}
	return fmt.Sprintf("%d MB", n>>20)
}

// tryFolder writes and syncs a few times and returns the slowest but one: a busy
// machine stalls now and then. Folders that it had to make stay; they are needed.
func tryFolder(folder string) (time.Duration, error) {
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
	for range syncs {
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
	return took[syncs-2], nil
}

// earliest is before this program was: a clock that says less was never set.
var earliest = time.Date(2024, 1, 1, 0, 0, 0, 0, time.UTC)

// clockReady checks whether elapsed time survives sleep and a restart.
func clockReady(now clock.Mark, h sequence.Habits) finding {
	switch {
	case now.Wall.Before(earliest):
		return found("clock", care, "the wall clock says "+now.Wall.Local().Format(time.DateOnly), "set it: after a restart it is all that tells the time")
	case !now.Lasting():
		return found("clock", care, "no clock is known here that counts sleep", "leave the laptop awake; after a restart you are asked for the time")
	}
	return found("clock", ok, fmt.Sprintf("counts sleep, on boot %.8s; the wall clock says %s", now.Boot, h.TimeOfDay(now.Wall.Local())), "")
}

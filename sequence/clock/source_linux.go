package clock

// Linux: the kernel's boot id and its three clocks since boot.

import (
	"os"
	"strings"
	"time"

	"golang.org/x/sys/unix"
)

const bootIDFile = "/proc/sys/kernel/random/boot_id"

type systemSource struct{ boot string }

// System is the source of this computer's own clocks.
func System() Source {
	id, err := os.ReadFile(bootIDFile)
	boot := strings.TrimSpace(string(id))
	if _, errClock := gettime(unix.CLOCK_BOOTTIME); err != nil || boot == "" || errClock != nil {
		return newProcess(os.Getpid())
	}
	return systemSource{boot: boot}
}

// Read pairs the clocks between two readings of the boot clock.
func (s systemSource) Read() Mark {
	return tightestReading(func() (Mark, time.Duration) {
		before, _ := gettime(unix.CLOCK_BOOTTIME)
		monotonic, _ := gettime(unix.CLOCK_MONOTONIC)
		raw, _ := gettime(unix.CLOCK_MONOTONIC_RAW)
		now := time.Now()
		after, _ := gettime(unix.CLOCK_BOOTTIME)
		width := after - before
		return Mark{Boot: s.boot, Boottime: before + width/2, Monotonic: monotonic, Raw: raw, Wall: wall(now)}, width
	})
}

// gettime reads one clock. It fails only for a clock that the kernel does not
// know; CLOCK_BOOTTIME, the youngest of the three, is tried by System.
func gettime(id int32) (time.Duration, error) {
	var ts unix.Timespec
	if err := unix.ClockGettime(id, &ts); err != nil {
		return 0, err
	}
	return time.Duration(ts.Nano()), nil
}

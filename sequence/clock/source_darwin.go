package clock

// macOS: CLOCK_MONOTONIC_RAW goes on in sleep there, CLOCK_UPTIME_RAW stops
// (clock_gettime(3)). Cross-compiled and vetted only; never run.

import (
	"os"
	"time"

	"golang.org/x/sys/unix"
)

type systemSource struct{ boot string }

// System is the source of this computer's own clocks.
func System() Source {
	boot, err := unix.Sysctl("kern.bootsessionuuid")
	if _, errClock := gettime(unix.CLOCK_MONOTONIC_RAW); err != nil || boot == "" || errClock != nil {
		return newProcess(os.Getpid())
	}
	return systemSource{boot: boot}
}

// Read pairs the clocks between two readings of the boot clock.
func (s systemSource) Read() Mark {
	return tightestReading(func() (Mark, time.Duration) {
		before, _ := gettime(unix.CLOCK_MONOTONIC_RAW)
		awake, _ := gettime(unix.CLOCK_UPTIME_RAW)
		now := time.Now()
		after, _ := gettime(unix.CLOCK_MONOTONIC_RAW)
		width := after - before
		return Mark{Boot: s.boot, Boottime: before + width/2, Monotonic: awake, Wall: wall(now)}, width
	})
}

func gettime(id int32) (time.Duration, error) {
	var ts unix.Timespec
	if err := unix.ClockGettime(id, &ts); err != nil {
		return 0, err
	}
	return time.Duration(ts.Nano()), nil
}

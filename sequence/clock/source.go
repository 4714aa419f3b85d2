package clock

// Where readings come from.

import (
	"strconv"
	"time"
)

// Source reads all clocks at one moment, as near together as it can. Elapsed
// is left zero. Read may be called from several goroutines.
type Source interface {
	Read() Mark
}

// wallGrain is how finely wall time is kept: finer means nothing beside a
// threshold of JumpThreshold, and a person reads it.
const wallGrain = time.Millisecond

// processBoot begins the name of a boot that is only a run of this program.
const processBoot = "process-"

// processSource is a Source for systems of which no clock is known that counts
// sleep. Its boot is this run of the program, so that nothing is ever taken up
// as exact on its word.
type processSource struct {
	name  string
	start time.Time
}

func newProcess(pid int) processSource {
	now := time.Now()
	return processSource{
		name:  processBoot + strconv.Itoa(pid) + "-" + strconv.FormatInt(now.UnixNano(), 36),
		start: now,
	}
}

// Read reads Go's own clock.
func (p processSource) Read() Mark {
	now := time.Now()
	since := now.Sub(p.start)
	return Mark{Boot: p.name, Boottime: since, Monotonic: since, Wall: wall(now)}
}

// wall strips Go's own monotonic reading and the digits nobody needs.
func wall(t time.Time) time.Time { return t.Round(0).Truncate(wallGrain) }

// closeEnough is as near together as the clocks need to be read.
const closeEnough = 20 * time.Microsecond

// tightestReading takes a reading, and where that was not tight up to two more, and keeps the
// one taken within the shortest time: a process that loses the processor half way pairs
// moments that are milliseconds apart.
func tightestReading(read func() (Mark, time.Duration)) Mark {
	best, width := read()
	for try := 1; try < 3 && width > closeEnough; try++ {
		if m, w := read(); w < width {
			best, width = m, w
		}
	}
	return best
}

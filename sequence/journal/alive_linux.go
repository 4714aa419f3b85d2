package journal

// Whether the process that wrote a record is still there.

import (
	"fmt"
	"os"
	"strconv"
	"strings"
	"time"

	"example.org/wetside/sequence/clock"
)

// clockTick is the unit of a process's start in /proc: USER_HZ, 100 a second on every
// architecture of Linux (proc(5), time(7)).
const clockTick = time.Second / 100

// stillRuns reports whether the process with that number is the one that wrote a record: it
// is another than this one, of the same program, was there before, and has not died.
func stillRuns(pid int, wrote clock.Mark) bool {
	if pid == os.Getpid() || !clock.SameBoot(wrote, clock.System().Read()) {
		return false
	}
	name, state, started, ok := process(pid)
	ours, _, _, _ := process(os.Getpid())
	return ok && name == ours && state != "Z" && state != "X" && started <= wrote.Boottime
}

// process reads a process's name, state and start since boot.
func process(pid int) (name, state string, started time.Duration, ok bool) {
	text, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", pid))
	if err != nil {
		return "", "", 0, false
	}
	return processIn(string(text))
}

// processIn reads that in the text of a stat file (proc(5)). The name may hold whatever it likes.
func processIn(stat string) (name, state string, started time.Duration, ok bool) {
	_, rest, _ := strings.Cut(stat, "(")
	end := strings.LastIndexByte(rest, ')')
	if end < 0 {
		return "", "", 0, false
	}
	const start = 22 - 3 // the 22nd from 1, of which the third is the first behind the name
	fields := strings.Fields(rest[end+1:])
	if len(fields) <= start {
		return "", "", 0, false
	}
	ticks, err := strconv.ParseInt(fields[start], 10, 64)
	return rest[:end], fields[0], time.Duration(ticks) * clockTick, err == nil
}

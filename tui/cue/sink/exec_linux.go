package sink

// The pipe to a player is kept short, so that little sound is under way.

import (
	"os"

	"golang.org/x/sys/unix"
)

// shrinkPipe makes a pipe hold little; where that is refused it holds what it holds.
func shrinkPipe(pipe *os.File) {
	raw, err := pipe.SyscallConn()
	if err != nil {
		return
	}
	raw.Control(func(fd uintptr) { unix.FcntlInt(fd, unix.F_SETPIPE_SZ, pipeBytes) })
}

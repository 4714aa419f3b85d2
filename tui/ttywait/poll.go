//go:build unix && !darwin

package ttywait

import (
	"time"

	"golang.org/x/sys/unix"
)

// For waits until one of the descriptors can be read, is at its end or has failed, at most for so
// long, or without an end where the limit is negative; ready says which. A signal may end it early,
// with none ready. It errs where a descriptor is none.
func For(limit time.Duration, descriptors ...uintptr) (ready []bool, err error) {
	fds := make([]unix.PollFd, len(descriptors))
	for i, d := range descriptors {
		fds[i] = unix.PollFd{Fd: int32(d), Events: unix.POLLIN}
	}
	ready = make([]bool, len(fds))
	if _, err := unix.Poll(fds, milliseconds(limit)); err == unix.EINTR {
		return ready, nil
	} else if err != nil {
		return ready, err
	}
	for i, f := range fds {
		if f.Revents&unix.POLLNVAL != 0 {
			return ready, unix.EBADF
		}
		ready[i] = f.Revents&(unix.POLLIN|unix.POLLHUP|unix.POLLERR) != 0
	}
	return ready, nil
}

// milliseconds rounds up: who waits until a moment does not wake before it.
func milliseconds(limit time.Duration) int {
	if limit < 0 {
		return -1
	}
	return int((limit + time.Millisecond - 1) / time.Millisecond)
}

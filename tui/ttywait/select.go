//go:build darwin

package ttywait

// On macOS poll says of a terminal that it cannot be polled (its poll(2), "BUGS"), and select
// serves. Cross-compiled and vetted only; never run.

import (
	"time"

	"golang.org/x/sys/unix"
)

// For waits until one of the descriptors can be read, is at its end or has failed, at most for so
// long, or without an end where the limit is negative; ready says which. A signal may end it early,
// with none ready. It errs where a descriptor is none.
func For(limit time.Duration, descriptors ...uintptr) (ready []bool, err error) {
	var set unix.FdSet
	highest := -1
	for _, d := range descriptors {
		if d >= unix.FD_SETSIZE {
			return nil, unix.EINVAL
		}
		set.Set(int(d))
		highest = max(highest, int(d))
	}
	var until *unix.Timeval
	if limit >= 0 {
		t := unix.NsecToTimeval(int64(limit + time.Microsecond - 1))
		until = &t
	}
	ready = make([]bool, len(descriptors))
	if _, err := unix.Select(highest+1, &set, nil, nil, until); err == unix.EINTR {
		return ready, nil
	} else if err != nil {
		return ready, err
	}
	for i, d := range descriptors {
		ready[i] = set.IsSet(int(d))
	}
	return ready, nil
}

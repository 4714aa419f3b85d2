package sink

// Linux: a connection that wakes the program up when the server says something, and
// not also each time that the server has taken what was sent. Go's poller always waits
// for both; so the connection is taken out of it, and in its place the poller is given
// an epoll(7) of our own, which waits for what comes in alone.

import (
	"errors"
	"io"
	"net"
	"os"
	"sync"
	"syscall"
	"time"

	"golang.org/x/sys/unix"
)

// epollConn is such a connection. It is read by one goroutine and written to by one at a
// time.
type epollConn struct {
	epoll    *os.File // the epoll, readable when there is something to read
	raw      syscall.RawConn
	deadline time.Time // for what is being written

	mu     sync.RWMutex // held for writing by Close: the number may then be another's
	socket int
	closed bool
}

// readOnlyPolled makes one of a connection, or gives that back where it cannot be done.
func readOnlyPolled(conn net.Conn) deadlineConn {
	socket, err := duplicate(conn)
	if err != nil {
		return conn
	}
	epoll, err := unix.EpollCreate1(unix.EPOLL_CLOEXEC)
	if err == nil {
		err = errors.Join(unix.SetNonblock(epoll, true),
			unix.EpollCtl(epoll, unix.EPOLL_CTL_ADD, socket, &unix.EpollEvent{Events: unix.EPOLLIN, Fd: int32(socket)}))
	}
	if err != nil {
		unix.Close(epoll)
		unix.Close(socket)
		return conn
	}
	conn.Close()
	b := &epollConn{epoll: os.NewFile(uintptr(epoll), "sound server"), socket: socket}
	b.raw, _ = b.epoll.SyscallConn() // errs for a nil file alone
	return b
}

// duplicate is another number for a connection, out of Go's sight.
func duplicate(conn net.Conn) (number int, err error) {
	c, ok := conn.(syscall.Conn)
	if !ok {
		return 0, errors.ErrUnsupported
	}
	raw, err := c.SyscallConn()
	if err != nil {
		return 0, err
	}
	told := raw.Control(func(fd uintptr) { number, err = unix.FcntlInt(fd, unix.F_DUPFD_CLOEXEC, 0) })
	return number, errors.Join(told, err)
}

// Read waits for something to come.
func (b *epollConn) Read(p []byte) (n int, err error) {
	told := b.raw.Read(func(uintptr) bool {
		n, err = b.withSocket(func(socket int) (int, error) { return unix.Read(socket, p) })
		return !errors.Is(err, unix.EAGAIN)
	})
	switch {
	case told != nil:
		return 0, told
	case err == nil && n == 0 && len(p) > 0:
		return 0, io.EOF
	}
	return max(n, 0), err
}

// Write gives all of p, or errs where the server has not taken it in time.
func (b *epollConn) Write(p []byte) (int, error) {
	done := 0
	for done < len(p) {
		n, err := b.withSocket(func(socket int) (int, error) { return unix.SendmsgN(socket, p[done:], nil, nil, unix.MSG_NOSIGNAL) })
		done += max(n, 0)
		left := time.Until(b.deadline)
		switch {
		case err == nil:
		case !errors.Is(err, unix.EAGAIN):
			return done, err
		case left <= 0:
			return done, os.ErrDeadlineExceeded
		default:
			b.withSocket(func(socket int) (int, error) {
				return unix.Poll([]unix.PollFd{{Fd: int32(socket), Events: unix.POLLOUT}}, int(left.Milliseconds())+1)
			})
		}
	}
	return done, nil
}

// withSocket does something with the connection while it is open, again where a signal came
// between.
func (b *epollConn) withSocket(do func(socket int) (int, error)) (n int, err error) {
	b.mu.RLock()
	defer b.mu.RUnlock()
	if b.closed {
		return 0, net.ErrClosed
	}
	for n, err = do(b.socket); errors.Is(err, unix.EINTR); n, err = do(b.socket) {
	}
	return n, err
}

// SetWriteDeadline says until when the next Write may wait.
func (b *epollConn) SetWriteDeadline(last time.Time) error {
	b.deadline = last
	return nil
}

// Close ends a Read that waits, and waits for a Write.
func (b *epollConn) Close() error {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.closed {
		return net.ErrClosed
	}
	b.closed = true
	return errors.Join(b.epoll.Close(), unix.Close(b.socket))
}

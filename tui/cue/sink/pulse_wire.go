package sink

// The connection beneath the library: writes end in time, a message goes out in one
// piece, and what the library does not know, and would print, never reaches it.

import (
	"bufio"
	"encoding/binary"
	"fmt"
	"io"
	"slices"
	"time"

	"github.com/jfreymuth/pulse/proto"
)

const (
	descriptor  = 20                // bytes before a message: its length, its channel, three numbers more
	control     = uint32(1<<32 - 1) // the channel of what is not sound
	longestNote = 1 << 20           // bytes; what a server says to a player of sound is far shorter
)

// spoken is what the library understands of what a server says by itself or answers.
var spoken = []uint32{proto.OpError, proto.OpReply, proto.OpRequest, proto.OpOverflow, proto.OpUnderflow,
	proto.OpPlaybackStreamKilled, proto.OpPlaybackStreamSuspended, proto.OpPlaybackStreamMoved,
	proto.OpPlaybackStreamEvent, proto.OpPlaybackBufferAttrChanged, proto.OpStarted, proto.OpClientEvent, proto.OpSubscribeEvent}

// wire is a connection that tells of its own end: the library looks at no error of a
// write and reports few of a read. One goroutine writes to it.
type wire struct {
	pipe
	ended func(error)
	in    *bufio.Reader
	rest  []byte // of the message that is being read
	held  []byte // a descriptor, until its message follows
}

// pipe is what a wire needs of a connection.
type pipe interface {
	io.ReadWriteCloser
	SetWriteDeadline(time.Time) error
}

func newWire(p pipe, ended func(error)) *wire {
	return &wire{pipe: p, ended: ended, in: bufio.NewReader(p)}
}

// Read gives whole messages that the library understands, in portions.
func (w *wire) Read(b []byte) (int, error) {
	for len(w.rest) == 0 {
		if err := w.next(); err != nil {
			w.ended(err)
			return 0, err
		}
	}
	n := copy(b, w.rest)
	w.rest = w.rest[n:]
	return n, nil
}

// next reads one message; rest stays empty where it is not for the library.
func (w *wire) next() error {
	head := make([]byte, descriptor, descriptor+256)
	if _, err := io.ReadFull(w.in, head); err != nil {
		return err
	}
	length := binary.BigEndian.Uint32(head)
	if length > longestNote {
		return fmt.Errorf("a message of %d bytes; expected a sound server's", length)
	}
	message := append(head, make([]byte, length)...)
	if _, err := io.ReadFull(w.in, message[descriptor:]); err != nil {
		return err
	}
	// A note begins with the mark of a number and the number of what it is.
	if binary.BigEndian.Uint32(message[4:]) == control && length >= 5 &&
		slices.Contains(spoken, binary.BigEndian.Uint32(message[descriptor+1:])) {
		w.rest = message
	}
	return nil
}

// Write takes a descriptor, then its message, as the library writes them, and sends
// both at once.
func (w *wire) Write(b []byte) (int, error) {
	alone := len(w.held) == 0 && len(b) == descriptor
	w.held = append(w.held, b...)
	if alone {
		return len(b), nil
	}
	err := w.put(w.held)
	w.held = w.held[:0]
	if err != nil {
		return 0, err
	}
	return len(b), nil
}

// sound sends what a stream is to play: a message with room for its descriptor before it.
// It follows what was sent before, or overwrites so many bytes of that. The library knows
// no way to overwrite, and would copy all of it.
func (w *wire) sound(stream uint32, message []byte, overwrite int64) error {
	binary.BigEndian.PutUint32(message, uint32(len(message)-descriptor))
	binary.BigEndian.PutUint32(message[4:], stream)
	binary.BigEndian.PutUint64(message[8:], uint64(-overwrite)) // from where the last ended,
	binary.BigEndian.PutUint32(message[16:], 0)                 // as these four bytes say
	return w.put(message)
}

// put sends whole messages; a connection that cannot is closed.
func (w *wire) put(b []byte) error {
	w.SetWriteDeadline(time.Now().Add(callTime))
	_, err := w.pipe.Write(b)
	if err != nil {
		w.ended(err)
		w.Close()
	}
	return err
}

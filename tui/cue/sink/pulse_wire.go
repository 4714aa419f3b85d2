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
	headerSize     = 20                // bytes before a message: its length, its channel, three numbers more
	controlChannel = uint32(1<<32 - 1) // the channel of what is not sound
	maxMessage     = 1 << 20           // bytes; what a server says to a player of sound is far shorter
)

// knownOps is what the library understands of what a server says by itself or answers.
var knownOps = []uint32{proto.OpError, proto.OpReply, proto.OpRequest, proto.OpOverflow, proto.OpUnderflow,
	proto.OpPlaybackStreamKilled, proto.OpPlaybackStreamSuspended, proto.OpPlaybackStreamMoved,
	proto.OpPlaybackStreamEvent, proto.OpPlaybackBufferAttrChanged, proto.OpStarted, proto.OpClientEvent, proto.OpSubscribeEvent}

// pulseWire is a connection that tells of its own end: the library looks at no error of a
// write and reports few of a read. One goroutine writes to it.
type pulseWire struct {
	deadlineConn
	ended         func(error)
	in            *bufio.Reader
	unread        []byte // of the message that is being read
	pendingHeader []byte // a descriptor, until its message follows
}

// deadlineConn is what a wire needs of a connection.
type deadlineConn interface {
	io.ReadWriteCloser
	SetWriteDeadline(time.Time) error
}

func newWire(p deadlineConn, ended func(error)) *pulseWire {
	return &pulseWire{deadlineConn: p, ended: ended, in: bufio.NewReader(p)}
}

// Read gives whole messages that the library understands, in portions.
func (w *pulseWire) Read(b []byte) (int, error) {
	for len(w.unread) == 0 {
		if err := w.next(); err != nil {
			w.ended(err)
			return 0, err
		}
	}
	n := copy(b, w.unread)
	w.unread = w.unread[n:]
	return n, nil
}

// next reads one message; rest stays empty where it is not for the library.
func (w *pulseWire) next() error {
	head := make([]byte, headerSize, headerSize+256)
	if _, err := io.ReadFull(w.in, head); err != nil {
		return err
	}
	length := binary.BigEndian.Uint32(head)
	if length > maxMessage {
		return fmt.Errorf("a message of %d bytes; expected a sound server's", length)
	}
	message := append(head, make([]byte, length)...)
	if _, err := io.ReadFull(w.in, message[headerSize:]); err != nil {
		return err
	}
	// A note begins with the mark of a number and the number of what it is.
	if binary.BigEndian.Uint32(message[4:]) == controlChannel && length >= 5 &&
		slices.Contains(knownOps, binary.BigEndian.Uint32(message[headerSize+1:])) {
		w.unread = message
	}
	return nil
}

// Write takes a descriptor, then its message, as the library writes them, and sends
// both at once.
func (w *pulseWire) Write(b []byte) (int, error) {
	alone := len(w.pendingHeader) == 0 && len(b) == headerSize
	w.pendingHeader = append(w.pendingHeader, b...)
	if alone {
		return len(b), nil
	}
	err := w.send(w.pendingHeader)
	w.pendingHeader = w.pendingHeader[:0]
	if err != nil {
		return 0, err
	}
	return len(b), nil
}

// sound sends what a stream is to play: a message with room for its descriptor before it.
// It follows what was sent before, or overwrites so many bytes of that. The library knows
// no way to overwrite, and would copy all of it.
func (w *pulseWire) sound(stream uint32, message []byte, overwrite int64) error {
	binary.BigEndian.PutUint32(message, uint32(len(message)-headerSize))
	binary.BigEndian.PutUint32(message[4:], stream)
	binary.BigEndian.PutUint64(message[8:], uint64(-overwrite)) // from where the last ended,
	binary.BigEndian.PutUint32(message[16:], 0)                 // as these four bytes say
	return w.send(message)
}

// send sends whole messages; a connection that cannot is closed.
func (w *pulseWire) send(b []byte) error {
	w.SetWriteDeadline(time.Now().Add(callTime))
	_, err := w.deadlineConn.Write(b)
	if err != nil {
		w.ended(err)
		w.Close()
	}
	return err
}

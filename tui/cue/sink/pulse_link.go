package sink

// One connection to a PulseAudio or PipeWire server with one stream on it: what
// the server says is noted by the library's reader, which never waits; what is
// said to the server ends within callTime.

import (
	"errors"
	"fmt"
	"os"
	"sync"
	"time"

	"github.com/jfreymuth/pulse/proto"
)

const (
	pulseBuffer  = Rate * frameBytes * 20 / 100 // bytes: 200 ms at the server
	pulseRequest = Rate * frameBytes * 8 / 100  // bytes: it asks for 80 ms or more; what it has left then outlasts a stall
)

var errGone = errors.New("the sound server has gone")

// link is a live connection with its stream.
type link struct {
	conn   pipe
	client *proto.Client
	stream uint32
	input  uint32        // the stream among all that a device plays
	wake   chan struct{} // holds one: something has been noted

	mu        sync.Mutex
	wanted    int // bytes asked for and not yet sent
	suspended bool
	moved     bool  // what was known of the latency is void
	over      error // why the connection is of no use any more
}

// openLink connects and opens a running stream.
func openLink(getenv func(string) string) (*link, error) {
	dialled, err := dialServer(serverAddresses(getenv))
	if err != nil {
		return nil, err
	}
	conn := inward(dialled)
	l := &link{conn: conn, client: &proto.Client{}, stream: proto.Undefined, wake: make(chan struct{}, 1)}
	l.client.Callback = l.note
	l.client.SetTimeout(callTime)
	l.client.Open(newWire(conn, l.lost))
	if err := l.introduce(serverCookie(getenv)); err != nil {
		l.close()
		return nil, fmt.Errorf("the sound server refuses: %w", err)
	}
	return l, nil
}

func (l *link) introduce(cookie []byte) error {
	var auth proto.AuthReply
	if err := l.client.Request(&proto.Auth{Version: l.client.Version(), Cookie: cookie}, &auth); err != nil {
		return err
	}
	l.client.SetVersion(auth.Version)
	about := proto.PropList{
		"application.name":       proto.PropListString("wetside"),
		"application.process.id": proto.PropListString(fmt.Sprint(os.Getpid())),
		"media.name":             proto.PropListString("cues"),
		"media.role":             proto.PropListString("event"),
	}
	if err := l.client.Request(&proto.SetClientName{Props: about}, &proto.SetClientNameReply{}); err != nil {
		return err
	}
	var stream proto.CreatePlaybackStreamReply
	if err := l.client.Request(newStream(about), &stream); err != nil {
		return err
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	l.stream, l.input, l.suspended = stream.StreamIndex, stream.SinkInputIndex, stream.SinkSuspended
	l.wanted += int(stream.Missing)
	l.nudge()
	return nil
}

// newStream asks for a stream that starts at once and goes on through an
// underrun, so that the place of a frame stays a matter of time alone.
func newStream(about proto.PropList) *proto.CreatePlaybackStream {
	return &proto.CreatePlaybackStream{
		SampleSpec:            proto.SampleSpec{Format: proto.FormatInt16LE, Channels: 2, Rate: Rate},
		ChannelMap:            proto.ChannelMap{proto.ChannelLeft, proto.ChannelRight},
		SinkIndex:             proto.Undefined,
		BufferMaxLength:       4 * pulseBuffer,
		BufferTargetLength:    pulseBuffer,
		BufferPrebufferLength: 0,
		BufferMinimumRequest:  pulseRequest,
		ChannelVolumes:        proto.ChannelVolumes{0x10000, 0x10000},
		AdjustLatency:         true,
		Properties:            about,
	}
}

// note takes a message from the library's reader. There is one stream, and
// what the server asks before its number is known is for it too.
func (l *link) note(message any) {
	l.mu.Lock()
	defer l.mu.Unlock()
	switch m := message.(type) {
	case *proto.Request:
		l.wanted += int(m.Length)
	case *proto.Underflow:
		l.moved = true
	case *proto.PlaybackStreamMoved:
		l.moved, l.suspended = true, m.Suspended
	case *proto.PlaybackStreamSuspended:
		l.moved, l.suspended = true, m.Suspended
	case *proto.PlaybackBufferAttrChanged:
		l.moved = true
	case *proto.PlaybackStreamKilled:
		l.over = errors.New("the sound server ended the stream")
	}
	l.nudge()
}

// lost notes that the connection is broken.
func (l *link) lost(error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.over = errGone
	l.nudge()
}

func (l *link) nudge() {
	select {
	case l.wake <- struct{}{}:
	default:
	}
}

// wants is what the server asks for, in bytes, and whether its device sleeps.
// It errs where the connection is over.
func (l *link) wants() (wanted int, suspended bool, err error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.wanted, l.suspended, l.over
}

// stirred says once that what was known of the latency is void.
func (l *link) stirred() bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	was := l.moved
	l.moved = false
	return was
}

// send gives the server frames.
func (l *link) send(block []byte) error {
	if err := l.client.Send(l.stream, block); err != nil {
		return err
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	l.wanted -= len(block)
	return l.over
}

// measurement is what one question about the latency gave.
type measurement struct {
	at     time.Time     // of the question
	took   time.Duration // until the answer
	origin time.Time     // when frame 0 of the stream was or would have been heard
}

// contradicts says whether two measurements cannot both be true: the server told
// its time at some moment between question and answer, so an origin is known to
// half of what the answer took. Then the stream has jumped between them.
func (m measurement) contradicts(other measurement) bool {
	const margin = time.Millisecond // what a server's own reckoning is good for
	return m.origin.Sub(other.origin).Abs() > (m.took+other.took)/2+margin
}

// measure asks the server where its loudspeaker is.
func (l *link) measure() (measurement, error) {
	var reply proto.GetPlaybackLatencyReply
	m := measurement{at: time.Now()}
	if err := l.client.Request(&proto.GetPlaybackLatency{StreamIndex: l.stream}, &reply); err != nil {
		return m, err
	}
	m.took = time.Since(m.at)
	heard := timeOf(reply.ReadIndex/frameBytes) - time.Duration(reply.Latency)*time.Microsecond
	m.origin = m.at.Add(m.took/2 - heard)
	return m, nil
}

func (l *link) close() { l.conn.Close() }

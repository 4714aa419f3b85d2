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

// What the server is told of our habits, in bytes. It asks for more each two seconds and a
// half, which shows that it lives; what it is given, and when, is reckoned here. It gives
// its device half of what the buffer holds beyond two requests: 20 ms.
const (
	pulseRequest   = Rate * monoBytes * 5 / 2
	pulseBuffer    = 2*pulseRequest + Rate*monoBytes*4/100
	requestTimeout = 6 * time.Second // a server that asks for nothing for so long is given up
)

var errGone = errors.New("the sound server has gone")

// pulseLink is a live connection with its stream.
type pulseLink struct {
	wire   *pulseWire
	client *proto.Client
	stream uint32
	input  uint32        // the stream among all that a device plays
	wake   chan struct{} // holds one: something has been noted

	mu            sync.Mutex
	lastRequest   time.Time // when the server last asked for more, or lay suspended
	suspended     bool
	volumeChanged bool  // somebody may have turned it down
	moved         bool  // what was known of the latency is void
	err           error // why the connection is of no use any more
}

// openLink connects and opens a running stream.
func openLink(getenv func(string) string) (*pulseLink, error) {
	dialled, err := dialServer(serverAddresses(getenv))
	if err != nil {
		return nil, err
	}
	l := &pulseLink{client: &proto.Client{}, stream: proto.Undefined, wake: make(chan struct{}, 1), lastRequest: time.Now(), volumeChanged: true}
	l.wire = newWire(readOnlyPolled(dialled), l.onLost)
	l.client.Callback = l.onMessage
	l.client.SetTimeout(callTime)
	l.client.Open(l.wire)
	if err := l.handshake(serverCookie(getenv)); err != nil {
		l.close()
		return nil, fmt.Errorf("the sound server refuses: %w", err)
	}
	return l, nil
}

func (l *pulseLink) handshake(cookie []byte) error {
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
	l.stream, l.input, l.suspended = stream.StreamIndex, stream.SinkInputIndex, stream.SinkSuspended
	l.mu.Unlock()
	changes := proto.SubscriptionMaskSink | proto.SubscriptionMaskSinkInput
	return l.client.Request(&proto.Subscribe{Mask: changes}, nil)
}

// newStream asks for a stream that starts at once and goes on through an
// underrun, so that the place of a frame stays a matter of time alone.
func newStream(about proto.PropList) *proto.CreatePlaybackStream {
	return &proto.CreatePlaybackStream{
		SampleSpec:            proto.SampleSpec{Format: proto.FormatInt16LE, Channels: 1, Rate: Rate},
		ChannelMap:            proto.ChannelMap{proto.ChannelMono}, // the server gives it to all loudspeakers
		SinkIndex:             proto.Undefined,
		BufferMaxLength:       2 * pulseBuffer,
		BufferTargetLength:    pulseBuffer,
		BufferPrebufferLength: 0,
		BufferMinimumRequest:  pulseRequest,
		ChannelVolumes:        proto.ChannelVolumes{0x10000},
		AdjustLatency:         true,
		Properties:            about,
	}
}

// onMessage takes a message from the library's reader. There is one stream, and
// what the server asks before its number is known is for it too.
func (l *pulseLink) onMessage(message any) {
	l.mu.Lock()
	defer l.mu.Unlock()
	switch m := message.(type) {
	case *proto.Request:
		l.lastRequest = time.Now()
		return
	case *proto.SubscribeEvent:
		l.volumeChanged = true
	case *proto.Underflow:
		l.moved = true
	case *proto.PlaybackStreamMoved:
		l.moved, l.suspended = true, m.Suspended
	case *proto.PlaybackStreamSuspended:
		l.moved, l.suspended = true, m.Suspended
	case *proto.PlaybackBufferAttrChanged:
		l.moved = true
	case *proto.PlaybackStreamKilled:
		l.err = errors.New("the sound server ended the stream")
	}
	l.signal()
}

// onLost notes that the connection is broken.
func (l *pulseLink) onLost(error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.err = errGone
	l.signal()
}

func (l *pulseLink) signal() {
	select {
	case l.wake <- struct{}{}:
	default:
	}
}

// alive errs where the connection is over, or where the server has asked for nothing for
// so long that it is given up; it says whether the device sleeps.
func (l *pulseLink) alive() (suspended bool, err error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	switch {
	case l.err != nil:
		return false, l.err
	case l.suspended:
		l.lastRequest = time.Now()
	case time.Since(l.lastRequest) > requestTimeout:
		return false, errors.New("the sound server asks for nothing")
	}
	return l.suspended, nil
}

// takeMoved says once that what was known of the latency is void.
func (l *pulseLink) takeMoved() bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	was := l.moved
	l.moved = false
	return was
}

// takeVolumeChanged says once that somebody may have turned it down.
func (l *pulseLink) takeVolumeChanged() bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	was := l.volumeChanged
	l.volumeChanged = false
	return was
}

// send gives the server frames, in a message with room for a descriptor before them; they
// follow those sent before, or overwrite so many of them.
func (l *pulseLink) send(message []byte, overwrite int64) error {
	if err := l.wire.sound(l.stream, message, overwrite*monoBytes); err != nil {
		return errGone
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.err
}

func (l *pulseLink) close() { l.wire.Close() }

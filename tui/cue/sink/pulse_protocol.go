package sink

// One connection to a PulseAudio or PipeWire server with one stream on it, by the
// library's protocol package: its own playback streams hang on a suspended device and
// miss that a stream was ended. What the server says is noted by the library's reader,
// which never waits; what is asked of the server ends within callTime. The library prints
// what it does not know; protocol 32 without shared memory has nothing of the kind.

import (
	"context"
	"errors"
	"fmt"
	"net"
	"os"
	"slices"
	"sync"
	"time"

	"github.com/jfreymuth/pulse/proto"
)

// What is on its way to the ear at most, and how much the server asks for at a time. It
// gives its device half of what the buffer holds beyond two requests, 20 ms, so that it
// has 100 ms in hand at least: a stall of ours is not heard until then.
const (
	pulseLatency = 200 * time.Millisecond
	pulseBuffer  = 2*pulseRequest + Rate*monoBytes*4/100
	pulseRequest = Rate * monoBytes * 8 / 100
)

var errGone = errors.New("the sound server has gone")

// pulseLink is a live connection with its stream.
type pulseLink struct {
	conn   net.Conn
	client *proto.Client
	stream uint32
	input  uint32        // the stream among all that a device plays
	wake   chan struct{} // holds one: something has been noted

	mu        sync.Mutex
	wanted    int // bytes asked for and not yet sent
	suspended bool
	moved     bool  // what was known of the latency is void
	err       error // why the connection is of no use any more
}

// openLink connects and opens a running stream.
func openLink(getenv func(string) string) (*pulseLink, error) {
	conn, err := dialServer(serverAddresses(getenv))
	if err != nil {
		return nil, err
	}
	l := &pulseLink{conn: conn, client: &proto.Client{}, stream: proto.Undefined, wake: make(chan struct{}, 1)}
	l.client.Callback = l.onMessage
	l.client.SetTimeout(callTime)
	l.client.Open(conn)
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
	defer l.mu.Unlock()
	l.stream, l.input, l.suspended = stream.StreamIndex, stream.SinkInputIndex, stream.SinkSuspended
	l.wanted += int(stream.Missing)
	l.signal()
	return nil
}

// newStream asks for a stream that starts at once and goes on through an
// underrun, so that the place of a frame stays a matter of time alone.
func newStream(about proto.PropList) *proto.CreatePlaybackStream {
	return &proto.CreatePlaybackStream{
		SampleSpec:            proto.SampleSpec{Format: proto.FormatInt16LE, Channels: 1, Rate: Rate},
		ChannelMap:            proto.ChannelMap{proto.ChannelMono}, // the server gives it to all loudspeakers
		SinkIndex:             proto.Undefined,
		BufferMaxLength:       4 * pulseBuffer,
		BufferTargetLength:    pulseBuffer,
		BufferPrebufferLength: 0,
		BufferMinimumRequest:  pulseRequest,
		ChannelVolumes:        proto.ChannelVolumes{uint32(proto.VolumeNorm)},
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
		l.wanted += int(m.Length)
	case *proto.Underflow, *proto.PlaybackBufferAttrChanged:
		l.moved = true
	case *proto.PlaybackStreamMoved:
		l.moved, l.suspended = true, m.Suspended
	case *proto.PlaybackStreamSuspended:
		l.moved, l.suspended = true, m.Suspended
	case *proto.PlaybackStreamKilled:
		l.err = errors.New("the sound server ended the stream")
	case *proto.ConnectionClosed:
		l.err = errGone
	}
	l.signal()
}

func (l *pulseLink) signal() {
	select {
	case l.wake <- struct{}{}:
	default:
	}
}

// wants is what the server asks for, in bytes, and whether its device sleeps.
// It errs where the connection is over.
func (l *pulseLink) wants() (wanted int, suspended bool, err error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.wanted, l.suspended, l.err
}

// takeMoved says once that what was known of the latency is void.
func (l *pulseLink) takeMoved() bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	was := l.moved
	l.moved = false
	return was
}

// send gives the server frames.
func (l *pulseLink) send(block []byte) error {
	l.conn.SetWriteDeadline(time.Now().Add(callTime))
	if err := l.client.Send(l.stream, block); err != nil {
		return l.explained(err)
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	l.wanted -= len(block)
	return l.err
}

// ask puts a question to the server.
func (l *pulseLink) ask(question proto.RequestArgs, answer proto.Reply) error {
	l.conn.SetWriteDeadline(time.Now().Add(callTime))
	return l.explained(l.client.Request(question, answer))
}

// explained is the error of a call to the server in the person's words.
func (l *pulseLink) explained(err error) error {
	_, _, over := l.wants()
	var refused proto.Error
	switch {
	case err == nil, errors.As(err, &refused):
		return err
	case over != nil:
		return over
	case errors.Is(err, context.DeadlineExceeded):
		return errors.New("the sound server does not answer")
	}
	return errGone
}

// howFar asks the server where its loudspeaker is.
func (l *pulseLink) howFar() (serverAnswer, error) {
	var reply proto.GetPlaybackLatencyReply
	if err := l.ask(&proto.GetPlaybackLatency{StreamIndex: l.stream}, &reply); err != nil {
		return serverAnswer{}, err
	}
	now := time.Now()
	heard := timeOf(reply.ReadIndex/monoBytes) - time.Duration(reply.Latency)*time.Microsecond
	return serverAnswer{came: now, origin: now.Add(-heard)}, nil
}

// muted is why what is played is not heard: somebody has turned it down, which in the dark
// is a fault like any other. It is "" where it is heard, or where the server does not say.
func (l *pulseLink) muted() (why string, err error) {
	var own proto.GetSinkInputInfoReply
	var device proto.GetSinkInfoReply
	err = l.ask(&proto.GetSinkInputInfo{SinkInputIndex: l.input}, &own)
	if err == nil {
		err = l.ask(&proto.GetSinkInfo{SinkIndex: own.SinkIndex}, &device)
	}
	var refused proto.Error
	switch {
	case errors.As(err, &refused):
		return "", nil
	case err != nil:
		return "", err
	case device.Mute:
		return "the sound device is muted", nil
	case own.Muted:
		return "the sound server has muted wetside", nil
	case percent(device.ChannelVolumes) < leastVolume:
		return fmt.Sprintf("the sound device is turned down to %d%%", percent(device.ChannelVolumes)), nil
	case percent(own.ChannelVolumes) < leastVolume:
		return fmt.Sprintf("the sound server has turned wetside down to %d%%", percent(own.ChannelVolumes)), nil
	}
	return "", nil
}

// leastVolume is the volume, in per cent as mixers show it, below which nothing is taken to be
// heard (our own rule): PulseAudio's is cubic (pulse/volume.h: pa_sw_volume_to_dB), so that 10 % are
// 60 dB less than 100 %, below any room with running water.
const leastVolume = 10

// percent is the volume of the loudest channel.
func percent(v proto.ChannelVolumes) int {
	if len(v) == 0 {
		return 100
	}
	return int((uint64(slices.Max(v))*100 + uint64(proto.VolumeNorm)/2) / uint64(proto.VolumeNorm))
}

func (l *pulseLink) close() { l.conn.Close() }

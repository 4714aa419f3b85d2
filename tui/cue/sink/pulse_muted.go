package sink

// Somebody turned it down: a stream that plays on and is not heard. In the dark that
// is a fault like any other.

import (
	"slices"
	"time"

	"github.com/jfreymuth/pulse/proto"
)

const muteCheckEvery = 10 * time.Second // between two looks at the volume, should the server not tell of changes

// muteReason is why what is played is not heard; "" where it is, or where the server does
// not say.
func (l *pulseLink) muteReason() string {
	var own proto.GetSinkInputInfoReply
	if l.client.Request(&proto.GetSinkInputInfo{SinkInputIndex: l.input}, &own) != nil {
		return ""
	}
	var device proto.GetSinkInfoReply
	if l.client.Request(&proto.GetSinkInfo{SinkIndex: own.SinkIndex}, &device) != nil {
		return ""
	}
	switch {
	case device.Mute:
		return "the sound device is muted"
	case isSilent(device.ChannelVolumes):
		return "the sound device is turned down to nothing"
	case own.Muted, isSilent(own.ChannelVolumes):
		return "the sound server has muted wetside"
	}
	return ""
}

// isSilent tells whether no channel is heard.
func isSilent(v proto.ChannelVolumes) bool {
	return len(v) > 0 && !slices.ContainsFunc(v, func(one uint32) bool { return one > 0 })
}

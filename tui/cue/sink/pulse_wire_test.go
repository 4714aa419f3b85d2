package sink

import (
	"bytes"
	"encoding/binary"
	"io"
	"net"
	"slices"
	"testing"

	"github.com/jfreymuth/pulse/proto"
)

// note is a message as a server sends it.
func note(channel, kind uint32) []byte {
	var b []byte
	b = binary.BigEndian.AppendUint32(b, 10)
	b = binary.BigEndian.AppendUint32(b, channel)
	b = append(b, make([]byte, 12)...)
	b = append(b, 'L')
	b = binary.BigEndian.AppendUint32(b, kind)
	return append(b, 'L', 0, 0, 0, 9)
}

// The library prints the number of a note that it does not know: such a note must not
// reach it, nor what is sound.
func TestTheLibraryHearsOnlyWhatItKnows(t *testing.T) {
	here, there := net.Pipe()
	defer here.Close()
	go func() {
		for _, b := range [][]byte{note(controlChannel, 9999), note(3, proto.OpStarted), note(controlChannel, proto.OpStarted), note(controlChannel, proto.OpSubscribeEvent), note(controlChannel, 61)} {
			there.Write(b)
		}
		there.Close()
	}()
	over := 0
	got, err := io.ReadAll(newWire(here, func(error) { over++ }))
	if want := slices.Concat(note(controlChannel, proto.OpStarted), note(controlChannel, proto.OpSubscribeEvent), note(controlChannel, 61)); err != nil || !bytes.Equal(got, want) {
		t.Errorf("%v: got\n% x, want\n% x", err, got, want)
	}
	if over != 1 {
		t.Errorf("the end was told %d times", over)
	}
}

func TestAMessageWithoutMeasureEndsTheConnection(t *testing.T) {
	here, there := net.Pipe()
	defer here.Close()
	go there.Write([]byte("HTTP/1.1 400 Bad Request\r\n\r\n"))
	var over error
	if _, err := newWire(here, func(err error) { over = err }).Read(make([]byte, 100)); err == nil || over == nil {
		t.Errorf("error %v, told %v", err, over)
	}
}

// A server wakes up once for a message, not for its descriptor and again for the rest.
func TestAMessageGoesOutInOnePiece(t *testing.T) {
	here, there := net.Pipe()
	defer there.Close()
	w := newWire(here, func(error) {})
	go func() {
		for range 2 {
			w.Write(bytes.Repeat([]byte{1}, headerSize))
			w.Write(bytes.Repeat([]byte{2}, headerSize)) // a message of that length is no descriptor
		}
		w.Close()
	}()
	buf := make([]byte, 1000)
	for i := range 2 {
		if n, err := there.Read(buf); n != 2*headerSize || buf[0] != 1 || buf[headerSize] != 2 {
			t.Errorf("piece %d has %d bytes: %v", i+1, n, err)
		}
	}
	if n, err := there.Read(buf); err == nil {
		t.Errorf("%d bytes more", n)
	}
}

// Sound goes out with the descriptor of PulseAudio's protocol (its pstream.c, from memory):
// length, channel, a place of 64 bits and how it is meant, 0 for: from the end of the last.
func TestSoundFollowsOrOverwrites(t *testing.T) {
	for _, overwrite := range []int64{0, 6} {
		here, there := net.Pipe()
		w := newWire(here, func(error) {})
		go func() {
			w.sound(7, append(make([]byte, headerSize), "tern"...), overwrite)
			w.Close()
		}()
		place := []byte{0, 0, 0, 0, 0, 0, 0, 0}
		if overwrite > 0 {
			place = []byte{255, 255, 255, 255, 255, 255, 255, 250}
		}
		want := append(append([]byte{0, 0, 0, 4, 0, 0, 0, 7}, place...), "\x00\x00\x00\x00tern"...)
		if got, err := io.ReadAll(there); err != nil || !bytes.Equal(got, want) {
			t.Errorf("overwriting %d: %v: got\n% x, want\n% x", overwrite, err, got, want)
		}
	}
}

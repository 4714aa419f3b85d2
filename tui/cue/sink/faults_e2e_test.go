//go:build unix

package sink_test

// What happens to sound servers, done to a real one of the test's own; what the
// person is told; and that cues are heard again: WETSIDE_E2E=1.

import (
	"strings"
	"testing"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/tui/cue"
	"example.org/wetside/tui/cue/sink"
	"example.org/wetside/tui/cue/sink/pulsetest"
)

func newEar() *cue.Ear { return cue.NewEar(clock.New(clock.System(), 0, 1)) }

// opened is a pulse sink that is heard.
func opened(t *testing.T, s *pulsetest.Server) (*cue.Ear, sink.Sink) {
	t.Helper()
	ear := newEar()
	out, err := sink.OpenPulse(ear, s.Getenv)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { out.Close() })
	pulsetest.WaitFor(t, 2*time.Second, "sound", out.Sounding)
	return ear, out
}

// lost waits until the person is told that nothing is heard, and why.
func lost(t *testing.T, out sink.Sink, limit time.Duration) {
	t.Helper()
	told := pulsetest.WaitFor(t, limit, "the loss to be told", func() bool { return !out.Sounding() })
	state := out.State()
	t.Logf("told after %v: %s", told, state)
	if !strings.HasPrefix(state, "NO SOUND: ") {
		t.Errorf("state %q", state)
	}
}

// back waits for sound, and for a cue to be heard on the server.
func back(t *testing.T, s *pulsetest.Server, ear *cue.Ear, out sink.Sink, limit time.Duration) {
	t.Helper()
	t.Logf("back after %v", pulsetest.WaitFor(t, limit, "sound to come back", out.Sounding))
	if state := out.State(); !strings.HasPrefix(state, "sound: pulse, ") {
		t.Errorf("state %q", state)
	}
	heard := 0
	for range 5 { // a machine that stalls cuts a cue in two, or begins to record late
		stop := s.Record(pulsetest.Sinks[0])
		time.Sleep(300 * time.Millisecond)
		ear.Play(sequence.CueShuffle)
		time.Sleep(time.Second)
		if heard = len(pulsetest.Onsets(stop())); heard == 1 {
			return
		}
	}
	t.Errorf("%d cues heard after sound came back, want 1", heard)
}

func TestPulseComesBackAfterTheServerWasKilled(t *testing.T) {
	t.Parallel()
	s := pulsetest.PulseAudio(t).Start()
	ear, out := opened(t, s)
	for _, away := range []time.Duration{0, 7 * time.Second} {
		s.Kill()
		lost(t, out, time.Second)
		time.Sleep(away)
		s.Start()
		back(t, s, ear, out, 2*time.Second)
	}
}

// A stopped server answers nothing: that is told within the watchdog's time, and
// over when it goes on. Closing beside one does not wait for it.
func TestPulseSurvivesAStoppedServer(t *testing.T) {
	t.Parallel()
	s := pulsetest.PulseAudio(t).Start()
	ear, out := opened(t, s)
	s.Freeze()
	lost(t, out, 5*time.Second)
	s.Unfreeze()
	back(t, s, ear, out, 2*time.Second)
	s.Freeze()
	defer s.Unfreeze()
	began := time.Now()
	out.Close()
	if d := time.Since(began); d > pulsetest.ScaledLimit(2500*time.Millisecond) {
		t.Errorf("closing beside a stopped server took %v", d)
	}
}

// A loudspeaker is unplugged and plugged in again; the server goes on.
func TestPulseComesBackWithItsSink(t *testing.T) {
	t.Parallel()
	s := pulsetest.PulseAudio(t).Start()
	ear, out := opened(t, s)
	s.RemoveSinks()
	lost(t, out, 2*time.Second)
	time.Sleep(3 * time.Second)
	s.AddSinks()
	back(t, s, ear, out, 2*time.Second)
}

func TestPulseFollowsASuspendedDevice(t *testing.T) {
	t.Parallel()
	s := pulsetest.PulseAudio(t).Start()
	ear, out := opened(t, s)
	s.Control("suspend-sink", pulsetest.Sinks[0], "1")
	lost(t, out, 2*time.Second)
	if state := out.State(); state != "NO SOUND: the sound device is suspended" {
		t.Errorf("state %q", state)
	}
	s.Control("suspend-sink", pulsetest.Sinks[0], "0")
	back(t, s, ear, out, 2*time.Second)
}

// A loudspeaker that somebody has muted is no sound, whether before or during a
// session, and so is one that is turned down to nothing, or nearly.
func TestPulseTellsThatItIsMuted(t *testing.T) {
	t.Parallel()
	s := pulsetest.PulseAudio(t).Start()
	for _, turned := range []struct{ silentSink, on []string }{
		{[]string{"set-sink-mute", pulsetest.Sinks[0], "1"}, []string{"set-sink-mute", pulsetest.Sinks[0], "0"}},
		{[]string{"set-sink-volume", pulsetest.Sinks[0], "0"}, []string{"set-sink-volume", pulsetest.Sinks[0], "65536"}},
		{[]string{"set-sink-volume", pulsetest.Sinks[0], "655"}, []string{"set-sink-volume", pulsetest.Sinks[0], "65536"}}, // 1 %
		{[]string{"set-sink-volume", pulsetest.Sinks[0], "5898"}, []string{"set-sink-volume", pulsetest.Sinks[0], "65536"}},
	} {
		s.Control(turned.silentSink...)
		ear := newEar()
		out, err := sink.OpenPulse(ear, s.Getenv)
		if err != nil {
			t.Fatal(err)
		}
		if state := out.State(); out.Sounding() || !strings.HasPrefix(state, "NO SOUND: the sound device is ") {
			t.Errorf("opened on %v: state %q", turned.silentSink, state)
		}
		s.Control(turned.on...)
		back(t, s, ear, out, 4*time.Second)
		s.Control(turned.silentSink...)
		lost(t, out, 4*time.Second)
		out.Close()
		s.Control(turned.on...)
	}
	_, out := opened(t, s)
	s.Control("set-sink-volume", pulsetest.Sinks[0], "6554") // 10 %
	time.Sleep(3 * time.Second)
	if !out.Sounding() {
		t.Errorf("at 10 %%: %s", out.State())
	}
	s.Control("set-sink-volume", pulsetest.Sinks[0], "65536")
	s.Control("set-sink-input-mute", s.SinkInput(), "1")
	lost(t, out, 4*time.Second)
	if state := out.State(); state != "NO SOUND: the sound server has muted wetside" {
		t.Errorf("state %q", state)
	}
	s.Control("set-sink-input-mute", s.SinkInput(), "0")
	s.Control("set-sink-input-volume", s.SinkInput(), "655")
	until := time.Now().Add(time.Minute)
	for out.State() != "NO SOUND: the sound server has turned wetside down to 1%" {
		if time.Now().After(until) {
			t.Fatalf("state %q", out.State())
		}
		time.Sleep(10 * time.Millisecond)
	}
}

// Without a server pulse is refused; auto is silent, says so, and finds the server
// when there is one.
func TestAutoFindsAServerThatAppearsLater(t *testing.T) {
	t.Parallel()
	s := pulsetest.PulseAudio(t)
	ear := newEar()
	if out, err := sink.OpenPulse(ear, s.Getenv); err == nil {
		out.Close()
		t.Fatal("a server that is not there was found")
	}
	out := sink.OpenAuto(ear, s.Getenv)
	defer out.Close()
	if state := out.State(); out.Sounding() || !strings.HasPrefix(state, "NO SOUND: pulse: no sound server: ") {
		t.Errorf("state %q", state)
	}
	time.Sleep(4 * time.Second)
	s.Start()
	back(t, s, ear, out, 2*time.Second)
	s.Kill()
	lost(t, out, time.Second)
	s.Start()
	back(t, s, ear, out, 2*time.Second)
}

func TestPulseComesBackAfterPipeWireWasKilled(t *testing.T) {
	t.Parallel()
	s := pulsetest.PipeWire(t).Start()
	ear, out := opened(t, s)
	s.Kill()
	lost(t, out, time.Second)
	s.Start()
	back(t, s, ear, out, 2*time.Second)
}

func TestExecStartsItsProgramAgain(t *testing.T) {
	s := pulsetest.PulseAudio(t).Start()
	out, err := bySpec(t, s, "exec", 0).open(newEar())
	if err != nil {
		t.Fatal(err)
	}
	defer out.Close()
	s.Kill()
	lost(t, out, 4*time.Second)
	s.Start()
	t.Logf("back %v after the server", pulsetest.WaitFor(t, 6*time.Second, "sound to come back", out.Sounding))
}

package sink

import (
	"fmt"
	"net"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

func env(pairs ...string) func(string) string {
	return func(name string) string {
		for i := 0; i < len(pairs); i += 2 {
			if pairs[i] == name {
				return pairs[i+1]
			}
		}
		return ""
	}
}

// The forms are those of PulseAudio's own page on server strings.
func TestServerAddresses(t *testing.T) {
	user := fmt.Sprintf("/run/user/%d/pulse/native", os.Getuid())
	for _, c := range []struct {
		getenv func(string) string
		want   []address
	}{
		{env(), []address{{"unix", user}}},
		{env("XDG_RUNTIME_DIR", "/x"), []address{{"unix", "/x/pulse/native"}}},
		{env("PULSE_SERVER", "unix:/a", "XDG_RUNTIME_DIR", "/x"), []address{{"unix", "/a"}}},
		{env("PULSE_SERVER", "/a/b"), []address{{"unix", "/a/b"}}},
		{env("PULSE_SERVER", "{dry-side}unix:/a tcp:tern"), []address{{"unix", "/a"}, {"tcp", "tern:4713"}}},
		{env("PULSE_SERVER", "tcp4:tern:99 tcp6:[::1]:98 tcp6:[::1]"), []address{{"tcp4", "tern:99"}, {"tcp6", "[::1]:98"}, {"tcp6", "[::1]:4713"}}},
		{env("PULSE_SERVER", "{ nonsense: {x tcp"), nil},
	} {
		if got := serverAddresses(c.getenv); !slices.Equal(got, c.want) {
			t.Errorf("addresses %v, want %v", got, c.want)
		}
	}
}

func TestNoServerIsAPlainError(t *testing.T) {
	t.Setenv("PULSE_SERVER", "unix:"+filepath.Join(t.TempDir(), "none"))
	_, err := Open("pulse", &silence{})
	if err == nil || !strings.HasPrefix(err.Error(), "sound: pulse: no sound server: ") {
		t.Errorf("error %v", err)
	}
}

// A listener that is no sound server: it closes at once, or answers with junk.
func TestAStrangerIsRefused(t *testing.T) {
	for _, answer := range []string{"", "HTTP/1.1 400 Bad Request\r\n\r\n"} {
		path := filepath.Join(t.TempDir(), "native")
		door, err := net.Listen("unix", path)
		if err != nil {
			t.Fatal(err)
		}
		go func() {
			if conn, err := door.Accept(); err == nil {
				conn.Write([]byte(answer))
				conn.Close()
			}
		}()
		if p, err := openPulse(&silence{}, env("PULSE_SERVER", "unix:"+path)); err == nil {
			p.Close()
			t.Errorf("a stranger that answers %q was taken for a sound server", answer)
		}
		door.Close()
	}
}

func TestCookieIsReadWhereItIs(t *testing.T) {
	home := t.TempDir()
	if got := serverCookie(env("HOME", home)); len(got) != 256 || got[0] != 0 {
		t.Errorf("without a file: %v", got)
	}
	if err := os.WriteFile(filepath.Join(home, ".pulse-cookie"), slices.Repeat([]byte{7}, 256), 0o600); err != nil {
		t.Fatal(err)
	}
	if got := serverCookie(env("HOME", home)); len(got) != 256 || got[255] != 7 {
		t.Errorf("with a file: %v", got)
	}
}

// answers is what a server says that reckons exactly, or repeats what it knew when its
// device last took something, 20 ms of it at a time.
func answers(at time.Time, origin, took time.Duration, repeats bool) measurement {
	middle := at.Add(took / 2)
	read := framesIn(middle.Sub(at.Truncate(time.Hour)) - origin)
	if repeats {
		read -= read % (Rate / 50)
	}
	return measurement{at: at, took: took, read: read, delay: 20 * time.Millisecond}
}

// A stream that has jumped is seen through slow answers, and answers that prove nothing
// void nothing.
func TestAnchorSeesAJumpThroughSlowAnswers(t *testing.T) {
	const ms = time.Millisecond
	day := time.Date(2026, 2, 3, 4, 0, 1, 0, time.UTC)
	for _, c := range []struct {
		name       string
		origin     time.Duration // of the second answer; of the first it is 0
		first, two time.Duration // what they took
		kept       int
	}{
		{"half a millisecond each, and the margin", 2*ms - 30_000, ms, ms, 2},
		{"more", 2*ms + 100_000, ms, ms, 1},
		{"an underrun", 83 * ms, ms, ms, 1},
		{"a slow answer proves nothing", 20 * ms, ms, 40 * ms, 2},
		{"unless it is far off", 83 * ms, 40 * ms, ms, 1},
	} {
		var a playbackAnchor
		a.add(answers(day, 0, c.first, false))
		a.add(answers(day.Add(100*ms), c.origin, c.two, false))
		if len(a.measured) != c.kept {
			t.Errorf("%s: %d answers count, want %d", c.name, len(a.measured), c.kept)
		}
	}
}

// Of a server that repeats itself the answer counts that comes just after the device has
// taken something; it is asked until there is one. Nothing of it is a jump.
func TestAnchorWaitsForAServerThatRepeatsItself(t *testing.T) {
	day := time.Date(2026, 2, 3, 4, 0, 1, 0, time.UTC)
	for _, late := range []time.Duration{0, 3 * time.Millisecond, 11 * time.Millisecond, 19 * time.Millisecond} {
		var a playbackAnchor
		at := day.Add(late)
		for range maxMeasurements {
			a.add(answers(at, 0, 200*time.Microsecond, true))
			if a.isSure() {
				break
			}
			at = at.Add(repeatPause)
		}
		if !a.isSure() || a.extrapolates {
			t.Fatalf("from %v on: sure %v, of a server taken for one that reckons: %v", late, a.isSure(), a.extrapolates)
		}
		want := day.Truncate(time.Hour).Add(20 * time.Millisecond)
		if off := a.origin().Sub(want); off < -time.Millisecond/4 || off > 5*time.Millisecond/4 {
			t.Errorf("from %v on: off by %v after %d answers", late, off, len(a.measured))
		}
	}
}

// A stream of such a server that has jumped by less than what is repeated may be old is
// known anew from the next answer that comes just after the device has taken something.
func TestAnchorFollowsAJumpOfAServerThatRepeatsItself(t *testing.T) {
	var a playbackAnchor
	at := time.Date(2026, 2, 3, 4, 0, 1, 0, time.UTC)
	for _, jumped := range []time.Duration{0, 40 * time.Millisecond} {
		for range maxMeasurements {
			a.add(answers(at, jumped, 200*time.Microsecond, true))
			if at = at.Add(repeatPause); a.isSure() {
				break
			}
		}
		want := at.Truncate(time.Hour).Add(jumped + 20*time.Millisecond)
		if off := a.origin().Sub(want); !a.isSure() || off < -time.Millisecond/4 || off > 5*time.Millisecond/4 {
			t.Errorf("jumped by %v: off by %v, sure %v", jumped, off, a.isSure())
		}
		at = at.Add(time.Second)
	}
}

// What such a server repeats later does not void what it told sooner, which is better. Of
// one that reckons an answer of half a second ago is not taken, however quick it came.
func TestAnchorTakesTheBetterAnswer(t *testing.T) {
	const ms = time.Millisecond
	at := time.Date(2026, 2, 3, 4, 0, 1, 0, time.UTC)
	var a playbackAnchor
	a.add(answers(at, 0, ms/5, true))
	a.add(answers(at.Add(15*ms), 0, ms/5, true))
	want := at.Truncate(time.Hour).Add(20 * ms)
	if off := a.origin().Sub(want); !a.repeats || off.Abs() > ms {
		t.Errorf("repeated %v: off by %v", a.repeats, off)
	}
	a = playbackAnchor{}
	a.add(answers(at, 0, ms/5, false))
	a.add(answers(at.Add(time.Second), ms, ms, false))
	if off := a.origin().Sub(want.Add(ms)); off.Abs() > ms/10 {
		t.Errorf("reckoned: off by %v", off)
	}
}

// A device that has taken what was overwritten is given more room from then on: in hand,
// and before it.
func TestPulseGivesADeviceRoomThatTakesMuchAtOnce(t *testing.T) {
	p := &pulseSink{}
	before := p.room(0)
	p.adaptMargin(1000, 1000)
	if p.extraMargin != 0 {
		t.Errorf("%v more, though nothing was lost", p.extraMargin)
	}
	for _, want := range []time.Duration{80, 240, 560, 640, 640} {
		p.adaptMargin(1001, 1000)
		if p.extraMargin != want*time.Millisecond || p.room(0) != before+framesIn(p.extraMargin) {
			t.Errorf("%v more, and %d frames in hand; want %d ms", p.extraMargin, p.room(0), want)
		}
	}
}

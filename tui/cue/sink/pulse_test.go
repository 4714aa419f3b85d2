package sink

import (
	"fmt"
	"net"
	"os"
	"path/filepath"
	"runtime"
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
	if runtime.GOOS == "windows" {
		t.Skip("no sound server is asked on Windows")
	}
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
	if runtime.GOOS == "windows" {
		t.Skip("no sound server is asked on Windows")
	}
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

// The earliest that an answer of the last second allows counts: others were longer on
// their way.
func TestAnchorBelievesTheEarliestOfASecond(t *testing.T) {
	const ms = time.Millisecond
	day := time.Date(2026, 2, 3, 4, 0, 0, 0, time.UTC)
	for _, c := range []struct {
		name string
		came []time.Duration
		puts []time.Duration // frame 0 there
		want time.Duration
	}{
		{"one", []time.Duration{0}, []time.Duration{7 * ms}, 7 * ms},
		{"a slow one tells nothing", []time.Duration{0, 80 * ms}, []time.Duration{0, 40 * ms}, 0},
		{"a quick one tells more than those before it", []time.Duration{0, 80 * ms}, []time.Duration{40 * ms, 0}, 0},
		{"after a second it is void", []time.Duration{0, 1001 * ms, 1081 * ms}, []time.Duration{0, 2 * ms, ms}, ms},
	} {
		var a playbackAnchor
		for i, puts := range c.puts {
			a = a.with(serverAnswer{came: day.Add(c.came[i]), origin: day.Add(puts)})
		}
		if got := a.origin().Sub(day); got != c.want {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

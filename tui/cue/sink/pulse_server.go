package sink

// Where the sound server is, and the way there: the addresses of PULSE_SERVER or
// the usual places, and a connection that never waits for long.

import (
	"errors"
	"fmt"
	"net"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"
)

const callTime = time.Second // for every call to the server

// address is one place where a server may listen.
type address struct{ network, place string }

// serverAddresses are the places to try in turn. XDG_RUNTIME_DIR may be unset
// in a bare login: then the user's own folder under /run is tried.
func serverAddresses(getenv func(string) string) []address {
	if words := getenv("PULSE_SERVER"); words != "" {
		return parseServers(words)
	}
	dir := getenv("XDG_RUNTIME_DIR")
	if dir == "" {
		dir = filepath.Join("/run/user", strconv.Itoa(os.Getuid()))
	}
	return []address{{"unix", filepath.Join(dir, "pulse", "native")}}
}

// parseServers reads the server strings of PulseAudio, for example
// "{host}unix:/run/pulse/native tcp:desk:4713"; what it does not know it skips.
func parseServers(words string) []address {
	var found []address
	for _, word := range strings.Fields(words) {
		if _, rest, named := strings.Cut(word, "}"); named && word[0] == '{' {
			word = rest
		}
		network, place, cut := strings.Cut(word, ":")
		switch {
		case strings.HasPrefix(word, "/"):
			found = append(found, address{"unix", word})
		case cut && network == "unix":
			found = append(found, address{"unix", place})
		case cut && (network == "tcp" || network == "tcp4" || network == "tcp6"):
			if _, _, err := net.SplitHostPort(place); err != nil {
				place = net.JoinHostPort(strings.Trim(place, "[]"), "4713")
			}
			found = append(found, address{network, place})
		}
	}
	return found
}

// dialServer connects to the first address that answers.
func dialServer(addresses []address) (net.Conn, error) {
	err := errors.New("no address of a sound server in PULSE_SERVER")
	for _, a := range addresses {
		var conn net.Conn
		if conn, err = net.DialTimeout(a.network, a.place, callTime); err == nil {
			return conn, nil
		}
	}
	return nil, fmt.Errorf("no sound server: %w", plainError(err))
}

// plainError is the inner reason of a network error: the words for a state line.
func plainError(err error) error {
	var op *net.OpError
	if errors.As(err, &op) {
		return fmt.Errorf("%v: %w", op.Addr, op.Err)
	}
	return err
}

// serverCookie is what the server may ask for: the file that PULSE_COOKIE names
// or the usual ones; zeros where there is none, which an open server takes.
func serverCookie(getenv func(string) string) []byte {
	home := getenv("HOME")
	for _, path := range []string{getenv("PULSE_COOKIE"), filepath.Join(home, ".config/pulse/cookie"),
		filepath.Join(home, ".pulse-cookie")} {
		if cookie, err := os.ReadFile(path); err == nil && len(cookie) == 256 {
			return cookie
		}
	}
	return make([]byte, 256)
}

package room

// The system bus and logind on it, with a limit of time for everything.

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"time"

	"github.com/godbus/dbus/v5"
)

// The names of logind (org.freedesktop.login1(5)).
const (
	login1           = "org.freedesktop.login1"
	managerPath      = "/org/freedesktop/login1"
	managerInterface = login1 + ".Manager"
	// sessionPath is the session that the caller is in, or the user's own.
	sessionPath      = managerPath + "/session/auto"
	sessionInterface = login1 + ".Session"
)

const (
	connectTimeout = time.Second            // to be let onto the bus
	callTimeout    = 700 * time.Millisecond // for one call
)

var errGone = errors.New("the system bus is gone")

// bus is a connection to the system bus.
type bus struct {
	*dbus.Conn
	cancel context.CancelFunc
}

// openBus connects; a bus that does not answer in time is none.
func openBus(ctx context.Context) (*bus, error) {
	ctx, cancel := context.WithCancel(ctx)
	late := time.AfterFunc(connectTimeout, cancel)
	conn, err := dbus.ConnectSystemBus(dbus.WithContext(ctx))
	if err == nil && !late.Stop() {
		err = errors.New("it does not answer")
		conn.Close()
	}
	if err != nil {
		cancel()
		return nil, fmt.Errorf("no system bus: %s", strings.TrimPrefix(err.Error(), "system bus "))
	}
	return &bus{conn, cancel}, nil
}

// Close leaves the bus.
func (b *bus) Close() error {
	b.cancel()
	return b.Conn.Close()
}

// call calls one of the manager's methods, or of the session's. logind is not
// started for it: where it does not run there is no answer to wait for.
func (b *bus) call(ctx context.Context, of, method string, args ...any) *dbus.Call {
	path := dbus.ObjectPath(managerPath)
	if of == sessionInterface {
		path = sessionPath
	}
	ctx, cancel := context.WithTimeout(ctx, callTimeout)
	defer cancel()
	return b.Object(login1, path).CallWithContext(ctx, of+"."+method, dbus.FlagNoAutoStart, args...)
}

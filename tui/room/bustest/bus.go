// Package bustest is for tests: a system bus of its own with a double of logind on it,
// made by dbus-daemon and python3-dbusmock (Debian), whose template of logind was
// written from systemd's own description by others.
package bustest

import (
	"bufio"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/godbus/dbus/v5"
)

// The names of logind and of what the double adds.
const (
	login1           = "org.freedesktop.login1"
	managerPath      = dbus.ObjectPath("/org/freedesktop/login1")
	managerInterface = login1 + ".Manager"
	mockInterface    = "org.freedesktop.DBus.Mock"
)

const config = `<!DOCTYPE busconfig PUBLIC "-//freedesktop//DTD D-Bus Bus Configuration 1.0//EN"
 "http://www.freedesktop.org/standards/dbus/1.0/busconfig.dtd">
<busconfig><type>system</type><keep_umask/><listen>unix:path=%s</listen><auth>EXTERNAL</auth>
<policy context="default"><allow send_destination="*" eavesdrop="true"/><allow eavesdrop="true"/><allow own="*"/></policy>
</busconfig>`

// Bus is a private system bus.
type Bus struct {
	t      testing.TB
	daemon *exec.Cmd
	logind *exec.Cmd
	conn   *dbus.Conn
}

// MissingPart says why the parts are not there; "" where they are.
func MissingPart() string {
	if _, err := exec.LookPath("dbus-daemon"); err != nil {
		return err.Error()
	}
	if out, err := exec.Command("/usr/bin/python3", "-c", "import dbusmock").CombinedOutput(); err != nil {
		return "python3-dbusmock: " + strings.TrimSpace(string(out))
	}
	return ""
}

// Start starts a bus with nobody on it and makes it the system bus of this process
// and of those that it starts. Where the parts are missing the test is skipped, or
// fails under WETSIDE_E2E=1.
func Start(t testing.TB) *Bus {
	t.Helper()
	if why := MissingPart(); why != "" {
		if os.Getenv("WETSIDE_E2E") == "1" {
			t.Fatal(why)
		}
		t.Skip(why)
	}
	dir, err := os.MkdirTemp("", "bus") // short: the name of a socket may not be long
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.RemoveAll(dir) })
	socket, file := filepath.Join(dir, "socket"), filepath.Join(dir, "config")
	if err := os.WriteFile(file, fmt.Appendf(nil, config, socket), 0o600); err != nil {
		t.Fatal(err)
	}
	b := &Bus{t: t, daemon: exec.Command("dbus-daemon", "--config-file="+file, "--nofork", "--nopidfile", "--print-address")}
	ready, err := b.daemon.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	b.start(b.daemon)
	if !bufio.NewScanner(ready).Scan() {
		t.Fatal("dbus-daemon does not say where it listens")
	}
	address := "unix:path=" + socket
	t.Setenv("DBUS_SYSTEM_BUS_ADDRESS", address)
	if b.conn, err = dbus.Connect(address); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { b.conn.Close() })
	return b
}

func (b *Bus) start(cmd *exec.Cmd) {
	b.t.Helper()
	if err := cmd.Start(); err != nil {
		b.t.Fatal(err)
	}
	b.t.Cleanup(func() {
		cmd.Process.Kill()
		cmd.Wait()
	})
}

// Logind puts the double on the bus.
func (b *Bus) Logind() {
	b.t.Helper()
	b.logind = exec.Command("/usr/bin/python3", "-m", "dbusmock", "--system", "--template", "logind")
	b.start(b.logind)
	b.WaitFor("logind's double", func() bool {
		has := false
		err := b.conn.BusObject().Call("org.freedesktop.DBus.NameHasOwner", 0, login1).Store(&has)
		return err == nil && has
	})
	b.WaitFor("its template", func() bool {
		var can string
		return b.conn.Object(login1, managerPath).Call(managerInterface+".CanSuspend", 0).Store(&can) == nil
	})
}

// WaitFor waits for something, for a minute at most.
func (b *Bus) WaitFor(what string, true func() bool) {
	b.t.Helper()
	for until := time.Now().Add(time.Minute); !true(); time.Sleep(5 * time.Millisecond) {
		if time.Now().After(until) {
			b.t.Fatalf("waited in vain for %s", what)
		}
	}
}

func (b *Bus) mock(method string, args ...any) {
	b.t.Helper()
	if err := b.conn.Object(login1, managerPath).Call(mockInterface+"."+method, 0, args...).Err; err != nil {
		b.t.Fatalf("%s: %v", method, err)
	}
}

// RefuseInhibit makes logind refuse the locks whose kind and mode the condition, in Python,
// is true for: args[0] is what they are against, args[3] their mode.
func (b *Bus) RefuseInhibit(condition string) {
	b.t.Helper()
	b.mock("AddMethod", managerInterface, "Inhibit", "ssss", "h", "if "+condition+":\n"+
		"    raise dbus.exceptions.DBusException('Permission denied', name='org.freedesktop.DBus.Error.AccessDenied')\n"+
		"import os\nret = os.open('/dev/null', os.O_RDONLY)\n")
}

// Sleep says that the computer is about to sleep, or has woken up.
func (b *Bus) Sleep(goes bool) {
	b.t.Helper()
	b.mock("EmitSignal", managerInterface, "PrepareForSleep", "b", []any{goes})
}

// Inhibitors lists the locks that are held: "what mode", in the order of their taking.
func (b *Bus) Inhibitors() []string {
	b.t.Helper()
	var held []struct {
		What, Who, Why, Mode string
		UID, PID             uint32
	}
	if err := b.conn.Object(login1, managerPath).Call(managerInterface+".ListInhibitors", 0).Store(&held); err != nil {
		b.t.Fatal(err)
	}
	var list []string
	for _, l := range held {
		list = append(list, l.What+" "+l.Mode)
	}
	return list
}

// AllowBrightness gives the session SetBrightness, which writes into the lamps under root.
func (b *Bus) AllowBrightness(root string) {
	b.t.Helper()
	type method struct{ Name, In, Out, Code string }
	code := "open('" + root + "/%s/%s/brightness' % (args[0], args[1]), 'w').write(str(args[2]))"
	b.mock("AddObject", "/org/freedesktop/login1/session/auto", login1+".Session", map[string]dbus.Variant{},
		[]method{{"SetBrightness", "ssu", "", code}})
}

// Freeze stops logind's double in its tracks until the test is over: it answers
// nobody.
func (b *Bus) Freeze() {
	b.t.Helper()
	stopProcess(b.t, b.logind.Process)
}

// Property gives the manager a property.
func (b *Bus) Property(name string, value any) {
	b.t.Helper()
	b.mock("AddProperty", managerInterface, name, dbus.MakeVariant(value))
}

package room

// Linux: systemd's logind grants locks against sleep, each for as long as a file
// descriptor stays open (org.freedesktop.login1(5), "Inhibitor Locks").

import (
	"context"
	"os"
	"strings"
	"time"

	"github.com/godbus/dbus/v5"
	"golang.org/x/sys/unix"
)

const (
	retryEvery    = 30 * time.Second // where there is no logind, or it has gone
	maxSleepDelay = 2 * time.Second  // for what must be written before sleep; logind waits for 5 s
)

// run holds the locks for as long as there is a bus, and asks again when it is gone.
func (a *Awake) run(ctx context.Context) {
	for {
		if err := a.hold(ctx); ctx.Err() == nil {
			a.reportUnblocked(reason(err))
		}
		if !pause(ctx, retryEvery) {
			return
		}
	}
}

// hold takes what locks it is given and keeps them until the bus is lost.
func (a *Awake) hold(ctx context.Context) error {
	bus, err := openBus(ctx)
	if err != nil {
		return err
	}
	defer bus.Close()
	signals := make(chan *dbus.Signal, 8)
	bus.Signal(signals)
	bus.watchSleep(ctx) // where that is refused, the sleep is found afterwards
	late := bus.inhibit(ctx, "sleep", "delay")
	defer func() { late.close() }()
	lock := a.block(ctx, bus)
	defer func() { lock.close() }()
	again := time.NewTicker(retryEvery)
	defer again.Stop()
	for {
		select {
		case <-ctx.Done():
			return ctx.Err()
		case s, open := <-signals:
			if !open {
				return errGone
			}
			if goes, ok := isSleepSignal(s); ok {
				late = a.sleep(ctx, bus, late, goes)
			}
		case <-again.C:
			if lock.held == nil {
				lock = a.block(ctx, bus)
			}
		}
	}
}

// block takes the locks that block sleep, as many as are granted, and tells which.
func (a *Awake) block(ctx context.Context, bus *bus) *inhibitor {
	idle := ":idle"
	if a.options.Dark {
		idle = "" // some desktops would keep the panel lit for it
	}
	l := bus.inhibit(ctx, "sleep:handle-lid-switch"+idle, "block")
	if l.err == nil {
		a.report("blocked, the lid's switch too (logind)", true)
		return l
	}
	if l = bus.inhibit(ctx, "sleep"+idle, "block"); l.err == nil {
		a.report("blocked (logind), but not for the lid: leave it open", true)
		return l
	}
	a.reportUnblocked("logind: " + reason(l.err))
	return l
}

// sleep gives whoever writes the record its time, and lets go of the lock that puts
// sleep off; after it the lock is taken again.
func (a *Awake) sleep(ctx context.Context, bus *bus, late *inhibitor, goes bool) *inhibitor {
	if !goes {
		late.close()
		return bus.inhibit(ctx, "sleep", "delay")
	}
	if a.options.BeforeSleep != nil {
		written := make(chan struct{})
		go func() {
			defer close(written)
			a.options.BeforeSleep()
		}()
		select {
		case <-written:
		case <-time.After(maxSleepDelay):
		}
	}
	late.close()
	return late
}

// inhibitor is one lock of logind's, or why there is none.
type inhibitor struct {
	held *os.File
	err  error
}

func (l *inhibitor) close() {
	if l.held != nil {
		l.held.Close()
		l.held = nil
	}
}

// inhibit asks logind for a lock.
func (b *bus) inhibit(ctx context.Context, what, mode string) *inhibitor {
	var fd dbus.UnixFD
	if err := b.call(ctx, managerInterface, "Inhibit", what, "wetside", "film is being developed", mode).Store(&fd); err != nil {
		return &inhibitor{err: err}
	}
	unix.CloseOnExec(int(fd)) // what we start must not keep the computer awake after us
	return &inhibitor{held: os.NewFile(uintptr(fd), "inhibitor")}
}

// watchSleep asks to be told when the computer is about to sleep, and has woken up.
func (b *bus) watchSleep(ctx context.Context) error {
	ctx, cancel := context.WithTimeout(ctx, callTimeout)
	defer cancel()
	return b.AddMatchSignalContext(ctx, dbus.WithMatchSender(login1), dbus.WithMatchInterface(managerInterface),
		dbus.WithMatchMember("PrepareForSleep"))
}

// isSleepSignal reads that signal: true before sleep, false after it.
func isSleepSignal(s *dbus.Signal) (goes, ok bool) {
	if s.Name != managerInterface+".PrepareForSleep" || len(s.Body) != 1 {
		return false, false
	}
	goes, ok = s.Body[0].(bool)
	return goes, ok
}

// reason is an error of the bus in few words.
func reason(err error) string {
	text := err.Error()
	if e, ok := err.(dbus.Error); ok && len(e.Body) > 0 {
		if said, ok := e.Body[0].(string); ok {
			text = said
		}
	}
	return strings.Join(strings.Fields(text), " ")
}

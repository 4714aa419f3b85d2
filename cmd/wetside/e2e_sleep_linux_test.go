package main

// The laptop's sleep, end to end: a session begins with a warning where nothing keeps
// the laptop awake, and its last record is on the disk before the laptop may sleep.

import (
	"io"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/running"
	"example.org/wetside/sequence"
	"example.org/wetside/tui/room/bustest"
)

func TestNothingKeepsItAwake(t *testing.T) {
	t.Parallel()
	l := newLaptop(t, "2s", "1s", "1s")
	l.env = append(l.env, "DBUS_SYSTEM_BUS_ADDRESS=unix:path=/nonexistent/bus")
	r := l.start(nil, "run", "tern.toml", "--plain", "--json", "--sound", "off")
	told := r.until(kind(sequence.SleepReported))
	if !strings.HasPrefix(told.Text, "NOT blocked: set it to never, leave the lid open (no system bus: ") {
		t.Errorf("%q", told.Text)
	}
	l.onDisk(told)
	r.finish(app.ExitOK)
}

// Every fsync takes a while: until the last one is done the lock stands.
func TestTheRecordIsSafeBeforeSleep(t *testing.T) {
	if ownProcess(t) {
		return
	}
	const slow = 400 * time.Millisecond
	wrap := []string{"strace", "-f", "-qq", "--seccomp-bpf", "-o", "/dev/null", "-e", "trace=fsync", "-e", "inject=fsync:delay_enter=400000"}
	requireTool(t, append(slices.Clone(wrap), "true")...)
	bus := bustest.Start(t)
	bus.Logind()
	l := newLaptop(t, "1m", "1m", "1m")
	l.env = append(l.env, "DBUS_SYSTEM_BUS_ADDRESS="+os.Getenv("DBUS_SYSTEM_BUS_ADDRESS"))
	r := l.start(wrap, "run", "tern.toml", "--plain", "--json", "--sound", "off")
	told := r.until(kind(sequence.SleepReported))
	if told.Text != "blocked, the lid's switch too (logind)" {
		t.Errorf("%q", told.Text)
	}
	l.onDisk(told)
	time.Sleep(2 * slow) // what came before has been synced
	const late = "sleep delay"
	if !slices.Contains(bus.Inhibitors(), late) {
		t.Fatalf("locks %q", bus.Inhibitors())
	}
	took := running.SuspendWriteLimit
	for try := 0; took >= running.SuspendWriteLimit; try++ { // where the machine stalls the computer may sleep before the record is there
		if try == 10 {
			t.Fatal("no fsync in ten was done in time")
		}
		if try > 0 {
			bus.Sleep(false)
			bus.WaitFor("the lock to be taken again", func() bool { return slices.Contains(bus.Inhibitors(), late) })
		}
		began := time.Now()
		bus.Sleep(true)
		bus.WaitFor("the lock to go", func() bool { return !slices.Contains(bus.Inhibitors(), late) })
		if took = time.Since(began); took < slow {
			t.Errorf("the lock went after %v; an fsync takes %v", took, slow)
		}
	}
	suspending := false
	for _, e := range l.store().List() {
		kept, err := l.store().Read(e.ID)
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range kept.Records {
			suspending = suspending || r.Event.Kind == sequence.SuspendAnnounced
		}
	}
	if !suspending {
		t.Error("the lock went before the record was there")
	}
	bus.Sleep(false)
	bus.WaitFor("the lock to be taken again", func() bool { return slices.Contains(bus.Inhibitors(), late) })
	io.WriteString(r.in, "stop\n")
	r.finish(app.ExitOK)
	bus.WaitFor("the locks to go with it", func() bool { return len(bus.Inhibitors()) == 0 })
}

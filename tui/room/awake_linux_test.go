package room

// Sleep kept away: no bus, nobody on it, refusals, one that does not answer, and a
// computer that sleeps all the same. The other side is dbusmock's logind.

import (
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"example.org/wetside/tui/room/bustest"
)

// heard is what was told.
type heard struct {
	mu   sync.Mutex
	list []string
	last bool
}

func (h *heard) told(text string, blocked bool) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.list, h.last = append(h.list, text), blocked
}

func (h *heard) all() ([]string, bool) {
	h.mu.Lock()
	defer h.mu.Unlock()
	return slices.Clone(h.list), h.last
}

// first waits for the first word.
func (h *heard) first(t *testing.T) (string, bool) {
	t.Helper()
	for until := time.Now().Add(untilEnd); time.Now().Before(until); time.Sleep(time.Millisecond) {
		if list, blocked := h.all(); len(list) > 0 {
			return list[0], blocked
		}
	}
	t.Fatal("nothing was told")
	return "", false
}

// untilEnd is how long anything is waited for: no machine is so busy.
const untilEnd = time.Minute

// ends wants something to end, whoever else does not answer.
func ends(t *testing.T, what string, do func()) {
	t.Helper()
	done := make(chan struct{})
	go func() {
		defer close(done)
		do()
	}()
	select {
	case <-done:
	case <-time.After(untilEnd):
		t.Fatalf("%s does not end", what)
	}
}

// awake is a request whose answers are kept, closed when the test is over.
func awake(t *testing.T, w AwakeOptions) (*Awake, *heard) {
	h := &heard{}
	w.OnState = h.told
	a := KeepAwake(w)
	t.Cleanup(func() { a.Close() })
	return a, h
}

func TestNoBus(t *testing.T) {
	t.Setenv("DBUS_SYSTEM_BUS_ADDRESS", "unix:path=/nonexistent/bus")
	a, h := awake(t, AwakeOptions{Dark: true})
	text, blocked := h.first(t)
	if blocked || !strings.HasPrefix(text, NotBlocked+" (no system bus: ") {
		t.Errorf("%q, blocked %v", text, blocked)
	}
	ends(t, "closing", func() { a.Close() })
}

func TestNobodyOnTheBus(t *testing.T) {
	bustest.Start(t)
	_, h := awake(t, AwakeOptions{})
	if text, blocked := h.first(t); blocked || !strings.Contains(text, "logind: ") {
		t.Errorf("%q, blocked %v", text, blocked)
	}
}

func TestGranted(t *testing.T) {
	bus := bustest.Start(t)
	bus.Logind()
	for dark, want := range map[bool]string{true: "sleep:handle-lid-switch block", false: "sleep:handle-lid-switch:idle block"} {
		a, h := awake(t, AwakeOptions{Dark: dark})
		if text, blocked := h.first(t); !blocked || text != "blocked, the lid's switch too (logind)" {
			t.Errorf("%q, blocked %v", text, blocked)
		}
		if locks := bus.Inhibitors(); !slices.Equal(locks, []string{"sleep delay", want}) {
			t.Errorf("dark %v: locks %q", dark, locks)
		}
		a.Close()
		bus.WaitFor("the locks to go", func() bool { return len(bus.Inhibitors()) == 0 })
	}
}

func TestRefused(t *testing.T) {
	for name, c := range map[string]struct {
		refuse, want string
		blocked      bool
	}{
		"all":     {"True", NotBlocked + " (logind: Permission denied)", false},
		"the lid": {"'lid' in args[0]", "blocked (logind), but not for the lid: leave it open", true},
		"blocking": {"args[3] == 'block'", NotBlocked + " (logind: Permission denied)",
			false},
	} {
		t.Run(name, func(t *testing.T) {
			bus := bustest.Start(t)
			bus.Logind()
			bus.RefuseInhibit(c.refuse)
			_, h := awake(t, AwakeOptions{Dark: true})
			if text, blocked := h.first(t); text != c.want || blocked != c.blocked {
				t.Errorf("%q, blocked %v; want %q", text, blocked, c.want)
			}
		})
	}
}

// A logind that hangs holds nobody up.
func TestNoAnswer(t *testing.T) {
	bus := bustest.Start(t)
	bus.Logind()
	bus.Freeze()
	a, h := awake(t, AwakeOptions{Dark: true})
	if text, blocked := h.first(t); blocked || !strings.HasPrefix(text, NotBlocked+" (logind: ") {
		t.Errorf("%q, blocked %v", text, blocked)
	}
	ends(t, "closing", func() { a.Close() })
}

// Before sleep the record is written while the lock still stands; then it goes, and
// is taken again after waking.
func TestSleepWaitsForTheRecord(t *testing.T) {
	bus := bustest.Start(t)
	bus.Logind()
	const late = "sleep delay"
	writing, written := make(chan struct{}), make(chan struct{})
	a, h := awake(t, AwakeOptions{Dark: true, BeforeSleep: func() {
		close(writing)
		<-written
	}})
	h.first(t)
	bus.Sleep(true)
	<-writing
	for range 20 {
		if !slices.Contains(bus.Inhibitors(), late) {
			t.Fatal("the lock went before the record was written")
		}
	}
	close(written)
	bus.WaitFor("the lock to go", func() bool { return !slices.Contains(bus.Inhibitors(), late) })
	if len(bus.Inhibitors()) != 1 {
		t.Errorf("locks %q: what blocks sleep is to stay", bus.Inhibitors())
	}
	bus.Sleep(false)
	bus.WaitFor("the lock to be taken again", func() bool { return slices.Contains(bus.Inhibitors(), late) })
	a.Close()
	if list, blocked := h.all(); len(list) != 1 || !blocked {
		t.Errorf("told %q", list)
	}
}

// A record that cannot be written does not keep a hot laptop awake in its bag.
func TestSleepDoesNotWaitForEver(t *testing.T) {
	bus := bustest.Start(t)
	bus.Logind()
	forever := make(chan struct{})
	defer close(forever)
	_, h := awake(t, AwakeOptions{BeforeSleep: func() { <-forever }})
	h.first(t)
	began := time.Now()
	bus.Sleep(true)
	bus.WaitFor("the lock to go", func() bool { return !slices.Contains(bus.Inhibitors(), "sleep delay") })
	if d := time.Since(began); d < maxSleepDelay-100*time.Millisecond {
		t.Errorf("the lock went after %v; want %v", d, maxSleepDelay)
	}
}

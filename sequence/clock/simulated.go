package clock

// A source for tests and simulation, on time.Now, which is virtual inside a
// testing/synctest bubble; with the faults a laptop can have.

import (
	"strconv"
	"sync"
	"time"
)

// Simulated is a Source whose laptop sleeps, reboots and has its wall clock
// stepped on demand. It keeps time by now, and is one hour past its first boot
// when made.
type Simulated struct {
	now func() time.Time

	mu     sync.Mutex
	boots  int
	booted time.Time     // on now's clock, sleep left out
	slept  time.Duration // in this boot
	ahead  time.Duration // the wall clock before now's
	slewed float64       // parts by which steered clocks run ahead of the crystal
}

// NewSimulated makes a source that keeps time by now; nil means time.Now. A
// now that stands still is moved by Advance alone.
func NewSimulated(now func() time.Time) *Simulated {
	if now == nil {
		now = time.Now
	}
	return &Simulated{now: now, boots: 1, booted: now().Add(-time.Hour)}
}

// Read is the present moment.
func (s *Simulated) Read() Mark {
	s.mu.Lock()
	defer s.mu.Unlock()
	now := s.now()
	raw := now.Sub(s.booted)
	steered := raw + time.Duration(float64(raw)*s.slewed)
	return Mark{
		Boot:      "simulated-" + strconv.Itoa(s.boots),
		Boottime:  steered + s.slept,
		Monotonic: steered,
		Raw:       raw,
		Wall:      wall(now.Add(s.ahead + steered - raw)),
	}
}

// Advance lets d pass, awake, without waiting for it.
func (s *Simulated) Advance(d time.Duration) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.booted, s.ahead = s.booted.Add(-d), s.ahead+d
}

// Sleep lets d pass with the laptop asleep, without waiting for it.
func (s *Simulated) Sleep(d time.Duration) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.slept, s.ahead = s.slept+d, s.ahead+d
}

// StepWall sets the wall clock forward, or back where d is negative.
func (s *Simulated) StepWall(d time.Duration) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.ahead += d
}

// Slew makes the steered clocks run faster than the crystal by this part,
// counted from boot: 0.01 is one per cent.
func (s *Simulated) Slew(part float64) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.slewed = part
}

// Reboot boots afresh after d without power.
func (s *Simulated) Reboot(d time.Duration) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.boots, s.booted, s.slept, s.ahead = s.boots+1, s.now(), 0, s.ahead+d
}

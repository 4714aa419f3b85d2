package tui

// The whole program in bubbletea, by keys alone, in a bubble of time: nothing is
// slept for real.

import (
	"bytes"
	"slices"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/sequence"
)

// watched is the screens, and what was seen of them.
type watched struct {
	Model
	seen *sightings
}

// sightings are the screens in the order in which they came, and what was wrong.
type sightings struct {
	screens []screenID
	lit     []bool
	wrong   []string
}

func (w watched) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	next, cmd := w.Model.Update(msg)
	w.Model = next.(Model)
	s := w.seen
	if n := len(s.screens); n == 0 || s.screens[n-1] != w.screen || s.lit[n-1] == w.dark {
		s.screens, s.lit = append(s.screens, w.screen), append(s.lit, !w.dark)
	}
	return w, cmd
}

func (w watched) View() string {
	view := w.Model.View()
	got, err := read(view, w.w, w.h, w.palette())
	switch {
	case err != nil:
		w.seen.wrong = append(w.seen.wrong, err.Error())
	case w.dark && !got.dark():
		w.seen.wrong = append(w.seen.wrong, "lit in the dark:\n"+got.text())
	}
	return view
}

// playing is a program running in a bubble.
type playing struct {
	*tea.Program
	h    *hall
	seen *sightings
	done chan error
	out  *bytes.Buffer
}

// play starts the program; it must be called in a bubble.
func play(t *testing.T, change ...func(*hall, *Options)) *playing {
	t.Helper()
	h := &hall{now: time.Now, sound: "sound: loudspeaker"}
	o := Options{Backend: h, Now: time.Now, Colours: 256, Countdown: 10 * time.Second}
	for _, c := range change {
		c(h, &o)
	}
	m, err := New(o).Opened()
	if err != nil {
		t.Fatal(err)
	}
	p := &playing{h: h, seen: &sightings{}, done: make(chan error, 1), out: &bytes.Buffer{}}
	p.Program = tea.NewProgram(watched{m, p.seen}, tea.WithInput(nil), tea.WithoutSignalHandler(), tea.WithOutput(p.out), tea.WithFPS(10))
	go func() {
		_, err := p.Run()
		p.done <- err
	}()
	p.Send(tea.WindowSizeMsg{Width: 80, Height: 24})
	synctest.Wait()
	return p
}

// keys presses keys half a second apart: two of the big one are two touches.
func (p *playing) keys(keys ...string) {
	for _, key := range keys {
		p.Send(message(key))
		time.Sleep(500 * time.Millisecond)
	}
	synctest.Wait()
}

// gone waits for the program's end, and for the redraws that it had asked for.
func (p *playing) gone(t *testing.T) {
	t.Helper()
	if err := <-p.done; err != nil {
		t.Fatal(err)
	}
	time.Sleep(2 * redrawDark)
}

// ended waits for the program's end and tells what was seen.
func (p *playing) ended(t *testing.T, want ...string) {
	t.Helper()
	p.gone(t)
	if len(p.seen.wrong) > 0 {
		t.Errorf("%d views were wrong; the first: %s", len(p.seen.wrong), p.seen.wrong[0])
	}
	var got []string
	for i, s := range p.seen.screens {
		name := []string{"opening", "planning", "preparing", "running", "after"}[s]
		if !p.seen.lit[i] {
			name += " in the dark"
		}
		got = append(got, name)
	}
	if !slices.Equal(got, want) {
		t.Errorf("screens:\n%s\nexpected:\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

func TestRehearsalFromListToEnd(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		p := play(t)
		p.keys("down", "down", "enter", "2", "2", "f5")
		time.Sleep(2 * time.Minute)
		p.keys("n", "o", "k", "enter", "h")
		time.Sleep(time.Second)
		p.keys("h")
		time.Sleep(10 * time.Minute) // 2 h 26 min, thirty times as fast
		p.keys("down", "enter", "q")
		p.ended(t, "opening", "planning", "running", "after", "opening")
		s := p.h.sessions[0]
		if s.factor != usualSpeed || *s.Plan().Conditions.BathTemperature != 22 || s.state.Over() != sequence.SessionDone {
			t.Errorf("x%v at %v, over %q", s.factor, *s.Plan().Conditions.BathTemperature, s.state.Over())
		}
	})
}

func TestSessionInTheDarkToItsEnd(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		p := play(t, with("stack"))
		p.keys("enter", " ", " ", " ") // planning, the panel, lights out, and a touch
		time.Sleep(time.Minute)        // film out of its holders
		p.keys(" ", " ")
		time.Sleep(10*time.Second + 14*time.Minute + 5*time.Second) // light was offered
		p.keys(" ")
		time.Sleep(10 * time.Second)
		p.keys(" ", " ")
		time.Sleep(3 * time.Hour)
		p.keys("q")
		p.ended(t, "planning", "preparing", "preparing in the dark", "running in the dark", "running", "after")
		if got := p.h.lights; !slices.Equal(got, []sequence.Light{sequence.Dark, sequence.Safelight}) {
			t.Errorf("lights told: %v; expected dark, then red", got)
		}
		if s := p.h.sessions[0]; s.answers != 2 {
			t.Errorf("%d touches answered; expected the single one and the first of two", s.answers)
		}
	})
}

// A minute on the screen is redrawn about once a second, not oftener.
func TestRedrawnOnceASecond(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		p := play(t, with("tank"))
		p.keys("enter", " ")
		time.Sleep(time.Minute)
		s := p.h.sessions[0]
		s.mu.Lock()
		before := s.looks
		s.mu.Unlock()
		time.Sleep(time.Minute)
		s.mu.Lock()
		n := s.looks - before
		s.mu.Unlock()
		if n < 58 || n > 66 {
			t.Errorf("looked %d times in a minute; expected about 60", n)
		}
		p.Quit()
		p.gone(t)
	})
}

// Package backend is what the screens ask of the world: recipes and bottles read and written,
// sessions begun and taken up, light and sound.
//
// Start with Backend, which satisfies tui.Backend; each of its files serves some of the screens.
// It decides nothing about a session and draws nothing.
package backend

// What the screens need of the world: recipes, sessions, light and sound.

import (
	"io"
	"os"
	"sync"
	"sync/atomic"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/running"
	"example.org/wetside/cmd/wetside/internal/supervisor"
	"example.org/wetside/tui/light"
	"example.org/wetside/tui/room"
)

// Backend is what the screens need, done by this program.
type Backend struct {
	Env         *app.Env
	Options     running.SoundOptions
	Idle        *running.IdleSound
	thermometer running.Thermometer
	pipe        *supervisor.Pipe
	Guard       *light.Guard
	Keys        *Keyboard
	backlight   *room.Backlight // panel and keys
	around      string          // what tmux shows around the screens, as room.ReadTmux told it; "" where it cannot be asked
	hidden      bool            // it shows that no more

	Editing atomic.Bool // the editor has the terminal

	mu         sync.Mutex
	earlyAwake io.Closer               // keeps the laptop awake in the dark before a session; nil while there is no need
	soundState string                  // of the sound, before a session
	current    *running.RunningSession // the session on the screen; nil for none
	stopwatch  *running.StopwatchSound

	HandedOver chan struct{} // closed when another wetside has taken the session up
}

func New(p *app.Env, l ScreenOptions, pipe *supervisor.Pipe, guard *light.Guard) *Backend {
	h := &Backend{Env: p, Options: l.SoundOptions, Idle: &running.IdleSound{Env: p, Options: l.SoundOptions}, thermometer: l.Thermometer, soundState: "sound: looking for it", pipe: pipe, Guard: guard, Keys: &Keyboard{In: os.Stdin}, HandedOver: make(chan struct{})}
	h.backlight = room.NewBacklight(app.LampsFolder, pipe.DarkLamps, pipe.Lamps)
	h.backlight.Dark(guard.Light() == light.Dark)
	if h.around, h.hidden = pipe.Hidden, pipe.Hidden != ""; !h.hidden {
		h.around, _ = room.ReadTmux(os.Getenv)
	}
	go h.tryAwhileSound()
	return h
}

// Light tells the keeper first when it gets darker, the guard first when it gets
// lighter; then the lamps, for which nobody waits. In the dark before a session a
// loudspeaker is kept ready for what is said there.
func (h *Backend) Light(l light.Light) {
	if l == light.Dark {
		h.hideAround()
	}
	if l < h.Guard.Light() {
		h.pipe.Light(l)
		h.Guard.SetLight(l)
	} else {
		h.Guard.SetLight(l)
		h.pipe.Light(l)
	}
	h.backlight.Dark(l == light.Dark)
	h.mu.Lock()
	defer h.mu.Unlock()
	if l == light.Dark && (h.current == nil || h.current.State().Over() != "") {
		h.Idle.Want()
	}
	if l == light.Dark && h.current == nil && h.earlyAwake == nil {
		h.earlyAwake = h.Env.KeepAwake(room.AwakeOptions{Dark: true}) // film is being loaded
	}
	if l != light.Dark {
		h.releaseEarlyAwake()
	}
}

// HidesLine reports whether what tmux draws around the screens can be switched off.
func (h *Backend) HidesLine() bool { return h.around != "" }

// hideAround switches it off, once; the keeper knows first what it was, and puts it back.
func (h *Backend) hideAround() {
	if h.around == "" || h.hidden {
		return
	}
	h.hidden = true
	h.pipe.Around(h.around)
	if err := room.HideTmux(h.around); err != nil {
		h.pipe.Say("tmux did not switch its status line off: " + err.Error())
	}
}

// Alone is closed when the keeper has died and the terminal is the screens' own; Retake has
// it as the screens need it then.
func (h *Backend) Alone() <-chan struct{} { return h.pipe.Alone() }

func (h *Backend) Retake() {
	h.Keys.Again()
	h.Guard.SetLight(h.Guard.Light())
}

// releaseEarlyAwake lets the laptop sleep again as far as a session does not keep it awake.
func (h *Backend) releaseEarlyAwake() {
	if h.earlyAwake != nil {
		go h.earlyAwake.Close()
		h.earlyAwake = nil
	}
}

// Close ends what is still going on.
func (h *Backend) Close() {
	h.mu.Lock()
	now := h.current
	h.releaseEarlyAwake()
	h.mu.Unlock()
	h.CloseIdleSound()
	if now != nil {
		now.End()
	}
	h.backlight.Close()
}

// The notebook of this computer.

// The bottles of this person.

// The sheets that wait.

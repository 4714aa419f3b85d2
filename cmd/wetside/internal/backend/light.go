package backend

// The light: terminal, lamps, and what the dark before a session needs.

import (
	"os"

	"example.org/wetside/tui/light"
	"example.org/wetside/tui/room"
)

// Light tells the supervisor first when it gets darker, the guard first when it gets
// lighter; then the lamps, for which nobody waits. In the dark before a session a
// loudspeaker is kept ready for what is said there.
func (r *SessionRunner) Light(l light.Light) {
	if l == light.Dark {
		r.hideAround()
	}
	if l < r.guard.Light() {
		r.pipe.Light(l)
		r.guard.SetLight(l)
	} else {
		r.guard.SetLight(l)
		r.pipe.Light(l)
	}
	r.backlight.Dark(l == light.Dark)
	r.mu.Lock()
	defer r.mu.Unlock()
	if l == light.Dark && (r.current == nil || r.current.State().Over() != "") {
		r.loudspeaker.idle.Want()
	}
	if l == light.Dark && r.current == nil && r.earlyAwake == nil {
		r.earlyAwake = r.Env.KeepAwake(room.AwakeOptions{Dark: true}) // film is being loaded
	}
	if l != light.Dark {
		r.releaseEarlyAwake()
	}
}

// findAround learns what tmux shows around the screens, unless screens before these have hidden it.
func (r *SessionRunner) findAround() {
	if r.around, r.hidden = r.pipe.Hidden, r.pipe.Hidden != ""; !r.hidden {
		r.around, _ = room.ReadTmux(os.Getenv)
	}
}

// HidesLine reports whether what tmux draws around the screens can be switched off.
func (r *SessionRunner) HidesLine() bool { return r.around != "" }

// hideAround switches it off, once; the supervisor knows first what it was, and puts it back.
func (r *SessionRunner) hideAround() {
	if r.around == "" || r.hidden {
		return
	}
	r.hidden = true
	r.pipe.Around(r.around)
	if err := room.HideTmux(r.around); err != nil {
		r.pipe.Say("tmux did not switch its status line off: " + err.Error())
	}
}

// releaseEarlyAwake lets the laptop sleep again as far as a session does not keep it awake.
func (r *SessionRunner) releaseEarlyAwake() {
	if r.earlyAwake != nil {
		go r.earlyAwake.Close()
		r.earlyAwake = nil
	}
}

// end ends what is still going on.
func (r *SessionRunner) end() {
	r.mu.Lock()
	now := r.current
	r.releaseEarlyAwake()
	r.mu.Unlock()
	r.loudspeaker.CloseIdleSound()
	if now != nil {
		now.End()
	}
	r.backlight.Close()
}

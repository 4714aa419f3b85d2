// Package supervisor is the process that owns the terminal while the screens run in a child: it
// keeps a dead child's terminal black, takes its session up again, and puts lamps back.
//
// Start with Start. It runs no session and plays no sound itself; what it must say aloud it has
// said by another child (announce_unix.go).
package supervisor

// The supervisor and what the screens tell it. The screens run in a child of the
// program on the same terminal. The parent, the supervisor, does nothing but know what
// the room's light is, so that however the screens end the terminal stays as dark
// as the film needs, a session goes on, and the shell gets its terminal back as it
// was.
//
// The screens call Start first thing, before anything is opened, and Pipe.Begin before bubbletea;
// Pipe.End last, and not deferred: a panic says no goodbye.
//
// pipe.Session(id) or pipe.Rehearsal(id) before the first record of one is written, or
// it is taken up; pipe.Over(id) when it is over; pipe.Say(text) for what the person
// should read once the shell is back, since standard error goes into a log. Light is
// told before it gets darker, and after it has become lighter.

import (
	"fmt"
	"os"
	"strings"
	"sync"
	"sync/atomic"

	"golang.org/x/term"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/recipes/safetext"
	_ "example.org/wetside/tui/darkbackground" // before bubbletea's init asks the terminal
	"example.org/wetside/tui/light"
	"example.org/wetside/tui/room"
)

// The words of the pipe, one line each.
const (
	msgLight     = "light"
	msgSession   = "session"
	msgRehearsal = "rehearsal" // a session without film
	msgElsewhere = "elsewhere" // the session has gone to another program
	msgSay       = "say"
	msgLamps     = "lamps"
	msgHidden    = "hidden" // what tmux showed around the screens, and shows no more
	msgBye       = "bye"
	msgChildGone = "gone" // the supervisor's own: the child has ended, and this is all
)

// Pipe is the child's end. Without a supervisor, or when it is gone, telling does
// nothing.
type Pipe struct {
	mu        sync.Mutex
	w         *os.File // nil where there is no supervisor
	light     light.Light
	state     ChildState // what was told, for an end without a supervisor
	confirmed bool
	around    light.Around
	DarkLamps []room.Lamp   // darkened by a child before this one, as they were
	Hidden    string        // of tmux, by a child before this one
	Again     atomic.Bool   // a child before this one was cut off during the session
	alone     chan struct{} // closed when the supervisor has died; nil where there was none
	before    *term.State   // the terminal as it was
	hands     *os.File      // ends with this process; the shell goes on then
	bigKeys   []string      // names of the big key, for an end without a supervisor
}

// inherit reads what the supervisor said; false where there is none. The programs that
// the child starts are not to think themselves kept.
func inherit() (*Pipe, bool) {
	words := strings.SplitN(os.Getenv(app.SupervisedVar), " ", 6)
	os.Unsetenv(app.SupervisedVar)
	if len(words) < 6 {
		return nil, false
	}
	to, ok := inheritedPipe()
	film := ChildState{light: light.Named(words[0])}.after(msgLamps + " " + words[5])
	if words[3] != none {
		film = film.after(msgHidden + " " + words[3])
	}
	around := light.Around(words[2])
	if words[2] == none {
		around = light.Nothing
	}
	k := &Pipe{w: to, light: film.light, confirmed: words[1] == "black", around: around, DarkLamps: film.darkLamps, Hidden: film.hidden, state: film}
	k.Again.Store(words[4] == again)
	return k, ok
}

// again stands for a child that the supervisor started for a session that was cut off.
const again = "again"

// none stands for a word that is empty.
const none = "-"

// inheritance is what the supervisor says to a child, for inherit.
func (k *ChildState) inheritance(g *light.Guard, which string) string {
	words := []string{k.light.String(), "unknown", string(g.Around()), k.hidden, which, FormatLamps(k.darkLamps)}
	if g.BlackConfirmed() {
		words[1] = "black"
	}
	for i := range words[:5] {
		if words[i] == "" {
			words[i] = none
		}
	}
	return app.SupervisedVar + "=" + strings.Join(words, " ")
}

// Begin takes over the terminal that the supervisor has begun, or begins it. A child that
// takes up a session begins in the light that was told last.
func (k *Pipe) Begin(g *light.Guard) {
	if k.w == nil {
		g.Begin()
		k.state.light = g.Light() // the screens tell what changes
		return
	}
	g.Adopt(k.light, k.confirmed, k.around)
}

// End says goodbye; the supervisor gives the terminal back when this process has ended.
// Where nobody hears it, it is given back here, out of the dark only by a key, and
// announce is heard until then.
func (k *Pipe) End(g *light.Guard, announce func(ChildState) (stop func())) {
	if k.send(msgBye) {
		return
	}
	k.settled()
	if k.state.needsDark() {
		stop := announce(k.state)
		waitInDark(g, os.Stdin, 0, k.bigKeys)
		stop()
	}
	g.End()
	k.state.putBack()
	k.giveBack()
}

// Light tells what the screen may show.
func (k *Pipe) Light(l light.Light) { k.send(msgLight + " " + l.String()) }

// Session tells which session is being carried out.
func (k *Pipe) Session(id string) { k.send(msgSession + " " + id) }

// Rehearsal tells the same of a session without film.
func (k *Pipe) Rehearsal(id string) { k.send(msgRehearsal + " " + id) }

// Over tells that a session is not to be taken up any more. It may come late: where
// another has been told of since, nothing is said.
func (k *Pipe) Over(id string) {
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.state.session == id {
		k.sendLocked(msgSession + " ")
	}
}

// Elsewhere tells that another program has taken a session up. It may come late, as Over.
func (k *Pipe) Elsewhere(id string) {
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.state.session == id {
		k.sendLocked(msgElsewhere)
	}
}

// Say gives a line to be shown when the shell is back.
func (k *Pipe) Say(text string) {
	if !k.send(msgSay + " " + strings.Join(strings.Fields(text), " ")) {
		fmt.Fprintf(os.Stderr, "wetside: %s\n", safetext.Clean(text))
	}
}

// Around tells what tmux showed around the screens: it is to be put back.
func (k *Pipe) Around(was string) { k.send(msgHidden + " " + was) }

// Lamps tells which lamps are dark, as they were: they are to be put back.
func (k *Pipe) Lamps(out []room.Lamp) { k.send(msgLamps + " " + FormatLamps(out)) }

func FormatLamps(list []room.Lamp) string {
	words := make([]string, len(list))
	for i, l := range list {
		words[i] = l.String()
	}
	return strings.Join(words, " ")
}

// send writes a line; it reports whether there is somebody to read it.
func (k *Pipe) send(line string) bool {
	k.mu.Lock()
	defer k.mu.Unlock()
	return k.sendLocked(line)
}

// sendLocked is send; mu is held.
func (k *Pipe) sendLocked(line string) bool {
	k.state = k.state.after(line)
	if k.w == nil {
		return false
	}
	_, err := k.w.WriteString(line + "\n")
	return err == nil
}

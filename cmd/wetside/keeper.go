package main

// The keeper and what the screens tell it. The screens run in a child of the
// program on the same terminal. The parent, the keeper, does nothing but know what
// the room's light is, so that however the screens end the terminal stays as dark
// as the film needs, a session goes on, and the shell gets its terminal back as it
// was.
//
// How the screens use it, first thing and before anything is opened:
//
//	pipe, status := keep(os.Args[1:], func(id string) []string { return []string{"resume", id} }, true, []string{" "})
//	if pipe == nil { return status }      // this was the keeper, and all is over
//	g := room.NewGuard(tty)
//	pipe.Begin(g)                         // before bubbletea; g.Confirmed() is known now
//	tea.NewProgram(m, tea.WithInput(os.Stdin), tea.WithOutput(g), tea.WithAltScreen(), tea.WithoutCatchPanics(), …).Run()
//	pipe.End(g, bewail)                   // not deferred: a panic says no goodbye
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

	_ "example.org/wetside/tui/black" // before bubbletea's init asks the terminal

	"example.org/wetside/sequence"
	"example.org/wetside/tui/room"
)

// kept is the environment variable by which the keeper tells its child how the
// terminal stands: the light, and whether the background is known to be black.
const kept = "WETSIDE_KEPT"

// The words of the pipe, one line each.
const (
	wordLight     = "light"
	wordSession   = "session"
	wordRehearsal = "rehearsal" // a session without film
	wordElsewhere = "elsewhere" // the session has gone to another program
	wordSay       = "say"
	wordLamps     = "lamps"
	wordBye       = "bye"
	wordGone      = "gone" // the keeper's own: the child has ended, and this is all
)

// keeperPipe is the child's end. Without a keeper, or when it is gone, telling does
// nothing.
type keeperPipe struct {
	mu        sync.Mutex
	to        *os.File // nil where there is no keeper
	light     sequence.Light
	film      account // what was told, for an end without a keeper
	confirmed bool
	lamps     []room.Lamp // darkened by a child before this one, as they were
	big       []string    // names of the big key, for an end without a keeper
}

// sysClass is where the computer's lamps are.
var sysClass = room.SysClass

// isKept reports whether this process has a keeper, until it is adopted.
func isKept() bool { return os.Getenv(kept) != "" }

// adopted reads what the keeper said; false where there is none. The programs that
// the child starts are not to think themselves kept.
func adopted() (*keeperPipe, bool) {
	light, background, ok := strings.Cut(os.Getenv(kept), " ")
	os.Unsetenv(kept)
	if !ok {
		return nil, false
	}
	to, ok := inheritedPipe()
	background, lamps, _ := strings.Cut(background, " ")
	film := account{light: sequence.Light(light)}.heard(wordLamps + " " + lamps)
	return &keeperPipe{to: to, light: sequence.Light(light), confirmed: background == "black", lamps: film.lamps, film: film}, ok
}

// Begin takes over the terminal that the keeper has begun, or begins it. A child that
// takes up a session begins in the light that was told last.
func (k *keeperPipe) Begin(g *room.Guard) {
	if k.to == nil {
		g.Begin()
		return
	}
	g.Adopt(k.light, k.confirmed)
}

// End says goodbye; the keeper gives the terminal back when this process has ended.
// Where nobody hears it, it is given back here, out of the dark only by a key, and
// bewail is heard until then.
func (k *keeperPipe) End(g *room.Guard, bewail func(account) (hush func())) {
	if k.tell(wordBye) {
		return
	}
	if k.film.needsDark() {
		hush := bewail(k.film)
		stayBlack(g, os.Stdin, 0, k.big)
		hush()
	}
	room.Set(sysClass, k.film.lamps)
	g.End()
}

// Light tells what the screen may show.
func (k *keeperPipe) Light(l sequence.Light) { k.tell(wordLight + " " + string(l)) }

// Session tells which session is being carried out.
func (k *keeperPipe) Session(id string) { k.tell(wordSession + " " + id) }

// Rehearsal tells the same of a session without film.
func (k *keeperPipe) Rehearsal(id string) { k.tell(wordRehearsal + " " + id) }

// Over tells that a session is not to be taken up any more. It may come late: where
// another has been told of since, nothing is said.
func (k *keeperPipe) Over(id string) {
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.film.session == id {
		k.write(wordSession + " ")
	}
}

// Elsewhere tells that another program has taken a session up. It may come late, as Over.
func (k *keeperPipe) Elsewhere(id string) {
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.film.session == id {
		k.write(wordElsewhere)
	}
}

// Say gives a line to be shown when the shell is back.
func (k *keeperPipe) Say(text string) {
	if !k.tell(wordSay + " " + strings.Join(strings.Fields(text), " ")) {
		fmt.Fprintf(os.Stderr, "wetside: %s\n", text)
	}
}

// Lamps tells which lamps are dark, as they were: they are to be put back.
func (k *keeperPipe) Lamps(out []room.Lamp) { k.tell(wordLamps + " " + lampWords(out)) }

func lampWords(list []room.Lamp) string {
	words := make([]string, len(list))
	for i, l := range list {
		words[i] = l.String()
	}
	return strings.Join(words, " ")
}

// tell writes a line; it reports whether there is somebody to read it.
func (k *keeperPipe) tell(line string) bool {
	k.mu.Lock()
	defer k.mu.Unlock()
	return k.write(line)
}

// write is tell; mu is held.
func (k *keeperPipe) write(line string) bool {
	k.film = k.film.heard(line)
	if k.to == nil {
		return false
	}
	_, err := k.to.WriteString(line + "\n")
	return err == nil
}

// account is what the child has said so far.
type account struct {
	light   sequence.Light // at first what the guard begins with
	session string
	noFilm  bool // it is a rehearsal
	handed  bool // it has gone to another program, and goes on there
	says    []string
	lamps   []room.Lamp // to be put back
	bye     bool
}

// heard takes one line. What is not understood is left alone.
func (t account) heard(line string) account {
	word, rest, _ := strings.Cut(strings.TrimSpace(line), " ")
	switch word {
	case wordLight:
		t.light = sequence.Light(rest)
	case wordSession, wordRehearsal:
		t.session, t.noFilm, t.handed = rest, word == wordRehearsal, false
	case wordElsewhere:
		t.session, t.handed = "", true
	case wordSay:
		t.says = append(t.says, rest)
	case wordLamps:
		t.lamps = room.ParseLamps(rest)
	case wordBye:
		t.bye = true
	}
	return t
}

// needsDark tells whether film may lie open: in the dark always; by safelight, in
// which the screens rest, while there is a session with film, here or elsewhere.
func (t account) needsDark() bool {
	return t.light == sequence.Dark || t.light == sequence.Safelight && (t.session != "" || t.handed) && !t.noFilm
}

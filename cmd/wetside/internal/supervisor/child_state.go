package supervisor

// What the supervisor knows of its child: the light, the session, whether it said goodbye.

import (
	"strings"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/tui/light"
	"example.org/wetside/tui/room"
)

// ChildState is what the child has said so far.
type ChildState struct {
	light      light.Light // at first what the guard begins with
	session    string
	rehearsal  bool // it is a rehearsal
	handedOver bool // it has gone to another program, and goes on there
	messages   []string
	darkLamps  []room.Lamp // to be put back
	hidden     string      // of tmux around the screens, to be put back; "" for nothing
	saidBye    bool
}

// after takes one line. What is not understood is left alone.
func (t ChildState) after(line string) ChildState {
	word, rest, _ := strings.Cut(strings.TrimSpace(line), " ")
	switch word {
	case msgLight:
		t.light = light.Named(rest)
	case msgSession, msgRehearsal:
		t.session, t.rehearsal, t.handedOver = rest, word == msgRehearsal, false
	case msgElsewhere:
		t.session, t.handedOver = "", true
	case msgSay:
		t.messages = append(t.messages, rest)
	case msgLamps:
		t.darkLamps = room.ParseLamps(rest)
	case msgHidden:
		t.hidden = rest
	case msgBye:
		t.saidBye = true
	}
	return t
}

// putBack gives the lamps and what is around the screens their light again.
func (t ChildState) putBack() {
	room.SetLamps(app.LampsFolder, t.darkLamps)
	if t.hidden != "" {
		room.ShowTmux(t.hidden)
	}
}

// needsDark tells whether film may lie open: in the dark always; in red light and by
// safelight while there is a session with film, here or elsewhere. White light is the desk's, or
// that of a room that has it.
func (t ChildState) needsDark() bool {
	return t.light == light.Dark || t.light != light.White && (t.session != "" || t.handedOver) && !t.rehearsal
}

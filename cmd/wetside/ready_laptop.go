package main

// wetside ready, what the laptop does by itself: its screen, sleep, lid and lamps.

import (
	"context"
	"fmt"
	"io"
	"os"
	"os/exec"
	"strings"
	"time"

	"example.org/wetside/tui/room"
)

// screenReady checks whether the terminal can be black, and asks it where there is
// one to ask.
func screenReady(who *person) []finding {
	var list []finding
	switch colours := room.Colours(os.Getenv); {
	case colours == 0:
		list = append(list, found("screen", care, fmt.Sprintf("no colours (TERM=%s): no screens, lines only", os.Getenv("TERM")), "another terminal, or --plain into a file"))
	case who == nil:
		list = append(list, found("screen", care, "no terminal was asked whether its background is black", "run wetside ready in the terminal that the session will run in"))
	default:
		list = append(list, blackened(who.tty, colours))
	}
	if os.Getenv("TMUX") != "" {
		list = append(list, statusLine())
	}
	return list
}

// blackened makes the terminal black for a moment, as a session does.
func blackened(tty *os.File, colours int) finding {
	g := room.NewGuard(tty)
	g.Begin()
	black := g.Confirmed()
	g.End()
	switch {
	case !black && os.Getenv("TMUX") != "":
		return found("screen", care, "tmux does not say whether its background is black", "full screen; watch it when a dark step begins, with no film open")
	case !black:
		return found("screen", care, "the terminal did not say that its background is black", "a black background in its settings, full screen: a resize may flash")
	case colours < 256:
		return found("screen", ok, "its background is black; sixteen colours, of which black and red are used", "")
	}
	return found("screen", ok, "its background is black", "")
}

// statusLine asks tmux for the line that nobody else can darken.
func statusLine() finding {
	ctx, cancel := context.WithTimeout(context.Background(), time.Second)
	defer cancel()
	out, err := exec.CommandContext(ctx, "tmux", "show-options", "-Av", "status").Output()
	if status := strings.TrimSpace(string(out)); err == nil && status == "off" {
		return found("tmux", ok, "its status line is off", "")
	}
	return found("tmux", no, "its status line stays lit in the dark", "tmux set status off")
}

// awakeReady checks sleep, lid, idling and power.
func awakeReady(keep func(room.Waking) io.Closer) []finding {
	f := room.Ask()
	list := []finding{sleepReady(keep), idleReady(f)}
	if f.Why == "" {
		list = append(list, lidReady(f))
	}
	switch f.Mains {
	case "yes":
		list = append(list, found("power", ok, "on mains", ""))
	case "no":
		list = append(list, found("power", care, "on battery", "plug it in, on the dry side, behind a residual-current device"))
	}
	return list
}

// granting is how long the system is given to grant or refuse.
const granting = 4 * time.Second

const never = "set sleep to never, and leave the lid open"

// sleepReady asks for what a session will ask for, and takes it back.
func sleepReady(keep func(room.Waking) io.Closer) finding {
	type answer struct {
		text    string
		blocked bool
	}
	told := make(chan answer, 8)
	asked := keep(room.Waking{Dark: true, Told: func(text string, blocked bool) {
		select {
		case told <- answer{text, blocked}:
		default:
		}
	}})
	defer asked.Close()
	select {
	case a := <-told:
		if a.blocked {
			return found("sleep", ok, "can be "+a.text, "")
		}
		why := strings.TrimSuffix(strings.TrimPrefix(a.text, room.Unblocked+" ("), ")")
		return found("sleep", care, "cannot be blocked: "+why, never)
	case <-time.After(granting):
		return found("sleep", care, "the system did not say whether it can be blocked", never)
	}
}

func idleReady(f room.Facts) finding {
	lapses, known := room.Lapses(os.Getenv)
	var said []string
	for _, l := range lapses {
		said = append(said, fmt.Sprintf("%s after %s", l.What, l.After))
	}
	if f.Idle != "" && f.Idle != "ignore" {
		said, known = append(said, "logind does this: "+f.Idle), true
	}
	const off = "for the session set blanking and lock to never: a lock screen lights up at the next touch"
	switch {
	case len(said) > 0:
		return found("idle", care, "when nobody types "+strings.Join(said, ", "), off)
	case known:
		return found("idle", ok, "nothing happens when nobody types", "")
	}
	return found("idle", care, "this desktop cannot be asked what it does when nobody types", off)
}

func lidReady(f room.Facts) finding {
	const open = "leave it open and cover it; or try it out: close the lid in a rehearsal and listen"
	switch {
	case f.Shut:
		return found("lid", care, "it is closed, and the laptop runs", "listen to a whole rehearsal like this first")
	case f.Lid == "ignore":
		return found("lid", care, "logind does nothing when it closes; the desktop may", open)
	case f.Lid == "":
		return found("lid", care, "what closing it does is not known", open)
	}
	return found("lid", care, "closing it: "+f.Lid+", unless that is blocked", open)
}

// lampsReady checks the lights that no screen can darken. Each is set to what it is.
func lampsReady(root string) []finding {
	var panel, keys, lit []string
	var ours []room.Lamp
	for _, l := range room.Lamps(root) {
		switch {
		case l.Panel():
			panel, ours = append(panel, l.Name), append(ours, l)
		case l.Keys():
			keys, ours = append(keys, l.Name), append(ours, l)
		case l.Value > 0:
			lit = append(lit, l.Name)
		}
	}
	done, err := room.Set(root, ours)
	can := func(names []string) bool {
		n := 0
		for _, l := range done {
			for _, name := range names {
				if l.Name == name {
					n++
				}
			}
		}
		return n == len(names)
	}
	list := []finding{lampReady("panel", panel, can(panel), err), lampReady("key light", keys, can(keys), err)}
	if len(panel) == 0 {
		list[0] = found("panel", care, "no light behind the panel is found that could be turned down", "cover it: its black still glows")
	}
	if len(lit) > 0 {
		list = append(list, found("leds", care, "lit now: "+strings.Join(lit, ", "), "tape over them: power, charging, capitals, drives too"))
	} else {
		list = append(list, found("leds", care, "none is known to be lit; power and charging may be", "look at the laptop in the dark for five minutes; tape over what you see"))
	}
	return list
}

func lampReady(check string, names []string, can bool, err error) finding {
	switch {
	case len(names) == 0:
		return found(check, ok, "no light under the keys is known", "")
	case !can:
		return found(check, care, strings.Join(names, ", ")+" cannot be turned down: "+err.Error(), "turn it down by hand before the dark")
	case check == "panel":
		return found(check, care, strings.Join(names, ", ")+" goes to zero in the dark", "zero is not black on every panel: look, and cover it all the same")
	}
	return found(check, ok, strings.Join(names, ", ")+" goes dark with the screen", "")
}

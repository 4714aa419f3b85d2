package doctor

// wetside ready, what the laptop does by itself: its screen, sleep, lid and lamps.

import (
	"context"
	"fmt"
	"io"
	"os"
	"os/exec"
	"strings"
	"time"

	"example.org/wetside/cmd/wetside/internal/supervisor"
	"example.org/wetside/tui/light"
	"example.org/wetside/tui/room"
)

// checkFar tells that what is looked at here is not the computer before the person.
func checkFar(getenv func(string) string) []finding {
	if !room.OverSSH(getenv) {
		return nil
	}
	return []finding{{"far away", LevelCare, "started through SSH: sound, lamps, sleep, disk and clock here are the far computer's, not those of the one before you",
		"darken and silence the near one by hand, and keep it awake; a loudspeaker must stand where you work"}}
}

// checkScreen checks whether the terminal can be black, and asks it where there is
// one to ask.
func checkScreen(who *Prompter) []finding {
	var list []finding
	switch profile := light.ProfileOf(os.Getenv); {
	case profile == light.NoColours:
		list = append(list, finding{"screen", LevelCare, fmt.Sprintf("no colours (TERM=%s): no screens, lines only", os.Getenv("TERM")), "another terminal, or --plain into a file"})
	case who == nil:
		list = append(list, finding{"screen", LevelCare, "no terminal was asked whether its background is black", "run wetside ready in the terminal that the session will run in"})
	case !light.Obeys(who.TTY):
		list = append(list, finding{"screen", LevelNo, "this console does not obey escape sequences: it cannot be made black", "Windows Terminal, or the console of Windows 10 or later; or --plain into a file"})
	default:
		list = append(list, tryBlackScreen(who.TTY, profile))
	}
	if !supervisor.Exists {
		list = append(list, finding{"if killed", LevelCare, "no second process keeps the screen dark on this system: should wetside be killed, the shell comes back in its own colours and the session waits",
			"cover the screen; wetside resume takes the session up"})
	}
	if os.Getenv("TMUX") != "" {
		list = append(list, checkTmuxStatus())
	}
	if os.Getenv("STY") != "" {
		list = append(list, finding{"around", LevelNo, "GNU screen's line and messages stay lit in the dark", "a terminal of its own; or hardstatus ignore, caption splitonly"})
	}
	return list
}

// tryBlackScreen makes the terminal black for a moment, as a session does.
func tryBlackScreen(tty *os.File, profile light.Profile) finding {
	g := light.NewGuard(tty)
	g.Begin()
	black := g.BlackConfirmed()
	g.End()
	switch {
	case !black && os.Getenv("TMUX") != "":
		return finding{"screen", LevelCare, "tmux does not say whether its background is black", "full screen; watch it when a dark step begins, with no film open"}
	case !black:
		return finding{"screen", LevelCare, "the terminal did not say that its background is black", "a black background in its settings, full screen: a resize may flash"}
	case profile < light.TwoFiftySix:
		return finding{"screen", LevelOK, "its background is black; sixteen colours, of which black and red are used", ""}
	}
	return finding{"screen", LevelOK, "its background is black", ""}
}

// checkTmuxStatus asks tmux for the line that nobody else can darken.
func checkTmuxStatus() finding {
	ctx, cancel := context.WithTimeout(context.Background(), time.Second)
	defer cancel()
	out, err := exec.CommandContext(ctx, "tmux", "show-options", "-Av", "status").Output()
	if status := strings.TrimSpace(string(out)); err == nil && status == "off" {
		return finding{"tmux", LevelOK, "its status line is off", ""}
	}
	if _, err := room.ReadTmux(os.Getenv); err == nil {
		return finding{"tmux", LevelCare, "its status line is switched off when it gets dark", "look at the window's frame and corners then, with no film open"}
	}
	return finding{"tmux", LevelNo, "its status line stays lit in the dark", "tmux set status off"}
}

// checkSleepAndPower checks sleep, lid, idling and power.
func checkSleepAndPower(keep func(room.AwakeOptions) io.Closer) []finding {
	f := room.ReadPowerSettings()
	list := []finding{checkSleep(keep), checkIdle(f)}
	if f.Problem == "" {
		list = append(list, checkLid(f))
	}
	switch f.OnMains {
	case "yes":
		list = append(list, finding{"power", LevelOK, "on mains", ""})
	case "no":
		list = append(list, finding{"power", LevelCare, "on battery", "plug it in, on the dry side, behind a residual-current device"})
	}
	return list
}

// grantLimit is how long the system is given to grant or refuse.
const grantLimit = 4 * time.Second

const sleepAdvice = "set sleep to never, and leave the lid open"

// checkSleep asks for what a session will ask for, and takes it back.
func checkSleep(keep func(room.AwakeOptions) io.Closer) finding {
	type answer struct {
		text    string
		blocked bool
	}
	told := make(chan answer, 8)
	asked := keep(room.AwakeOptions{Dark: true, OnState: func(text string, blocked bool) {
		select {
		case told <- answer{text, blocked}:
		default:
		}
	}})
	defer asked.Close()
	select {
	case a := <-told:
		if a.blocked {
			return finding{"sleep", LevelOK, "can be " + a.text, ""}
		}
		why := strings.TrimSuffix(strings.TrimPrefix(a.text, room.NotBlocked+" ("), ")")
		return finding{"sleep", LevelCare, "cannot be blocked: " + why, sleepAdvice}
	case <-time.After(grantLimit):
		return finding{"sleep", LevelCare, "the system did not say whether it can be blocked", sleepAdvice}
	}
}

func checkIdle(f room.PowerSettings) finding {
	lapses, known := room.IdleActions(os.Getenv)
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
		return finding{"idle", LevelCare, "when nobody types " + strings.Join(said, ", "), off}
	case known:
		return finding{"idle", LevelOK, "nothing happens when nobody types", ""}
	}
	return finding{"idle", LevelCare, "this desktop cannot be asked what it does when nobody types", off}
}

func checkLid(f room.PowerSettings) finding {
	const open = "leave it open and cover it; or try it out: close the lid in a rehearsal and listen"
	switch {
	case f.LidClosed:
		return finding{"lid", LevelCare, "it is closed, and the laptop runs", "listen to a whole rehearsal like this first"}
	case f.Lid == "ignore":
		return finding{"lid", LevelCare, "logind does nothing when it closes; the desktop may", open}
	case f.Lid == "":
		return finding{"lid", LevelCare, "what closing it does is not known", open}
	}
	return finding{"lid", LevelCare, "closing it: " + f.Lid + ", unless that is blocked", open}
}

// CheckLamps checks the lights that no screen can darken. Each is set to what it is.
func CheckLamps(root string) []finding {
	var panel, keys, lit []string
	var ours []room.Lamp
	for _, l := range room.Lamps(root) {
		switch {
		case l.IsPanel():
			panel, ours = append(panel, l.Name), append(ours, l)
		case l.IsKeyboard():
			keys, ours = append(keys, l.Name), append(ours, l)
		case l.Value > 0:
			lit = append(lit, l.Name)
		}
	}
	done, err := room.SetLamps(root, ours)
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
	list := []finding{lampFinding("panel", panel, can(panel), err), lampFinding("key light", keys, can(keys), err)}
	if len(panel) == 0 {
		list[0] = finding{"panel", LevelCare, "no backlight that can be turned down was found", "cover it: its black still glows"}
	}
	if len(lit) > 0 {
		list = append(list, finding{"leds", LevelCare, "lit now: " + strings.Join(lit, ", "), "tape over them: power, charging, capitals, drives too"})
	} else {
		list = append(list, finding{"leds", LevelCare, "none is known to be lit; power and charging may be", "look at the laptop in the dark for five minutes; tape over what you see"})
	}
	return list
}

func lampFinding(check string, names []string, can bool, err error) finding {
	switch {
	case len(names) == 0:
		return finding{check, LevelOK, "no light under the keys is known", ""}
	case !can:
		return finding{check, LevelCare, strings.Join(names, ", ") + " cannot be turned down: " + err.Error(), "turn it down by hand before the dark"}
	case check == "panel":
		return finding{check, LevelCare, strings.Join(names, ", ") + " goes to zero in the dark", "zero is not black on every panel: look, and cover it all the same"}
	}
	return finding{check, LevelOK, strings.Join(names, ", ") + " goes dark with the screen", ""}
}

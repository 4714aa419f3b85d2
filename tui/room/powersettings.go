package room

// What the system would do by itself while film is open: sleep, lid, idling.

import (
	"context"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"time"
)

// PowerSettings is how the system means to save power. What is not known is empty.
type PowerSettings struct {
	Problem   string // why the system's manager could not be asked; "" where it could
	Idle      string // what it does when nobody types: ignore, lock, suspend, …
	Lid       string // what it does when the lid closes
	LidClosed bool   // the lid is closed now
	OnMains   string // yes or no: whether the power is on
}

// IdleAction is something that the desktop does when nobody types.
type IdleAction struct {
	What  string        // "the panel goes out", "the screen locks"
	After time.Duration // 0 where it is not known
}

// desktopTimeout bounds asking the desktop.
const desktopTimeout = 2 * time.Second

// IdleActions asks the desktop what it does when nobody types. Known is false where there
// is no desktop that can be asked here. The names of the settings are from memory.
func IdleActions(getenv func(string) string) (list []IdleAction, known bool) {
	ctx, cancel := context.WithTimeout(context.Background(), desktopTimeout)
	defer cancel()
	say := func(name string, args ...string) (string, bool) {
		cmd := exec.CommandContext(ctx, name, args...)
		cmd.Env, cmd.WaitDelay = os.Environ(), time.Second/10
		out, err := cmd.Output()
		return strings.TrimSpace(string(out)), err == nil
	}
	desktop := strings.ToLower(getenv("XDG_CURRENT_DESKTOP"))
	switch {
	case strings.Contains(desktop, "gnome"), strings.Contains(desktop, "unity"):
		return gnomeActions(say)
	case strings.Contains(desktop, "kde"):
		return plasmaActions(say)
	case getenv("DISPLAY") != "" && getenv("WAYLAND_DISPLAY") == "":
		text, ok := say("xset", "q")
		return xServerActions(text), ok
	}
	return nil, false
}

// gnomeActions reads "uint32 300" and "true".
func gnomeActions(say func(string, ...string) (string, bool)) (list []IdleAction, known bool) {
	delay, known := say("gsettings", "get", "org.gnome.desktop.session", "idle-delay")
	after := seconds(strings.TrimPrefix(delay, "uint32 "))
	if after == 0 {
		return nil, known
	}
	list = append(list, IdleAction{"the panel goes out", after})
	if lock, ok := say("gsettings", "get", "org.gnome.desktop.screensaver", "lock-enabled"); ok && lock == "true" {
		list = append(list, IdleAction{"the screen locks", after})
	}
	return list, known
}

// plasmaActions reads "true" and minutes.
func plasmaActions(say func(string, ...string) (string, bool)) (list []IdleAction, known bool) {
	for _, program := range []string{"kreadconfig6", "kreadconfig5"} {
		lock, ok := say(program, "--file", "kscreenlockerrc", "--group", "Daemon", "--key", "Autolock", "--default", "true")
		if !ok {
			continue
		}
		if known = true; lock != "true" {
			return nil, known
		}
		minutes, _ := say(program, "--file", "kscreenlockerrc", "--group", "Daemon", "--key", "Timeout", "--default", "5")
		return []IdleAction{{"the screen locks", 60 * seconds(minutes)}}, known
	}
	return nil, known
}

// xServerActions reads what xset q prints of the screen saver and of DPMS.
func xServerActions(text string) (list []IdleAction) {
	if after := seconds(wordAfter(text, "timeout:")); after > 0 {
		list = append(list, IdleAction{"the X server's screen saver comes on", after})
	}
	if !strings.Contains(text, "DPMS is Enabled") {
		return list
	}
	for _, stage := range []string{"Standby:", "Suspend:", "Off:"} {
		if after := seconds(wordAfter(text, stage)); after > 0 {
			return append(list, IdleAction{"the panel goes out", after})
		}
	}
	return list
}

// wordAfter is the word that follows a label.
func wordAfter(text, label string) string {
	_, rest, _ := strings.Cut(text, label)
	words := strings.Fields(rest)
	if len(words) == 0 {
		return ""
	}
	return words[0]
}

// seconds is a whole number of seconds; 0 where it is none.
func seconds(text string) time.Duration {
	n, err := strconv.Atoi(text)
	if err != nil || n < 0 {
		return 0
	}
	return time.Duration(n) * time.Second
}

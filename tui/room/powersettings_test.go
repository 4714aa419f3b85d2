package room

// What desktops say when they are asked. The words of gsettings and xset are what
// Debian 12's print; kreadconfig's, and those of a server with DPMS, are from memory.

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
)

const (
	saver = "Screen Saver:\n  prefer blanking:  yes    allow exposures:  yes\n  timeout:  600    cycle:  600\n"
	noDPM = "DPMS (Energy Star):\n  Server does not have the DPMS Extension\n"
	dpms  = "DPMS (Energy Star):\n  Standby: 0    Suspend: 0    Off: 900\n  DPMS is Enabled\n  Monitor is On\n"
)

func TestLapses(t *testing.T) {
	for name, c := range map[string]struct {
		env   map[string]string
		says  map[string]string // what programs print, by the last of their words
		want  string
		known bool
	}{
		"nobody":  {nil, nil, "", false},
		"gnome":   {map[string]string{"XDG_CURRENT_DESKTOP": "ubuntu:GNOME"}, map[string]string{"idle-delay": "uint32 300", "lock-enabled": "true"}, "the panel goes out 5m0s, the screen locks 5m0s", true},
		"no lock": {map[string]string{"XDG_CURRENT_DESKTOP": "GNOME"}, map[string]string{"idle-delay": "uint32 300", "lock-enabled": "false"}, "the panel goes out 5m0s", true},
		"never":   {map[string]string{"XDG_CURRENT_DESKTOP": "GNOME"}, map[string]string{"idle-delay": "uint32 0", "lock-enabled": "true"}, "", true},
		"mute":    {map[string]string{"XDG_CURRENT_DESKTOP": "GNOME"}, nil, "", false},
		"plasma":  {map[string]string{"XDG_CURRENT_DESKTOP": "KDE"}, map[string]string{"true": "true", "5": "10"}, "the screen locks 10m0s", true},
		"unlocked": {map[string]string{"XDG_CURRENT_DESKTOP": "KDE"}, map[string]string{"true": "false", "5": "10"}, "",
			true},
		"x":       {map[string]string{"DISPLAY": ":7"}, map[string]string{"q": saver + noDPM}, "the X server's screen saver comes on 10m0s", true},
		"dpms":    {map[string]string{"DISPLAY": ":7"}, map[string]string{"q": strings.ReplaceAll(saver, "600", "0") + dpms}, "the panel goes out 15m0s", true},
		"off":     {map[string]string{"DISPLAY": ":7"}, map[string]string{"q": "timeout:  0\n" + strings.ReplaceAll(dpms, "Enabled", "Disabled")}, "", true},
		"wayland": {map[string]string{"DISPLAY": ":7", "WAYLAND_DISPLAY": "wayland-0"}, map[string]string{"q": saver}, "", false},
	} {
		t.Run(name, func(t *testing.T) {
			desktopOf(t, c.says)
			list, known := IdleActions(func(name string) string { return c.env[name] })
			var said []string
			for _, l := range list {
				said = append(said, fmt.Sprint(l.What, " ", l.After))
			}
			if got := strings.Join(said, ", "); got != c.want || known != c.known {
				t.Errorf("%q, known %v; want %q", got, known, c.want)
			}
		})
	}
}

// desktopOf puts programs into the path that print what they are to say.
func desktopOf(t *testing.T, says map[string]string) {
	t.Helper()
	if runtime.GOOS == "windows" {
		t.Skip("these desktops are not on Windows, nor is sh")
	}
	bin := t.TempDir()
	script := "#!/bin/sh\nfor last; do :; done\ncase $last in\n"
	for word, text := range says {
		script += fmt.Sprintf("%s) echo '%s' ;;\n", word, text)
	}
	script += "*) exit 1 ;;\nesac\n"
	for _, name := range []string{"gsettings", "kreadconfig5", "xset"} {
		if err := os.WriteFile(filepath.Join(bin, name), []byte(script), 0o700); err != nil {
			t.Fatal(err)
		}
	}
	t.Setenv("PATH", bin)
	if _, err := os.Stat("/bin/sh"); err != nil {
		t.Skip(err)
	}
}

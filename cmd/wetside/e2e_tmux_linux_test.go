package main

// A walk through a whole rehearsal in tmux, from the bare command to the shell, by
// the keys that the screens show.

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// tmuxUser is somebody at a terminal of 80 by 24.
type tmuxUser struct {
	t      *testing.T
	socket string
}

func (w tmuxUser) tmux(args ...string) string {
	w.t.Helper()
	out, err := exec.Command("tmux", append([]string{"-L", w.socket, "-f", "/dev/null"}, args...)...).CombinedOutput()
	if err != nil {
		w.t.Fatalf("tmux %v: %v: %s", args, err, out)
	}
	return string(out)
}

func (w tmuxUser) keys(keys ...string) {
	w.tmux(append([]string{"send-keys", "-t", "walk"}, keys...)...)
}

// sees waits until a text is on the screen.
func (w tmuxUser) sees(text string) {
	w.t.Helper()
	shown := ""
	for until := time.Now().Add(testLimit); time.Now().Before(until); time.Sleep(50 * time.Millisecond) {
		if shown = w.tmux("capture-pane", "-p", "-t", "walk"); strings.Contains(shown, text) {
			return
		}
	}
	w.t.Fatalf("%q did not come:\n%s", text, shown)
}

// walk opens the program on the laptop in a terminal of its own, which tells its exit
// status at the end.
func (l machine) walk(program string) tmuxUser {
	l.t.Helper()
	w := tmuxUser{l.t, fmt.Sprint(l.t.Name(), os.Getpid())}
	line := "env -i " + strings.Join(l.env, " ") + " TERM=xterm-256color sh -c 'stty -g >before; " + program + "; echo STATUS $?; stty -g >after; sleep 60'"
	cmd := exec.Command("tmux", "-L", w.socket, "-f", "/dev/null", "new-session", "-d", "-s", "walk", "-x", "80", "-y", "24", line)
	cmd.Dir = l.dir
	if out, err := cmd.CombinedOutput(); err != nil {
		l.t.Fatalf("%v: %s", err, out)
	}
	l.t.Cleanup(func() { exec.Command("tmux", "-L", w.socket, "kill-server").Run() })
	return w
}

func TestWalkThroughARehearsal(t *testing.T) {
	requireTool(t, "tmux", "-V")
	t.Parallel()
	program, err := builtProgram()
	if err != nil {
		t.Fatal(err)
	}
	l := newLaptop(t, "5m", "3m", "2m")
	recipes := l.path("xdg_config_home/wetside/recipes")
	if err := os.MkdirAll(recipes, 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.Rename(l.path("tern.toml"), filepath.Join(recipes, "aaa-tern.toml")); err != nil {
		t.Fatal(err)
	}
	w := l.walk(program)
	w.sees("press r") // and nothing of what others did here
	w.keys("Enter")
	w.sees("▌ developer temp.")
	w.keys("2", "4", "Enter")
	w.sees("24 °C")
	w.keys("Down", "Down", "Down")
	w.keys("3", "Enter")
	w.sees("3 sheets in hangers")
	w.keys("r")
	w.sees("Rehearsal 30×")
	w.sees("Develop, 1 of 3")
	w.keys("n")
	w.keys("all is well", "Enter")
	w.sees("Noted.")
	w.keys("Space")
	w.sees("Fix, 2 of 3")
	w.sees("Summary") // five minutes of it, thirty times as fast
	w.keys("PageDown", "PageDown")
	w.sees("all is well")
	w.keys("Enter")
	w.sees("1 of your own")
	w.keys("q")
	w.sees("STATUS 0")
	if on := w.tmux("display", "-p", "-t", "walk", "#{alternate_on}#{cursor_flag}"); strings.TrimSpace(on) != "01" {
		t.Errorf("alternate screen and cursor are %q; expected the screen as it was, with its cursor", on)
	}
	before, err1 := os.ReadFile(l.path("before"))
	after, err2 := os.ReadFile(l.path("after"))
	for until := time.Now().Add(testLimit); len(after) == 0 && time.Now().Before(until); time.Sleep(50 * time.Millisecond) {
		after, err2 = os.ReadFile(l.path("after"))
	}
	if err1 != nil || err2 != nil || string(before) != string(after) {
		t.Errorf("the terminal was %q and is %q (%v, %v)", before, after, err1, err2)
	}
}

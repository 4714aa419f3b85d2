package main

// What draws around the screens: tmux with its status line, GNU screen with its last line, each
// in a real xterm with white defaults. It is asked about before the dark, and in the dark no
// pixel of it is lit.

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"example.org/wetside/cmd/wetside/internal/supervisor"
)

// inTmux is a session of tmux's own, whose panes run on when wetside has ended.
func inTmux(t *testing.T, args string) (w *window, tmux func(args ...string) string) {
	t.Helper()
	tools(t, "tmux")
	exe, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	socket := fmt.Sprint("wetside-around-", os.Getpid(), "-", time.Now().UnixNano())
	t.Cleanup(func() { exec.Command("tmux", "-L", socket, "kill-server").Run() })
	w = inXtermRuns(t, []string{probeAs + "=wetside", "TMUX=", "TMUX_PANE="}, "tmux", "-L", socket, "-f", "/dev/null", "new-session", exe+" "+args+"; exec sleep 300")
	return w, func(args ...string) string {
		out, err := exec.Command("tmux", append([]string{"-L", socket}, args...)...).CombinedOutput()
		if err != nil {
			t.Fatalf("tmux %v: %v: %s", args, err, out)
		}
		return strings.TrimSpace(string(out))
	}
}

// aroundColours is how many a status line has of its own at most.
const aroundColours = 2

// asked goes to the preparation and answers all but what is around: no touch darkens then.
// With that answered too it is black.
func (w *window) asked() {
	w.t.Helper()
	w.until("the plan", func() bool { return len(strings.Fields(w.colours())) > xtermColours+aroundColours })
	w.run("xdotool", "key", "Return")
	w.pressUntil("the preparation, in red", w.hasRed, "c") // the panel
	for range 3 {
		w.touch()
	}
	if w.colours() == "#000000" {
		w.t.Error("black without a yes to what is around")
	}
	// the background where it is asked about, what is around, no sound; a key may be lost where much else runs
	w.pressUntil("black", func() bool { return w.colours() == "#000000" }, "y", "y", "y", "space")
}

func TestTmuxAroundIsDark(t *testing.T) {
	t.Parallel()
	w, tmux := inTmux(t, "run tern-hangers --sound off --countdown 1s")
	w.asked()
	w.begins()
	w.isBlack("in a dark step")
	if !strings.Contains(w.record(), "tmux around the screens, its line switched off, accepted") {
		t.Error("what was accepted is not recorded")
	}
	w.run("xdotool", "windowsize", w.id, "700", "500")
	time.Sleep(time.Second)
	w.isBlack("resized")
	tmux("display-message", "a message of tmux's own")
	w.isBlack("with a message")
	owner := 0
	for _, p := range processes() {
		if name, _ := os.Readlink(fmt.Sprintf("/proc/%d/exe", p.parent)); strings.HasPrefix(filepath.Base(name), "wetside.test") || strings.HasSuffix(name, ".test") {
			if env, _ := os.ReadFile(fmt.Sprintf("/proc/%d/environ", p.parent)); strings.Contains(string(env), w.note) {
				owner = p.parent
			}
		}
	}
	if owner == 0 {
		t.Fatal("no supervisor is found")
	}
	syscall.Kill(childrenOf(owner)[0], syscall.SIGKILL)
	w.until("the session taken up", func() bool { return strings.Contains(w.record(), `"event":"resumed"`) })
	w.isBlack("taken up")
	syscall.Kill(owner, syscall.SIGTERM)
	w.until("the screens' end", func() bool { return len(childrenOf(owner)) == 0 })
	time.Sleep(2 * supervisor.IgnoreTypedFor)
	w.isBlack("ended")
	w.touch()
	w.touch()
	w.until("the status line as it was", func() bool { return tmux("show-options", "-Av", "status") == "on" })
	w.until("a lit line", func() bool { return w.colours() != "#000000" })
}

func TestGNUScreenAroundIsDark(t *testing.T) {
	t.Parallel()
	tools(t, "screen")
	exe, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	rc := filepath.Join(t.TempDir(), "rc")
	if err := os.WriteFile(rc, []byte("startup_message off\nhardstatus alwayslastline 'a line of its own'\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	name := fmt.Sprint("wetside", os.Getpid())
	t.Cleanup(func() { exec.Command("screen", "-S", name, "-X", "quit").Run() })
	w := inXtermRuns(t, []string{probeAs + "=wetside", "STY="}, "screen", "-c", rc, "-S", name, exe, "run", "tern-hangers", "--sound", "off", "--countdown", "1s")
	w.asked()
	w.begins()
	w.isBlack("in a dark step")
	if !strings.Contains(w.record(), "GNU screen around the screens, not known to be dark, accepted") {
		t.Error("what was accepted is not recorded")
	}
}

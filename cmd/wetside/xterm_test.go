//go:build unix

package main

// The last proof: a real xterm with white defaults, in a display of its own. In the
// dark its glass has one colour.

import (
	"bufio"
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"slices"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"example.org/wetside/cmd/wetside/internal/supervisor"
)

// tools skips a test whose tools are missing, unless they must be there.
func tools(t *testing.T, names ...string) {
	t.Helper()
	for _, name := range names {
		if _, err := exec.LookPath(name); err != nil {
			if e2e {
				t.Fatal(err)
			}
			t.Skip(err)
		}
	}
}

// window is an xterm in a display of its own.
type window struct {
	*terminal
	display, id string
	x           *os.Process
	gone        chan struct{} // closed when xterm has ended
}

// on runs a program on a display.
func on(display, name string, args ...string) (string, error) {
	cmd := exec.Command(name, args...)
	cmd.Env = append(os.Environ(), "DISPLAY="+display)
	out, err := cmd.CombinedOutput()
	return strings.TrimSpace(string(out)), err
}

// run runs a program on the window's display.
func (w *window) run(name string, args ...string) string {
	w.t.Helper()
	out, err := on(w.display, name, args...)
	if err != nil {
		w.t.Fatalf("%s %v: %v: %s", name, args, err, out)
	}
	return out
}

// glass is the command that tells the colours on the glass of the xterm, its border included.
func (w *window) glass() string {
	return fmt.Sprintf("import -window %s png:- | convert png:- -alpha off -unique-colors -depth 8 txt:- | grep -oE '#[0-9A-F]{6}'", w.id)
}

func (w *window) colours() string {
	w.t.Helper()
	return w.run("sh", "-c", w.glass())
}

// oneX is held while an X server starts: two that look for a free number at the
// same moment may take the same one.
var oneX sync.Mutex

// display starts an X server that answers, and tells its name.
func display(t *testing.T) (name string) {
	t.Helper()
	oneX.Lock()
	defer oneX.Unlock()
	for range 5 { // another program may have been faster with the number
		name, err := startX(t)
		if err != nil {
			t.Log(err)
			continue
		}
		if out, err := answering(name); err != nil {
			t.Logf("display %s: %v: %s", name, err, out)
			continue
		}
		return name
	}
	t.Fatal("no X server answers")
	return ""
}

// answerTime is how long an X server is given to answer after it has told its name: on a machine
// that has just been set up it may load all that it shows for the first time.
const answerTime = 20 * time.Second

// answering waits until a display answers.
func answering(name string) (out string, err error) {
	for until := time.Now().Add(answerTime); ; time.Sleep(100 * time.Millisecond) {
		if out, err = on(name, "xdotool", "getdisplaygeometry"); err == nil || time.Now().After(until) {
			return out, err
		}
	}
}

// startX starts one that does not begin anew when its last client has gone: whoever comes in that
// moment is refused.
func startX(t *testing.T) (name string, err error) {
	t.Helper()
	x := exec.Command("Xvfb", "-displayfd", "1", "-screen", "0", "1200x900x24", "-nolisten", "tcp", "-noreset")
	out, err := x.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := x.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		x.Process.Kill()
		x.Wait()
	})
	line, err := bufio.NewReader(out).ReadString('\n')
	if _, bad := strconv.Atoi(strings.TrimSpace(line)); err != nil || bad != nil {
		return "", fmt.Errorf("Xvfb says %q: %v", line, err)
	}
	return ":" + strings.TrimSpace(line), nil
}

// inXterm starts this program, as the environment has it, in an xterm with white
// defaults; what it keeps lies in the window's folder.
func inXterm(t *testing.T, env []string, args ...string) *window {
	t.Helper()
	exe, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	return inXtermRuns(t, env, append([]string{exe}, args...)...)
}

// inXtermRuns starts a command in one.
func inXtermRuns(t *testing.T, env []string, command ...string) *window {
	t.Helper()
	tools(t, "xterm", "Xvfb", "import", "convert", "xdotool")
	dir := t.TempDir()
	w := &window{terminal: &terminal{t: t, note: dir}, display: display(t), gone: make(chan struct{})}
	words := []string{"-b", "4", "-bw", "0", "+sb", "-bg", "white", "-fg", "black", "-geometry", "60x16+0+0", "-e"}
	x := exec.Command("xterm", append(words, command...)...)
	x.Dir = dir
	x.Env = append(os.Environ(), "DISPLAY="+w.display, probeFolder+"="+dir, "XDG_STATE_HOME="+dir, "XDG_DATA_HOME="+dir, "XDG_CONFIG_HOME="+dir,
		"XDG_RUNTIME_DIR="+dir, "HOME="+dir, "COLORTERM=truecolor", "LC_ALL=C.UTF-8") // GNU screen draws letters as the locale has them
	x.Env = append(x.Env, env...)
	var said bytes.Buffer
	x.Stderr = &said
	if err := x.Start(); err != nil {
		t.Fatal(err)
	}
	w.x = x.Process
	go func() {
		x.Wait()
		close(w.gone)
	}()
	t.Cleanup(func() {
		x.Process.Kill()
		<-w.gone
	})
	w.until("a window", func() bool {
		select {
		case <-w.gone:
			t.Fatalf("xterm has ended: %s", &said)
		default:
		}
		cmd := exec.Command("xdotool", "search", "--onlyvisible", "--class", "xterm")
		cmd.Env = append(os.Environ(), "DISPLAY="+w.display)
		out, _ := cmd.Output()
		if list := strings.Fields(string(out)); len(list) > 0 {
			w.id = list[0]
		}
		return w.id != ""
	})
	w.until("the pointer on it", func() bool { // no window manager: keys go to where the pointer is
		_, err := on(w.display, "xdotool", "mousemove", "20", "20")
		return err == nil
	})
	w.until("a lit glass", func() bool { // which cannot be looked at before it is drawn
		lit, err := on(w.display, "sh", "-c", w.glass())
		return err == nil && strings.Contains(lit, "#") && lit != "#000000"
	})
	return w
}

// ends waits for xterm to end with what ran in it.
func (w *window) ends(what string) {
	w.t.Helper()
	select {
	case <-w.gone:
	case <-time.After(testLimit):
		w.t.Errorf("%s did not end it", what)
	}
}

func TestXtermIsBlack(t *testing.T) {
	t.Parallel()
	w := inXterm(t, []string{probeAs + "=probe"}, "first")
	child := w.noted("started first")
	w.run("xdotool", "key", "shift+d")
	w.noted("light dark")
	w.isBlack("dark")
	for _, size := range [][2]string{{"900", "700"}, {"300", "200"}, {"1100", "800"}} {
		w.run("xdotool", "windowsize", w.id, size[0], size[1])
		w.isBlack("resized to " + size[0] + "x" + size[1])
	}
	syscall.Kill(child, syscall.SIGKILL)
	w.isBlack("after kill -9")
	w.run("xdotool", "windowsize", w.id, "700", "500")
	w.isBlack("resized after kill -9")
	w.isLeft()
}

// Wetside itself: into the dark, through a session that is cut off there and taken up,
// and black to its end.
func TestXtermIsBlackWithWetside(t *testing.T) {
	t.Parallel()
	w := inXterm(t, []string{probeAs + "=wetside"}, "run", "tern-hangers", "--sound", "off", "--countdown", "1s")
	w.toTheDark()
	w.begins()
	w.isBlack("in a dark step")
	w.run("xdotool", "windowsize", w.id, "900", "700")
	w.isBlack("resized")
	owner := childrenOf(w.x.Pid)[0]
	for n, size := range [][2]string{{"300", "200"}, {"1100", "800"}} {
		syscall.Kill(childrenOf(owner)[0], syscall.SIGKILL)
		w.until("the session taken up", func() bool {
			w.isBlack("while it is taken up")
			return strings.Count(w.record(), `"event":"resumed"`) == n+1
		})
		w.run("xdotool", "windowsize", w.id, size[0], size[1])
		w.run("xdotool", "key", "q")
		w.isBlack("taken up and resized")
	}
	syscall.Kill(owner, syscall.SIGTERM)
	w.until("the screens' end", func() bool {
		w.isBlack("while it ends")
		return len(childrenOf(owner)) == 0
	})
	w.isBlack("ended")
	w.isLeft()
}

// isLeft leaves a black screen that waits: one touch of a big key does nothing, two end it.
func (w *window) isLeft() {
	w.t.Helper()
	time.Sleep(2 * supervisor.IgnoreTypedFor) // what comes sooner was typed before the screen was black
	w.run("xdotool", "key", "space")
	w.isBlack("after one touch")
	time.Sleep(3 * time.Second)
	w.run("xdotool", "key", "Return")
	w.isBlack("after one Enter")
	time.Sleep(3 * time.Second)
	w.run("xdotool", "key", "Return")
	time.Sleep(touchGap)
	w.run("xdotool", "key", "Return")
	w.ends("Enter twice")
}

// toTheDark goes from the plan through the preparation to the black before a session.
func (w *window) toTheDark() {
	w.t.Helper()
	w.until("the plan", func() bool { return len(strings.Fields(w.colours())) > xtermColours })
	w.run("xdotool", "key", "Return")
	w.pressUntil("the preparation, red", w.isRed, "c") // the panel
	w.run("xdotool", "key", "y", "y")                  // the background where it is asked about, no sound
	w.pressUntil("black", func() bool { return w.colours() == "#000000" }, "space")
}

// pressUntil presses a key until what it is for has come. Before each time more it looks for as
// long as an answer may take where much else runs: what was pressed twice is two.
func (w *window) pressUntil(what string, yes func() bool, keys ...string) {
	w.t.Helper()
	w.until(what, func() bool {
		w.run("xdotool", append([]string{"key"}, keys...)...)
		for again := time.Now().Add(5 * time.Second); time.Now().Before(again); time.Sleep(100 * time.Millisecond) {
			if yes() {
				return true
			}
		}
		return false
	})
}

// touch is one of the big key, far from the next.
func (w *window) touch() {
	w.run("xdotool", "key", "space")
	time.Sleep(touchGap + 100*time.Millisecond)
}

// begins gives the two touches with which the first step begins, again where they were swallowed.
func (w *window) begins() {
	w.t.Helper()
	time.Sleep(2 * time.Second) // the press that made it dark is none of the two
	w.until("the first sheet in", func() bool {
		w.touch()
		w.touch()
		for again := time.Now().Add(6 * time.Second); time.Now().Before(again); time.Sleep(100 * time.Millisecond) {
			if strings.Contains(w.record(), `"step-began"`) {
				return true
			}
		}
		return false
	})
}

// xtermColours is how many there are on the glass before anything is drawn: the paper, the cursor.
const xtermColours = 2

// hasRed reports whether some of what shines is red.
func (w *window) hasRed() bool {
	return slices.ContainsFunc(strings.Fields(w.colours()), func(c string) bool { return strings.HasSuffix(c, "0000") && c != "#000000" })
}

// isRed reports whether all that shines is red.
func (w *window) isRed() bool {
	lit := strings.Fields(w.colours())
	for _, c := range lit {
		if !strings.HasSuffix(c, "0000") {
			return false
		}
	}
	return len(lit) > 1
}

// isBlack looks twice, since what comes late would be light too.
func (w *window) isBlack(when string) {
	w.t.Helper()
	for range 2 {
		if got := w.colours(); got != "#000000" {
			w.t.Errorf("%s: %.200q; want one colour, #000000", when, got)
			return
		}
	}
}

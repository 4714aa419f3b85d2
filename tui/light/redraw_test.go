package light

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"example.org/wetside/sequence"
	"example.org/wetside/tui/light/vtest"
)

// counted counts the writes of a guard.
type counted struct {
	*Filter
	writes, bytes int
}

func (c *counted) Write(p []byte) (int, error) {
	c.writes, c.bytes = c.writes+1, c.bytes+len(p)
	return c.Filter.Write(p)
}

// view is h lines of w cells, each saying which it is.
func view(w, h int, change map[int]string) string {
	lines := make([]string, h)
	for y := range lines {
		text := fmt.Sprintf("line %d %s", y, change[y])
		lines[y] = "\x1b[38;5;160;48;5;16m" + (text + strings.Repeat(" ", w))[:w] + "\x1b[38;5;16;48;5;16m"
	}
	return strings.Join(lines, "\n")
}

// shows tells how the terminal differs from a view; "" where it does not.
func shows(front *vtest.Terminal, view string) string {
	for y, line := range strings.Split(view, "\n") {
		want := strings.TrimRight(line[strings.Index(line, "m")+1:strings.LastIndex(line, "\x1b")], " ")
		if got := strings.TrimRight(front.Text(y), " "); got != want {
			return fmt.Sprintf("row %d shows %q; expected %q", y, got, want)
		}
	}
	return front.NonRedCell()
}

// Only what changed is written, in one write, and nothing where nothing did.
func TestOnlyChangedLinesAreWritten(t *testing.T) {
	g, front := guarded(terminals["xterm"], 40, 12, 256)
	c := &counted{Filter: g}
	s := &Redrawer{to: c}
	s.Draw(view(40, 12, nil))
	if bad := shows(front, view(40, 12, nil)); bad != "" || c.writes != 1 {
		t.Fatalf("%d writes; %s", c.writes, bad)
	}
	s.Draw(view(40, 12, nil))
	if c.writes != 1 {
		t.Error("an unchanged view was written")
	}
	whole := c.bytes
	changed := view(40, 12, map[int]string{3: "is new", 11: "is the last"})
	s.Draw(changed)
	if bad := shows(front, changed); bad != "" || c.writes != 2 || c.bytes-whole > whole/5 {
		t.Errorf("%d writes, %d bytes of %d; %s", c.writes, c.bytes-whole, whole, bad)
	}
	front.Write([]byte("\x1b[2J\x1b[Hsomebody else's\x1b[0m"))
	s.Redraw(changed)
	if bad := shows(front, changed); bad != "" {
		t.Error(bad)
	}
}

// Three hundred resizes and changes of light at random: the view is there after
// each, no cell of it is of a wrong colour, and in the dark none is lit.
func TestScreenThroughResizes(t *testing.T) {
	each(t, func(t *testing.T, kind vtest.Behaviour, colours int) {
		r := rand.New(rand.NewPCG(7, uint64(colours)))
		g, front := guarded(kind, 80, 24, colours)
		s := &Redrawer{to: g}
		for n := range 300 {
			w, h := 20+r.IntN(180), 5+r.IntN(55)
			v := view(w, h, map[int]string{r.IntN(h): fmt.Sprint("change ", n)})
			if r.IntN(2) == 0 {
				s.Draw(v) // late: the terminal has its old size yet
			}
			front.Resize(w, h)
			switch r.IntN(4) {
			case 0:
				g.SetLight(sequence.Dark)
				s.Redraw(v)
				if bad := front.LitCell(); bad != "" {
					t.Fatalf("resize %d: %s", n, bad)
				}
				g.SetLight(sequence.Safelight)
			case 1:
				g.SetLight(sequence.White)
				s.Redraw(v)
				g.SetLight(sequence.Safelight)
			}
			s.Redraw(v)
			if bad := shows(front, v); bad != "" {
				t.Fatalf("resize %d: %s", n, bad)
			}
		}
	})
}

// Pasted text is asked to be told from typed.
func TestScreenAsksForPastes(t *testing.T) {
	var out bytes.Buffer
	g, _ := guarded(terminals["xterm"], 40, 12, 256)
	g.to = &out
	NewRedrawer(g).Redraw("")
	if !strings.Contains(out.String(), "\x1b[?2004h") {
		t.Errorf("wrote %q", out.String())
	}
}

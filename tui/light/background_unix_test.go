//go:build unix

package light

import (
	"os"
	"strings"
	"testing"
	"time"

	"github.com/creack/pty"
	"golang.org/x/term"
)

// What a terminal answers is read, were it a byte. It is there before it is asked for: only a
// machine that stands still for all of the wait misses it, and three times it does not.
func TestATerminalsWordIsTaken(t *testing.T) {
	for _, answer := range []string{"\x1b]11;rgb:0000/0000/0000\x1b\\\x1b[>41;379;0c\x1b[?62;22c", "x"} {
		got := ""
		for range 3 {
			master, tty, err := pty.Open()
			if err != nil {
				t.Skip("no terminal: ", err)
			}
			if _, err := term.MakeRaw(int(tty.Fd())); err != nil {
				t.Fatal(err)
			}
			if _, err := master.WriteString(answer); err != nil {
				t.Fatal(err)
			}
			got = ask(NewGuard(tty))
			tty.Close()
			master.Close()
			if got == answer {
				break
			}
		}
		if got != answer {
			t.Errorf("%q; want %q", got, answer)
		}
	}
}

// Whatever part of the answer comes first, the other is waited for, and no longer: a machine that
// stands still makes each of three attempts last. What is read at once holds 256 bytes.
func TestBothAnswersAreWaitedFor(t *testing.T) {
	const who, background = "\x1b[?62;22c", "\x1b]11;rgb:0000/0000/0000\x1b\\"
	pad := func(s string) string { return strings.Repeat("x", 256-len(s)) + s }
	for _, c := range []struct {
		answer string
		quick  bool
	}{{pad(who) + background, true}, {pad(background) + who, true}, {who, true}, {background, false}} {
		got, quick := "", false
		for range 3 {
			master, tty := answering(t, c.answer)
			began := time.Now()
			got = ask(NewGuard(tty))
			quick = time.Since(began) < answerTimeout
			tty.Close()
			master.Close()
			if got == c.answer && quick == c.quick {
				break
			}
		}
		if got != c.answer || quick != c.quick {
			t.Errorf("%q, quick %t; want %q, %t", got, quick, c.answer, c.quick)
		}
	}
}

// How large the terminal is, is asked of the terminal; here every terminal obeys.
func TestTheTerminalsSize(t *testing.T) {
	master, tty, err := pty.Open()
	if err != nil {
		t.Skip("no terminal: ", err)
	}
	defer tty.Close()
	defer master.Close()
	if err := pty.Setsize(tty, &pty.Winsize{Cols: 71, Rows: 23}); err != nil {
		t.Fatal(err)
	}
	if w, h, err := NewGuard(tty).size(); w != 71 || h != 23 || err != nil || !Obeys(tty) {
		t.Errorf("%d x %d, %v", w, h, err)
	}
}

// The beginning: taken over, black, asked who it is, and believed; the Linux console is not asked.
func TestBegin(t *testing.T) {
	for _, c := range []struct {
		kind, answer     string
		black, tellsKeys bool
	}{{"xterm", "\x1b]11;rgb:0000/0000/0000\x1b\\\x1b[>41;379;0c\x1b[?1u\x1b[?62;22c", true, true}, {"xterm", "\x1b]11;rgb:ffff/0000/0000\x1b\\\x1b[?62;22c", false, false},
		{"linux", "", false, false}} {
		master, tty := answering(t, c.answer)
		g := newGuard(tty, c.kind, TwoFiftySix)
		g.tty, g.size = tty, func() (int, int, error) { return 4, 1, nil }
		g.Begin()
		tty.WriteString("the end")
		out := ""
		for buf := make([]byte, 4096); !strings.HasSuffix(out, "the end"); {
			n, err := master.Read(buf)
			if err != nil {
				t.Fatal(err)
			}
			out += string(buf[:n])
		}
		asked := c.kind != "linux"
		if !strings.HasPrefix(out, g.beginSequence()) || strings.Contains(out, questions) != asked || strings.HasSuffix(out, tellKeys+"the end") != c.tellsKeys ||
			!strings.Contains(out, "\x1b[1;1H") {
			t.Errorf("%s is written %q", c.kind, out)
		}
		if g.BlackConfirmed() != c.black || g.tellsKeys != c.tellsKeys || g.Light() != Red || !g.mu.TryLock() {
			t.Errorf("%s: black %v, tells keys %v, light %v", c.kind, g.BlackConfirmed(), g.tellsKeys, g.Light())
		}
		tty.Close()
		master.Close()
	}
}

// answering is a terminal in raw mode that has answered before it was asked.
func answering(t *testing.T, answer string) (master, tty *os.File) {
	t.Helper()
	master, tty, err := pty.Open()
	if err != nil {
		t.Skip("no terminal: ", err)
	}
	if _, err := term.MakeRaw(int(tty.Fd())); err != nil {
		t.Fatal(err)
	}
	if _, err := master.WriteString(answer); err != nil {
		t.Fatal(err)
	}
	return master, tty
}

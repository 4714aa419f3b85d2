//go:build unix

package main

// Answers of a terminal that come late, or in another order than they were asked for: nothing
// is typed, nothing begins.

import (
	"strings"
	"testing"
	"time"

	"example.org/wetside/tui/light/vtest"
)

// lateAnswers are what is answered to the questions of the beginning, and what else terminals
// send unasked; GNU screen says who it is before it tells its colours.
var lateAnswers = []string{"\x1b[?1;2c", "\x1b]11;rgb:0000/0000/0000\a", "\x1b]11;rgb:ffff/ffff/ffff\x1b\\", "\x1b]10;rgb:5f5f/0000/0000\x1b\\", "\x1b[>83;40900;0c",
	"\x1b[?0u", "\x1b[?2026;2$y", "\x1bP>|tmux 3.3a\x1b\\", "\x1b[24;80R", "\x1b[I"}

func TestLateAnswersAreNotTyped(t *testing.T) {
	t.Parallel()
	mute := vtest.Behaviour{ErasesWithPen: true, SetsColours: true, Mute: true}
	for name, args := range map[string][]string{"the list": nil, "the plan": {"run", "tern-hangers", "--sound", "off"}} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			s := wetsideWith(t, mute, nil, args...)
			s.seen("the screens", func(g *vtest.Terminal) bool { return g.Alternate() && strings.TrimSpace(all(g)) != "" })
			time.Sleep(restFor)
			look := func() string { s.mu.Lock(); defer s.mu.Unlock(); return all(s.front) }
			before := look()
			for i, answer := range lateAnswers {
				time.Sleep(time.Duration(i*100) * time.Millisecond) // 0.2 to 3 s after they were asked, and later
				if i%2 == 0 {
					s.types(answer)
					continue
				}
				s.types(answer[:len(answer)/2]) // in two reads
				time.Sleep(5 * time.Millisecond)
				s.types(answer[len(answer)/2:])
			}
			time.Sleep(restFor)
			if after := look(); after != before || s.record() != "" {
				t.Errorf("before:\n%s\nafter:\n%s", before, after)
			}
			s.types("?")
			s.seen("the help: keys are keys", func(*vtest.Terminal) bool { return all(s.front) != before })
		})
	}
}

// A paste whose end never comes ends by itself: the next key is one.
func TestAnUnterminatedPasteEnds(t *testing.T) {
	t.Parallel()
	s := wetsideWith(t, modernTerminal, nil)
	s.seen("the screens", func(g *vtest.Terminal) bool { return g.Alternate() && strings.TrimSpace(all(g)) != "" })
	s.types("\x1b[200~q1")
	time.Sleep(restFor)
	s.types("?")
	s.seen("the help", showing("back to the screen"))
}

// A paste that a busy machine or a slow line halts is still no key, and the next key is one.
func TestAPasteThatHaltsIsNoKey(t *testing.T) {
	t.Parallel()
	s := wetsideWith(t, modernTerminal, nil)
	s.seen("the screens", func(g *vtest.Terminal) bool { return g.Alternate() && strings.TrimSpace(all(g)) != "" })
	for _, part := range []string{"\x1b[200~quay\r\n", "quay, mud\r\nqq", "q q q q q\r\n", "q\x1b[201~"} {
		s.types(part)
		time.Sleep(restFor)
	}
	s.types("?")
	s.seen("the help", showing("back to the screen"))
}

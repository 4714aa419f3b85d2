package keyboard

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// replies are what terminals answer, as xterm's ctlseqs, tmux, GNU screen and kitty's keyboard
// protocol have it: colours, device attributes, versions, modes, places of the cursor, and what
// else arrives that is no key.
var replies = []string{"\x1b]11;rgb:ffff/ffff/ffff\x1b\\", "\x1b]10;rgb:0000/0000/0000\a", "\x1b]4;1;rgb:aaaa/0000/0000\x1b\\", "\x1b[?62;22c", "\x1b[?1;2c",
	"\x1b[>83;40900;0c", "\x1b[>84;0;0c", "\x1bP!|00000000\x1b\\", "\x1bP>|tmux 3.3a\x1b\\", "\x1bP>|XTerm(379)\x1b\\", "\x1bP1+r544e=787465726d\x1b\\",
	"\x1b[?2026;2$y", "\x1b[4;1$y", "\x1b[12;40R", "\x1b[1;1R", "\x1b[?12;40R", "\x1b[0n", "\x1b[?0u", "\x1b[?15u", "\x1b[8;24;80t", "\x1b[I", "\x1b[O", "\x1b[<0;33;12M", "\x1b[<0;33;12m",
	"\x1b_Gi=31;OK\x1b\\", "\x1b^nothing\x1b\\"}

// names are the keys of events, +  and - for those that are repeated or let go.
func names(list []Event) (keys []string) {
	for _, e := range list {
		name := e.Key
		if e.Alt {
			name = "alt+" + name
		}
		keys = append(keys, map[What]string{Repeated: "+", Released: "-", Pasted: "paste:"}[e.What]+name+e.Text)
	}
	return keys
}

// Answers are eaten in any order, wherever a read divides them, and keys between them are not.
func TestAnswersAreNoKeys(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		var b strings.Builder
		var want []string
		for range rapid.IntRange(1, 12).Draw(r, "things") {
			b.WriteString(rapid.SampledFrom(replies).Draw(r, "reply"))
			if rapid.Bool().Draw(r, "key") {
				key := rapid.SampledFrom([]string{"a", " ", "5", "é", "\r"}).Draw(r, "typed")
				b.WriteString(key)
				want = append(want, strings.ReplaceAll(key, "\r", "enter"))
			}
		}
		var p Parser
		var got []Event
		for rest := []byte(b.String()); len(rest) > 0; {
			n := rapid.IntRange(1, len(rest)).Draw(r, "read")
			got = append(got, p.Feed(rest[:n])...)
			rest = rest[n:]
		}
		if got = append(got, p.GiveUp()...); !slices.Equal(names(got), want) {
			r.Errorf("%q: %q; want %q", b.String(), names(got), want)
		}
	})
}

// What was begun and does not go on ends by itself: an escape, an answer, a paste.
func TestWhatDoesNotEndIsGivenUp(t *testing.T) {
	for typed, want := range map[string]string{"\x1b": "esc", "\x1b[": "alt+[", "\x1bP": "alt+P", "\x1b]11;rgb:ff": "", "\x1b[12;": "", "\x1b[200~abc": "paste:abc",
		"\x1b[200~abc\x1b[2": "paste:abc\x1b[2", "\xc3": ""} {
		var p Parser
		list := p.Feed([]byte(typed))
		if len(list) > 0 || p.Wait() == 0 {
			t.Errorf("%q: %q before the wait of %v", typed, names(list), p.Wait())
		}
		if got := strings.Join(names(p.GiveUp()), " "); got != want || p.Wait() != 0 {
			t.Errorf("%q: %q; want %q", typed, got, want)
		}
		if got := strings.Join(names(p.Feed([]byte("x"))), " "); got != "x" {
			t.Errorf("behind %q: %q", typed, got)
		}
	}
}

// A paste that halts for longer than it is waited for goes on as one: no key of its rest is a
// key, and keys typed between or behind it are.
func TestAPasteThatHaltsIsOne(t *testing.T) {
	var p Parser
	for _, c := range []struct {
		read string
		ends bool // nothing follows for the parser's wait
		want string
	}{{"\x1b[200~tide", true, "paste:tide"}, {"q", false, "q"}, {"  ", false, "   "}, {"\x1b[1;2A\x1b[1;2A", false, "shift+up shift+up"},
		{"quay, mud, q\r\n", false, ""}, {"\r", true, "paste:quay, mud, q\r\n\r"},
		{"q\x1b[201~ ", false, "paste:q  "}, {"quay, mud, q", false, "q u a y ,   m u d ,   q"},
		{"\x1b[200~ebb", true, "paste:ebb"}, {"x\x1b[200~y\x1b[201~", false, "x paste:y"}, {"quay mud ", false, "q u a y   m u d  "}} {
		got := p.Feed([]byte(c.read))
		if c.ends {
			got = append(got, p.GiveUp()...)
		}
		if is := strings.Join(names(got), " "); is != c.want {
			t.Errorf("%q: %q; want %q", c.read, is, c.want)
		}
	}
}

func TestKeys(t *testing.T) {
	for typed, want := range map[string]string{"nnn": "n n n", "\x1b\x1b[A": "esc up", "\x1b[[A": "f1", "\x1bOP": "f1", "\x1b[1;2P": "f13", "\x1b[15;2~": "f17", "\x1b[24~": "f12",
		"\x1b[200~LWQP\r\n\x1b[201~ ": "paste:LWQP\r\n  ", "\x1b[201~": "", "\x1b]0;x\ry": "enter y", "\xff": "", "\u0085": "",
		"\x1b[32;1:1u\x1b[32;1:2u\x1b[32;1:3u": "  +  - ", "\x1b[97;2:1;65u": "A", "\x1b[13;1:3u": "-enter", "\x1b[57441;2u": "", "\x1b[57400;;49u": "1",
		"\x1b[6;1:2~": "+pgdown", "\x1b[1;1:3A": "-up", "\x1bOM": "enter", "\r\n": "enter ctrl+j"} {
		var p Parser
		if got := strings.Join(names(p.Feed([]byte(typed))), " "); got != want {
			t.Errorf("%q: %q; want %q", typed, got, want)
		}
	}
}

// Every key that the settings may call the big one has bytes by which it is known.
func TestEveryNamedKeyIsKnown(t *testing.T) {
	for _, name := range []string{"enter", "tab", "backspace", "delete", "insert", "home", "end", "pgup", "pgdown", "up", "down", "left", "right",
		"f1", "f4", "f5", "f6", "f10", "f11", "f12", "f13", "f16", "f17", "f20"} {
		if !slices.Contains(slices.Collect(maps.Values(sequences)), name) {
			t.Errorf("%s is not known", name)
		}
	}
}

// A paste and an answer of any length take no more than their bounds.
func TestNothingGrows(t *testing.T) {
	var p Parser
	p.Feed([]byte("\x1b[200~"))
	for range 200 {
		p.Feed([]byte(strings.Repeat("x", 4096)))
	}
	if n := len(p.held) + cap(p.pasted); n > 4*longestPaste {
		t.Errorf("%d bytes are kept of a paste", n)
	}
	if list := p.Feed(pasteEnd); len(list) != 1 || len(list[0].Text) != longestPaste {
		t.Errorf("%d events", len(list))
	}
	p = Parser{}
	for range 200 {
		p.Feed([]byte("\x1b]52;" + strings.Repeat("x", 4096)))
		if len(p.held) > 2*longestAnswer {
			t.Fatalf("%d bytes are kept of an answer", len(p.held))
		}
	}
}

func FuzzParser(f *testing.F) {
	for _, r := range replies {
		f.Add([]byte(r))
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		var p Parser
		p.Feed(b)
		p.GiveUp()
		if p.Wait() != 0 {
			t.Error("something is held for ever")
		}
	})
}

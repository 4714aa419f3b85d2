package light

// Answers as terminals give them: xterm's ctlseqs for device attributes and colours, tmux and GNU
// screen as they answer here (3.3a, 4.09), kitty's keyboard protocol.

import (
	"strings"
	"testing"
)

func TestAnswersAreRead(t *testing.T) {
	for answer, want := range map[string]struct{ attributes, releases, background bool }{
		"":                            {},
		"\x1b[?62;22c":                {attributes: true},
		"\x1b[?1;2c\x1b[?0u":          {attributes: true, releases: true},
		"\x1b[?15u":                   {releases: true},
		"\x1b[?2026;2$y":              {},
		"\x1b[?2026;2$y\x1b[?6c":      {attributes: true},
		"\x1b[>84;0;0c":               {},
		"\x1b[?":                      {},
		"\x1b]11;rgb:0000/0000/0000":  {},
		"\x1b]11;rgb:00/00/00\a":      {background: true},
		"\x1b]11;rgb:ff/ff/ff\x1b\\":  {background: true},
		"\x1b]10;rgb:ff/ff/ff\x1b\\c": {},
	} {
		if got := hasDeviceAttributes(answer); got != want.attributes {
			t.Errorf("%q: device attributes %v", answer, got)
		}
		if got := tellsReleases(answer); got != want.releases {
			t.Errorf("%q: tells releases %v", answer, got)
		}
		if got := hasBackground(answer); got != want.background {
			t.Errorf("%q: background %v", answer, got)
		}
	}
}

func TestWhatIsAround(t *testing.T) {
	for _, c := range []struct {
		env    map[string]string
		answer string
		want   Around
	}{
		{nil, "", Nothing},
		{map[string]string{"TERM": "xterm-256color"}, "\x1b[>41;379;0c\x1b[?62;22c", Nothing},
		{map[string]string{"TMUX": "/tmp/tmux-0/default,1,0", "TERM": "screen"}, "", Tmux},
		{map[string]string{"TERM": "screen-256color"}, "\x1b[>84;0;0c", Tmux}, // over ssh
		{map[string]string{"TERM": "tmux-256color"}, "", Tmux},
		{map[string]string{"STY": "1.pts-0", "TERM": "screen"}, "", Screen},
		{map[string]string{"TERM": "screen.xterm"}, "\x1b[>83;40900;0c", Screen},
		{map[string]string{"TERM": "screen"}, "", OtherMux},
		{map[string]string{"ZELLIJ": "0", "TERM": "xterm-256color"}, "", OtherMux},
	} {
		if got := AroundOf(func(name string) string { return c.env[name] }, c.answer); got != c.want {
			t.Errorf("%v, %q: %q; want %q", c.env, c.answer, got, c.want)
		}
	}
}

// What is passed on comes to the terminal around whole and in order, in strings that are short
// enough for GNU screen, which drops what is longer (768 bytes in 4.9, MAXSTR, from memory).
func TestWhatIsPassedOn(t *testing.T) {
	commands := darkPalette + blackBackground
	through := Tmux.through(commands)
	inner, ok := strings.CutPrefix(through, "\x1bPtmux;")
	inner, whole := strings.CutSuffix(inner, "\x1b\\")
	if !ok || !whole || strings.ReplaceAll(inner, "\x1b\x1b", "\x1b") != commands {
		t.Errorf("tmux is given %.80q", through)
	}
	set := map[string]bool{}
	var others []string
	for part := range strings.SplitSeq(Screen.through(commands), "\x1b\\") {
		if part == "" {
			continue
		}
		text, ok := strings.CutPrefix(part, "\x1bP")
		text, bell := strings.CutSuffix(text, "\a")
		if !ok || !bell || len(part) > 240 {
			t.Fatalf("GNU screen is given %q", part)
		}
		list, palette := strings.CutPrefix(text, "\x1b]4;")
		if !palette {
			others = append(others, text)
			continue
		}
		words := strings.Split(list, ";")
		for i := 0; i < len(words); i += 2 {
			if words[i+1] != "rgb:00/00/00" || set[words[i]] {
				t.Errorf("entry %s is %s", words[i], words[i+1])
			}
			set[words[i]] = true
		}
	}
	if len(set) != 256 || len(others) != 2 || others[0] != "\x1b]10;rgb:00/00/00" || others[1] != "\x1b]11;rgb:00/00/00" {
		t.Errorf("%d entries, %q", len(set), others)
	}
	for _, a := range []Around{Nothing, OtherMux} {
		if got := a.through(commands); got != "" {
			t.Errorf("%q is given %q", a, got)
		}
	}
}

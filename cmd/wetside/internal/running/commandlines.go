package running

// Lines of commands from an input that may hold anything.

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/tui/say"
)

// longestLine is how many bytes a command may have; a longer line is passed over.
const longestLine = 64 << 10

var errLongLine = errors.New("a line of over 64 KiB; it was passed over")

// commandLines reads line by line.
type commandLines struct{ in *bufio.Reader }

func newCommandLines(in io.Reader) commandLines {
	return commandLines{bufio.NewReaderSize(in, longestLine)}
}

// next is the next line, errLongLine in the place of one that is too long, io.EOF at the end.
func (l commandLines) next() (string, error) {
	line, err := l.in.ReadSlice('\n')
	text := string(line)
	long := false
	for errors.Is(err, bufio.ErrBufferFull) {
		long = true
		_, err = l.in.ReadSlice('\n')
	}
	switch {
	case err != nil && (!errors.Is(err, io.EOF) || long || text == ""):
		return "", io.EOF
	case long:
		return "", errLongLine
	}
	return strings.TrimSpace(text), nil
}

// ReadCommands reads commands until the input ends.
func ReadCommands(p *app.Env, s *RunningSession) {
	for lines := newCommandLines(p.In); ; {
		text, err := lines.next()
		switch {
		case errors.Is(err, errLongLine):
			p.Complain("%v", err)
			continue
		case err != nil:
			return
		case text == "":
			continue
		}
		if text == "advice" { // told, spoken, and kept with the session, as a note
			s.Audio.Ear.Advise()
			a, ok := s.State().Advise(s.Snapshot().Now)
			s.Do(sequence.Report{Kind: sequence.Noted, Text: say.Advice(a, ok, s.State().Plan())})
			continue
		}
		c, err := parsePlainCommand(text, p.Settings.Habits)
		if err == nil {
			err = s.Ask(c)
		}
		if err != nil {
			p.Complain("%s: %s", text, say.Error(err, p.Settings.Habits))
		}
	}
}

// parsePlainCommand reads one line of plain mode.
func parsePlainCommand(text string, h sequence.Units) (sequence.Command, error) {
	word, rest, _ := strings.Cut(text, " ")
	rest = strings.TrimSpace(rest)
	simple := map[string]sequence.Command{"next": sequence.MoveOn{}, "undo": sequence.Undo{}, "hold": sequence.Hold{},
		"go": sequence.EndHold{}, "take-out": sequence.Pull{}, "stop": sequence.EndSession{}}
	if c, ok := simple[word]; ok {
		if rest != "" {
			return nil, fmt.Errorf("%q stands alone", word)
		}
		return c, nil
	}
	switch word {
	case "temp":
		return h.ParseReading(rest)
	case "late", "set-aside":
		n, err := strconv.Atoi(rest)
		if err != nil {
			return nil, fmt.Errorf("%q is no sheet; expected a number", rest)
		}
		if word == "late" {
			return sequence.MarkLate{Sheet: n}, nil
		}
		return sequence.SetSheetAside{Sheet: n}, nil
	case "note":
		if rest == "" {
			return nil, fmt.Errorf("expected the note's text")
		}
		return sequence.AddNote{Text: safetext.Clean(rest)}, nil
	}
	return nil, fmt.Errorf("no such command; expected next, undo, hold, go, temp T, take-out, late N, set-aside N, advice, note TEXT, or stop to end the session")
}

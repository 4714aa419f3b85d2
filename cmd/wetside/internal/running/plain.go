package running

// Plain mode: events out as lines, commands in as lines.

import (
	"bufio"
	"context"
	"fmt"
	"strconv"
	"strings"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/live"
	"example.org/wetside/tui/page"
	"example.org/wetside/tui/say"
)

// FollowLines is the follower that writes what happens. When nobody reads any more it
// falls silent; the session goes on.
func FollowLines(p *app.Env, s *live.Session, asJSON bool) live.Follower {
	return func(ctx context.Context, c *live.Cursor) error {
		silent := false
		var was sequence.Hand
		for {
			r, ok := c.Next(ctx)
			if !ok {
				return nil
			}
			if r.Event.Kind == sequence.Heartbeat || silent {
				continue
			}
			line := safetext.Clean(say.EventLine(s.State().Plan(), r.Event, p.Settings.Habits))
			if asJSON {
				text, err := sequence.Marshal(r.Event)
				if err != nil {
					return err
				}
				line = string(text)
			}
			if h, ok := s.State().Hands(r.Event.At); ok && !asJSON && (h.Do != was.Do || h.Step != was.Step) {
				line, was = strings.TrimPrefix(line+"\n"+page.HandsLine(h), "\n"), h
			}
			if line == "" {
				continue
			}
			_, err := fmt.Fprintln(p.Out, line)
			silent = err != nil
		}
	}
}

// ReadCommands reads commands until the input ends.
func ReadCommands(p *app.Env, s *RunningSession) {
	in := bufio.NewScanner(p.In)
	for in.Scan() {
		text := strings.TrimSpace(in.Text())
		if text == "" {
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
			fmt.Fprintf(p.Err, "wetside: %s: %s\n", safetext.Clean(text), say.Error(err, p.Settings.Habits))
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
	case "late":
		n, err := strconv.Atoi(rest)
		if err != nil {
			return nil, fmt.Errorf("%q is no sheet; expected a number", rest)
		}
		return sequence.MarkLate{Sheet: n}, nil
	case "set-aside":
		n, err := strconv.Atoi(rest)
		if err != nil {
			return nil, fmt.Errorf("%q is no sheet; expected a number", rest)
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

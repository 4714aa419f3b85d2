package main

// Plain mode: events out as lines, commands in as lines.

import (
	"bufio"
	"context"
	"fmt"
	"strconv"
	"strings"

	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/live"
	"example.org/wetside/tui/page"
)

// lines is the follower that writes what happens. When nobody reads any more it
// falls silent; the session goes on.
func (p *program) lines(s *live.Session, asJSON bool) live.Follower {
	return func(ctx context.Context, c *live.Cursor) error {
		silent := false
		var was sequence.Hand
		for {
			r, ok := c.Next(ctx)
			if !ok {
				return nil
			}
			if r.Event.Kind == sequence.Alive || silent {
				continue
			}
			line := recipes.Clean(page.Line(s.State().Plan(), r.Event, p.settings.Habits))
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
			_, err := fmt.Fprintln(p.out, line)
			silent = err != nil
		}
	}
}

// obey reads commands until the input ends.
func (p *program) obey(s *carried) {
	in := bufio.NewScanner(p.in)
	for in.Scan() {
		text := strings.TrimSpace(in.Text())
		if text == "" {
			continue
		}
		if text == "advice" { // told, spoken, and kept with the session, as a note
			s.out.ear.Advise()
			a, ok := s.State().Advise(s.Look().Now)
			s.Do(sequence.Tell{Kind: sequence.Noted, Text: a.Say(ok)})
			continue
		}
		c, err := parseCommand(text, p.settings.Habits)
		if err == nil {
			err = s.Ask(c)
		}
		if err != nil {
			fmt.Fprintf(p.err, "wetside: %s: %v\n", recipes.Clean(text), err)
		}
	}
}

// parseCommand reads one line of plain mode.
func parseCommand(text string, h sequence.Habits) (sequence.Command, error) {
	word, rest, _ := strings.Cut(text, " ")
	rest = strings.TrimSpace(rest)
	simple := map[string]sequence.Command{"next": sequence.MoveOn{}, "undo": sequence.Undo{}, "hold": sequence.Hold{},
		"go": sequence.Go{}, "take-out": sequence.TakeOut{}, "stop": sequence.Stop{}}
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
		return sequence.Late{Sheet: n}, nil
	case "set-aside":
		n, err := strconv.Atoi(rest)
		if err != nil {
			return nil, fmt.Errorf("%q is no sheet; expected a number", rest)
		}
		return sequence.Aside{Sheet: n}, nil
	case "note":
		if rest == "" {
			return nil, fmt.Errorf("expected the note's text")
		}
		return sequence.Remark{Text: recipes.Clean(rest)}, nil
	}
	return nil, fmt.Errorf("no such command; expected next, undo, hold, go, temp T, take-out, late N, set-aside N, advice, note TEXT, or stop to end the session")
}

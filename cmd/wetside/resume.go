package main

// wetside resume: a session that was cut off, taken up.

import (
	"errors"
	"fmt"
	"io/fs"

	"github.com/spf13/cobra"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/sequence/journal"
)

func (p *program) resume() *cobra.Command {
	var how manner
	cmd := &cobra.Command{
		Use:   "resume [SESSION]",
		Short: "take up the session that was cut off",
		Long: "Takes up the newest session that is open, or the one named. Where its time is\n" +
			"known and no move was missed it goes on by itself; otherwise it says how it\n" +
			"stands and waits for go.",
		Example: "  wetside resume --plain",
		Args:    words(cobra.MaximumNArgs(1)),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := how.heardBy(cmd.Flags().Changed); err != nil {
				return err
			}
			if _, _, err := how.read(p.settings.Lead); err != nil {
				return err
			}
			return p.takeUp(how, args)
		},
	}
	how.flags(cmd, p.settings)
	return cmd
}

func (p *program) takeUp(how manner, args []string) error {
	if len(args) == 1 && (isKept() || isWailing()) {
		return p.screens(look{aloud: how.aloud, takeUp: args[0]})
	}
	id, err := sessionNamed(journal.Default(), args)
	if err != nil {
		return err
	}
	if !how.plain {
		return p.screens(look{aloud: how.aloud, takeUp: id})
	}
	s, err := p.takeUpSession(id, how.aloud, func(plan *sequence.Plan, lit bool) error {
		return how.mayShine(plan, lit, p.out)
	}, func(string, rehearsal) {})
	if err != nil {
		return err
	}
	return p.stay(s, how)
}

// certainty says how far the resumed time is to be believed; "" where it is exact.
func certainty(r clock.Resumption) string {
	switch r.Certainty {
	case clock.Exact:
		return ""
	case clock.Estimated:
		return fmt.Sprintf("the computer was started anew: about %s by the wall clock, at least %s",
			chem.FormatDuration(r.Now.Elapsed), chem.FormatDuration(r.Earliest))
	}
	return fmt.Sprintf("the computer was started anew and its wall clock is wrong: at least %s", chem.FormatDuration(r.Earliest))
}

// resumable is a session that can be taken up, or why it cannot.
func resumable(store journal.Store, id string) (journal.Session, error) {
	kept, err := store.Read(id)
	switch {
	case err != nil:
		return kept, err
	case kept.Newer:
		return kept, journal.ErrNewer
	case kept.Status != journal.Open:
		return kept, journal.ErrFinished
	}
	return kept, nil
}

func sessionNamed(store journal.Store, args []string) (string, error) {
	if len(args) == 1 {
		if _, err := store.Read(args[0]); errors.Is(err, fs.ErrNotExist) {
			return "", fmt.Errorf("session %q: not found", args[0])
		}
		return args[0], nil
	}
	e, ok := store.NewestOpen()
	if !ok {
		return "", errors.New("no session is open: nothing to take up")
	}
	return e.ID, nil
}

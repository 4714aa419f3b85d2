package main

// wetside resume: a session that was cut off, taken up.

import (
	"errors"
	"fmt"
	"io/fs"
	"time"

	"github.com/spf13/cobra"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/live"
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
		RunE: func(_ *cobra.Command, args []string) error {
			if _, _, err := how.read(); err != nil {
				return err
			}
			return p.takeUp(how, args)
		},
	}
	how.flags(cmd)
	return cmd
}

// away is how long without a record makes a gap, in real time.
const away = 10 * time.Second

func (p *program) takeUp(how manner, args []string) error {
	store := journal.Default()
	id, err := sessionNamed(store, args)
	if err != nil {
		return err
	}
	w, kept, err := store.Take(id)
	if err != nil {
		return err
	}
	plan, factor := kept.First().Plan, kept.First().Rehearsal
	if err := how.mayShine(plan, factor > 0, p.out); err != nil {
		w.Close()
		return err
	}
	if factor == 0 {
		factor = 1
	}
	anchor := kept.Anchor()
	watch, res := clock.Resume(p.source, anchor, factor)
	out, err := p.openSound(how.sound, watch)
	if err != nil {
		w.Close()
		return err
	}
	defer out.close()
	s, err := live.Start(live.Options{Plan: plan, Clock: watch, Ear: out.ear, Records: kept.Records,
		At:    watch.Mark().Elapsed,
		First: sequence.Resume{From: anchor.Elapsed, Gap: res.Gap > away, Ask: res.Certainty != clock.Exact, Text: certainty(res)}})
	if err != nil {
		w.Close()
		return err
	}
	s.Keep(store, id, w)
	return p.stay(s, how, out, len(kept.Records))
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

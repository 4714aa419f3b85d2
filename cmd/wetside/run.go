package main

// wetside run: a plan carried out.

import (
	"fmt"
	"io"
	"os"
	"slices"
	"strconv"
	"time"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/live"
)

// manner is how a session is carried out, as typed.
type manner struct {
	plain, json bool
	sound       string
	lead        string
	rehearse    string
}

func (m *manner) flags(cmd *cobra.Command) {
	f := cmd.Flags()
	f.BoolVar(&m.plain, "plain", false, "lines instead of screens; reads commands from standard input")
	f.BoolVar(&m.json, "json", false, "with --plain: one JSON object a line")
	f.StringVar(&m.sound, "sound", "auto", "auto, pulse, exec, device, wav:FILE or off")
}

func (p *program) carryOut() *cobra.Command {
	var today conditions
	var how manner
	cmd := &cobra.Command{
		Use:   "run RECIPE",
		Short: "carry a recipe out, on time",
		Long: "Carries a recipe out. In plain mode it writes a line for everything that happens and\n" +
			"reads commands, one a line: next, undo, hold, go, temp 22.5, take-out, late N,\n" +
			"note TEXT, stop. The end of input leaves the session running.",
		Example: "  wetside run tern-hangers --plain --rehearse 60 --sound wav:rehearsal.wav",
		Args:    words(cobra.ExactArgs(1)),
		RunE: func(_ *cobra.Command, args []string) error {
			factor, lead, err := how.read()
			if err != nil {
				return err
			}
			plan, err := today.resolve(args[0])
			if err != nil {
				return err
			}
			if err := how.mayShine(&plan, factor > 0, p.out); err != nil {
				return err
			}
			return p.begin(&plan, how, factor, lead)
		},
	}
	today.flags(cmd)
	how.flags(cmd)
	cmd.Flags().StringVar(&how.lead, "lead", "0s", "`D` before the first dip")
	cmd.Flags().StringVar(&how.rehearse, "rehearse", "", "a rehearsal, `N` times as fast")
	return cmd
}

// read checks the words of the manner. A factor of 0 is no rehearsal.
func (m *manner) read() (factor float64, lead time.Duration, err error) {
	if m.json && !m.plain {
		return 0, 0, usage("--json goes with --plain")
	}
	if !m.plain {
		return 0, 0, usage("expected --plain")
	}
	if m.rehearse != "" {
		factor, err = strconv.ParseFloat(m.rehearse, 64)
		if err != nil || !(factor >= 0.1 && factor <= 10000) {
			return 0, 0, usage("--rehearse: %q; expected how many times as fast, 0.1 to 10000", m.rehearse)
		}
	}
	if m.lead != "" && m.lead != "0" && m.lead != "0s" {
		if lead, err = chem.ParseDuration(m.lead); err != nil {
			return 0, 0, usage("--lead: %v", err)
		}
	}
	return factor, lead, nil
}

// mayShine refuses to write lines onto a lit terminal beside open film.
func (m *manner) mayShine(plan *sequence.Plan, rehearsal bool, out io.Writer) error {
	dark := slices.ContainsFunc(plan.Steps, func(s sequence.PlanStep) bool { return s.RoomLight == sequence.Dark })
	f, isFile := out.(*os.File)
	if !dark || rehearsal || !isFile || !term.IsTerminal(int(f.Fd())) {
		return nil
	}
	return usage("--plain would light this terminal in a dark step; send its output elsewhere (--plain > log.txt), or rehearse")
}

// begin starts a new session and stays until it is over.
func (p *program) begin(plan *sequence.Plan, how manner, factor float64, lead time.Duration) error {
	speed := factor
	if speed == 0 {
		speed = 1
	}
	watch := clock.New(p.source, -lead, speed)
	store := journal.Default()
	id := store.NewID(watch.Mark().Wall.Local(), plan.Recipe.Film.Name)
	out, err := p.openSound(how.sound, watch)
	if err != nil {
		return err
	}
	defer out.close()
	watch.Set(-lead)
	s, err := live.Start(live.Options{Plan: plan, Clock: watch, Ear: out.ear, At: -lead,
		First:   sequence.Begin{ID: id, Version: version},
		Record0: journal.Record{Plan: plan, Rehearsal: factor}})
	if err != nil {
		return err
	}
	s.Keep(store, id, nil)
	return p.stay(s, how, out, 0)
}

// stay follows a session in plain mode until it is over, or a signal ends it.
func (p *program) stay(s *live.Session, how manner, out *sound, first int) error {
	s.Follow("lines", first, p.lines(s, how.json))
	go p.obey(s)
	out.watch(s)
	stop := p.stop()
	select {
	case <-s.Ended():
		s.Wait()
		out.finish()
		return nil
	case sig := <-stop:
		s.Close()
		return fmt.Errorf("ended by %v; wetside resume takes the session up", sig)
	}
}

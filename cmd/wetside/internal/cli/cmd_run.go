package cli

// wetside run: a plan carried out.

import (
	"errors"
	"fmt"
	"time"

	"github.com/spf13/cobra"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/backend"
	"example.org/wetside/cmd/wetside/internal/cli/flags"
	"example.org/wetside/cmd/wetside/internal/running"
	"example.org/wetside/cmd/wetside/internal/screens"
	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/tui/say"
)

func newRunCommand(p *app.Env) *cobra.Command {
	var today flags.ConditionFlags
	var how flags.RunFlags
	var out flags.Output
	cmd := &cobra.Command{
		Use:   "run RECIPE",
		Short: "carry a recipe out, on time",
		Long: "Carries a recipe out on time, on the screens and by sound; --rehearse runs it without\n" +
			"film. The session is kept in the notebook as it happens.\n\n" +
			"With --plain a line is written for everything that happens, and commands are read, one a\n" +
			"line: next, undo, hold, go, temp 22.5, take-out, late N, set-aside N, advice, note TEXT,\n" +
			"stop (ends the session). The end of input leaves the session running.",
		Example: "  wetside run tern-hangers --plain --rehearse 60 --sound wav:rehearsal.wav",
		Args:    flags.UsageArgs(cobra.ExactArgs(1)),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := how.CheckTyped(cmd.Flags().Changed); err != nil {
				return err
			}
			makeWay := func() error { return nil }
			if cmd.Flags().Changed("sound") && !app.IsSupervised() {
				makeWay = func() error { return out.MakeWay(running.SoundFile(how.Sink)) }
			}
			return runRun(p, args[0], today.RawConditions, how, makeWay)
		},
	}
	today.Add(cmd)
	today.AddBottles(cmd)
	how.Add(cmd, p.Settings)
	cmd.Flags().StringVar(&how.Countdown, "countdown", "", "`DURATION`: from beginning to the first sheet in (default "+p.Settings.Countdown.String()+" on the screens, 0s with --plain)")
	how.AddThermometer(cmd)
	cmd.Flags().StringVar(&how.Rehearse, "rehearse", "", "`N`: rehearse without film, N times as fast; moves: in real time, without the quiet between moves")
	cmd.Flags().BoolVar(&how.Danger, "accept-danger", false, "with --plain: begin although the plan has a danger")
	cmd.Flags().BoolVar(&how.InDark, "dark", false, "with --rehearse: in the dark, as with film")
	out.Add(cmd, "sound")
	flags.Needs(cmd, "json", "plain")
	flags.Needs(cmd, "dark", "rehearse")
	flags.Needs(cmd, "accept-danger", "plain")
	return cmd
}

// runRun carries a recipe out on the screens, or in plain mode. makeWay sees to the sound file.
func runRun(p *app.Env, recipe string, today sequence.RawConditions, how flags.RunFlags, makeWay func() error) error {
	practice, countdown, err := how.Parse(p.Settings.Countdown)
	if err != nil {
		return err
	}
	if err := how.Thermometer.Check(); err != nil {
		return err
	}
	if !how.Plain {
		if err := makeWay(); err != nil {
			return err
		}
		return screens.Open(p, backend.ScreenOptions{Thermometer: how.Thermometer, SoundOptions: how.SoundOptions, Countdown: countdown,
			Recipe: recipe, Conditions: p.WithSettings(today), Rehearsal: practice})
	}
	plan, err := p.ResolvePlan(recipe, today)
	if err != nil {
		return err
	}
	if err := how.CheckTerminal(&plan, practice.MayLight(), p.Out); err != nil {
		return err
	}
	if err := warnOf(p, &plan, how.Danger || practice.Factor > 0); err != nil {
		return err
	}
	if err := makeWay(); err != nil {
		return err
	}
	s, err := running.Begin(p, &plan, how.SoundOptions, how.Thermometer, practice, countdown, how.Sink == "off", nil)
	if err != nil {
		return err
	}
	return runUntilOver(p, s, how)
}

// warnOf writes the plan's dangers, and what is to know of its bottles. With film a
// danger that was not accepted is the end: nobody is there to be asked.
func warnOf(p *app.Env, plan *sequence.Plan, accepted bool) error {
	dangers := planning.Dangers(plan)
	for _, c := range dangers {
		p.Complain("%s: %s", c.Level, say.Caution(c, plan, p.Settings.Habits))
	}
	for _, c := range planning.BottleCautions(plan) {
		if c.Level != sequence.Danger {
			p.Complain("%s: %s", c.Level, say.Caution(c, plan, p.Settings.Habits))
		}
	}
	if len(dangers) > 0 && !accepted {
		return errors.New("not begun: the plan has a danger; change the plan, or begin in spite of it with --accept-danger")
	}
	return nil
}

// lastWords is for how long lines that nobody reads are waited for at a signal.
const lastWords = 300 * time.Millisecond

// runUntilOver follows a session in plain mode until it is over, or a signal ends it. Neither
// waits for whoever should read the lines.
func runUntilOver(p *app.Env, s *running.RunningSession, how flags.RunFlags) error {
	stop := p.Signals() // first: a reader that has gone already must not end the session
	unhurried, out, errs := *p, app.NewOutbox(p.Out), app.NewOutbox(p.Err)
	unhurried.Out, unhurried.Err = out, errs
	s.Follow("lines", s.FirstRecord, running.FollowLines(&unhurried, s.Session, how.JSON))
	if f, shown := app.TerminalOf(p.Out); shown && !how.JSON {
		s.RingBell(func() { fmt.Fprint(f, "\a") })
	}
	go running.ReadCommands(&unhurried, s)
	select {
	case <-s.Ended():
		s.Wait()
		s.End()
		if l := app.Learnt(s.SessionID); l != nil && !how.JSON {
			fmt.Fprintln(out, safetext.Clean(say.Learnt(l, p.Settings.Habits)))
		}
		select {
		case <-out.Flushed():
		case <-stop:
		}
		errs.FlushWithin(lastWords)
		return nil
	case sig := <-stop:
		s.End()
		unhurried.Complain("ended by %v; wetside resume takes the session up", sig)
		out.FlushWithin(lastWords)
		errs.FlushWithin(lastWords)
		return app.ErrReported
	}
}

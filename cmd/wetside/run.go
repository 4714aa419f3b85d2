package main

// wetside run: a plan carried out.

import (
	"errors"
	"fmt"
	"io"
	"os"
	"strconv"
	"time"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"example.org/wetside/chem"
	"example.org/wetside/recipes"
	"example.org/wetside/recipes/settings"
	"example.org/wetside/sequence"
)

// manner is how a session is carried out, as typed.
type manner struct {
	plain, json bool
	aloud
	lead        string
	rehearse    string
	dark        bool
	danger      bool // the plan's dangers are accepted
	thermometer thermometer
}

func (m *manner) flags(cmd *cobra.Command, usual settings.Settings) {
	f := cmd.Flags()
	f.BoolVar(&m.plain, "plain", false, "lines instead of screens; reads commands from standard input")
	f.BoolVar(&m.json, "json", false, "with --plain: one JSON object a line")
	f.StringVar(&m.sound, "sound", usual.Sound, "auto, pulse, exec, device, wav:FILE or off")
	f.StringVar((*string)(&m.voice), "voice", usual.Voice, "off, sparse or full: how much is said")
}

func (p *program) carryOut() *cobra.Command {
	var today conditions
	var how manner
	cmd := &cobra.Command{
		Use:   "run RECIPE",
		Short: "carry a recipe out, on time",
		Long: "Carries a recipe out. In plain mode it writes a line for everything that happens and\n" +
			"reads commands, one a line: next, undo, hold, go, temp 22.5, take-out, late N,\n" +
			"set-aside N, advice, note TEXT, stop (ends the session). The end of input leaves the\n" +
			"session running.",
		Example: "  wetside run tern-hangers --plain --rehearse 60 --sound wav:rehearsal.wav",
		Args:    words(cobra.ExactArgs(1)),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := how.heardBy(cmd.Flags().Changed); err != nil {
				return err
			}
			practice, lead, err := how.read(p.settings.Lead)
			if err != nil {
				return err
			}
			if err := how.thermometer.check(); err != nil {
				return err
			}
			if !how.plain {
				return p.screens(look{thermometer: how.thermometer, aloud: how.aloud, lead: lead, recipe: args[0], words: p.own(today.Words), rehearsal: practice})
			}
			plan, err := p.resolve(args[0], today.Words)
			if err != nil {
				return err
			}
			if err := how.mayShine(&plan, practice.lit(), p.out); err != nil {
				return err
			}
			if err := p.warnOf(&plan, how.danger || practice.factor > 0); err != nil {
				return err
			}
			s, err := p.beginSession(&plan, how.aloud, practice, lead, how.sound == "off", func(string, rehearsal) {})
			if err != nil {
				return err
			}
			how.thermometer.watch(s)
			return p.stay(s, how)
		},
	}
	today.flags(cmd)
	today.bottles(cmd)
	how.flags(cmd, p.settings)
	cmd.Flags().StringVar(&how.lead, "lead", "", "`D` from beginning to the first dip ("+p.settings.Lead.String()+" on the screens, 0s in plain mode)")
	cmd.Flags().StringVar(&how.thermometer.file, "thermometer", "", "a `FILE` with the temperature, read once a second")
	cmd.Flags().StringVar(&how.thermometer.hangs, "hangs-in", "developer", "where it hangs: developer, jacket or room")
	cmd.Flags().StringVar(&how.thermometer.offset, "jacket-offset", "", "by how much the developer is warmer than its jacket, in `K`; with --hangs-in jacket")
	cmd.Flags().StringVar(&how.rehearse, "rehearse", "", "a rehearsal, `N` times as fast; or moves: real time, without the quiet between moves")
	cmd.Flags().BoolVar(&how.danger, "accept-danger", false, "with --plain: begin although the plan has a danger")
	cmd.Flags().BoolVar(&how.dark, "dark", false, "with --rehearse: without light, as with film")
	return cmd
}

// read checks the words of the manner; lead is the screens' where none is typed.
func (m *manner) read(usual time.Duration) (practice rehearsal, lead time.Duration, err error) {
	if err := m.aloud.check(); err != nil {
		return practice, 0, err
	}
	if lead = usual; m.plain {
		lead = 0
	}
	if practice, err = m.practice(); err != nil {
		return practice, 0, err
	}
	switch m.lead {
	case "":
	case "0", "0s":
		lead = 0
	default:
		if lead, err = chem.ParseDuration(m.lead); err != nil {
			return practice, 0, usage("--lead: %v", err)
		}
	}
	if m.lead != "" && !m.plain && practice.factor > 0 && !practice.moves && !practice.dark {
		return practice, 0, usage("--lead: a rehearsal on the screens begins at once; expected --dark, --plain or --rehearse moves too")
	}
	return practice, lead, nil
}

// practice reads how the session is rehearsed, if it is.
func (m *manner) practice() (r rehearsal, err error) {
	switch m.rehearse {
	case "":
		return r, nil
	case "moves":
		return rehearsal{factor: 1, moves: true, dark: m.dark}, nil
	}
	factor, err := strconv.ParseFloat(m.rehearse, 64)
	if err != nil || !(factor >= 0.1 && factor <= 10000) {
		return r, usage("--rehearse: %q; expected how many times as fast, 0.1 to 10000, or moves", m.rehearse)
	}
	return rehearsal{factor: factor, dark: m.dark}, nil
}

// mayShine refuses to write lines onto a lit terminal beside open film.
func (m *manner) mayShine(plan *sequence.Plan, lit bool, out io.Writer) error {
	f, isFile := out.(*os.File)
	if !plan.HasDark() || lit || !isFile || !term.IsTerminal(int(f.Fd())) {
		return nil
	}
	return usage("--plain would light this terminal in a dark step; send its output elsewhere (--plain > log.txt), or rehearse")
}

// warnOf writes the plan's dangers, and what is to know of its bottles. With film a
// danger that was not accepted is the end: nobody is there to be asked.
func (p *program) warnOf(plan *sequence.Plan, accepted bool) error {
	dangers := plan.Dangers()
	for _, c := range dangers {
		fmt.Fprintf(p.err, "wetside: %s: %s\n", c.Level, recipes.Clean(c.Text))
	}
	for _, c := range plan.OfBaths() {
		if c.Level != sequence.Danger {
			fmt.Fprintf(p.err, "wetside: %s: %s\n", c.Level, recipes.Clean(c.Text))
		}
	}
	if len(dangers) > 0 && !accepted {
		return errors.New("not begun: the plan has a danger; change the plan, or begin in spite of it with --accept-danger")
	}
	return nil
}

// stay follows a session in plain mode until it is over, or a signal ends it.
func (p *program) stay(s *carried, how manner) error {
	defer s.end()
	stop := p.stop() // first: a reader that has gone already must not end the session
	s.Follow("lines", s.first, p.lines(s.Session, how.json))
	if f, isFile := p.out.(*os.File); isFile && !how.json && term.IsTerminal(int(f.Fd())) {
		s.ringing(func() { fmt.Fprint(f, "\a") })
	}
	go p.obey(s)
	select {
	case <-s.Ended():
		s.Wait()
		return nil
	case sig := <-stop:
		return fmt.Errorf("ended by %v; wetside resume takes the session up", sig)
	}
}

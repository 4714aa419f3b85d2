package curvecmd

// What negatives shall have: an average gradient, a contrast index, or both ends of a print on a paper.

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"example.org/wetside/chem/response"
	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli/flags"
	"example.org/wetside/sequence"
)

// The kinds of aims, as they are typed and as JSON has them.
const (
	aimAverage  = "average"
	aimContrast = "ci"
	aimPrint    = "print"
)

// aimFlags is the aim as typed, and as read.
type aimFlags struct {
	text           string
	grade          float64
	enlarger       string
	shadow, placed float64
	kind           string // "" where no aim is given
	aim            sequence.Aim
}

func (a *aimFlags) add(f *pflag.FlagSet) {
	f.StringVar(&a.text, "aim", "", "`AIM`: what is wanted: average:0.58 (as --target), ci:0.56, or print, with a paper")
	f.Float64Var(&a.grade, "grade", 0, "`N`: with --aim print: the paper's grade, 0 to 5, in place of --paper")
	f.StringVar(&a.enlarger, "enlarger", "diffuse", "`LIGHT`: with --aim print: diffuse (contact prints too) or condenser")
	f.Float64Var(&a.shadow, "shadow-density", sequence.UsualShadow, "`D`: with --aim print: the shadow's density over base plus fog")
	f.Float64Var(&a.placed, "placed", sequence.UsualPlaced, "`STOPS`: with --aim print: where you place the shadow on the meter's scale")
	f.Lookup("placed").DefValue = "-3.3" // as a person writes it
}

func (a *aimFlags) rules(cmd *cobra.Command) {
	cmd.MarkFlagsMutuallyExclusive("aim", "target")
	cmd.MarkFlagsMutuallyExclusive("paper", "grade")
	for _, name := range []string{"grade", "enlarger", "shadow-density", "placed"} {
		flags.Needs(cmd, name, "aim")
	}
}

// surface reports whether the aim is one that the whole response is needed for.
func (a *aimFlags) surface() bool { return a.kind == aimContrast || a.kind == aimPrint }

// readAim reads the aim and what belongs to it.
func (e *curveFlags) readAim(cmd *cobra.Command) error {
	a := &e.aim
	if a.text == "" {
		return nil
	}
	kind, number, valued := strings.Cut(a.text, ":")
	v, err := strconv.ParseFloat(number, 64)
	a.kind = kind
	switch {
	case kind == aimPrint && !valued:
		return e.readPrint(cmd)
	case kind != aimAverage && kind != aimContrast || !valued || err != nil || !(v >= leastTarget && v <= mostTarget):
		return app.Usagef("--aim: %q; expected average:0.58, ci:0.56 (each from %g to %g) or print", a.text, leastTarget, float64(mostTarget))
	case e.paper > 0:
		return app.Usagef("--paper: only --aim print, or no aim, goes with a paper")
	case kind == aimAverage:
		e.target = v
	default:
		a.aim.Contrast = v
	}
	return nil
}

func (e *curveFlags) readPrint(cmd *cobra.Command) (err error) {
	a := &e.aim
	p := &sequence.PrintAim{Paper: e.paper, Shadow: a.shadow, Flare: e.flare, Placed: a.placed, Enlarger: sequence.Enlarger(a.enlarger)}
	a.aim.Print = p
	if cmd.Flags().Changed("grade") {
		if p.Paper, err = response.GradeRange(a.grade); err != nil {
			return app.Usagef("--grade: %v", err)
		}
	}
	if !slices.Contains(sequence.Enlargers, p.Enlarger) {
		return app.Usagef("--enlarger: %q; expected diffuse or condenser", a.enlarger)
	}
	if p.Subject, err = subjectRange(e.subject); err != nil {
		return err
	}
	switch {
	case p.Paper == 0:
		return app.Usagef("--aim print: no paper; expected --grade 2, or --paper 1.05")
	case !(p.Paper >= 0.3 && p.Paper <= 3):
		return app.Usagef("--paper: %g; expected a log exposure range from 0.3 to 3", p.Paper)
	case !(e.flare >= 0 && e.flare <= 1.5):
		return app.Usagef("--flare: %g; expected 0 to 1.5 of the log range", e.flare)
	case !(p.Shadow >= 0.02 && p.Shadow <= 1):
		return app.Usagef("--shadow-density: %g; expected 0.02 to 1", p.Shadow)
	case !(a.placed >= -8 && a.placed <= 3):
		return app.Usagef("--placed: %g; expected stops from the metered tone, such as -3", a.placed)
	}
	return nil
}

// subjectRange reads a log range, or stops.
func subjectRange(text string) (float64, error) {
	number, stops := strings.CutSuffix(strings.TrimSpace(text), "stops")
	v, err := strconv.ParseFloat(strings.TrimSpace(number), 64)
	if stops {
		v *= math.Log10(2)
	}
	if err != nil || !(v > 0 && v <= 6) {
		return 0, app.Usagef("--subject: %q; expected a log range such as 2.1, or \"7 stops\"", text)
	}
	return v, nil
}

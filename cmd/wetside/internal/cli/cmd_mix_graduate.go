package cli

// wetside mix --graduate: amounts rounded to the marks of a graduate, and how much must be mixed to
// measure its smallest part well.

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.org/wetside/chem"
	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli/flags"
	"example.org/wetside/recipes/safetext"
	"example.org/wetside/tui/say"
)

// graduateMark is what a graduate makes of a part.
type graduateMark struct {
	Name  string           `json:"name"`
	Mark  chem.Millilitres `json:"ml"`
	Error float64          `json:"error"` // a fraction of the volume wanted
}

// parseGraduate reads the graduate, and how far off it may be.
func (m *mixFlags) parseGraduate() error {
	if m.graduate == "" {
		return nil
	}
	g, err := flags.Volume("graduate", m.graduate)
	if err != nil {
		return err
	}
	if g == 0 {
		return app.Usagef("--graduate: 0 ml; expected what lies between two of its marks, above zero")
	}
	m.graduateStep, m.errorLimit = chem.Graduate(g), 2
	if m.within != "" {
		m.errorLimit, err = strconv.ParseFloat(strings.TrimSuffix(m.within, "%"), 64)
		if err != nil || !(m.errorLimit > 0 && m.errorLimit < 100) {
			return app.Usagef("--within: %q; expected a percentage above 0 and below 100", m.within)
		}
	}
	return nil
}

// roundToMarks finds what the graduate makes of each part, and how large the mix must be.
func (m *mixFlags) roundToMarks(out *mixJSON) (err error) {
	if m.graduateStep == 0 {
		return nil
	}
	if len(out.Parts) == 0 {
		return app.Usagef("--graduate goes with parts by volume")
	}
	for _, a := range out.Parts {
		mark, off, err := m.graduateStep.Round(a.Volume)
		if err != nil {
			return err
		}
		out.Marks = append(out.Marks, graduateMark{a.Name, mark, off})
	}
	out.OnMarks = m.graduateStep.OnMarks(m.parsed.Parts, m.whole)
	out.Least, m.hardest, err = m.graduateStep.MinMix(m.parsed.Parts, m.errorLimit/100)
	return err
}

// printLeast says how large the mix must be for the graduate, and which volume lands on its marks.
func printLeast(p *app.Env, m *mixFlags, out mixJSON) error {
	least := out.Least
	if m.graduateStep == 0 {
		return nil
	}
	head := "make at least"
	if m.whole >= least {
		head = "enough: it takes"
	}
	const most = 3 // times the volume wanted: more is no proposal
	if v := out.OnMarks; v > m.whole*(1+1e-9) && v <= most*m.whole {
		fmt.Fprintf(p.Out, "every part lands on a mark with --volume %s\n", strconv.FormatFloat(math.Round(100*float64(v))/100, 'f', -1, 64)+"ml")
	}
	_, err := fmt.Fprintf(p.Out, "%s %s to measure %s within %.3g%% on this graduate\n", head, say.Volume(least, p.Settings.Habits), safetext.Clean(m.hardest), m.errorLimit)
	return err
}

// measuredText says what the graduate makes of part i; "" without one.
func measuredText(p *app.Env, marks []graduateMark, i int) string {
	if len(marks) == 0 {
		return ""
	}
	return fmt.Sprintf(", measured as %s (%+.1f%%)", say.GraduateMark(marks[i].Mark, p.Settings.Habits), 100*marks[i].Error)
}

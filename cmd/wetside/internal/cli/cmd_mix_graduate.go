package cli

// wetside mix --graduate: amounts rounded to the marks of a graduate, and how much must be mixed to
// measure its smallest part well.

import (
	"fmt"
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
	out.Least, m.hardest, err = m.graduateStep.MinMix(m.parsed.Parts, m.errorLimit/100)
	return err
}

// printLeast says how large the mix must be for the graduate.
func printLeast(p *app.Env, m *mixFlags, least chem.Millilitres) error {
	if m.graduateStep == 0 {
		return nil
	}
	head := "make at least"
	if m.whole >= least {
		head = "enough: it takes"
	}
	_, err := fmt.Fprintf(p.Out, "%s %s to measure %s within %.3g %% on this graduate\n", head, say.Volume(least, p.Settings.Habits), safetext.Clean(m.hardest), m.errorLimit)
	return err
}

// measuredText says what the graduate makes of part i; "" without one.
func measuredText(p *app.Env, marks []graduateMark, i int) string {
	if len(marks) == 0 {
		return ""
	}
	return fmt.Sprintf(", measured as %s (%+.1f %%)", say.GraduateMark(marks[i].Mark, p.Settings.Habits), 100*marks[i].Error)
}

package curvecmd

// From a curve back to the session that it came from and on to the next recipe:
// developing times as they really were, the recipe with what was found, and the
// time that would have been right for one sheet.

import (
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"strings"

	"example.org/wetside/chem/curve"
	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/recipes"
	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/densities"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/notebook"
)

// linkSession gives the curves the times of the session named, or of the one that the
// file names; nil where there is none. A session that only the file names may be
// missing here: its times are then those of the file, and that is said.
func (e curveFlags) linkSession(f *curve.Family, link curve.Link) (*notebook.Session, error) {
	id := e.session
	if id == "" {
		id = link.Session
	} else if link.Session != id {
		link.Sheets = nil // they are of another session
	}
	if id == "" {
		return nil, nil
	}
	s, err := notebook.Open(journal.Default(), id)
	switch {
	case errors.Is(err, fs.ErrNotExist) && e.session == "":
		f.Notes = append(f.Notes, "session "+id+" is not on this computer; the times are those in the file")
		return nil, nil
	case err != nil:
		return nil, app.SessionNotFound(id, err)
	}
	return &s, densities.UseActualTimes(f, link, &s)
}

// writeRefinedRecipe writes the recipe with what was found, checked as any other.
func writeRefinedRecipe(p *app.Env, e curveFlags, r curve.Results, w *curve.PrintConditions, met *densities.Met, s *notebook.Session, film string, files []string) error {
	if w == nil && met == nil {
		return app.Usagef("--write: nothing is aimed at; expected --aim, --target or --paper")
	}
	from, err := e.baseRecipe(s)
	if err != nil {
		return err
	}
	found := densities.FilmTestResult{Results: r, Day: p.Clock.Read().Wall, Film: film}
	if met != nil {
		found.Aimed = met.Aimed()
	}
	if w != nil {
		found.Wanted = *w
	}
	var names []string
	for _, f := range files {
		names = append(names, filepath.Base(f))
	}
	found.Source = "readings " + strings.Join(names, ", ")
	if s != nil {
		found.Source = "session " + s.ID + ", " + found.Source
		if t, ok := densities.TestConditionsOf(s.Plan); ok {
			found.Conditions = &t
		}
	}
	next, err := densities.Refine(from, found)
	if err != nil {
		return err
	}
	text, err := app.CheckedRecipeText(next)
	if err != nil {
		return err
	}
	if err := app.WriteNewFile(e.writeFile, text); err != nil {
		return err
	}
	if !e.asJSON {
		fmt.Fprintf(p.Out, "written to %s: %s\n", safetext.Clean(e.writeFile), safetext.Clean(next.Title))
	}
	return nil
}

// baseRecipe is the recipe named, else the session's own.
func (e curveFlags) baseRecipe(s *notebook.Session) (sequence.Recipe, error) {
	switch {
	case e.recipe != "":
		return recipes.Find(e.recipe, app.RecipesFolder())
	case s == nil:
		return sequence.Recipe{}, app.Usagef("--write: no recipe to start from; expected --recipe or --session")
	}
	return s.Plan.Recipe, nil
}

// oneSheetJSON is what one sheet alone says, with the growth assumed.
type oneSheetJSON struct {
	Time     float64      `json:"time_s"` // that it was developed
	Gradient float64      `json:"average_gradient"`
	Assumed  curve.Growth `json:"assumed"`
	Target   curve.Target `json:"target"`
}

// printOneSheet says what time would have been right for the only sheet that was read.
func printOneSheet(p *app.Env, e curveFlags, q curve.Request, r curve.Results, w *curve.PrintConditions) error {
	sheets := r.Sheets()
	switch {
	case w == nil:
		return app.Usagef("--assume-rate: no gradient is wanted; expected --target, --aim average:G or --paper")
	case len(sheets) != 1:
		return fmt.Errorf("--assume-rate: %d sheets with a time and an average gradient; expected one (several tell their growth themselves)", len(sheets))
	case !(e.assumedGrowth >= 0 && e.assumedGrowth <= 100):
		return app.Usagef("--assume-rate: %g; expected 0 to 100 a minute", e.assumedGrowth)
	}
	assumed, sure, what, err := e.assumeGrowth(sheets[0])
	if err != nil {
		return err
	}
	wanted, _ := w.Gradient()
	t, growth, err := curve.FromOneSheet(sheets[0], assumed, sure, wanted, curve.Errors{Reading: r.Errors.Reading, Scatter: q.Errors.Scatter, Sessions: q.Errors.Sessions, Own: q.Errors.Own})
	if err != nil {
		return err
	}
	if e.asJSON {
		return p.WriteJSON(oneSheetJSON{sheets[0].Time.Seconds(), sheets[0].Gradient, growth, t})
	}
	fmt.Fprintf(p.Out, "%s gave an average gradient of %.2f; %.2f is wanted\n", sequence.FormatElapsed(sheets[0].Time), sheets[0].Gradient, wanted)
	fmt.Fprintf(p.Out, "%s would have been right%s\n", sequence.FormatElapsed(app.FromSeconds(t.Time)), timeRangeText(t.Low, t.High, t.Confidence))
	after := ""
	if assumed.Induction > 0 {
		after = fmt.Sprintf(" after %.2g min of induction", float64(assumed.Induction))
	}
	fmt.Fprintf(p.Out, "assumed: growth of %.3f a minute%s, %s; sheets at two times measure it\n", float64(assumed.K), after, what)
	return nil
}

// assumeGrowth is the growth assumed for one sheet, whether it was measured, and why: the
// rate as told, and the time of induction of the recipe's film test where one is named;
// both as that test found them; or as if half the limit were reached.
func (e curveFlags) assumeGrowth(s curve.Sheet) (g curve.Growth, sure bool, what string, err error) {
	found, err := e.testedGrowth()
	switch {
	case err != nil:
		return g, false, "", err
	case e.assumedGrowth > 0:
		return curve.Growth{K: curve.PerMinute(e.assumedGrowth), Induction: found.Induction}, false, "as given, and perhaps wrong by a third", nil
	case found.K > 0:
		return found, true, "as the recipe's film test found it", nil
	}
	return curve.Growth{K: curve.HalfLimitRate(s.Time)}, false, "as if the sheet had reached half of its limit, and perhaps wrong by a third", nil
}

// testedGrowth is what the film test of the recipe named found; nothing where there is none.
func (e curveFlags) testedGrowth() (g curve.Growth, err error) {
	if e.recipe == "" {
		return g, nil
	}
	r, err := recipes.Find(e.recipe, app.RecipesFolder())
	if err != nil {
		return g, err
	}
	for _, st := range r.Steps {
		if found := st.Growth; found != nil {
			return curve.Growth{K: curve.PerMinute(found.K), Induction: curve.Minutes(found.Induction)}, nil
		}
	}
	return g, nil
}

package main

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
	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/notebook"
)

// linked gives the curves the times of the session named, or of the one that the
// file names; nil where there is none. A session that only the file names may be
// missing here: its times are then those of the file, and that is said.
func (e evaluation) linked(f *curve.Family, link curve.Link) (*notebook.Session, error) {
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
		return nil, notFound(id, err)
	}
	return &s, notebook.Relink(f, link, &s)
}

// writeFound writes the recipe with what was found, checked as any other.
func (p *program) writeFound(e evaluation, r curve.Results, w *curve.Wanted, s *notebook.Session, film string, files []string) error {
	if w == nil {
		return usage("--write: no gradient is wanted; expected --target or --paper")
	}
	from, err := e.startFrom(s)
	if err != nil {
		return err
	}
	found := notebook.Found{Results: r, Wanted: *w, Day: p.source.Read().Wall, Film: film}
	var names []string
	for _, f := range files {
		names = append(names, filepath.Base(f))
	}
	found.From = "readings " + strings.Join(names, ", ")
	if s != nil {
		found.From = "session " + s.ID + ", " + found.From
		if t, ok := notebook.TestedIn(s.Plan); ok {
			found.Tested = &t
		}
	}
	next, err := notebook.Refine(from, found)
	if err != nil {
		return err
	}
	text, err := recipeText(next)
	if err != nil {
		return err
	}
	if err := writeNew(e.write, text); err != nil {
		return err
	}
	if !e.asJSON {
		fmt.Fprintf(p.out, "written to %s: %s\n", recipes.Clean(e.write), recipes.Clean(next.Title))
	}
	return nil
}

// startFrom is the recipe named, else the session's own.
func (e evaluation) startFrom(s *notebook.Session) (sequence.Recipe, error) {
	switch {
	case e.recipe != "":
		return recipes.Find(e.recipe, ownRecipes())
	case s == nil:
		return sequence.Recipe{}, usage("--write: no recipe to start from; expected --recipe or --session")
	}
	return s.Plan.Recipe, nil
}

// recipeText is a recipe as a file, once it has been read back without a fault.
func recipeText(r sequence.Recipe) ([]byte, error) {
	text := recipes.Write(r, r.Title, "Written by wetside; the recipe that it started from is as it was.")
	if _, err := recipes.Read("the new recipe", text); err != nil {
		return nil, err
	}
	return text, nil
}

// oneSheet is what one sheet alone says, with the growth assumed.
type oneSheet struct {
	Time     float64      `json:"time_s"` // that it was developed
	Gradient float64      `json:"average_gradient"`
	Assumed  curve.Growth `json:"assumed"`
	Target   curve.Target `json:"target"`
}

// showOne says what time would have been right for the only sheet that was read.
func (p *program) showOne(e evaluation, r curve.Results, w *curve.Wanted) error {
	sheets := r.Sheets()
	switch {
	case w == nil:
		return usage("--assume: no gradient is wanted; expected --target or --paper")
	case len(sheets) != 1:
		return fmt.Errorf("--assume: %d sheets with a time and an average gradient; expected one (several tell their growth themselves)", len(sheets))
	case !(e.assumed >= 0 && e.assumed <= 100):
		return usage("--assume: %g; expected 0 to 100 a minute", e.assumed)
	}
	k, sure, what, err := e.growthOf(sheets[0])
	if err != nil {
		return err
	}
	wanted, _ := w.Gradient()
	t, growth, err := curve.FromOne(sheets[0], k, sure, wanted, curve.Errors{})
	if err != nil {
		return err
	}
	if e.asJSON {
		return p.json(oneSheet{sheets[0].Time.Seconds(), sheets[0].Gradient, growth, t})
	}
	fmt.Fprintf(p.out, "%s gave an average gradient of %.2f; %.2f is wanted\n", sequence.Clock(sheets[0].Time), sheets[0].Gradient, wanted)
	fmt.Fprintf(p.out, "%s would have been right%s\n", sequence.Clock(seconds(t.Time)), interval(t.Low, t.High, t.Confidence))
	fmt.Fprintf(p.out, "assumed: growth of %.3f a minute, %s; sheets at two times measure it\n", float64(k), what)
	return nil
}

// growthOf is the rate assumed for one sheet, whether it was measured, and why: as
// told, as the recipe's film test found it, or as if half the limit were reached.
func (e evaluation) growthOf(s curve.Sheet) (k curve.PerMinute, sure bool, what string, err error) {
	if e.assumed > 0 {
		return curve.PerMinute(e.assumed), false, "as told, and perhaps wrong by a third", nil
	}
	if e.recipe != "" {
		r, err := recipes.Find(e.recipe, ownRecipes())
		if err != nil {
			return 0, false, "", err
		}
		for _, st := range r.Steps {
			if g := st.Growth; g != nil {
				return curve.PerMinute(g.K), true, "as the recipe's film test found it", nil
			}
		}
	}
	return curve.HalfGrown(s.Time), false, "as if the sheet had reached half of its limit, and perhaps wrong by a third", nil
}

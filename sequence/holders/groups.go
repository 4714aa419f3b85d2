package holders

// Waiting sheets sorted into sessions: by film, then by what each wants, with a recipe
// for each film; and a sheet moved by hand from one session to another.

import (
	"fmt"
	"slices"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
)

// Grouper is how sheets are sorted into sessions.
type Grouper struct {
	Recipes    []sequence.Recipe // one for each film; of several for one film the first
	Conditions sequence.Conditions
	Printing   PaperAndFlare
	// Response is that of a recipe's film, nil for none; nil where no film's is known.
	Response func(*sequence.Recipe) *FilmResponse
	planning.Grouping
}

// ProposedSession is one session proposed, with the recipe that it is made from.
type ProposedSession struct {
	planning.Proposal
	Recipe sequence.Recipe
}

// Unplaced is a sheet for which there is no session, and why: a code, or the error of its
// recipe or of the plan that was tried.
type Unplaced struct {
	Sheet int
	Code  UnplacedCode // "" where Err says why
	Err   error
}

// UnplacedCode is a reason of this package's own.
type UnplacedCode string

// The codes.
const (
	SameName UnplacedCode = "same-name" // another sheet of this film has its name, and goes first
	NoRecipe UnplacedCode = "no-recipe" // none is for its film
)

// Propose sorts sheets into sessions; those that have had their session are not given
// to it. Every sheet is in one session or unplaced.
func (s Grouper) Propose(sheets []ExposedSheet) ([]ProposedSession, []Unplaced) {
	var list []ProposedSession
	var left []Unplaced
	wants := map[string][]planning.DevelopmentWanted{}
	for i := range sheets {
		e := &sheets[i]
		if slices.ContainsFunc(sheets[:i], func(o ExposedSheet) bool { return o.Name() == e.Name() && SameFilm(o.Film, e.Film) }) {
			left = append(left, Unplaced{Sheet: i, Code: SameName})
			continue
		}
		r := s.recipe(e.Film)
		if r == nil {
			left = append(left, Unplaced{Sheet: i, Code: NoRecipe})
			continue
		}
		w, err := s.Wanted(e, r)
		if err != nil {
			left = append(left, Unplaced{Sheet: i, Err: err})
			continue
		}
		w.Sheet = i
		wants[r.Film.Name] = append(wants[r.Film.Name], w)
	}
	for i := range sheets { // films in the order in which they come
		found := s.recipe(sheets[i].Film)
		if found == nil || len(wants[found.Film.Name]) == 0 {
			continue
		}
		r, film := *found, found.Film.Name
		batches, none := planning.Group(wants[film], r, s.Conditions, s.Grouping)
		for _, b := range batches {
			list = append(list, ProposedSession{b, r})
		}
		for _, l := range none {
			left = append(left, Unplaced{Sheet: l.Sheet.Sheet, Err: l.Err})
		}
		delete(wants, film)
	}
	return list, left
}

// Wanted is what a sheet wants of a recipe.
func (s Grouper) Wanted(e *ExposedSheet, r *sequence.Recipe) (planning.DevelopmentWanted, error) {
	var film *FilmResponse
	if s.Response != nil {
		film = s.Response(r)
	}
	return e.DevelopmentWanted(r, film, s.Printing)
}

// recipe is the one for a film; nil for none.
func (s Grouper) recipe(film string) *sequence.Recipe {
	i := slices.IndexFunc(s.Recipes, func(r sequence.Recipe) bool { return SameFilm(r.Film.Name, film) })
	if i < 0 {
		return nil
	}
	return &s.Recipes[i]
}

// Move takes the k-th sheet of one session into another, or into one of its own after
// the last where to is len(list). It errs where a limit would be broken, and leaves the
// sessions as they were.
func (s Grouper) Move(list []ProposedSession, from, k, to int) ([]ProposedSession, error) {
	if from < 0 || from >= len(list) || to < 0 || to > len(list) || to == from || k < 0 || k >= len(list[from].Sheets) {
		return list, fmt.Errorf("there is no such session to move to")
	}
	r := list[from].Recipe
	w := list[from].Sheets[k]
	var joined []planning.DevelopmentWanted
	if to < len(list) {
		if list[to].Recipe.Film.Name != r.Film.Name {
			return list, fmt.Errorf("that session develops %s", list[to].Recipe.Film.Name)
		}
		joined = slices.Clone(list[to].Sheets)
	}
	joined = append(joined, w)
	planning.SortByTime(joined)
	next, err := s.Together(joined, r, s.Conditions)
	if err != nil {
		return list, err
	}
	moved := slices.Clone(list)
	if to == len(list) {
		moved = append(moved, ProposedSession{next, r})
	} else {
		moved[to] = ProposedSession{next, r}
	}
	rest := slices.Delete(slices.Clone(list[from].Sheets), k, k+1)
	if len(rest) == 0 {
		return slices.Delete(moved, from, from+1), nil
	}
	last, err := s.Together(rest, r, s.Conditions)
	if err != nil {
		return list, err
	}
	moved[from] = ProposedSession{last, r}
	return moved, nil
}

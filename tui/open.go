package tui

// The screens, each made with what it needs: the one place that knows them all.

import (
	"fmt"

	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/screen/bottles"
	"example.org/wetside/tui/screen/compare"
	"example.org/wetside/tui/screen/curves"
	"example.org/wetside/tui/screen/film"
	"example.org/wetside/tui/screen/filmtest"
	"example.org/wetside/tui/screen/holders"
	"example.org/wetside/tui/screen/newrecipe"
	"example.org/wetside/tui/screen/notebook"
	"example.org/wetside/tui/screen/plan"
	"example.org/wetside/tui/screen/prepare"
	"example.org/wetside/tui/screen/reading"
	"example.org/wetside/tui/screen/scan"
	"example.org/wetside/tui/screen/session"
	"example.org/wetside/tui/screen/sounds"
	"example.org/wetside/tui/screen/summary"
)

// open makes the screen that an action asks for.
func open(b Backend, env screen.Env, a screen.Action) (screen.Screen, error) {
	switch a := a.(type) {
	case screen.OpenPlan:
		return plan.New(b, env, a)
	case screen.OpenPrepare:
		return prepare.New(b, env, a.Plan), nil
	case screen.OpenDarkRehearsal:
		return prepare.DarkRehearsal(b, env, a.Plan, a.How), nil
	case screen.OpenSummary:
		return summary.New(b, env, a.Session), nil
	case screen.OpenNotebook:
		return notebook.New(b, env), nil
	case screen.OpenSession:
		return session.New(b, env, a)
	case screen.OpenCompare:
		return compare.New(env, a.A, a.B), nil
	case screen.OpenBottles:
		return bottles.New(b, env, a.Recipe), nil
	case screen.OpenSounds:
		return sounds.New(b), nil
	case screen.OpenNewRecipe:
		return newrecipe.New(b, env, a.From)
	}
	return openForFilm(b, env, a)
}

// openForFilm makes those about exposed sheets, tests and their readings.
func openForFilm(b Backend, env screen.Env, a screen.Action) (screen.Screen, error) {
	switch a := a.(type) {
	case screen.OpenHolders:
		return holders.New(b, env), nil
	case screen.OpenGroups:
		return holders.NewGroups(b, env, a.Sheets), nil
	case screen.OpenFilmTest:
		return filmtest.New(b, env, a.Recipe), nil
	case screen.OpenFilms:
		return film.New(b, env, a.Name), nil
	case screen.OpenDensities:
		return reading.NewList(b, env), nil
	case screen.OpenReadingSetup:
		return reading.NewSetup(b, a.Session), nil
	case screen.OpenReading:
		return reading.New(b, a.File), nil
	case screen.OpenScan:
		return scan.New(b, env), nil
	case screen.OpenCurves:
		return curves.New(b, env, a.File)
	}
	return nil, fmt.Errorf("no screen for %T", a)
}

package screens

// wetside alone: the shipped recipes, and what to type next.

import (
	"fmt"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/recipes"
	"example.org/wetside/recipes/safetext"
)

func printWelcome(p *app.Env) error {
	fmt.Fprint(p.Out, "wetside plans, runs and records the development of sheet film.\n\nRecipes\n\n")
	list := recipes.List(app.RecipesFolder())
	wide := 0
	for _, e := range list {
		wide = max(wide, len([]rune(e.Name)))
	}
	for _, e := range list {
		title := safetext.Clean(e.Title)
		if e.Fault != nil {
			title = "cannot be used: wetside check says why"
		}
		fmt.Fprintf(p.Out, "  %-*s  %s\n", wide, safetext.Clean(e.Name), title)
	}
	_, err := fmt.Fprint(p.Out, `
What to type next

  wetside plan tern-hangers --temp 22             the plan for today's developer
  wetside run tern-hangers --plain --rehearse 60  a rehearsal, sixty times as fast
  wetside cues                                    what each sound means
  wetside help start                              the first hour, step by step
  wetside --help                                  all commands
`)
	return err
}

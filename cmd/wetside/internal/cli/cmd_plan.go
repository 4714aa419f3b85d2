package cli

// wetside plan: what will happen, before film is wet.

import (
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli/flags"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/film"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/tui/page"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/widget"
)

// planFlags are the words of plan besides today's conditions.
type planFlags struct {
	flags.ConditionFlags
	asJSON, strict, watch bool
	wall                  string
	out                   flags.Output
	rounds                roundFlags
}

func newPlanCommand(p *app.Env) *cobra.Command {
	var x planFlags
	cmd := &cobra.Command{
		Use:   "plan RECIPE",
		Short: "plan a recipe for today: times, wet time, what to mix",
		Long: "Plans a recipe for today: when each sheet goes where, what to mix, whether the film will\n" +
			"be wet for too long, and how to shorten that. Type what the thermometer reads with\n" +
			"--temp; the recipe itself never changes. What the notebook knows of the film's own time\n" +
			"stands beside the recipe's, with --total and --watch too: --factor develops by it.\n\n" +
			"With --total more sheets than one session takes are divided into rounds: as many at once\n" +
			"as the vessel, the wet limit and the baths allow, all rounds as even as can be. A bath\n" +
			"is mixed fresh where it would be spent, or older than it keeps.",
		Example: "  wetside plan plover-tray --temp 24\n" +
			"  wetside plan plover-tray --temp 22@5m --settles-at 19 --time-constant 45m --json\n" +
			"  wetside plan plover-tray --total 24 --stock 500ml",
		Args: flags.UsageArgs(cobra.ExactArgs(1)),
		RunE: func(_ *cobra.Command, args []string) error {
			switch {
			case x.rounds.total != "":
				return runPlanRounds(p, args[0], &x)
			case x.watch:
				return runPlanWatch(p, args[0], x.RawConditions)
			}
			return runPlan(p, args[0], &x)
		},
	}
	x.Add(cmd)
	x.AddBottles(cmd)
	f := cmd.Flags()
	f.StringVar(&x.wall, "wall", "", "`FILE`: write plan and mixing as a page for the wall, to FILE.html or FILE.txt")
	x.out.Add(cmd, "wall")
	f.BoolVar(&x.asJSON, "json", false, "print JSON")
	f.BoolVar(&x.watch, "watch", false, "show the plan again whenever the recipe's file changes; ctrl+c ends it")
	f.BoolVar(&x.strict, "strict", false, "exit status 1 where a caution is a danger")
	x.rounds.add(f)
	flags.Excludes(cmd, "watch", "json", "strict", "wall", "total")
	flags.Excludes(cmd, "total", "sheets", "wall", "strict")
	for _, flag := range []string{"stock", "at-once", "between"} {
		flags.Needs(cmd, flag, "total")
	}
	return cmd
}

// runPlan makes the plan and shows it, or writes it for the wall.
func runPlan(p *app.Env, recipe string, x *planFlags) error {
	x.OwnSessions = app.SessionScatter()
	plan, err := p.ResolvePlan(recipe, x.RawConditions)
	if err != nil {
		return err
	}
	offer := filmOffer(&plan)
	if x.wall != "" {
		err = writeWallSheet(p, &plan, offer, x)
	}
	if err == nil && (x.wall == "" || x.asJSON) {
		err = printPlan(p, &plan, offer, x.asJSON)
	}
	if err != nil {
		return err
	}
	if n, err := app.FindRecipe(recipe); err == nil && n.Hint != "" && !x.asJSON {
		p.Hint(n.Hint)
	}
	if x.strict && len(planning.Dangers(&plan)) > 0 {
		return app.ErrReported
	}
	return nil
}

// writeWallSheet writes the sheet for the wall.
func writeWallSheet(p *app.Env, plan *sequence.Plan, offer *film.Offer, x *planFlags) error {
	file, write := x.wall, page.WallSheet
	switch strings.ToLower(filepath.Ext(file)) {
	case ".html", ".htm":
		write = page.WallSheetHTML
	case ".txt":
	default:
		return app.Usagef("--wall: %q; expected a file that ends in .html or .txt", file)
	}
	var besides []string
	if offer != nil {
		text, _ := say.FilmTime(offer, p.Settings.Habits)
		besides = append(besides, text)
	}
	if err := x.out.Write(file, []byte(write(plan, p.Settings.Habits, besides...))); err != nil {
		return err
	}
	p.Complain("the page for the wall is in %s", file)
	return nil
}

// planJSON is a plan for a script, with what is known of its film.
type planJSON struct {
	Plan     planning.Summary `json:",embed"`
	FilmTime *film.Offer      `json:"film_time"` // null where nothing is known
}

func printPlan(p *app.Env, plan *sequence.Plan, offer *film.Offer, asJSON bool) error {
	if !asJSON {
		_, err := fmt.Fprint(p.Out, app.CleanPage(page.Plan(plan, p.Settings.Habits, p.Width())))
		if text := filmTimeText(p, offer); text != "" && err == nil {
			_, err = fmt.Fprint(p.Out, app.CleanPage("\n"+text))
		}
		trials := notebook.WetTrials(journal.Default(), plan.Recipe.Film.Name, plan.Vessel)
		if text := say.WetRisk(plan, trials, p.Settings.Habits); err == nil && text != "" {
			_, err = fmt.Fprint(p.Out, app.CleanPage("\n"+text+"\n"))
		}
		return err
	}
	words := say.InWords(*plan)
	summary := planning.Summarise(&words)
	summary.Gentler = say.Shortenings(summary.Gentler, sequence.Units{})
	return p.WriteJSON(planJSON{summary, offer})
}

// filmOffer is the film's time for a plan; nil where nothing is known.
func filmOffer(plan *sequence.Plan) *film.Offer {
	return film.OfferTime(app.Films().Collect(plan.Recipe.Film.Name), plan, nil)
}

// filmTimeText is an offer on lines of its own, with how a plan takes it; "" for none.
func filmTimeText(p *app.Env, offer *film.Offer) string {
	if offer == nil {
		return ""
	}
	text, from := say.FilmTime(offer, p.Settings.Habits)
	if text += " " + from; offer.Factor != nil {
		text += " --factor " + say.Factor(*offer.Factor) + " takes the film's."
	}
	return strings.Join(widget.Wrap(text, p.Width()), "\n") + "\n"
}

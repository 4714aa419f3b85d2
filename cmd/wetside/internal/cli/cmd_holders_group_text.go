package cli

// The proposed sessions as text.

import (
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"strings"
	"time"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/holders"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/tui/page"
	"example.org/wetside/tui/say"
)

// groupsText is the sessions, each with its time line, then what has none.
func groupsText(p *app.Env, list []holders.ProposedSession, told []groupJSON, left []holders.Unplaced, waiting []holders.ExposedSheet) string {
	b := &strings.Builder{}
	for i, s := range list {
		wet := "wet " + sequence.FormatElapsed(s.Plan.Wet.Total)
		if s.Plan.Wet.Used != nil {
			wet = "wet " + say.WetShare(s.Plan.Wet.Total, s.Plan.Wet.Used)
		}
		fmt.Fprintf(b, "%d. %s, %s %s by %s, %s\n", i+1, s.Plan.Recipe.Film.Name,
			say.Count(s.Plan.Sheets, "sheet"), s.Plan.Vessel.In(), told[i].Recipe, wet)
		for _, line := range page.TimeLine(&s.Plan, p.Width()) {
			fmt.Fprintln(b, line)
		}
		for k, w := range told[i].Sheets {
			fmt.Fprintln(b, "  "+groupSheetText(w, s.Sheets[k].Print))
		}
		for _, c := range told[i].Cautions {
			fmt.Fprintf(b, "  %s: %s\n", c.Level, say.Caution(c, &list[i].Plan, p.Settings.Habits))
		}
		if told[i].File != nil {
			line := "  written: " + *told[i].File
			if t := s.Plan.Conditions.BathTemperature; t != nil {
				line += "; its times are for the recipe's temperature: give --temp " + say.Degrees(*t, p.Settings.Habits) + " to plan it as here"
			}
			fmt.Fprintln(b, line)
		}
		fmt.Fprintln(b)
	}
	for _, l := range left {
		fmt.Fprintf(b, "no session for %s: %s\n", waiting[l.Sheet].Name(), say.Unplaced(l, &waiting[l.Sheet], p.Settings.Habits))
	}
	if b.Len() == 0 {
		return "No sheet waits.\n"
	}
	return b.String()
}

// groupSheetText is a sheet in its session.
func groupSheetText(w groupSheetJSON, wanted *planning.PrintWanted) string {
	line := fmt.Sprintf("sheet %d  %-6s develop %s", w.Sheet, w.Name, sequence.FormatElapsed(w.Time))
	if (w.Time - w.Base).Abs() >= time.Second {
		line += " (" + sequence.FormatElapsed(w.Base) + " in the recipe)"
	}
	if (w.Base - w.Wants).Abs() >= time.Second {
		line += ", wants " + sequence.FormatElapsed(w.Wants)
	}
	if w.Gradient != nil {
		line += fmt.Sprintf(", gradient %.2f", *w.Gradient)
	}
	if w.Gain != nil {
		line += ", " + say.ContrastGain(*w.Gain)
	}
	switch {
	case wanted != nil:
		line += ", " + say.SheetPrint(wanted)
	case w.Index != nil:
		line += fmt.Sprintf(", index %+.1f stops", *w.Index)
	}
	return line
}

// writeGroupRecipe makes a session a recipe of the person's own; one that is there is never
// written over.
func writeGroupRecipe(p *app.Env, b holders.ProposedSession, n int) (string, error) {
	folder := app.RecipesFolder()
	if folder == "" {
		return "", errors.New("there is no home folder for recipes")
	}
	day := p.Clock.Read().Wall.Local().Format(time.DateOnly)
	r := say.WithPrints(planning.AsChosen(&b.Plan), b.Sheets)
	r.Title = fmt.Sprintf("%s, session %d of %s", r.Film.Name, n, day)
	for k := 0; ; k++ {
		name := fmt.Sprintf("sheets-%s-%d.toml", day, n+k)
		path := filepath.Join(folder, name)
		err := app.WriteNewRecipe(path, recipes.Write(r, "Sheets that waited, sorted into a session on "+day+"."))
		if !errors.Is(err, fs.ErrExist) {
			return path, err
		}
	}
}

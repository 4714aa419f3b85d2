package cli

// wetside film: all that is known of a film, how sure, and what to test next.

import (
	"fmt"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"example.org/wetside/chem"
	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli/flags"
	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence/film"
	"example.org/wetside/tui/page"
	"example.org/wetside/tui/say"
)

// filmFlags are the words of film.
type filmFlags struct {
	developer, also, temp, html string
	borrow, from, within        string
	target                      float64
	sheets                      int
	asJSON                      bool
	out                         flags.Output
}

func newFilmCommand(p *app.Env) *cobra.Command {
	var x filmFlags
	cmd := &cobra.Command{
		Use:   "film [NAME]",
		Short: "show all that is known of a film, and what to test next",
		Long: "Shows all that tests, sessions, notes and times from elsewhere say of a film in one\n" +
			"developer, vessel and agitation: the developing time with its 90% interval, N-2 to N+2,\n" +
			"the exposure index, the temperature coefficient, the risk to the emulsion, and which\n" +
			"test sheets would say most. Without NAME it lists the films. Another developer's tests\n" +
			"count only with --also. --borrow keeps a time from elsewhere, marked as what it is;\n" +
			"tests are compared with it.",
		Example: "  wetside film \"Curlew 25\" --borrow 11m --from \"Tern 125 in the same developer\" --within 35%\n" +
			"  wetside film \"Curlew 25\" --temp 22 --sheets 3",
		Args: flags.UsageArgs(cobra.ArbitraryArgs), // a name of several words needs no quotes
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return listFilms(p, x.asJSON)
			}
			name := strings.Join(args, " ")
			if x.borrow != "" {
				return borrowTime(p, name, x)
			}
			return showFilm(p, name, x)
		},
	}
	f := cmd.Flags()
	f.StringVar(&x.developer, "developer", "", "`DEVELOPER`: as its recipe mixes it, or part of that")
	f.StringVar(&x.also, "also", "", "`DEVELOPER`: let tests in this other developer count too, a quarter as much")
	f.StringVar(&x.temp, "temp", "", "`TEMPERATURE`: the developer's today; with --borrow, the one that the time is for")
	f.Float64Var(&x.target, "target", 0, "`G`: average gradient wanted (default 0.58)")
	f.IntVar(&x.sheets, "sheets", 0, "`N`: how many test sheets to propose (default 3)")
	f.StringVar(&x.html, "html", "", "`FILE`: write it as a page to print, with the growth drawn")
	f.StringVar(&x.borrow, "borrow", "", "`DURATION`: keep a developing time from elsewhere")
	f.StringVar(&x.from, "from", "", "`TEXT`: with --borrow: where the time is from")
	f.StringVar(&x.within, "within", "", "`P`: with --borrow: two in three such times are right to within this share (default 35%)")
	f.BoolVar(&x.asJSON, "json", false, "print JSON")
	x.out.Add(cmd, "html")
	for _, other := range []string{"from", "within"} {
		flags.Needs(cmd, other, "borrow")
	}
	flags.Needs(cmd, "borrow", "from")
	flags.Excludes(cmd, "borrow", "json", "html", "sheets", "also")
	return cmd
}

// filmInList is a film of the list, for a script.
type filmInList struct {
	film.Handling
	Tests    int `json:"tests"`
	Sessions int `json:"sessions"`
}

func listFilms(p *app.Env, asJSON bool) error {
	known := app.Films().Collect("")
	if asJSON {
		list := []filmInList{}
		for i := range known {
			list = append(list, filmInList{known[i].Handling, len(known[i].Tests), len(known[i].Sessions)})
		}
		return p.WriteJSON(list)
	}
	if len(known) == 0 {
		fmt.Fprintln(p.Out, "No film is known yet: a session, the densities of a film test, or a borrowed time makes one known.")
	}
	for i := range known {
		fmt.Fprint(p.Out, app.CleanPage(say.FilmInList(&known[i])+"\n"))
	}
	return nil
}

// borrowTime keeps a time from elsewhere.
func borrowTime(p *app.Env, name string, x filmFlags) error {
	b := film.BorrowedTime{Film: name, Developer: x.developer, From: x.from, Temperature: 20, Wanted: 0.58, Within: film.UsualWithin, Written: p.Clock.Read().Wall}
	var err error
	if b.Time, err = chem.ParseDuration(x.borrow); err != nil {
		return app.Usagef("--borrow: %v", err)
	}
	if t, err := x.temperature(p); err != nil {
		return err
	} else if t != nil {
		b.Temperature = *t
	}
	if x.target != 0 {
		b.Wanted = x.target
	}
	if x.within != "" {
		percent, err := strconv.ParseFloat(strings.TrimSuffix(x.within, "%"), 64)
		if err != nil {
			return app.Usagef("--within: %q; expected a share such as 25%%", x.within)
		}
		b.Within = percent / 100
	}
	if err := b.Check(); err != nil {
		return app.Usagef("%v", err)
	}
	if err := app.Films().Borrowed.Add(b); err != nil {
		return err
	}
	fmt.Fprintf(p.Out, "kept: %s for %s, from %s, taken to be right within %s\n", say.Elapsed(b.Time), safetext.Clean(name), safetext.Clean(b.From), say.Percent(b.Within))
	return nil
}

func (x filmFlags) temperature(p *app.Env) (*chem.Celsius, error) {
	if x.temp == "" {
		return nil, nil
	}
	t, err := p.Settings.Habits.ParseTemperature(x.temp)
	if err == nil && !(t >= 5 && t <= 40) {
		err = fmt.Errorf("%s; expected 5 to 40 °C", x.temp)
	}
	if err != nil {
		return nil, app.Usagef("--temp: %v", err)
	}
	return &t, nil
}

// showFilm is the page of what is known best, and which other handlings there are.
func showFilm(p *app.Env, name string, x filmFlags) error {
	q := film.Question{Aim: x.target, Also: x.also, Sheets: x.sheets}
	var err error
	if q.At, err = x.temperature(p); err != nil {
		return err
	}
	if x.target != 0 && !(x.target >= 0.2 && x.target < 2) {
		return app.Usagef("--target: %g; expected 0.2 to 2", x.target)
	}
	if x.sheets < 0 || x.sheets > 12 {
		return app.Usagef("--sheets: %d; expected 1 to 12", x.sheets)
	}
	all := app.Films().Collect(name)
	k, err := x.chosen(all, name)
	if err != nil {
		return err
	}
	known, err := film.Assess(k, all, q)
	switch {
	case err != nil:
		return err
	case x.asJSON:
		return p.WriteJSON(known)
	case x.html != "":
		return x.writeHTML(p, &known)
	}
	fmt.Fprint(p.Out, app.CleanPage(page.Film(&known, p.Settings.Habits, p.Width())))
	for i := range all {
		if &all[i] != k {
			fmt.Fprint(p.Out, app.CleanPage("\nKnown too, and not counted here: "+say.FilmInList(&all[i])+"\n"))
		}
	}
	return nil
}

// chosen is what is known best, in the developer asked for.
func (x filmFlags) chosen(all []film.Known, name string) (*film.Known, error) {
	for i := range all {
		if strings.Contains(strings.ToLower(all[i].Developer), strings.ToLower(x.developer)) {
			return &all[i], nil
		}
	}
	if len(all) > 0 {
		return nil, fmt.Errorf("%s: nothing is known in %q; expected part of %q", name, x.developer, all[0].Developer)
	}
	return nil, fmt.Errorf("%s: nothing is known of it; expected a film of a session, of densities or of a borrowed time (wetside film lists them)", name)
}

func (x filmFlags) writeHTML(p *app.Env, known *film.Page) error {
	if ext := strings.ToLower(filepath.Ext(x.html)); ext != ".html" && ext != ".htm" {
		return app.Usagef("--html: %q; expected a file that ends in .html", x.html)
	}
	if err := x.out.Write(x.html, []byte(page.FilmHTML(known, p.Settings.Habits))); err != nil {
		return err
	}
	_, err := fmt.Fprintf(p.Err, "wetside: the page is in %s\n", safetext.Clean(x.html))
	return err
}

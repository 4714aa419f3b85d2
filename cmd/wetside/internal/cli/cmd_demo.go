package cli

// wetside demo: an invented notebook in a folder of its own, to look round in.

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/backend"
	"example.org/wetside/cmd/wetside/internal/cli/flags"
	"example.org/wetside/cmd/wetside/internal/demo"
	"example.org/wetside/cmd/wetside/internal/running"
	"example.org/wetside/cmd/wetside/internal/screens"
	"example.org/wetside/recipes/settings"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/tui/cue"
)

func newDemoCommand(p *app.Env) *cobra.Command {
	var plain bool
	cmd := &cobra.Command{
		Use:   "demo",
		Short: "look round in an invented notebook, removed afterwards",
		Long: "Opens the screens on an invented notebook of the Saltmarsh harbour darkroom: a film from\n" +
			"a time that was borrowed through two film tests to its own recipe, with bottles and\n" +
			"exposed sheets. It lies in a folder of its own, which is removed at the end; nothing of\n" +
			"yours is touched. --plain lists what is in it instead.",
		Example: "  wetside demo --plain",
		Args:    flags.UsageArgs(cobra.NoArgs),
		RunE:    func(*cobra.Command, []string) error { return runDemo(p, plain) },
	}
	cmd.Flags().BoolVar(&plain, "plain", false, "list what is in it, without screens")
	return cmd
}

// runDemo lays the notebook out, shows it, and removes it. The child of the screens finds it laid.
func runDemo(p *app.Env, plain bool) error {
	open := backend.ScreenOptions{SoundOptions: running.SoundOptions{Sink: p.Settings.Sound, Voice: cue.Level(p.Settings.Voice)}, Countdown: p.Settings.Countdown}
	if app.IsSupervised() {
		defer demo.HoldOfParent()()
		return screens.Open(p, open)
	}
	if _, ok := p.Terminal(); ok {
		fmt.Fprintln(p.Err, "Laying out an invented notebook. This takes a few seconds.")
	}
	demo.RemoveForgotten()
	own, _ := os.ReadFile(settings.Path()) // units, palette and keys are the person's; none is fine too
	folder, err := demo.NewFolder()
	if err != nil {
		return err
	}
	defer folder.Remove()
	asked := p.Signals() // to end: between two steps of the story, so that nothing is written behind what is removed
	if err := app.WriteNewRecipe(settings.Path(), own); err != nil {
		return err
	}
	if err := layDemo(p, asked); err != nil {
		return err
	}
	if _, ok := p.Terminal(); !ok || plain {
		return printDemo(p, folder.Path)
	}
	return screens.Open(p, open)
}

// layDemo writes the notebook: what a command can do the program's commands do, and the sessions
// its engine.
func layDemo(p *app.Env, asked <-chan os.Signal) error {
	d := newDemoNotebook(p)
	d.asked = asked
	for _, lay := range d.stages() {
		lay()
	}
	d.over()
	return d.err
}

// demoFilm is what the notebook is about, and the invented film that its first time is of.
const (
	demoFilm     = "Tern 125"
	demoBorrowed = "Dunlin 125, in the next harbour's developer"
)

// stages are what is laid out one after the other: a borrowed time, a session with it, a test, a session with its
// time, a second test, three sessions with the time of both, and what waits.
func (d *demoNotebook) stages() []func() {
	own := func(name string) string { return filepath.Join(app.RecipesFolder(), name+".toml") }
	var first, second string
	return []func(){
		func() {
			d.do(0, "new", "borrowed-time", "--from", "tern-hangers", "--no-edit")
			d.do(0, "film", demoFilm, "--borrow", "9m", "--temp", "20", "--from", demoBorrowed)
		}, func() {
			d.note(1, d.session(0, "borrowed-time", sequence.TakeReading{T: 21.2}), "dense", "the time is another film's: too long by a third, it seems")
		}, func() {
			d.do(4, "film-test", "borrowed-time", "--sheets", "4", "--write", "first-test")
			first = d.readings(d.session(5, "first-test", sequence.TakeReading{T: 20.3}), "first-test")
		}, func() {
			d.do(6, "curve", first, "--target", "0.58", "--recipe", "borrowed-time", "--write", own("after-one-test"))
			d.note(9, d.session(8, "after-one-test"), "good", "the lock gates")
		}, func() {
			d.do(11, "film-test", "after-one-test", "--sheets", "4", "--write", "second-test")
			second = d.readings(d.session(12, "second-test", sequence.TakeReading{T: 19.8}), "second-test")
		}, func() {
			d.do(13, "curve", first, second, "--target", "0.58", "--recipe", "borrowed-time", "--write", own("tern-own-time"))
			d.note(15, d.session(14, "tern-own-time"), "good", "the salt pans at low water: prints on a normal paper")
			d.note(17, d.session(16, "tern-own-time"), "good", "the net lofts")
			d.note(18, d.session(17, "tern-own-time", sequence.TakeReading{T: 22.4}), "good", "the breakwater")
		}, func() {
			d.do(0, "bottles", "open", "tern-two-fixers", "--bath", "first fixer")
			d.do(0, "bottles", "stock", "A", "500ml")
			d.do(18, "holders", "add", "3A", "--film", demoFilm, "--range", "7", "--note", "the slipway")
			d.do(18, "holders", "add", "3B", "--film", demoFilm, "--range", "5.5", "--note", "fog over the harbour")
		}}
}

// demoNotebook is the notebook while it is laid out.
type demoNotebook struct {
	p     *app.Env
	first time.Time        // the first evening
	asked <-chan os.Signal // to end early
	err   error            // what went wrong first
}

// over tells whether the story ends here: something went wrong, or the process is asked to end.
func (d *demoNotebook) over() bool {
	select {
	case sig := <-d.asked:
		d.err = errors.Join(d.err, fmt.Errorf("demo: ended by %v", sig))
	default:
	}
	return d.err != nil
}

// newDemoNotebook begins nineteen days ago.
func newDemoNotebook(p *app.Env) *demoNotebook {
	return &demoNotebook{p: p, first: p.Clock.Read().Wall.Local().AddDate(0, 0, -19).Truncate(24 * time.Hour).Add(19 * time.Hour)}
}

// day is an evening of the story.
func (d *demoNotebook) day(n int) time.Time { return d.first.AddDate(0, 0, n) }

// do carries out a command on a day.
func (d *demoNotebook) do(day int, args ...string) {
	if d.over() {
		return
	}
	said := &strings.Builder{}
	at := d.day(day)
	inside := &app.Env{In: strings.NewReader(""), Out: io.Discard, Err: said, Clock: clock.NewSimulated(func() time.Time { return at }), Signals: d.p.Signals}
	if Run(inside, args) != app.ExitOK {
		d.err = fmt.Errorf("demo: wetside %s: %s", strings.Join(args, " "), strings.TrimSpace(said.String()))
	}
}

// recipe is one of the notebook's; false where the story ends here.
func (d *demoNotebook) recipe(name string) (r sequence.Recipe, ok bool) {
	if d.over() {
		return r, false
	}
	r, d.err = app.FindPlainRecipe(name)
	return r, d.err == nil
}

// session carries a recipe out on a day; readings come every two minutes.
func (d *demoNotebook) session(day int, recipe string, done ...sequence.Command) (id string) {
	r, ok := d.recipe(recipe)
	if !ok {
		return ""
	}
	var moments []demo.Moment
	for i, c := range done {
		moments = append(moments, demo.Moment{At: time.Duration(i+2) * 2 * time.Minute, Command: c})
	}
	id, d.err = demo.Keep(journal.Default(), r, sequence.Conditions{}, d.day(day), moments...)
	return id
}

// readings keeps what the negatives of a film test gave.
func (d *demoNotebook) readings(session, recipe string) (name string) {
	r, ok := d.recipe(recipe)
	if !ok {
		return ""
	}
	began, _ := time.ParseInLocation("2006-01-02", session[:len(time.DateOnly)], time.Local)
	found, err := demo.Read(&r, session)
	if err != nil {
		d.err = err
		return ""
	}
	name = app.Densities().NewName(began.Add(24*time.Hour), r.Film.Name)
	d.err = app.Densities().Save(name, found)
	return name
}

// note tells how the negatives of a session look.
func (d *demoNotebook) note(day int, session, look, text string) {
	d.do(day, "notebook", session, "--look", look, "--emulsion", "sound", "--note", text)
}

// printDemo lists what was laid out, and what it comes to.
func printDemo(p *app.Env, folder string) error {
	fmt.Fprintln(p.Out, "An invented notebook of the Saltmarsh harbour darkroom, removed again when this ends.")
	err := filepath.WalkDir(folder, func(path string, e fs.DirEntry, err error) error {
		if err == nil && e.Type().IsRegular() && !strings.HasPrefix(e.Name(), ".") && !strings.HasSuffix(e.Name(), ".lock") && path != settings.Path() {
			inside, _ := filepath.Rel(folder, path)
			fmt.Fprintln(p.Out, "  "+inside)
		}
		return err
	})
	if err != nil {
		return err
	}
	for _, args := range [][]string{{"notebook"}, {"holders"}, {"film", demoFilm, "--temp", "20"}, {"plan", "tern-own-time"}} {
		fmt.Fprintf(p.Out, "\nwetside %s\n\n", strings.Join(args, " "))
		if Run(&app.Env{In: p.In, Out: p.Out, Err: p.Err, Clock: p.Clock, Signals: p.Signals}, args) != app.ExitOK {
			return app.ErrReported
		}
	}
	return nil
}

package cli

// wetside plan --watch: the plan beside the editor, in a terminal of its own, made anew
// whenever the recipe's file has changed. It shows what light it likes, so it is silent
// while a session is carried out.

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/signal"
	"strings"
	"syscall"
	"time"

	"golang.org/x/term"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/tui/page"
	"example.org/wetside/tui/say"
)

// fileCheckEvery is how often the file is looked at.
const fileCheckEvery = 500 * time.Millisecond

// runPlanWatch follows a recipe of the person's own, until they end it or the terminal goes.
func runPlanWatch(p *app.Env, recipe string, today sequence.RawConditions) error {
	path, err := recipes.OwnPath(recipe, app.RecipesFolder())
	if err != nil {
		return app.AsUsage(err)
	}
	if _, err := os.Stat(path); err != nil {
		return app.Usagef("--watch: %q is no recipe in a file of yours; wetside new makes one", recipe)
	}
	if app.SessionRunning() {
		return errors.New("a session is being carried out; expected it to be over before a plan is watched")
	}
	stop := p.Signals()
	signal.Reset(syscall.SIGHUP) // unlike a session this ends with its terminal
	return WatchPlan(p, path, today, stop)
}

// WatchPlan shows the plan now and after each change, until it is stopped.
func WatchPlan(p *app.Env, path string, today sequence.RawConditions, stop <-chan os.Signal) error {
	beat := time.NewTicker(fileCheckEvery)
	defer beat.Stop()
	shown := ""
	for {
		// An editor that writes a new file and renames it leaves none for a moment.
		if now := fileStamp(path); now != shown && now != "" && !app.SessionRunning() {
			shown = now
			if err := redrawPlan(p, path, today); err != nil {
				return err
			}
		}
		select {
		case <-stop:
			return nil
		case <-beat.C:
		}
	}
}

// fileStamp is another for each change of a file; "" where there is none.
func fileStamp(path string) string {
	info, err := os.Stat(path)
	if err != nil {
		return ""
	}
	return fmt.Sprint(info.Size(), info.ModTime().UnixNano())
}

// redrawPlan shows the plan, or what is wrong with the recipe, in the place of what stood
// there: on a terminal as much as it holds, elsewhere below it.
func redrawPlan(p *app.Env, path string, today sequence.RawConditions) error {
	var text bytes.Buffer
	fmt.Fprintf(&text, "%s, %s\n\n", path, say.TimeOfDay(p.Clock.Read().Wall.Local(), p.Settings.Habits))
	plan, err := p.ResolvePlan(path, today)
	if err == nil {
		if known := filmTimeText(p, filmOffer(&plan)); known != "" { // above, where no small window cuts it off
			text.WriteString(known + "\n")
		}
		text.WriteString(page.Plan(&plan, p.Settings.Habits, p.Width()))
	} else {
		faults := *p
		faults.Err = &text
		faults.PrintError(err)
	}
	lines := strings.Split(strings.TrimRight(app.CleanPage(text.String()), "\n"), "\n")
	if f, ok := p.Out.(*os.File); ok {
		if _, height, err := term.GetSize(int(f.Fd())); err == nil {
			if most := max(3, height-1); len(lines) > most {
				lines = append(lines[:most-1], fmt.Sprintf("(%d lines more: wetside plan)", len(lines)-most+1))
			}
			fmt.Fprint(p.Out, "\x1b[H\x1b[2J")
		}
	}
	_, err = fmt.Fprintln(p.Out, strings.Join(lines, "\n"))
	return err
}

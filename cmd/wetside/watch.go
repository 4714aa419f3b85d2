package main

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

	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/tui/page"
)

// lookAgain is how often the file is looked at.
const lookAgain = 500 * time.Millisecond

// watchPlan follows a recipe of the person's own, until they end it or the terminal goes.
func (p *program) watchPlan(recipe string, today sequence.Words) error {
	path, err := recipes.FileOf(recipe, ownRecipes())
	if err != nil {
		return usageError{err}
	}
	if _, err := os.Stat(path); err != nil {
		return usage("--watch: %q is no recipe in a file of yours; wetside new makes one", recipe)
	}
	if carriedOut() {
		return errors.New("a session is being carried out; expected it to be over before a plan is watched")
	}
	stop := p.stop()
	signal.Reset(syscall.SIGHUP) // unlike a session this ends with its terminal
	return p.follow(path, today, stop)
}

// follow shows the plan now and after each change, until it is stopped.
func (p *program) follow(path string, today sequence.Words, stop <-chan os.Signal) error {
	beat := time.NewTicker(lookAgain)
	defer beat.Stop()
	shown := ""
	for {
		// An editor that writes a new file and renames it leaves none for a moment.
		if now := stampOf(path); now != shown && now != "" && !carriedOut() {
			shown = now
			if err := p.showAnew(path, today); err != nil {
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

// stampOf is another for each change of a file; "" where there is none.
func stampOf(path string) string {
	info, err := os.Stat(path)
	if err != nil {
		return ""
	}
	return fmt.Sprint(info.Size(), info.ModTime().UnixNano())
}

// carriedOut reports whether some process carries out the newest session that is open.
func carriedOut() bool {
	store := journal.Default()
	e, open := store.NewestOpen()
	if !open {
		return false
	}
	lock, err := store.Lock(e.ID)
	lock.Release()
	held := (*journal.HeldError)(nil)
	return errors.As(err, &held)
}

// showAnew shows the plan, or what is wrong with the recipe, in the place of what stood
// there: on a terminal as much as it holds, elsewhere below it.
func (p *program) showAnew(path string, today sequence.Words) error {
	var text bytes.Buffer
	fmt.Fprintf(&text, "%s, %s\n\n", path, p.settings.Habits.TimeOfDay(p.source.Read().Wall.Local()))
	plan, err := p.resolve(path, today)
	if err == nil {
		text.WriteString(page.Plan(&plan, p.settings.Habits, p.width()))
	} else {
		faults := *p
		faults.err = &text
		faults.complain(err)
	}
	lines := strings.Split(strings.TrimRight(cleaned(text.String()), "\n"), "\n")
	if f, ok := p.out.(*os.File); ok {
		if _, height, err := term.GetSize(int(f.Fd())); err == nil {
			if most := max(3, height-1); len(lines) > most {
				lines = append(lines[:most-1], fmt.Sprintf("(%d lines more: wetside plan)", len(lines)-most+1))
			}
			fmt.Fprint(p.out, "\x1b[H\x1b[2J")
		}
	}
	_, err = fmt.Fprintln(p.out, strings.Join(lines, "\n"))
	return err
}

package notebookcmd

// Two sessions beside each other, and sessions put away.

import (
	"fmt"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/tui/page"
	"example.org/wetside/tui/say"
)

// rowJSON is one row of a comparison in JSON; null where there is nothing to tell.
type rowJSON struct {
	What    string `json:"what"`
	A       string `json:"a"`
	B       string `json:"b"`
	Differs bool   `json:"differs"`
}

// compareSessions tells two sessions beside each other.
func compareSessions(p *app.Env, n notebookFlags, a, b string, noting bool) error {
	if noting || n.archive || n.restore || n.csv+n.html+n.film+n.vessel+n.bath+n.text+n.since+n.until != "" {
		return app.Usagef("two sessions are compared; only --json goes with that")
	}
	var two [2]notebook.Session
	for i, id := range []string{a, b} {
		s, broken := notebook.Open(journal.Default(), id)
		if s.Path == "" && broken != nil {
			return app.SessionNotFound(id, broken)
		}
		if broken != nil {
			return broken
		}
		two[i] = s
	}
	rows := say.Compared(&two[0], &two[1], p.Settings.Habits)
	if n.asJSON {
		var list []rowJSON
		for _, r := range rows {
			list = append(list, rowJSON{r.Label, r.A, r.B, r.Differs()})
		}
		return p.WriteJSON(list)
	}
	_, err := fmt.Fprint(p.Out, app.CleanPage(page.SideBySide(rows, p.Width())))
	return err
}

// archiveOrRestore puts a session away or brings it back, or lists those that are away.
func archiveOrRestore(p *app.Env, n notebookFlags, args []string) error {
	store := journal.Default()
	switch {
	case len(args) == 0 && n.archive:
		return app.Usagef("--archive needs a SESSION")
	case len(args) == 0:
		for _, id := range notebook.Archived(store) {
			fmt.Fprintln(p.Out, id)
		}
		return nil
	case n.archive:
		if err := notebook.Archive(store, args[0]); err != nil {
			return app.SessionNotFound(args[0], err)
		}
		fmt.Fprintf(p.Err, "archived; wetside notebook %s --restore brings it back\n", args[0])
		return nil
	}
	if err := notebook.Restore(store, args[0]); err != nil {
		return app.SessionNotFound(args[0], err)
	}
	fmt.Fprintln(p.Err, "brought back")
	return nil
}

package main

// Two sessions beside each other, and sessions put away.

import (
	"fmt"

	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/tui/page"
)

// comparedRow is one row of a comparison in JSON; null where there is nothing to tell.
type comparedRow struct {
	What    string  `json:"what"`
	A       *string `json:"a"`
	B       *string `json:"b"`
	Differs bool    `json:"differs"`
}

// twoSessions tells two sessions beside each other.
func (p *program) twoSessions(n pages, a, b string, noting bool) error {
	if noting || n.putAway || n.bringBack || n.csv+n.html+n.film+n.vessel+n.bath+n.text+n.since+n.until != "" {
		return usage("two sessions are compared; only --json goes with that")
	}
	var two [2]notebook.Session
	for i, id := range []string{a, b} {
		s, broken := notebook.Open(journal.Default(), id)
		if s.Path == "" && broken != nil {
			return notFound(id, broken)
		}
		if broken != nil {
			return broken
		}
		two[i] = s
	}
	rows := notebook.Compare(&two[0], &two[1], p.settings.Habits)
	if n.asJSON {
		var list []comparedRow
		for _, r := range rows {
			list = append(list, comparedRow{r.What, orNull(r.A), orNull(r.B), r.Differs()})
		}
		return p.json(list)
	}
	shown := make([]page.Row, len(rows))
	for i, r := range rows {
		shown[i] = page.Row(r)
	}
	_, err := fmt.Fprint(p.out, cleaned(page.Beside(shown, p.width())))
	return err
}

// moveSession puts a session away or brings it back, or lists those that are away.
func (p *program) moveSession(n pages, args []string) error {
	store := journal.Default()
	switch {
	case len(args) == 0 && n.putAway:
		return usage("--put-away needs a SESSION")
	case len(args) == 0:
		for _, id := range notebook.Away(store) {
			fmt.Fprintln(p.out, id)
		}
		return nil
	case n.putAway:
		if err := notebook.PutAway(store, args[0]); err != nil {
			return notFound(args[0], err)
		}
		fmt.Fprintf(p.err, "put away; wetside notebook %s --bring-back brings it back\n", args[0])
		return nil
	}
	if err := notebook.BringBack(store, args[0]); err != nil {
		return notFound(args[0], err)
	}
	fmt.Fprintln(p.err, "brought back")
	return nil
}

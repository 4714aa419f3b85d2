package notebook

import (
	"fmt"
	"slices"

	"example.org/wetside/sequence/notebook"
	"example.org/wetside/tui/say"
)

// Which sessions are listed: what is searched for, and what is out of sight.

// listing is all sessions, and those of them that are shown.
type listing struct {
	kept, archived []notebook.Summary
	read           bool // they have come
	rehearsals     bool // rehearsals are shown too
	away           bool // what is archived is shown instead
	search         string
	at             int
}

// found are those that were searched for, rehearsals among them.
func (l listing) found() []notebook.Summary {
	if l.away {
		return notebook.Search(l.archived, l.search)
	}
	return notebook.Search(l.kept, l.search)
}

// shown are the rows of the table.
func (l listing) shown() []notebook.Summary {
	if l.rehearsals {
		return l.found()
	}
	return slices.DeleteFunc(slices.Clone(l.found()), func(s notebook.Summary) bool { return s.Rehearsal })
}

// hidden is how many rehearsals are out of sight.
func (l listing) hidden() int { return len(l.found()) - len(l.shown()) }

// chosen is the session under the cursor; nil where there is none.
func (l listing) chosen() *notebook.Summary {
	list := l.shown()
	if l.at < 0 || l.at >= len(list) {
		return nil
	}
	return &list[l.at]
}

// count is how many there are, and what is out of sight.
func (l listing) count() string {
	if !l.read {
		return ""
	}
	list := l.shown()
	text := say.Count(len(list), "session")
	if l.rehearsals {
		text += ", rehearsals too"
	} else if n := l.hidden(); n > 0 {
		text += fmt.Sprintf(", %s hidden", say.Count(n, "rehearsal"))
	}
	return text
}

func (l listing) nothing() string {
	switch {
	case !l.read:
		return "Reading the notebook."
	case l.search != "" && l.hidden() > 0:
		return fmt.Sprintf("No session has all these words in it. %s hidden: r shows rehearsals.", isAre(l.hidden()))
	case l.search != "":
		return "No session has all these words in it: a film, a vessel, a day such as 2026-11, a bath, words of a note. esc shows all."
	case l.hidden() > 0:
		return fmt.Sprintf("No film was developed yet. %s kept: r shows rehearsals.", isAre(l.hidden()))
	case l.away:
		return "Nothing is archived. In a session x takes it out of the notebook, and here u restores it."
	}
	return "No session is kept yet. Each one keeps itself here as it runs: esc leads to the recipes, where enter plans one and r rehearses it."
}

func isAre(n int) string {
	if n == 1 {
		return "1 rehearsal is"
	}
	return say.Count(n, "rehearsal") + " are"
}

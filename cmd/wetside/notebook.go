package main

// wetside notebook: what was done. The list, one session in full, and what is
// noted afterwards.

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/tui/page"
)

// pages is the notebook's flags as typed.
type pages struct {
	film, vessel, bath, text, since, until string
	asJSON                                 bool
	csv, html                              string
	note, emulsion                         string
	looks                                  []string
	putAway, bringBack                     bool
}

func (p *program) notebook() *cobra.Command {
	var n pages
	cmd := &cobra.Command{
		Use:   "notebook [SESSION [SESSION]]",
		Short: "what was done: all sessions, one in full, or two compared",
		Long: "Lists all sessions, newest first, or tells one in full: planned against actual,\n" +
			"how far each sheet developed by the readings as they were, how long it was wet.\n" +
			"Two sessions are told beside each other. Notes on a session that is over are kept\n" +
			"beside its record; from how the negatives look the record is searched for causes.",
		Example: "  wetside notebook --film plover --since 2026-11-01\n" +
			"  wetside notebook 2026-11-25T1912-plover-80 --html plover.html\n" +
			"  wetside notebook 2026-11-25T1912-plover-80 --emulsion edges --look thin --note \"sheet 3 lifted at a corner\"",
		Args: words(cobra.MaximumNArgs(2)),
		RunE: func(cmd *cobra.Command, args []string) error {
			noting := cmd.Flags().Changed("note") || cmd.Flags().Changed("emulsion") || cmd.Flags().Changed("look")
			switch {
			case len(args) == 2:
				return p.twoSessions(n, args[0], args[1], noting)
			case n.putAway || n.bringBack:
				return p.moveSession(n, args)
			case len(args) == 0:
				return p.listSessions(n, noting)
			}
			return p.oneSession(n, args[0], noting)
		},
	}
	f := cmd.Flags()
	f.StringVar(&n.film, "film", "", "only films whose name has `TEXT` in it")
	f.StringVar(&n.vessel, "vessel", "", "only sessions in `V`: tray, single, cradle, hangers, daylight-tank, drum or tube")
	f.StringVar(&n.bath, "bath", "", "only sessions with a bath, or a part of one, that has `TEXT` in its name")
	f.StringVar(&n.text, "text", "", "only sessions with `TEXT` in title, steps or notes")
	f.StringVar(&n.since, "since", "", "only from this day on, `DATE` (2026-11-25)")
	f.StringVar(&n.until, "until", "", "only up to this day, `DATE`")
	f.BoolVar(&n.asJSON, "json", false, "as JSON")
	f.StringVar(&n.csv, "csv", "", "write a table for spreadsheets to `FILE`")
	f.StringVar(&n.html, "html", "", "write the session as a page to `FILE`, to keep or to print")
	f.StringVar(&n.note, "note", "", "add a note, `TEXT`, to the session")
	f.StringVar(&n.emulsion, "emulsion", "", "note how the emulsion came through: sound, edges or frayed")
	f.StringSliceVar(&n.looks, "look", nil, "note how the negatives look, `L`: good, thin, dense, fogged, uneven, scratched")
	f.BoolVar(&n.putAway, "put-away", false, "take the session out of the notebook; --bring-back undoes it")
	f.BoolVar(&n.bringBack, "bring-back", false, "put a session that was put away back; without SESSION list them")
	return cmd
}

// filter reads the words that choose sessions.
func (n *pages) filter() (notebook.Filter, error) {
	f := notebook.Filter{Film: n.film, Vessel: sequence.Vessel(n.vessel), Bath: n.bath, Text: n.text}
	if n.vessel != "" && !slices.Contains(sequence.Vessels, f.Vessel) {
		return f, usage("--vessel: %q; expected tray, single, cradle, hangers, daylight-tank, drum or tube", n.vessel)
	}
	var err error
	if f.Since, err = day("since", n.since); err == nil {
		f.Until, err = day("until", n.until)
	}
	return f, err
}

func day(flag, text string) (time.Time, error) {
	if text == "" {
		return time.Time{}, nil
	}
	t, err := time.Parse(time.DateOnly, text)
	if err != nil {
		return t, usage("--%s: %q; expected a day such as 2026-11-25", flag, text)
	}
	return t, nil
}

// listSessions shows the list. A damaged session is listed; that is no error.
func (p *program) listSessions(n pages, noting bool) error {
	f, err := n.filter()
	switch {
	case err != nil:
		return err
	case noting:
		return usage("--note, --emulsion and --look need a SESSION to belong to")
	case n.html != "":
		return usage("--html needs a SESSION; a list goes to --csv")
	}
	reading := p.progress("reading sessions")
	all := notebook.ListTelling(journal.Default(), reading.tell)
	reading.end()
	list := f.Select(all)
	if n.csv != "" {
		if err := writeTable(n.csv, func(b *bytes.Buffer) error { return notebook.WriteList(b, list) }); err != nil {
			return err
		}
	}
	if n.asJSON {
		shown := make([]listedSession, len(list))
		for i := range list {
			shown[i] = asListed(&list[i])
		}
		return p.json(shown)
	}
	if n.csv != "" {
		return nil
	}
	_, err = fmt.Fprint(p.out, cleaned(listPage(list, len(all), p.width())))
	return err
}

// listPage is one line a session.
func listPage(list []notebook.Summary, all, width int) string {
	switch {
	case all == 0:
		return "No session is kept yet.\n"
	case len(list) == 0:
		return fmt.Sprintf("None of %d sessions is like that.\n", all)
	}
	longest := 0
	for _, s := range list {
		longest = max(longest, len(s.ID))
	}
	b := &strings.Builder{}
	for _, s := range list {
		what := cmp.Or(s.Recipe, s.Film, "cannot be read")
		if s.Rehearsal {
			what = "(rehearsal) " + what
		}
		line := []rune(fmt.Sprintf("%-*s  %-11s  %s", longest, s.ID, s.Status.Word(), what))
		if len(line) > width {
			line = append(line[:width-1], '…')
		}
		fmt.Fprintln(b, string(line))
	}
	return b.String()
}

// oneSession notes what there is to note, then shows the session where that was
// asked for. A damaged one is shown as far as it goes, and is an error.
func (p *program) oneSession(n pages, id string, noting bool) error {
	if n.film+n.vessel+n.bath+n.text+n.since+n.until != "" {
		return usage("--film, --vessel, --bath, --text, --since and --until choose from the list; they do not go with a SESSION")
	}
	store := journal.Default()
	if noting {
		err := p.addNote(store, id, n)
		if err != nil || !n.asJSON && n.csv == "" && n.html == "" {
			return err
		}
	}
	s, broken := notebook.Open(store, id)
	if s.Path == "" && broken != nil {
		return notFound(id, broken)
	}
	if err := p.showSession(&s, n); err != nil {
		return err
	}
	return broken
}

func (p *program) addNote(store journal.Store, id string, n pages) error {
	note := notebook.Note{Written: p.source.Read().Wall, Text: n.note, Emulsion: notebook.Emulsion(n.emulsion)}
	for _, l := range n.looks {
		note.Looks = append(note.Looks, notebook.Look(l))
	}
	if err := note.Check(); err != nil {
		return usageError{err}
	}
	if err := notebook.Add(store, id, note); err != nil {
		return notFound(id, err)
	}
	_, err := fmt.Fprintln(p.err, "noted")
	return err
}

func notFound(id string, err error) error {
	if errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("session %q: not found", recipes.Clean(id))
	}
	return err
}

// showSession writes the files asked for; the page where none was.
func (p *program) showSession(s *notebook.Session, n pages) error {
	if n.csv != "" {
		if err := writeTable(n.csv, func(b *bytes.Buffer) error { return notebook.WriteSession(b, s) }); err != nil {
			return err
		}
	}
	view := asPage(s, p.settings.Habits)
	if n.html != "" {
		if err := os.WriteFile(n.html, []byte(page.SessionHTML(view)), 0o600); err != nil {
			return err
		}
	}
	if n.asJSON {
		return p.json(asTold(s))
	}
	if n.csv != "" || n.html != "" {
		return nil
	}
	_, err := fmt.Fprint(p.out, cleaned(page.SessionText(view, p.width())))
	return err
}

// writeTable makes the whole table before it touches the file.
func writeTable(name string, fill func(*bytes.Buffer) error) error {
	var b bytes.Buffer
	if err := fill(&b); err != nil {
		return err
	}
	return os.WriteFile(name, b.Bytes(), 0o600)
}

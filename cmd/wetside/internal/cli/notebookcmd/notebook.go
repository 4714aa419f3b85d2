// Package notebookcmd is the command wetside notebook. Start with NewNotebookCommand; what it
// lists and opens is in sequence/notebook, the pages are in tui/page.
package notebookcmd

// wetside notebook: what was done. The list, one session in full, and what is
// noted afterwards.

import (
	"bytes"
	"cmp"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli/flags"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/tui/page"
	"example.org/wetside/tui/say"
)

// notebookFlags is the notebook's flags as typed.
type notebookFlags struct {
	film, vessel, bath, text, since, until string
	asJSON                                 bool
	csv, html                              string
	out                                    flags.Output
	note, emulsion                         string
	looks                                  []string
	archive, restore                       bool
}

func NewNotebookCommand(p *app.Env) *cobra.Command {
	var n notebookFlags
	cmd := &cobra.Command{
		Use:   "notebook [SESSION [OTHER]]",
		Short: "list, show or compare sessions",
		Long: "Lists all sessions, newest first, or shows one in full: planned beside actual, how far\n" +
			"each sheet developed by the temperatures that were read, how long it was wet. Two\n" +
			"sessions are shown beside each other. Notes on a session that is over are kept beside\n" +
			"its record; where the negatives do not look good, the record is searched for a cause.",
		Example: "  wetside notebook --film plover --since 2026-11-01\n" +
			"  wetside notebook 2026-11-25T1912-plover-80 --html plover.html\n" +
			"  wetside notebook 2026-11-25T1912-plover-80 --emulsion edges --look thin --note \"sheet 3 lifted at a corner\"",
		Args: flags.UsageArgs(cobra.MaximumNArgs(2)),
		RunE: func(cmd *cobra.Command, args []string) error {
			noting := cmd.Flags().Changed("note") || cmd.Flags().Changed("emulsion") || cmd.Flags().Changed("look")
			switch {
			case len(args) == 2:
				return compareSessions(p, n, args[0], args[1], noting)
			case n.archive || n.restore:
				return archiveOrRestore(p, n, args)
			case len(args) == 0:
				return printSessions(p, n, noting)
			}
			return runOneSession(p, n, args[0], noting)
		},
	}
	f := cmd.Flags()
	f.StringVar(&n.film, "film", "", "`TEXT`: only films with TEXT in their name")
	f.StringVar(&n.vessel, "vessel", "", "`VESSEL`: only sessions in this vessel")
	f.StringVar(&n.bath, "bath", "", "`TEXT`: only sessions with TEXT in the name of a bath or of its parts")
	f.StringVar(&n.text, "text", "", "`TEXT`: only sessions with TEXT in title, steps or notes")
	f.StringVar(&n.since, "since", "", "`DATE`: only from this day on (2026-11-25)")
	f.StringVar(&n.until, "until", "", "`DATE`: only up to this day")
	f.BoolVar(&n.asJSON, "json", false, "print JSON")
	f.StringVar(&n.csv, "csv", "", "`FILE`: write a table for spreadsheets")
	f.StringVar(&n.html, "html", "", "`FILE`: write the session as a page to print")
	n.out.Add(cmd, "csv", "html")
	f.StringVar(&n.note, "note", "", "`TEXT`: add a note to the session")
	f.StringVar(&n.emulsion, "emulsion", "", "`WORD`: note how the emulsion came through: sound, edges or frayed")
	f.StringSliceVar(&n.looks, "look", nil, "`WORD`: note how the negatives look: good, thin, dense, fogged, uneven or scratched")
	f.BoolVar(&n.archive, "archive", false, "take the session out of the notebook; --restore undoes it")
	f.BoolVar(&n.restore, "restore", false, "bring an archived session back; without SESSION list them")
	others := []string{"json", "csv", "html", "note", "emulsion", "look", "film", "vessel", "bath", "text", "since", "until"}
	flags.Excludes(cmd, "archive", append(others, "restore")...)
	flags.Excludes(cmd, "restore", others...)
	return cmd
}

// filter reads the words that choose sessions.
func (n *notebookFlags) filter() (notebook.Filter, error) {
	f := notebook.Filter{Film: n.film, Vessel: sequence.Vessel(n.vessel), Bath: n.bath, Text: n.text}
	if n.vessel != "" && !slices.Contains(sequence.Vessels, f.Vessel) {
		return f, app.Usagef("--vessel: %q; expected tray, single, cradle, hangers, daylight-tank, drum or tube", n.vessel)
	}
	var err error
	if f.Since, err = flags.Day("since", n.since); err == nil {
		f.Until, err = flags.Day("until", n.until)
	}
	return f, err
}

// printSessions shows the list. A damaged session is listed; that is no error.
func printSessions(p *app.Env, n notebookFlags, noting bool) error {
	f, err := n.filter()
	switch {
	case err != nil:
		return err
	case noting:
		return app.Usagef("--note, --emulsion and --look need a SESSION to belong to")
	case n.html != "":
		return app.Usagef("--html needs a SESSION; a list goes to --csv")
	}
	reading := p.StartProgress("reading sessions")
	all := notebook.ListWithProgress(journal.Default(), reading.Update)
	reading.Clear()
	list := f.Select(all)
	if n.csv != "" {
		if err := n.writeCSV(func(b *bytes.Buffer) error { return notebook.WriteList(b, list) }); err != nil {
			return err
		}
	}
	if n.asJSON {
		shown := make([]notebook.Head, len(list))
		for i := range list {
			shown[i] = list[i].Head
		}
		return p.WriteJSON(shown)
	}
	if n.csv != "" {
		return nil
	}
	_, err = fmt.Fprint(p.Out, app.CleanPage(sessionsText(list, len(all), p.Width())))
	return err
}

// sessionsText is one line a session.
func sessionsText(list []notebook.Summary, all, width int) string {
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
		line := []rune(fmt.Sprintf("%-*s  %-11s  %s", longest, s.ID, say.Status(s.Status), what))
		if len(line) > width {
			line = append(line[:width-1], '…')
		}
		fmt.Fprintln(b, string(line))
	}
	return b.String()
}

// runOneSession notes what there is to note, then shows the session where that was
// asked for. A damaged one is shown as far as it goes, and is an error.
func runOneSession(p *app.Env, n notebookFlags, id string, noting bool) error {
	if n.film+n.vessel+n.bath+n.text+n.since+n.until != "" {
		return app.Usagef("--film, --vessel, --bath, --text, --since and --until choose from the list; they do not go with a SESSION")
	}
	store := journal.Default()
	if noting {
		err := addNote(p, store, id, n)
		if err != nil || !n.asJSON && n.csv == "" && n.html == "" {
			return err
		}
	}
	s, broken := notebook.Open(store, id)
	if s.Path == "" && broken != nil {
		return app.SessionNotFound(id, broken)
	}
	if err := printSession(p, &s, n); err != nil {
		return err
	}
	return broken
}

func addNote(p *app.Env, store journal.Store, id string, n notebookFlags) error {
	note := notebook.Note{Written: p.Clock.Read().Wall, Text: n.note, Emulsion: notebook.Emulsion(n.emulsion)}
	for _, l := range n.looks {
		note.Appearances = append(note.Appearances, notebook.Appearance(l))
	}
	if err := note.Check(); err != nil {
		return app.AsUsage(err)
	}
	if err := notebook.AddNote(store, id, note); err != nil {
		return app.SessionNotFound(id, err)
	}
	_, err := fmt.Fprintln(p.Err, "noted")
	return err
}

// printSession writes the files asked for; the page where none was.
func printSession(p *app.Env, s *notebook.Session, n notebookFlags) error {
	if n.csv != "" {
		if err := n.writeCSV(func(b *bytes.Buffer) error { return notebook.WriteSession(b, s) }); err != nil {
			return err
		}
	}
	view := asPageSession(s, p.Settings.Habits)
	if n.html != "" {
		if err := n.out.Write(n.html, []byte(page.SessionHTML(view))); err != nil {
			return err
		}
	}
	if n.asJSON {
		return p.WriteJSON(asSessionJSON(s))
	}
	if n.csv != "" || n.html != "" {
		return nil
	}
	_, err := fmt.Fprint(p.Out, app.CleanPage(page.SessionText(view, p.Width())))
	return err
}

// writeCSV makes the whole table before it touches the file.
func (n *notebookFlags) writeCSV(fill func(*bytes.Buffer) error) error {
	var b bytes.Buffer
	if err := fill(&b); err != nil {
		return err
	}
	return n.out.Write(n.csv, b.Bytes())
}

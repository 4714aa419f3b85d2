package running

// Plain mode: events out as lines, commands in as lines.

import (
	"context"
	"fmt"
	"strings"
	"time"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/engine"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/live"
	"example.org/wetside/tui/page"
	"example.org/wetside/tui/say"
)

// FollowLines is the follower that writes what happens. When nobody reads any more it
// falls silent; the session goes on.
func FollowLines(p *app.Env, s *live.Session, asJSON bool) live.Follower {
	return func(ctx context.Context, c *live.Cursor) error {
		silent := false
		write := func(line string) {
			if line != "" && !silent {
				_, err := fmt.Fprintln(p.Out, line)
				silent = err != nil
			}
		}
		lines, disk := NewPlainLines(), waitingForDisk{session: s}
		for {
			r, ok, changed := nextOrChange(ctx, c, s, lines.Changes())
			switch {
			case changed:
				write(lines.Hands(s.State(), lines.Changes()))
			case !ok:
				return nil
			case r.Event.Kind == sequence.Heartbeat || r.Event.Kind == sequence.TransferDue:
			case asJSON:
				text, err := sequence.Marshal(toldEvent{r.Event, disk.pending(ctx, r)})
				if err != nil {
					return err
				}
				write(string(text))
			case r.Event.Kind == sequence.CueGiven: // an instruction, at its instant; it claims nothing
				write(lines.Of(s.State(), r.Event, p.Settings.Habits))
			default:
				write(pendingLine(lines.Of(s.State(), r.Event, p.Settings.Habits), disk.pending(ctx, r)))
			}
		}
	}
}

// toldEvent is an event as --json tells it.
type toldEvent struct {
	Event   sequence.Event `json:",embed"`
	Pending bool           `json:"pending,omitzero"` // told before it was on the disk
}

// pendingLine marks the first of an event's lines where it is not on the disk yet.
func pendingLine(text string, pending bool) string {
	if text == "" || !pending {
		return text
	}
	line, rest, more := strings.Cut(text, "\n")
	if line += "  (not yet on disk)"; more {
		line += "\n"
	}
	return line + rest
}

// For how long a line waits for its record to be on the disk, which takes 0.2 to 20 ms: what is
// told without "pending" survives a crash. When the session is over there is nothing to be late
// for: the disk is given its time once more, not once a line.
const (
	waitForDisk    = 250 * time.Millisecond
	waitForTheLast = 5 * time.Second
)

// waitingForDisk tells which lines go ahead of the disk. A disk that made one wait in vain
// makes none wait until it has caught up: lines come no later than their events by more.
type waitingForDisk struct {
	session *live.Session
	late    bool
	over    bool // the session, when a line was last told
}

func (w *waitingForDisk) pending(ctx context.Context, r journal.Record) bool {
	saved := w.session.RecordSaved(r.Seq)
	longest := waitForDisk
	if w.session.State().Over() != "" {
		longest, w.late, w.over = waitForTheLast, w.late && w.over, true
	}
	if !saved && !w.late {
		wait, cancel := context.WithTimeout(ctx, longest)
		defer cancel()
		saved = w.session.WaitUntilRecordSaved(wait, r.Seq)
	}
	w.late = !saved
	return w.late
}

// afterEvents is for how long what the hands do next waits for the events of that moment.
const afterEvents = 50 * time.Millisecond

// nextOrChange waits for the next record, or until what the hands do changes by itself.
func nextOrChange(ctx context.Context, c *live.Cursor, s *live.Session, at sequence.Elapsed) (r journal.Record, ok, changed bool) {
	wait, cancel := ctx, func() {}
	if at != sequence.Never {
		wait, cancel = context.WithTimeout(ctx, max(0, s.Until(at))+afterEvents)
	}
	defer cancel()
	r, ok = c.Next(wait)
	return r, ok, !ok && ctx.Err() == nil && wait.Err() != nil
}

// PlainLines is plain mode's text, event by event.
type PlainLines struct {
	said    sequence.Hand
	changes sequence.Elapsed
}

// NewPlainLines has said nothing.
func NewPlainLines() *PlainLines { return &PlainLines{changes: sequence.Never} }

// Changes is when the hands do something else by themselves; Never where that is not known.
func (l *PlainLines) Changes() sequence.Elapsed { return l.changes }

// Of is what is written of an event, s being the session then: the event, and beneath it what
// the hands do where that changed; "" for nothing.
func (l *PlainLines) Of(s engine.State, e sequence.Event, u sequence.Units) string {
	line := safetext.Clean(say.EventLine(s.Plan(), e, u))
	return strings.Trim(line+"\n"+readNext(s, e)+l.Hands(s, e.At), "\n")
}

// readNext is how well the developing that goes on is known, as a line beneath its beginning and what the person read;
// "" where that is not worth saying.
func readNext(s engine.State, e sequence.Event) string {
	if e.Kind != sequence.StepBegan && (e.Kind != sequence.ReadingTaken || e.Source != sequence.ByHand) {
		return ""
	}
	if next := say.ReadNext(s.Snapshot(e.At).Develop); next != nil {
		return strings.Repeat(" ", 10) + "read the developer " + next[0] + "\n"
	}
	return ""
}

// Hands is what they do at a moment where that was not said yet, or not until when; a bath
// that is overdue has no end.
func (l *PlainLines) Hands(s engine.State, now sequence.Elapsed) string {
	look := s.Snapshot(now)
	if look.Hands == nil {
		l.changes = sequence.Never
		return ""
	}
	h, was := *look.Hands, l.said
	l.changes = h.Until
	if look.Overdue > 0 {
		h.Until = sequence.Never
	}
	same := h.Do == was.Do && h.Step == was.Step && h.Sheet == was.Sheet
	if same && sequence.FormatElapsed(h.Until) == sequence.FormatElapsed(was.Until) {
		return ""
	}
	if l.said = h; same && h.At < was.Until {
		h.At = max(h.At, now) // the same, until another moment
	}
	return page.HandsLine(h)
}

package journal

// Reading one file, and what can be wrong with it.

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/go-json-experiment/json/jsontext"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
)

// Status is how a session stands.
type Status string

// The statuses.
const (
	Done    Status = "done"
	Stopped Status = "stopped"
	Open    Status = "open" // cut off, or still running
	Damaged Status = "damaged"
)

// Recording is a journal as read.
type Recording struct {
	ID      string
	Path    string // of the segment that was believed
	Status  Status
	Records []Record // the good ones, from the first
	Torn    []byte   // the end of a write that was cut off; never acknowledged
	Newer   bool     // some record is of a newer version; read as far as known

	reached clock.Mark // of the last line that can be read, also behind a damage
	good    []byte     // the lines of Records
	chain   uint32
	lines   int // how many its chain vouches for
	claimed int // how many records the file once held
}

// First is the record with the plan; the zero Record where there is none.
func (s Recording) First() Record {
	if len(s.Records) == 0 {
		return Record{}
	}
	return s.Records[0]
}

// Anchor is the last moment known: where Resume goes on from.
func (s Recording) Anchor() clock.Mark {
	if len(s.Records) == 0 {
		return clock.Mark{}
	}
	return s.Records[len(s.Records)-1].Clock
}

// CutOff is the transfer that was intended as the record ends: its cue may have been heard, and
// nothing says so. False where there is none.
func (s Recording) CutOff() (sequence.Event, bool) {
	for _, r := range slices.Backward(s.Records) {
		switch e := r.Event; e.Kind {
		case sequence.TransferDue:
			return e, true
		case sequence.Heartbeat, sequence.FollowerFailed, sequence.SoundLost, sequence.SoundBack, sequence.ClockJumped,
			sequence.Noted, sequence.LightChanged, sequence.SleepReported, sequence.ReadingTaken, sequence.StepBegan, sequence.StepEnded:
		case sequence.CueGiven:
			if e.Cue == sequence.CueTransfer || e.Cue == sequence.CuePull {
				return sequence.Event{}, false
			}
		default:
			return sequence.Event{}, false
		}
	}
	return sequence.Event{}, false
}

// Reached is the latest moment that the file tells of, also behind a damage: good enough to say
// which session was the last, not to go on from.
func (s Recording) Reached() clock.Mark {
	if s.reached != (clock.Mark{}) {
		return s.reached
	}
	return s.Anchor()
}

// lastReadable is the clock of the last line of a damaged journal that can be read by itself.
func lastReadable(data []byte) clock.Mark {
	for _, line := range slices.Backward(bytes.Split(data, []byte{'\n'})) {
		var r Record
		if shaped(line) && sequence.Unmarshal(line, &r) == nil {
			return r.Clock
		}
	}
	return clock.Mark{}
}

// DamagedError says where a journal stops being believable. What comes before
// is read; nothing is ever cut off.
type DamagedError struct {
	Path   string
	Line   int // from 1
	Reason string
}

// Error names the file and the line.
func (e *DamagedError) Error() string {
	return fmt.Sprintf("%s:%d: journal is damaged: %s", e.Path, e.Line, e.Reason)
}

// maxFile is the largest file that is read: a long session is 2 to 5 MB.
const maxFile = 64 << 20

// Read reads the journal in one file. A torn last line is left where it is and
// told in Torn. A bad line before others is a *DamagedError, beside a Session
// with the records before it.
func Read(path string) (Recording, error) {
	data, err := load(path)
	if err != nil {
		return Recording{}, err
	}
	return parse(path, data)
}

func load(path string) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("journal: %w", err)
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, maxFile+1))
	if err != nil {
		return nil, fmt.Errorf("journal: %w", err)
	}
	if len(data) > maxFile {
		return nil, fmt.Errorf("journal: %s: file is over %d bytes; expected a session", path, maxFile)
	}
	return data, nil
}

func parse(path string, data []byte) (Recording, error) { return parsePart(path, data, nil) }

// parsePart checks the whole file by its chain, and decodes the lines that are wanted of so many; nil for all.
func parsePart(path string, data []byte, wanted func(i, lines int, line []byte) bool) (Recording, error) {
	sc := scan(data)
	s := Recording{ID: idOf(path), Path: path, lines: len(sc.lines), claimed: sc.claimed()}
	if sc.torn {
		s.Torn = data[sc.good:]
	}
	if wanted == nil {
		s.Records = make([]Record, 0, s.lines)
	}
	damaged := func(line int, reason string) (Recording, error) {
		s.Status, s.reached = Damaged, lastReadable(data)
		return s, &DamagedError{Path: path, Line: line, Reason: reason}
	}
	for i, line := range sc.lines {
		if wanted != nil && !wanted(i, s.lines, line) {
			continue
		}
		r, err := decode(line, i)
		if err != nil {
			s.keepGood(data, sc.lines[:i])
			return damaged(i+1, err.Error())
		}
		s.Records = append(s.Records, r)
		s.Newer = s.Newer || r.V > Version
	}
	s.good, s.chain = data[:sc.good], sc.chain
	if sc.broken() || s.lines == 0 {
		return damaged(s.lines+1, cmp.Or(sc.bad, emptyFile))
	}
	s.Status = lastStatus(sc.lines)
	return s, nil
}

// keepGood keeps the lines up to one that the chain vouches for and that cannot be understood.
func (s *Recording) keepGood(data []byte, lines [][]byte) {
	n := len(lines) // and a newline each
	for _, line := range lines {
		n += len(line)
	}
	s.good, s.chain = data[:n], scan(data[:n]).chain
}

const emptyFile = "file is empty; expected a session's first record"

// decode reads the line with index i. Of a newer version only what is
// understood is kept.
func decode(line []byte, i int) (Record, error) {
	var r Record
	err := sequence.Unmarshal(line, &r)
	switch {
	case r.V > Version:
		return r, nil
	case err != nil:
		return r, err
	case r.V < 1:
		return r, fmt.Errorf("v is %d; expected 1 to %d", r.V, Version)
	case r.Seq != i:
		return r, fmt.Errorf("seq is %d; expected %d", r.Seq, i)
	case i == 0:
		return r, checkFirst(line, r)
	}
	return r, nil
}

// checkFirst wants the plan, as it was hashed, in the first record.
func checkFirst(line []byte, r Record) error {
	if r.Event.Kind != sequence.SessionBegan || r.Plan == nil {
		return fmt.Errorf("event is %q; expected %q with its plan", r.Event.Kind, sequence.SessionBegan)
	}
	var raw struct {
		Plan jsontext.Value `json:"plan"`
	}
	if err := sequence.Unmarshal(line, &raw); err != nil {
		return err
	}
	if h := hash(raw.Plan); h != r.Hash {
		return fmt.Errorf("plan_hash is %q; expected %q", r.Hash, h)
	}
	return nil
}

// LastStatus is the status by the good records alone, whatever came after them.
func (s Recording) LastStatus() Status { return statusOf(s.Records) }

// statusOf goes by the last event that tells about the process itself.
func statusOf(records []Record) Status {
	for _, r := range slices.Backward(records) {
		if st, ok := statusAfter(r.Event.Kind); ok {
			return st
		}
	}
	return Open
}

func statusAfter(k sequence.EventKind) (Status, bool) {
	switch k {
	case sequence.SessionDone:
		return Done, true
	case sequence.SessionStopped:
		return Stopped, true
	case sequence.Heartbeat, sequence.TransferDue, sequence.FollowerFailed, sequence.SoundLost, sequence.SoundBack, sequence.ClockJumped,
		sequence.CueGiven, sequence.Noted, sequence.LightChanged, sequence.SleepReported, sequence.SuspendAnnounced:
		return "", false
	}
	return Open, true
}

// idOf is the session's id from the name of one of its segments.
func idOf(path string) string {
	id, _, _ := strings.Cut(filepath.Base(path), ".")
	return id
}

// ErrNewer refuses to go on with a journal that a newer wetside wrote.
var ErrNewer = errors.New("journal: written by a newer wetside; expected version 1")

// ErrFinished refuses to go on with a session that is done or stopped.
var ErrFinished = errors.New("this session is over; expected one that is open (wetside resume alone takes the latest)")

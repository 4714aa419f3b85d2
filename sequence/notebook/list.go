// Package notebook reads all sessions kept so far: a list to search, and any one
// of them in full, planned against actual.
//
// For cmd and the screens. Start with List and Filter, then Open; AddNote keeps
// a note beside a session that is over. The journals are the truth: they are
// replayed by the engine's own rules and never written to. An index beside them
// only spares reading them again; it is made anew whenever it does not fit.
package notebook

// One line of the list, and what the list can be searched for.

import (
	"cmp"
	"errors"
	"io/fs"
	"runtime"
	"slices"
	"sort"
	"strings"
	"sync"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/planning"
)

// Head is one session as a script's list has it.
type Head struct {
	ID        string         `json:"id"`
	Recipe    string         `json:"recipe"` // its title
	Film      string         `json:"film"`
	Started   *time.Time     `json:"started"` // by the clock on the wall; nil where not known
	Ended     *time.Time     `json:"ended"`   // nil where it has not
	Status    journal.Status `json:"status"`
	Rehearsal bool           `json:"rehearsal"`
}

// Summary is one session in the list. Of a damaged one what stands before the
// damage is told; where that is nothing, only ID, Status and Problem are set.
type Summary struct {
	Head
	Vessel   sequence.Vessel // of the load
	Sheets   int
	Emulsion Emulsion // as last told; "" where nobody did
	Problem  string   // what is wrong with a damaged one

	Vessels []sequence.Vessel // all that the plan uses
	Baths   []string          // their ids, and the names of their parts
	Words   []string          // what Filter.Text looks through
	Bottles []string          `json:",omitzero"` // of baths kept and of stock that the plan draws on
	Names   []string          `json:",omitzero"` // of the sheets, once film has come into a fixer
}

// List lists all sessions, newest first. A journal that is damaged is listed as
// such and spoils nothing. What the index knows of unchanged files is believed.
func List(store journal.Store) []Summary { return ListWithProgress(store, func(int, int) {}) }

// ListWithProgress is List, and tells how many of the journals that must be read have been;
// it tells from one goroutine at a time.
func ListWithProgress(store journal.Store, tell func(done, all int)) []Summary {
	found := findSessions(store)
	known := readIndex(store)
	var missing []string
	for id, t := range found {
		if known[id].Print != t.fingerprint {
			missing = append(missing, id)
		}
	}
	stale := len(missing) > 0
	for id := range known {
		if _, there := found[id]; !there {
			delete(known, id)
			stale = true
		}
	}
	for id, s := range readAll(store, found, missing, tell) {
		delete(known, id)
		if s.read {
			known[id] = indexEntry{Print: found[id].fingerprint, Summary: s.Summary, unreadable: s.unreadable}
		}
	}
	if stale {
		writeIndex(store, known)
	}
	list := make([]Summary, 0, len(known))
	for _, e := range known {
		list = append(list, e.Summary)
	}
	sort.Slice(list, func(i, j int) bool {
		a, b := &list[i], &list[j]
		return cmp.Or(b.Began().Compare(a.Began()), strings.Compare(b.ID, a.ID)) < 0
	})
	return list
}

// Began is the moment of the start, the id's where a journal tells none.
func (s Summary) Began() time.Time {
	if s.Started != nil {
		return *s.Started
	}
	t, _ := journal.Began(s.ID)
	return t
}

// Day is the day on which the session began, where it began: 2006-01-02.
func (s Summary) Day() string {
	if t := s.Began(); !t.IsZero() {
		return t.Format(time.DateOnly)
	}
	return ""
}

// listed is one session as read for the list.
type listed struct {
	Summary
	read       bool // there is such a session
	unreadable bool // it could not be read just now: not for the index
}

// readAll reads sessions on every processor.
func readAll(store journal.Store, found map[string]sessionFiles, ids []string, tell func(done, all int)) map[string]listed {
	got := make(map[string]listed, len(ids))
	var mu sync.Mutex
	var work sync.WaitGroup
	next := make(chan string)
	for range min(len(ids), runtime.GOMAXPROCS(0)) {
		work.Go(func() {
			for id := range next {
				o := readOne(store, id, found[id])
				mu.Lock()
				got[id] = o
				tell(len(got), len(ids))
				mu.Unlock()
			}
		})
	}
	for _, id := range ids {
		next <- id
	}
	close(next)
	work.Wait()
	return got
}

// readOne reads one session. Where it has one segment alone the store, which
// would search all its folders for others, need not be asked.
func readOne(store journal.Store, id string, t sessionFiles) listed {
	var s journal.Recording
	var err error
	if t.onlySegment != "" {
		s, err = journal.ReadPart(t.onlySegment, sequence.Noted, sequence.StepBegan, sequence.SessionDone, sequence.SessionStopped)
	} else {
		s, err = store.Read(id)
	}
	if errors.Is(err, fs.ErrNotExist) && s.Path == "" {
		return listed{}
	}
	var damaged *journal.DamagedError
	return listed{Summary: summarise(id, s, readNotes(s, t.notes), err), read: true,
		unreadable: err != nil && !errors.As(err, &damaged)}
}

// summarise is the list's line for a session as read, whatever err says of it.
func summarise(id string, s journal.Recording, later Notes, err error) Summary {
	sum := Summary{Head: Head{ID: id, Status: s.Status}, Emulsion: later.Emulsion()}
	if err != nil {
		sum.Status, sum.Problem = journal.Damaged, err.Error()
	}
	if len(s.Records) == 0 {
		return sum
	}
	first := s.First()
	if wall := first.Clock.Wall; !wall.IsZero() {
		sum.Started = &wall
	}
	sum.Rehearsal = first.Rehearsal > 0
	if sum.Status == journal.Done || sum.Status == journal.Stopped {
		sum.Ended = ended(s.Records)
	}
	if p := first.Plan; p != nil {
		sum.describe(p)
		if names := p.Recipe.Load.Names; len(names) >= p.Sheets && fixed(p, s.Records) {
			sum.Names = names[:p.Sheets]
		}
	}
	for _, r := range s.Records {
		if r.Event.Kind == sequence.Noted {
			sum.Words = append(sum.Words, r.Event.Text)
		}
	}
	for _, n := range later.List {
		sum.Words = append(sum.Words, n.Sentence())
	}
	sum.Words = slices.DeleteFunc(sum.Words, func(w string) bool { return w == "" })
	return sum
}

// fixed reports whether film came into a fixer: what was developed is a negative.
func fixed(p *sequence.Plan, records []journal.Record) bool {
	return slices.ContainsFunc(records, func(r journal.Record) bool {
		i := p.StepIndex(r.Event.Step)
		return r.Event.Kind == sequence.StepBegan && i < len(p.Steps) && p.Steps[i].Kind == sequence.Fix
	})
}

// ended is when the session was over, on the wall.
func ended(records []journal.Record) *time.Time {
	for _, r := range slices.Backward(records) {
		if k := r.Event.Kind; k == sequence.SessionDone || k == sequence.SessionStopped {
			return new(r.Clock.Wall)
		}
	}
	return nil
}

// describe takes from the plan what the list shows and searches.
func (s *Summary) describe(p *sequence.Plan) {
	s.Recipe, s.Film, s.Vessel, s.Sheets = p.Recipe.Title, p.Recipe.Film.Name, p.Vessel, p.Sheets
	s.Vessels = []sequence.Vessel{p.Vessel}
	s.Words = []string{p.Recipe.Title, p.Recipe.About, p.Recipe.Film.Name}
	for i := range p.Steps {
		st := &p.Steps[i]
		if !slices.Contains(s.Vessels, st.Vessel) {
			s.Vessels = append(s.Vessels, st.Vessel)
		}
		s.Words = append(s.Words, st.Name, st.Note)
	}
	for _, k := range p.Conditions.OpenBottles {
		s.Bottles = append(s.Bottles, k.Bottle)
	}
	for _, d := range planning.Withdrawals(p) {
		if d.Volume > 0 && !slices.Contains(s.Bottles, d.Bottle) {
			s.Bottles = append(s.Bottles, d.Bottle)
		}
	}
	for i := range p.Recipe.Baths {
		b := &p.Recipe.Baths[i]
		s.Baths = append(s.Baths, b.ID)
		for _, part := range b.Parts {
			if !slices.Contains(s.Baths, part.Name) {
				s.Baths = append(s.Baths, part.Name)
			}
		}
	}
}

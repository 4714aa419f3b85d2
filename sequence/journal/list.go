package journal

// The sessions in a list: of each no more is decoded than its first and last record.

import (
	"cmp"
	"slices"
	"time"

	"example.org/wetside/sequence"
)

// Listed is one session in a list.
type Listed struct {
	ID      string
	Path    string // of the segment that was believed
	Status  Status
	First   Record // with the plan
	Last    Record
	Records int
	Err     error // why it is damaged

	claimed int
}

// List lists all sessions, newest first. Chains are verified; only the records
// that a Listed holds are read in full.
func (s Store) List() []Listed { return entries(s.segments("")) }

// Since is List without the sessions that by their names began before a moment: years
// of them are not read. One whose name tells none is listed.
func (s Store) Since(t time.Time) []Listed {
	return entries(slices.DeleteFunc(s.segments(""), func(g segment) bool {
		began, told := Began(g.id)
		return told && began.Before(t)
	}))
}

// Began is the moment that an id begins with; false for none.
func Began(id string) (time.Time, bool) {
	t, err := time.ParseInLocation(idPattern, id[:min(len(id), len(idPattern))], time.Local)
	return t, err == nil
}

// entries is the sessions that segments belong to, newest first.
func entries(found []segment) []Listed {
	best := map[string]Listed{}
	for _, g := range found {
		e := readListed(g)
		old, seen := best[e.ID]
		more := e.claimed - old.claimed
		if !seen || more > 0 || more == 0 && old.Err != nil && e.Err == nil {
			best[e.ID] = e
		}
	}
	list := make([]Listed, 0, len(best))
	for _, e := range best {
		list = append(list, e)
	}
	slices.SortFunc(list, func(a, b Listed) int { return cmp.Compare(b.ID, a.ID) })
	return list
}

// readListed reads as much of a segment as a Listed needs.
func readListed(g segment) Listed {
	data, err := load(g.path())
	if err != nil {
		return Listed{ID: g.id, Path: g.path(), Status: Damaged, Err: err}
	}
	return listedFrom(g, data)
}

func listedFrom(g segment, data []byte) Listed {
	r, err := parsePart(g.path(), data, func(i, lines int, _ []byte) bool { return i == 0 || i == lines-1 })
	e := Listed{ID: g.id, Path: g.path(), Status: r.Status, First: r.First(), Records: r.lines, Err: err, claimed: r.claimed}
	if n := len(r.Records); n > 0 {
		e.Last = r.Records[n-1]
	}
	return e
}

// lastStatus is statusOf for lines, decoding no more of them than it must.
func lastStatus(lines [][]byte) Status {
	for _, line := range slices.Backward(lines) {
		var r struct {
			Event sequence.EventKind `json:"event"`
		}
		if sequence.Unmarshal(line, &r) != nil {
			continue
		}
		if st, ok := statusAfter(r.Event); ok {
			return st
		}
	}
	return Open
}

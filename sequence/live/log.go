package live

// The log of a session: every record in memory, and those who follow it.

import (
	"context"
	"slices"
	"sync"
	"time"

	"example.org/wetside/sequence/journal"
)

// Log is the record of a session, growing at its end. Whoever follows it reads
// at a pace of its own and is never waited for.
type Log struct {
	mu      sync.Mutex
	records []journal.Record
	closed  bool
	grown   chan struct{} // closed and replaced whenever the log grows or ends
}

func newLog(records []journal.Record) *Log {
	return &Log{records: records, grown: make(chan struct{})}
}

func (l *Log) append(r journal.Record) {
	l.mu.Lock()
	defer l.mu.Unlock()
	r.V, r.Seq = journal.Version, len(l.records)
	l.records = append(l.records, r)
	close(l.grown)
	l.grown = make(chan struct{})
}

// end says that no more records will come.
func (l *Log) end() {
	l.mu.Lock()
	defer l.mu.Unlock()
	if !l.closed {
		l.closed = true
		close(l.grown)
	}
}

// Len is the number of records so far.
func (l *Log) Len() int {
	l.mu.Lock()
	defer l.mu.Unlock()
	return len(l.records)
}

// Records is a copy of all records so far.
func (l *Log) Records() []journal.Record {
	l.mu.Lock()
	defer l.mu.Unlock()
	return slices.Clone(l.records)
}

// Cursor is one follower's place in the log.
type Cursor struct {
	log  *Log
	next int
}

// From is a cursor whose first record is number next.
func (l *Log) From(next int) *Cursor { return &Cursor{log: l, next: next} }

// Next waits for the next record. It returns false when the log has ended and
// all was read, or ctx is done.
func (c *Cursor) Next(ctx context.Context) (journal.Record, bool) {
	for {
		c.log.mu.Lock()
		if c.next < len(c.log.records) {
			r := c.log.records[c.next]
			c.next++
			c.log.mu.Unlock()
			return r, true
		}
		closed, grown := c.log.closed, c.log.grown
		c.log.mu.Unlock()
		if closed {
			return journal.Record{}, false
		}
		select {
		case <-grown:
		case <-ctx.Done():
			return journal.Record{}, false
		}
	}
}

// nextWithin is Next, and gives up after a while: idle.
func (c *Cursor) nextWithin(ctx context.Context, d time.Duration) (r journal.Record, ok, idle bool) {
	wait, cancel := context.WithTimeout(ctx, d)
	defer cancel()
	r, ok = c.Next(wait)
	return r, ok, !ok && ctx.Err() == nil && wait.Err() != nil
}

// Rewind makes the record just read the next again: it was not dealt with.
func (c *Cursor) Rewind() { c.next-- }

package live

// The log and those who follow it.

import (
	"context"
	"errors"
	"slices"
	"strings"
	"sync/atomic"
	"testing"
	"testing/synctest"
	"time"

	"pgregory.net/rapid"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
)

// Whatever the order of appending, reading and stepping back, each cursor reads
// every record from its first, in order.
func TestEveryCursorReadsEverything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		log := newLog(nil)
		cursors := []*Cursor{log.From(0), log.From(0), log.From(3)}
		next := []int{0, 0, 3}
		for range rapid.IntRange(1, 100).Draw(t, "steps") {
			k := rapid.IntRange(0, 2).Draw(t, "cursor")
			switch act := rapid.SampledFrom([]string{"append", "read", "back"}).Draw(t, "act"); {
			case act == "append":
				log.append(journal.Record{})
			case act == "read" && next[k] < log.Len():
				r, ok := cursors[k].Next(t.Context())
				if !ok || r.Seq != next[k] {
					t.Fatalf("cursor %d read %d, %t; want %d", k, r.Seq, ok, next[k])
				}
				next[k]++
			case act == "back" && next[k] > 3:
				cursors[k].Rewind()
				next[k]--
			}
		}
		log.end()
		for k, c := range cursors {
			for ; next[k] < log.Len(); next[k]++ {
				if r, ok := c.Next(t.Context()); !ok || r.Seq != next[k] {
					t.Fatalf("cursor %d read %d, %t after the end; want %d", k, r.Seq, ok, next[k])
				}
			}
			if _, ok := c.Next(t.Context()); ok {
				t.Fatalf("cursor %d reads beyond the end", k)
			}
		}
	})
}

func TestNextWaitsAndLetsGo(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		log := newLog(nil)
		ctx, cancel := context.WithCancel(t.Context())
		read := 0
		go func() {
			for c := log.From(0); ; read++ {
				if _, ok := c.Next(ctx); !ok {
					read += 100
					return
				}
			}
		}()
		synctest.Wait()
		log.append(journal.Record{})
		synctest.Wait()
		if read != 1 {
			t.Errorf("%d records were read; want 1 and waiting", read)
		}
		cancel()
		synctest.Wait()
		if read != 101 {
			t.Errorf("%d: the reader did not let go", read)
		}
	})
}

// A follower that takes a minute over each record delays nobody and misses nothing.
func TestASlowFollowerDelaysNobody(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		b := begin(t)
		var seen []int
		var count atomic.Int64
		b.Follow("slow", 0, func(ctx context.Context, c *Cursor) error {
			for {
				r, ok := c.Next(ctx)
				if !ok {
					return nil
				}
				seen = append(seen, r.Seq)
				count.Add(1)
				time.Sleep(time.Minute)
			}
		})
		<-b.Ended()
		synctest.Wait()
		b.want(t, sequence.StepBegan, "", 0, minute, 2*minute)
		b.want(t, sequence.SessionDone, "", 4*minute)
		if behind := count.Load(); behind > 6 {
			t.Errorf("the follower read %d records in four minutes: it was not slow", behind)
		}
		b.Wait()
		if len(seen) != b.log.Len() || !slices.IsSorted(seen) {
			t.Errorf("the follower read %d of %d records", len(seen), b.log.Len())
		}
	})
}

// One panic and one error: each told as an event, and the follower goes on a
// second later where it stood.
func TestAFollowerThatFailsIsStartedAgain(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		b := begin(t)
		var seen []int
		var starts []time.Duration
		began := time.Now()
		b.Follow("shaky", 0, func(ctx context.Context, c *Cursor) error {
			starts = append(starts, time.Since(began))
			for {
				r, ok := c.Next(ctx)
				if !ok {
					return nil
				}
				if len(starts) == 1 && r.Seq == 3 {
					panic("a gull took it")
				}
				if len(starts) == 2 && r.Seq == 6 {
					c.Rewind()
					return errors.New("fog")
				}
				seen = append(seen, r.Seq)
			}
		})
		b.Wait()
		var told []string
		for _, r := range b.events() {
			if r.Event.Kind == sequence.FollowerFailed {
				told = append(told, r.Event.Text)
			}
		}
		if !slices.Equal(told, []string{"shaky: panic: a gull took it", "shaky: fog"}) {
			t.Errorf("told %q", told)
		}
		if len(starts) != 3 || starts[1] != restartAfter || starts[2] < 2*restartAfter {
			t.Errorf("started at %v; want %v after each failure", starts, restartAfter)
		}
		if len(seen) != b.log.Len()-1 || slices.Contains(seen, 3) || !slices.Contains(seen, 6) {
			t.Errorf("read %v of %d records; want all but 3, over which it panicked", seen, b.log.Len())
		}
		b.want(t, sequence.SessionDone, "", 4*minute)
	})
}

// A follower that can never work does not keep a finished session from ending.
func TestAFollowerThatNeverWorks(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		b := begin(t)
		b.Follow("sunk", 0, func(context.Context, *Cursor) error { return errors.New("no boat") })
		<-b.Ended()
		over := time.Now()
		b.Wait()
		if late := time.Since(over); late > restartsAfterEnd*restartAfter {
			t.Errorf("waited %v for it", late)
		}
		b.want(t, sequence.SessionDone, "", 4*minute)
	})
}

// The journal gets every record; a store that takes nothing is told of, and the
// session goes on to its end.
func TestKeep(t *testing.T) {
	for name, folder := range map[string]string{"kept": t.TempDir(), "nowhere": "/dev/null/none"} {
		t.Run(name, func(t *testing.T) {
			store := journal.Store{Folders: []string{folder}}
			synctest.Test(t, func(t *testing.T) {
				b := begin(t)
				b.keepIn(t, store)
				b.Wait()
				b.want(t, sequence.SessionDone, "", 4*minute)
				trouble := len(b.when(sequence.FollowerFailed, ""))
				got, err := store.Read("tern")
				if name == "nowhere" {
					text := b.events()[slices.IndexFunc(b.events(), func(r journal.Record) bool { return r.Event.Kind == sequence.FollowerFailed })].Event.Text
					if trouble != 1 || !strings.Contains(text, "memory alone") {
						t.Errorf("%d troubles, first %q", trouble, text)
					}
					return
				}
				if err != nil || got.Status != journal.Done || len(got.Records) != b.log.Len() || trouble != 0 {
					t.Errorf("%s, %d of %d records, %d troubles: %v", got.Status, len(got.Records), b.log.Len(), trouble, err)
				}
			})
		})
	}
}

// slowDisk syncs only what the test lets it.
type slowDisk struct {
	journal.System
	may chan struct{}
}

type slowFile struct {
	journal.File
	may chan struct{}
}

func (d slowDisk) Create(folder, name string) (journal.File, error) {
	f, err := d.System.Create(folder, name)
	return slowFile{f, d.may}, err
}

func (d slowDisk) Open(folder, name string) (journal.File, error) {
	f, err := d.System.Open(folder, name)
	return slowFile{f, d.may}, err
}

func (f slowFile) Sync() error {
	<-f.may
	return f.File.Sync()
}

// Kept comes back when the last record has been synced, not when it was written; and
// in time where that never happens.
func TestKeptWaitsForTheDisk(t *testing.T) {
	folder := t.TempDir()
	synctest.Test(t, func(t *testing.T) {
		b := begin(t)
		disk := slowDisk{may: make(chan struct{}, 1000)}
		b.keepIn(t, journal.Store{Folders: []string{folder}, Disk: disk})
		if err := b.Ask(sequence.Report{Kind: sequence.SuspendAnnounced}); err != nil {
			t.Fatal(err)
		}
		n := b.log.Len()
		kept := make(chan bool, 1)
		go func() { kept <- b.WaitUntilSaved(t.Context()) }()
		for i := range n {
			synctest.Wait()
			select {
			case <-kept:
				t.Fatalf("kept after %d of %d records", i, n)
			default:
			}
			disk.may <- struct{}{}
		}
		if synctest.Wait(); !<-kept {
			t.Error("not kept")
		}
		b.Do(sequence.AddNote{Text: "tide is in"})
		synctest.Wait()
		ctx, cancel := context.WithTimeout(t.Context(), time.Second)
		defer cancel()
		if began := time.Now(); b.WaitUntilSaved(ctx) || time.Since(began) != time.Second {
			t.Errorf("not synced, and kept after %v", time.Since(began))
		}
		close(disk.may)
		b.Close()
	})
}

// fullDisk takes nothing while it is full.
type fullDisk struct {
	journal.System
	full *atomic.Bool
}

var errFull = errors.New("no space left")

func (d fullDisk) Create(folder, name string) (journal.File, error) {
	if d.full.Load() {
		return nil, errFull
	}
	f, err := d.System.Create(folder, name)
	return fullFile{f, d.full}, err
}

func (d fullDisk) Open(folder, name string) (journal.File, error) {
	f, err := d.System.Open(folder, name)
	return fullFile{f, d.full}, err
}

type fullFile struct {
	journal.File
	full *atomic.Bool
}

func (f fullFile) Write(p []byte) (int, error) {
	if f.full.Load() {
		return 0, errFull
	}
	return f.File.Write(p)
}

// A disk that is full for a minute: told once when nothing is kept any more, and once
// when all is kept again; in between the reason can be had at any time.
func TestKeptAgain(t *testing.T) {
	folder := t.TempDir()
	synctest.Test(t, func(t *testing.T) {
		b := begin(t)
		disk := fullDisk{full: new(atomic.Bool)}
		b.keepIn(t, journal.Store{Folders: []string{folder}, Disk: disk})
		for _, full := range []bool{false, true, false} {
			disk.full.Store(full)
			time.Sleep(time.Minute)
			synctest.Wait()
			if why := b.UnsavedBecause(); full != strings.Contains(why, "memory alone") || full != (why != "") {
				t.Errorf("the disk is full: %v; it is said %q", full, why)
			}
		}
		b.Wait()
		var told []string
		for _, r := range b.events() {
			if r.Event.Kind == sequence.FollowerFailed {
				told = append(told, r.Event.Text)
			}
		}
		if len(told) != 2 || !strings.Contains(told[0], "memory alone: no space left") || !strings.Contains(told[1], "kept again, in "+folder) {
			t.Errorf("told %q", told)
		}
		got, err := journal.Store{Folders: []string{folder}}.Read("tern")
		if err != nil || got.Status != journal.Done || len(got.Records) != b.log.Len() {
			t.Errorf("%s, %d of %d records: %v", got.Status, len(got.Records), b.log.Len(), err)
		}
	})
}

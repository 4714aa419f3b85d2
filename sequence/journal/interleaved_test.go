//go:build unix

package journal

// Drawn orders of append, fsync, what others do to the files, kill and resume, against a model:
// what can be read back is what the files hold, compared line by line with what was given.

import (
	"bytes"
	"errors"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
)

// interleaving is one drawn order on its way.
type interleaving struct {
	t      *testing.T
	seed   uint64
	rnd    *rand.Rand
	s      Store
	w      *Writer // nil while nobody has the session
	given  []byte  // every line so far, as the process that lives has them
	acked  int     // records that Append has acknowledged
	unseen bool    // somebody touched a file since the last append or check
	orphan bool    // and nothing was written since, for the disk refused
	broken bool    // the disk refuses
}

func TestInterleaved(t *testing.T) {
	cases := 150
	if os.Getenv("WETSIDE_FULL") != "" {
		cases = 1000
	}
	names := slices.Sorted(func(yield func(string) bool) {
		for name := range tampering {
			if !yield(name) {
				return
			}
		}
	})
	done := map[string]int{}
	for seed := range uint64(cases) {
		c := &interleaving{t: t, seed: seed, rnd: rand.New(rand.NewPCG(seed, 22)), s: newStore(t, 2)}
		c.s.Disk = quickDisk{newFaulty(t, func(op string, _ int, folder string) error {
			if c.broken && (op != "write" || folder == c.s.Folders[0]) || c.rnd.IntN(40) == 0 {
				return syscall.EIO
			}
			return nil
		})}
		for range 12 + c.rnd.IntN(30) {
			done[c.step(names)]++
		}
		if t.Failed() {
			t.Fatalf("seed %d", seed)
		}
	}
	t.Logf("%d orders: %v", cases, done)
}

// step does one thing.
func (c *interleaving) step(names []string) string {
	if c.w == nil {
		c.resume()
		return "resume"
	}
	switch n := c.rnd.IntN(20); {
	case n < 10:
		c.append()
		return "append"
	case n < 12:
		c.noticed(c.w.Check())
		return "check"
	case n < 15:
		return c.touch(names[c.rnd.IntN(len(names))])
	case n < 16:
		c.broken = !c.broken
		return "disk"
	case n < 17 && !c.unseen && !c.orphan: // what others put in a file's place has no lock yet
		if w, _, err := c.s.TakeUp(testID); err == nil {
			w.Close()
			c.t.Errorf("taken up beside its writer")
		}
		return "second"
	}
	c.kill()
	return "kill"
}

func (c *interleaving) append() {
	n := c.w.Next()
	err := c.w.Append(record(n))
	c.given = bytes.Clone(c.w.lines)
	c.noticed(err)
}

// noticed is after an append or a check: what is acknowledged is in the files.
func (c *interleaving) noticed(err error) {
	trouble := (*WriteError)(nil)
	if err != nil && !errors.As(err, &trouble) {
		c.t.Errorf("%v", err)
	}
	if c.w.file != nil {
		c.acked, c.orphan = c.w.Next(), false
	} else if c.unseen && trouble != nil && !trouble.SavedElsewhere() {
		c.orphan = true
		c.acked = min(c.acked, c.inFiles()) // what others took away is in memory alone, which is told
	}
	c.unseen = false
	if have := c.inFiles(); have < c.acked {
		c.t.Errorf("%d records acknowledged, %d in the files; %v", c.acked, have, err)
	}
}

// touch does something to the file in use behind the writer's back.
func (c *interleaving) touch(name string) string {
	if _, err := os.Lstat(c.w.Path()); err != nil || c.w.file == nil {
		return "nothing to touch"
	}
	os.RemoveAll(filepath.Dir(c.w.Path()) + "-away")
	if err := tampering[name](c.w.Path()); err != nil {
		c.t.Errorf("%s: %v", name, err)
	}
	c.unseen = true
	return name
}

// kill leaves everything as it is; the system takes the locks back.
func (c *interleaving) kill() {
	if c.w.file != nil {
		c.w.file.Close()
	}
	if c.w.reserved != nil {
		c.w.reserved.Close()
	}
	c.w.unlock()
	c.w = nil
}

// resume takes the session up, or begins it, and wants what the model says.
func (c *interleaving) resume() {
	want := c.inFiles()
	if !c.unseen && want < c.acked {
		c.t.Errorf("%d records acknowledged, %d in the files", c.acked, want)
	}
	c.unseen, c.orphan, c.acked = false, false, 0
	w, got, err := c.s.TakeUp(testID)
	switch {
	case want == 0:
		if err == nil {
			c.t.Fatalf("took %d records up; the model says none", len(got.Records))
		}
		for _, folder := range c.s.Folders { // a session of its own, elsewhere in time
			os.RemoveAll(folder)
		}
		if c.w, err = c.s.Create(testID, record(0)); err != nil && !errors.As(err, new(*WriteError)) {
			c.t.Fatal(err)
		}
		c.given = bytes.Clone(c.w.lines)
		c.noticed(err)
		return
	case err != nil || len(got.Records) != want:
		c.t.Fatalf("took %d records up: %v; the model says %d", len(got.Records), err, want)
	}
	samePrefix(c.t, got.Records)
	c.w, c.acked = w, want
	c.given = bytes.Clone(w.lines)
}

// inFiles is the model: the longest run of whole lines from the first on that any of the
// session's files has in common with what was given.
func (c *interleaving) inFiles() (most int) {
	for _, folder := range c.s.Folders {
		filepath.WalkDir(folder, func(path string, e fs.DirEntry, err error) error {
			if err != nil || !e.Type().IsRegular() || !strings.HasSuffix(path, suffix) {
				return nil
			}
			data, _ := os.ReadFile(path)
			n := 0
			for n < min(len(data), len(c.given)) && data[n] == c.given[n] {
				n++
			}
			most = max(most, bytes.Count(data[:n], []byte{'\n'}))
			return nil
		})
	}
	return most
}

// quickDisk does not wait for the disk.
type quickDisk struct{ *faulty }

func (d quickDisk) Create(folder, name string) (File, error) {
	f, err := d.faulty.Create(folder, name)
	if err != nil {
		return nil, err
	}
	f.(*faultyFile).f = unsyncedFile{f.(*faultyFile).f}
	return f, nil
}

func (d quickDisk) Open(folder, name string) (File, error) {
	f, err := d.faulty.Open(folder, name)
	if err != nil {
		return nil, err
	}
	f.(*faultyFile).f = unsyncedFile{f.(*faultyFile).f}
	return f, nil
}

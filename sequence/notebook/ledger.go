package notebook

// The ledger of baths kept: which bottles stand open, when they were mixed, what
// they have processed. Plain text, one JSON object a line, only ever added to, one
// file a laptop: folders in git or synced merge without a conflict, and what was
// written twice counts once.

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
)

// Deed is what was done with a bottle.
type Deed string

// The deeds.
const (
	Mixed      Deed = "mixed"
	Used       Deed = "used"        // film went through it
	Cleared    Deed = "cleared"     // a clearing time was measured in it
	Stocked    Deed = "stocked"     // a bottle of one part was put on the shelf
	Drawn      Deed = "drawn"       // a bath was mixed from it
	Serves     Deed = "serves"      // it takes another bath's place
	ThrownAway Deed = "thrown-away" // also: used up, handed in
)

// Entry is one line of the ledger.
type Entry struct {
	V        int                  `json:"v"` // ledgerVersion of whoever wrote it
	At       time.Time            `json:"at"`
	Did      Deed                 `json:"did"`
	Bottle   string               `json:"bottle"`
	Bath     *sequence.Bath       `json:"bath,omitzero"`          // mixed: what, how much, how long it keeps
	Serves   string               `json:"as,omitzero"`            // serves: the id of the bath whose place it takes
	Session  string               `json:"session,omitzero"`       // used: by which session; "" by hand
	Area     float64              `json:"square_inches,omitzero"` // used: of film, one side
	Clearing sequence.Elapsed     `json:"clearing_s,omitzero"`    // cleared: how long it took
	Part     string               `json:"part,omitzero"`          // stocked: of what
	Volume   sequence.Millilitres `json:"ml,omitzero"`            // stocked, drawn: how much
}

const (
	ledgerVersion = 1
	ledgerSuffix  = ".baths.jsonl"
	mostLedger    = 16 << 20 // bytes of one file: a longer one is not read
	mostBottles   = 1000     // of one bath on one day
)

// Ledger is where the entries are kept.
type Ledger struct {
	Folder string       // of all files
	Laptop string       // whose file is written
	Disk   journal.Disk // for writing; nil means journal.System
}

// Read reads all files of the ledger. Lines that cannot be read are counted.
func (l Ledger) Read() (Baths, error) {
	names, err := os.ReadDir(l.Folder)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return Baths{}, fmt.Errorf("baths: %w", err)
	}
	var entries []Entry
	bad := 0
	for _, e := range names {
		if !strings.HasSuffix(e.Name(), ledgerSuffix) || !e.Type().IsRegular() {
			continue
		}
		path := filepath.Join(l.Folder, e.Name())
		if info, err := e.Info(); err != nil || info.Size() > mostLedger {
			bad++
			continue
		}
		text, err := os.ReadFile(path)
		if err != nil {
			bad++
			continue
		}
		for line := range bytes.Lines(text) {
			line = bytes.TrimSpace(line)
			if len(line) == 0 {
				continue
			}
			var e Entry
			if sequence.Unmarshal(line, &e) != nil || e.V < 1 || e.Bottle == "" {
				bad++
				continue
			}
			entries = append(entries, e)
		}
	}
	b := gather(entries)
	b.Bad += bad
	return b, nil
}

// Write adds entries, on disk when it returns. They were checked against what Read
// gave by whoever made them.
func (l Ledger) Write(entries ...Entry) error {
	if len(entries) == 0 {
		return nil
	}
	hold, err := journal.Hold(l.Folder)
	if err != nil {
		return fmt.Errorf("baths: %w", err)
	}
	defer hold.Release()
	return l.put(entries...)
}

// Open writes that a bottle was mixed, and what that took from the stock, under a name that no other has: its own, or one
// made of the bath and the day where name is "". It returns the name.
func (l Ledger) Open(b sequence.Bath, name string, at time.Time) (string, error) {
	return l.newBottle(b.ID, name, at, func(name string, known Baths) []Entry {
		draws := sequence.DrawsOf([]sequence.Bath{b}, known.InHand())
		return append(Drawing(draws, at, ""), Entry{At: at, Did: Mixed, Bottle: name, Bath: &b})
	})
}

// Put writes that a bottle of stock stands on the shelf, under a name that no other has:
// its own, or one made of the part and the day where name is "". It returns the name.
func (l Ledger) Put(part string, volume sequence.Millilitres, name string, at time.Time) (string, error) {
	return l.newBottle(part, name, at, func(name string, _ Baths) []Entry {
		return []Entry{{At: at, Did: Stocked, Bottle: name, Part: part, Volume: volume}}
	})
}

// newBottle writes what comes of a bottle under a name that no other has: its own, or one
// made of what is in it and the day where name is "". Nobody else writes meanwhile.
func (l Ledger) newBottle(of, name string, at time.Time, entries func(name string, known Baths) []Entry) (string, error) {
	hold, err := journal.Hold(l.Folder)
	if err != nil {
		return "", fmt.Errorf("baths: %w", err)
	}
	defer hold.Release()
	known, err := l.Read()
	if err != nil {
		return "", err
	}
	if name == "" {
		name = known.NewName(of, at.Local())
	}
	if known.bottle(name) != nil || known.stock(name) != nil {
		return "", fmt.Errorf("bottle %q: there is one already; expected a name of its own", name)
	}
	return name, l.put(entries(name, known)...)
}

// put adds entries to a ledger whose folder is held.
func (l Ledger) put(entries ...Entry) error {
	for _, e := range entries {
		e.V, e.At = ledgerVersion, e.At.UTC()
		line, err := sequence.Marshal(e)
		if err == nil {
			err = appendLine(disk(journal.Store{Disk: l.Disk}), l.Folder, slug(l.Laptop)+ledgerSuffix, line)
		}
		if err != nil {
			return fmt.Errorf("baths: %w", err)
		}
	}
	return nil
}

// slug keeps of a name what any file system takes.
func slug(name string) string {
	kept := strings.Map(func(c rune) rune {
		switch {
		case c >= 'a' && c <= 'z', c >= '0' && c <= '9', c == '-':
			return c
		case c >= 'A' && c <= 'Z':
			return c + 'a' - 'A'
		}
		return '-'
	}, name)
	const longest = 40
	kept = strings.Trim(kept, "-")
	return cmp.Or(kept[:min(len(kept), longest)], "laptop")
}

// gather makes bottles of entries, in the order of time.
func gather(entries []Entry) Baths {
	slices.SortStableFunc(entries, func(a, b Entry) int {
		return cmp.Or(a.At.Compare(b.At), cmp.Compare(rank(a), rank(b)))
	})
	b := Baths{}
	written := map[string]bool{}
	for _, e := range entries {
		switch e.Did {
		case Mixed:
			b.mix(e)
		case Stocked:
			b.opened(e)
		}
	}
	for _, e := range entries {
		if e.Did == Mixed || e.Did == Stocked || written[e.key()] {
			continue
		}
		written[e.key()] = true
		b.take(e)
	}
	return b
}

// rank orders entries of one moment: a bottle is mixed before it is used.
func rank(e Entry) int {
	return slices.Index([]Deed{Mixed, Stocked, Serves, Cleared, Used, Drawn, ThrownAway}, e.Did)
}

// key is the same for entries that mean one thing: a session books a bottle once,
// whoever books it; a line that a merge doubled counts once.
func (e Entry) key() string {
	if (e.Did == Used || e.Did == Drawn) && e.Session != "" {
		return "session " + e.Session + " " + e.Bottle
	}
	return fmt.Sprint(e.At.UnixNano(), e.Did, e.Bottle, e.Serves, e.Area, e.Clearing, e.Volume)
}

// Package bottles is mixed baths and stock, as the lines of a ledger make them: how old each
// bottle is, how far used, which one serves a bath.
//
// For commands and screens. Start with Ledger and Inventory. Lines are only ever added, one file
// for each laptop; none is changed.
package bottles

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
	"sort"
	"strings"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/planning"
)

// Action is what was done with a bottle.
type Action string

// The deeds.
const (
	Mixed       Action = "mixed"
	Used        Action = "used"        // film went through it
	Cleared     Action = "cleared"     // a clearing time was measured in it
	Stocked     Action = "stocked"     // a bottle of one part was put on the shelf
	Drawn       Action = "drawn"       // a bath was mixed from it
	Serves      Action = "serves"      // it takes another bath's place
	Silver      Action = "silver-test" // film fixed in it was tested for silver that is left
	Replenished Action = "replenished" // replenisher was added, as much of the bath poured off
	Retired     Action = "thrown-away" // also: used up, handed in
)

// Entry is one line of the ledger.
type Entry struct {
	V        int                  `json:"v"` // ledgerVersion of whoever wrote it
	At       time.Time            `json:"at"`
	Action   Action               `json:"did"`
	Bottle   string               `json:"bottle"`
	Bath     *sequence.Bath       `json:"bath,omitzero"`          // mixed: what, how much, how long it keeps
	Serves   string               `json:"as,omitzero"`            // serves: the id of the bath whose place it takes
	Session  string               `json:"session,omitzero"`       // used: by which session; "" by hand
	Area     float64              `json:"square_inches,omitzero"` // used: of film, one side
	Behind   bool                 `json:"behind,omitzero"`        // used: another fixer had fixed it before, on which it counts
	Clearing sequence.Elapsed     `json:"clearing_s,omitzero"`    // cleared: how long it took
	Test     *sequence.Celsius    `json:"test_c,omitzero"`        // cleared: at which temperature; nil for 20 °C and more
	Passed   bool                 `json:"passed,omitzero"`        // silver-test: none was left
	Part     string               `json:"part,omitzero"`          // stocked: of what
	Volume   sequence.Millilitres `json:"ml,omitzero"`            // stocked, drawn, replenished: how much
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
func (l Ledger) Read() (Inventory, error) {
	names, err := os.ReadDir(l.Folder)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return Inventory{}, fmt.Errorf("baths: %w", err)
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
	b := inventoryOf(entries)
	b.Unreadable += bad
	return b, nil
}

// Write adds entries, on disk when it returns. They were checked against what Read
// gave by whoever made them.
func (l Ledger) Write(entries ...Entry) error {
	if len(entries) == 0 {
		return nil
	}
	hold, err := journal.LockFolder(l.Folder)
	if err != nil {
		return fmt.Errorf("baths: %w", err)
	}
	defer hold.Release()
	return l.append(entries...)
}

// OpenBottle writes that a bottle was mixed, and what that took from the stock, under a name that no other has: its own, or one
// made of the bath and the day where name is "". It returns the name.
func (l Ledger) OpenBottle(b sequence.Bath, name string, at time.Time) (string, error) {
	return l.newBottle(b.ID, name, at, func(name string, known Inventory) []Entry {
		draws := planning.WithdrawalsFor([]sequence.Bath{b}, known.StockOpen())
		return append(WithdrawalEntries(draws, at, ""), Entry{At: at, Action: Mixed, Bottle: name, Bath: &b})
	})
}

// OpenStock writes that a bottle of stock stands on the shelf, under a name that no other has:
// its own, or one made of the part and the day where name is "". It returns the name.
func (l Ledger) OpenStock(part string, volume sequence.Millilitres, name string, at time.Time) (string, error) {
	return l.newBottle(part, name, at, func(name string, _ Inventory) []Entry {
		return []Entry{{At: at, Action: Stocked, Bottle: name, Part: part, Volume: volume}}
	})
}

// newBottle writes what comes of a bottle under a name that no other has: its own, or one
// made of what is in it and the day where name is "". Nobody else writes meanwhile.
func (l Ledger) newBottle(of, name string, at time.Time, entries func(name string, known Inventory) []Entry) (string, error) {
	hold, err := journal.LockFolder(l.Folder)
	if err != nil {
		return "", fmt.Errorf("baths: %w", err)
	}
	defer hold.Release()
	known, err := l.Read()
	if err != nil {
		return "", err
	}
	name = cmp.Or(name, known.NewName(of, at.Local()))
	if known.Has(name) {
		return "", fmt.Errorf("bottle %q: there is one already; expected a name of its own", name)
	}
	return name, l.append(entries(name, known)...)
}

// append adds entries to a ledger whose folder is held.
func (l Ledger) append(entries ...Entry) error {
	for _, e := range entries {
		e.V, e.At = ledgerVersion, e.At.UTC()
		line, err := sequence.Marshal(e)
		if err == nil {
			err = journal.AppendLine(l.Disk, l.Folder, journal.FileName(l.Laptop)+ledgerSuffix, line)
		}
		if err != nil {
			return fmt.Errorf("baths: %w", err)
		}
	}
	return nil
}

// inventoryOf makes bottles of entries, in the order of time.
func inventoryOf(entries []Entry) Inventory {
	sort.SliceStable(entries, func(i, j int) bool {
		a, b := &entries[i], &entries[j]
		return cmp.Or(a.At.Compare(b.At), cmp.Compare(rank(*a), rank(*b))) < 0
	})
	b := Inventory{}
	written := map[string]bool{}
	for _, e := range entries {
		switch e.Action {
		case Mixed:
			b.mix(e)
		case Stocked:
			b.openStock(e)
		}
	}
	for _, e := range entries {
		if e.Action == Mixed || e.Action == Stocked || written[e.key()] {
			continue
		}
		written[e.key()] = true
		b.take(e)
	}
	return b
}

// rank orders entries of one moment: a bottle is mixed before it is used.
func rank(e Entry) int {
	return slices.Index([]Action{Mixed, Stocked, Serves, Cleared, Used, Drawn, Replenished, Silver, Retired}, e.Action)
}

// key is the same for entries that mean one thing: a session books a bottle once,
// whoever books it; a line that a merge doubled counts once.
func (e Entry) key() string {
	if (e.Action == Used || e.Action == Drawn) && e.Session != "" {
		return "session " + e.Session + " " + e.Bottle
	}
	return fmt.Sprint(e.At.UnixNano(), e.Action, e.Bottle, e.Serves, e.Area, e.Clearing, e.Volume, e.Passed)
}

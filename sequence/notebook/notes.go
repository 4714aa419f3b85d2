package notebook

// What is written about a session after it: notes, and how the emulsion came
// through. Kept beside the journal, whose chain stays as it was closed, one JSON
// object a line, only ever added to. Each laptop has a file of its own, ID.MARK.notes.jsonl,
// so that folders kept in git or synced merge without a conflict.

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"sort"
	"strings"
	"time"
	"unicode/utf8"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
)

// Note is one thing written afterwards: a text, a state of the emulsion, how the
// negatives look, or several of them.
type Note struct {
	V           int          `json:"v"` // notesVersion of whoever wrote it
	Written     time.Time    `json:"written"`
	Text        string       `json:"note,omitzero"`
	Emulsion    Emulsion     `json:"emulsion,omitzero"`
	Appearances []Appearance `json:"looks,omitzero"`
}

const notesVersion = 1

// longestNote is the longest text of a note, in characters.
const longestNote = 4000

// Notes is all that was written about a session after it.
type Notes struct {
	List []Note // oldest first
	Bad  int    // lines that cannot be read
}

// AddNote keeps a note beside a session, on disk when it returns. A session that is
// not there is fs.ErrNotExist; a damaged one can have notes.
func AddNote(store journal.Store, id string, n Note) error {
	if err := n.Check(); err != nil {
		return err
	}
	s, err := store.Read(id)
	if s.Path == "" && err != nil {
		return err
	}
	n.V, n.Text = notesVersion, strings.ToValidUTF8(n.Text, "\uFFFD")
	if err := journal.AddLine(store.Disk, filepath.Dir(s.Path), notesFile(store, id), n); err != nil {
		return fmt.Errorf("note on session %q: %w", id, err)
	}
	return nil
}

// notesFile is this laptop's file of notes on a session.
func notesFile(store journal.Store, id string) string {
	if store.Laptop != "" {
		id += "." + journal.FileName(store.Laptop)
	}
	return id + notesSuffix
}

// Check says what is wrong with a note before it is kept.
func (n Note) Check() error {
	switch count := utf8.RuneCountInString(n.Text); {
	case strings.TrimSpace(n.Text) == "" && n.Emulsion == "" && len(n.Appearances) == 0:
		return errors.New("note: nothing in it; expected a text")
	case count > longestNote:
		return fmt.Errorf("note: %d characters; expected %d at most", count, longestNote)
	case n.Emulsion != "" && !slices.Contains(Emulsions, n.Emulsion):
		return fmt.Errorf("emulsion: %q; expected sound, edges or frayed", n.Emulsion)
	}
	for _, l := range n.Appearances {
		if !slices.Contains(Appearances, l) {
			return fmt.Errorf("negatives: %q; expected good, thin, dense, fogged, uneven or scratched", l)
		}
	}
	return nil
}

// notesFiles finds the files of notes on a session.
func notesFiles(store journal.Store, id string) (paths []string) {
	for _, folder := range store.Folders {
		for _, name := range filesOf(folder, id) {
			if strings.HasSuffix(name, notesSuffix) {
				paths = append(paths, filepath.Join(folder, name))
			}
		}
	}
	return paths
}

// readNotes reads the files of notes that stand beside a session's journal, or in
// private folders: each note in its time, whichever file it is in.
func readNotes(s journal.Recording, paths []string) Notes {
	var l Notes
	home := filepath.Dir(s.Path)
	for _, path := range paths {
		if folder := filepath.Dir(path); folder != home && !private(folder) {
			continue
		}
		text, err := os.ReadFile(path)
		if err != nil {
			l.Bad++
			continue
		}
		l.read(text)
	}
	sort.SliceStable(l.List, func(i, j int) bool { return l.List[i].Written.UnixNano() < l.List[j].Written.UnixNano() })
	return l
}

// read takes in a file's lines. Of a newer version what is understood is kept.
func (l *Notes) read(text []byte) {
	for line := range bytes.Lines(text) {
		line = bytes.TrimSpace(line)
		if len(line) == 0 {
			continue
		}
		var n Note
		if err := sequence.Unmarshal(line, &n); err != nil || n.V < 1 {
			l.Bad++
			continue
		}
		if !slices.Contains(Emulsions, n.Emulsion) {
			n.Emulsion = ""
		}
		n.Appearances = slices.DeleteFunc(n.Appearances, func(k Appearance) bool { return !slices.Contains(Appearances, k) })
		l.List = append(l.List, n)
	}
}

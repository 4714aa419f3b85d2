package notebook

// What is written about a session after it: notes, and how the emulsion came
// through. Kept beside the journal, whose chain stays as it was closed, one JSON
// object a line, only ever added to. Each laptop has a file of its own, ID.MARK.notes.jsonl,
// so that folders kept in git or synced merge without a conflict.

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
	"unicode/utf8"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
)

// Emulsion is how the gelatin came through a session.
type Emulsion string

// The states of an emulsion. With the wet time beside them they tell what a
// film stands.
const (
	Sound  Emulsion = "sound"
	Edges  Emulsion = "edges"  // frilled or lifted at the edges
	Frayed Emulsion = "frayed" // scratched or torn inside the picture
)

// Emulsions lists them, the kindest first.
var Emulsions = []Emulsion{Sound, Edges, Frayed}

// Note is one thing written afterwards: a text, a state of the emulsion, how the
// negatives look, or several of them.
type Note struct {
	V        int       `json:"v"` // laterVersion of whoever wrote it
	Written  time.Time `json:"written"`
	Text     string    `json:"note,omitzero"`
	Emulsion Emulsion  `json:"emulsion,omitzero"`
	Looks    []Look    `json:"looks,omitzero"`
}

const laterVersion = 1

// longestNote is the longest text of a note, in characters.
const longestNote = 4000

// Later is all that was written about a session after it.
type Later struct {
	Notes []Note // oldest first
	Bad   int    // lines that cannot be read
}

// Emulsion is the state last told; "" where nobody did.
func (l Later) Emulsion() Emulsion {
	for _, n := range slices.Backward(l.Notes) {
		if n.Emulsion != "" {
			return n.Emulsion
		}
	}
	return ""
}

// Add keeps a note beside a session, on disk when it returns. A session that is
// not there is fs.ErrNotExist; a damaged one can have notes.
func Add(store journal.Store, id string, n Note) error {
	if err := n.Check(); err != nil {
		return err
	}
	s, err := store.Read(id)
	if s.Path == "" && err != nil {
		return err
	}
	n.V, n.Text = laterVersion, strings.ToValidUTF8(n.Text, "\uFFFD")
	line, err := sequence.Marshal(n)
	if err != nil {
		return fmt.Errorf("note on session %q: %w", id, err)
	}
	folder := filepath.Dir(s.Path)
	hold, err := journal.Hold(folder)
	if err == nil {
		defer hold.Release()
		err = appendLine(disk(store), folder, laterName(store, id), line)
	}
	if err != nil {
		return fmt.Errorf("note on session %q: %w", id, err)
	}
	return nil
}

// laterName is this laptop's file of notes on a session.
func laterName(store journal.Store, id string) string {
	if store.Laptop != "" {
		id += "." + slug(store.Laptop)
	}
	return id + laterSuffix
}

// Check says what is wrong with a note before it is kept.
func (n Note) Check() error {
	switch count := utf8.RuneCountInString(n.Text); {
	case strings.TrimSpace(n.Text) == "" && n.Emulsion == "" && len(n.Looks) == 0:
		return errors.New("note: nothing in it; expected a text")
	case count > longestNote:
		return fmt.Errorf("note: %d characters; expected %d at most", count, longestNote)
	case n.Emulsion != "" && !slices.Contains(Emulsions, n.Emulsion):
		return fmt.Errorf("emulsion: %q; expected sound, edges or frayed", n.Emulsion)
	}
	for _, l := range n.Looks {
		if !slices.Contains(Looks, l) {
			return fmt.Errorf("negatives: %q; expected good, thin, dense, fogged, uneven or scratched", l)
		}
	}
	return nil
}

// appendLine is one write and one fsync, and one more of the folder where the
// file is new. A line that an earlier write left unfinished is closed off first.
// The folder is held.
func appendLine(d journal.Disk, folder, name string, line []byte) error {
	text, err := os.ReadFile(filepath.Join(folder, name))
	isNew := errors.Is(err, fs.ErrNotExist)
	if err != nil && !isNew {
		return err
	}
	line = append(line, '\n')
	if len(text) > 0 && text[len(text)-1] != '\n' {
		line = append([]byte{'\n'}, line...)
	}
	open := d.Open
	if isNew {
		open = d.Create
	}
	f, err := open(folder, name)
	if err != nil {
		return err
	}
	err = write(f, line)
	if closed := f.Close(); err == nil {
		err = closed
	}
	if err == nil && isNew {
		err = d.SyncFolder(folder)
	}
	return err
}

func write(f journal.File, line []byte) error {
	n, err := f.Write(line)
	if err == nil && n < len(line) {
		err = fmt.Errorf("wrote %d of %d bytes", n, len(line))
	}
	if err != nil {
		return err
	}
	return f.Sync()
}

// laterOf finds the files of notes on a session.
func laterOf(store journal.Store, id string) (paths []string) {
	for _, folder := range store.Folders {
		for _, name := range filesOf(folder, id) {
			if strings.HasSuffix(name, laterSuffix) {
				paths = append(paths, filepath.Join(folder, name))
			}
		}
	}
	return paths
}

// readLater reads the files of notes that stand beside a session's journal, or in
// private folders: each note in its time, whichever file it is in.
func readLater(s journal.Session, paths []string) Later {
	var l Later
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
	slices.SortStableFunc(l.Notes, func(a, b Note) int { return cmp.Compare(a.Written.UnixNano(), b.Written.UnixNano()) })
	return l
}

// read takes in a file's lines. Of a newer version what is understood is kept.
func (l *Later) read(text []byte) {
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
		n.Looks = slices.DeleteFunc(n.Looks, func(k Look) bool { return !slices.Contains(Looks, k) })
		l.Notes = append(l.Notes, n)
	}
}

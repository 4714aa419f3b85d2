package notebook

// Which files belong to a session, and how they look from outside. A folder's
// files are told apart by name alone; whether a folder can be trusted is the
// journal's to judge, which reads them.

import (
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"strings"

	"example.org/wetside/sequence/journal"
)

const notesSuffix = ".notes.jsonl"

// sessionFiles of one session in the folders.
type sessionFiles struct {
	segments    int      // of its journal
	onlySegment string   // path of the only one, in a private folder; "" where the store must choose
	notes       []string // paths of what was written about it later
	fingerprint string   // of each file name, size and time of change: another print, other contents
}

// findSessions finds the sessions that have files in the store.
func findSessions(store journal.Store) map[string]sessionFiles {
	found := map[string]sessionFiles{}
	for n, folder := range store.Folders {
		entries, err := os.ReadDir(folder)
		if err != nil {
			continue
		}
		where := ""
		if n > 0 {
			where = folder + string(filepath.Separator)
		}
		ours := private(folder)
		for _, e := range entries {
			id, segment, ok := sessionOf(e.Name())
			if !ok || !e.Type().IsRegular() {
				continue
			}
			info, err := e.Info()
			if err != nil {
				continue
			}
			t := found[id]
			if segment == 0 {
				t.notes = append(t.notes, filepath.Join(folder, e.Name()))
			} else {
				t.segments++
				t.onlySegment = ""
				if t.segments == 1 && ours && segment == 1 {
					t.onlySegment = filepath.Join(folder, e.Name())
				}
			}
			t.fingerprint += fmt.Sprintf("%s%s %d %d;", where, e.Name(), info.Size(), info.ModTime().UnixNano())
			found[id] = t
		}
	}
	maps.DeleteFunc(found, func(_ string, t sessionFiles) bool { return t.segments == 0 })
	return found
}

// sessionOf is the id of the session that a file belongs to: ID.jsonl and
// ID.N.jsonl are its journal, ID.MARK.notes.jsonl what was written later on the
// laptop of that mark (ID.notes.jsonl, before laptops had files of their own).
func sessionOf(name string) (id string, segment int, ok bool) {
	if stem, ok := strings.CutSuffix(name, notesSuffix); ok {
		id, mark, marked := strings.Cut(stem, ".")
		return id, 0, journal.IsID(id) && (!marked || journal.IsID(mark))
	}
	return journal.SegmentOf(name)
}

// private reports whether a folder is not laid out where everybody may write:
// what stands there beside journals is not believed.
func private(folder string) bool {
	above, err := os.Stat(filepath.Dir(folder))
	return err == nil && above.Mode()&fs.ModeSticky == 0
}

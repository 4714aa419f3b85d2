package notebook

// The index: what the list needs of each session, so that two thousand journals
// need not be read to be listed. It is never the truth. A session whose files
// have another name, size or time of change than it says is read anew; an index
// that is missing, damaged or of another version is made anew as a whole. It is
// not synced to disk: after a power cut its check fails, and it is made anew.
//
// One file in the store's first folder: a line with version and check, then one
// JSON array. The check is the CRC32C (Castagnoli, RFC 3720 appendix B.4) of
// what follows that line.

import (
	"bytes"
	"fmt"
	"hash/crc32"
	"os"
	"path/filepath"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
)

const (
	indexName    = "notebook.index"
	indexWorking = "notebook.index.*.new"
	indexHead    = "wetside notebook index 4 %08x\n" // another version: another layout of Summary
)

// leftover is the age at which a working file was left by a process that died.
const leftover = time.Hour

// indexEntry is one session in the index.
type indexEntry struct {
	Print   string // of its files, as look gives it
	Summary Summary

	unreadable bool // not for the index
}

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

// indexFolder is where the index is kept; "" for nowhere.
func indexFolder(store journal.Store) string {
	if len(store.Folders) == 0 || !private(store.Folders[0]) {
		return ""
	}
	return store.Folders[0]
}

// readIndex gives what the index knows by id; nothing where it cannot be believed.
func readIndex(store journal.Store) map[string]indexEntry {
	known := map[string]indexEntry{}
	folder := indexFolder(store)
	if folder == "" {
		return known
	}
	text, err := os.ReadFile(filepath.Join(folder, indexName))
	if err != nil {
		return known
	}
	head, body, _ := bytes.Cut(text, []byte{'\n'})
	if string(head)+"\n" != fmt.Sprintf(indexHead, crc32.Checksum(body, castagnoli)) {
		return known
	}
	var list []indexEntry
	if sequence.Unmarshal(body, &list) != nil {
		return known
	}
	for _, e := range list {
		known[e.Summary.ID] = e
	}
	return known
}

// writeIndex replaces the index in one step. Where that fails the next list
// reads the journals again, and nothing else is lost.
func writeIndex(store journal.Store, known map[string]indexEntry) {
	folder := indexFolder(store)
	if folder == "" {
		return
	}
	list := make([]indexEntry, 0, len(known))
	for _, e := range known {
		if !e.unreadable {
			list = append(list, e)
		}
	}
	body, err := sequence.Marshal(list)
	if err != nil {
		return
	}
	sweep(folder)
	f, err := os.CreateTemp(folder, indexWorking) // mode 0600
	if err != nil {
		return
	}
	_, err = f.Write(append(fmt.Appendf(nil, indexHead, crc32.Checksum(body, castagnoli)), body...))
	if closed := f.Close(); err == nil {
		err = closed
	}
	if err == nil {
		err = os.Rename(f.Name(), filepath.Join(folder, indexName))
	}
	if err != nil {
		os.Remove(f.Name())
	}
}

// sweep removes working files that nobody will finish.
func sweep(folder string) {
	entries, err := os.ReadDir(folder)
	if err != nil {
		return
	}
	for _, e := range entries {
		if ok, _ := filepath.Match(indexWorking, e.Name()); !ok {
			continue
		}
		if info, err := e.Info(); err == nil && time.Since(info.ModTime()) > leftover {
			os.Remove(filepath.Join(folder, e.Name()))
		}
	}
}

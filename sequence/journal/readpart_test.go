package journal

// What a list reads agrees with what Read finds, whatever becomes of the file.

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"example.org/wetside/sequence"
)

// For every cut of a journal, and for every byte of it changed: the same status, the
// same line blamed, the same first record, the same notes.
func TestSkimAgreesWithRead(t *testing.T) {
	whole := golden(t)
	path := filepath.Join(t.TempDir(), "golden.jsonl")
	same := func(what string, i int, data []byte) {
		t.Helper()
		if err := os.WriteFile(path, data, 0o600); err != nil {
			t.Fatal(err)
		}
		read, readErr := Read(path)
		skim, skimErr := ReadPart(path, sequence.Noted)
		var notes []Record
		for i, r := range read.Records {
			if i == 0 || r.Event.Kind == sequence.Noted {
				notes = append(notes, r)
			}
		}
		if (readErr == nil) != (skimErr == nil) || readErr != nil && readErr.Error() != skimErr.Error() {
			t.Fatalf("%s %d: Read says %v, Skim %v", what, i, readErr, skimErr)
		}
		if read.Status != skim.Status || read.ID != skim.ID || len(notes) != len(skim.Records) {
			t.Fatalf("%s %d: Read: %s, %d notes; Skim: %s, %d", what, i, read.Status, len(notes), skim.Status, len(skim.Records))
		}
		for k := range notes {
			if notes[k].Event.Text != skim.Records[k].Event.Text || !notes[k].Clock.Wall.Equal(skim.Records[k].Clock.Wall) {
				t.Fatalf("%s %d: note %d is %+v; expected %+v", what, i, k, skim.Records[k].Event, notes[k].Event)
			}
		}
	}
	same("whole", 0, whole)
	for i := range whole {
		same("cut at", i, whole[:i])
	}
	for i := 0; i < len(whole); i += 7 { // each position in a line comes up somewhere
		flipped := bytes.Clone(whole)
		flipped[i] ^= 0x04
		same("changed at", i, flipped)
	}
}

// Package journal keeps the append-only record of one session on disk, so that
// a crash, a full disk or a power cut loses nothing that was acknowledged.
//
// For sequence/live, which follows its log into a Writer, and for the notebook,
// which reads. Start with Store: Create begins a journal, TakeUp goes on with one
// that was cut off, Read and List look. A file is JSON Lines: one flat record a
// line, and last in each line a CRC32C that is chained over every line before
// it (chain.go). Each record costs one write and one fsync. When either fails,
// a new segment with everything so far is begun wherever writing works
// (writer.go). The package never repairs a journal that is damaged in the
// middle, never retries an fsync, and starts no goroutine.
package journal

// The record, and what the first one holds.

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
)

// Version is the version of the records written here.
const Version = 1

// Record is one line of the journal, and one line of --json.
type Record struct {
	V         int            `json:"v"`   // Version of whoever wrote it
	Seq       int            `json:"seq"` // 0, 1, 2, ...
	Event     sequence.Event `json:",embed"`
	Clock     clock.Mark     `json:",embed"`             // when the program noticed
	PID       int            `json:"pid,omitzero"`       // where a process began the session or took it up: its number, filled in
	Rehearsal float64        `json:"rehearsal,omitzero"` // first record: how many times as fast as real time; 0 for no rehearsal
	Moves     bool           `json:"moves,omitzero"`     // first record: a rehearsal that passes over the quiet between moves
	Dark      bool           `json:"dark,omitzero"`      // first record: a rehearsal without light
	Sensor    *Sensor        `json:"sensor,omitzero"`    // first record: the thermometer that is read; nil for none
	Hash      string         `json:"plan_hash,omitzero"` // first record: of the plan, by PlanHash
	Plan      *sequence.Plan `json:"plan,omitzero"`      // first record: frozen
}

// Sensor is a thermometer as it was chosen, so that it is read again when the session is taken up.
type Sensor struct {
	File   string `json:"file"` // its whole path
	In     string `json:"in"`   // developer, jacket or room
	Offset string `json:"offset,omitzero"`
}

// PlanHash is the SHA-256 of the plan as wetside writes it, in lower-case hex.
func PlanHash(p *sequence.Plan) (string, error) {
	text, err := sequence.Marshal(p)
	if err != nil {
		return "", fmt.Errorf("journal: plan: %w", err)
	}
	return hash(text), nil
}

func hash(text []byte) string {
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:])
}

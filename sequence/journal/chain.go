package journal

// The text of a line. A record is a JSON object whose last member is
// "crc", eight lower-case hex digits: the CRC32C (Castagnoli, RFC 3720
// appendix B.4) of this record's text before the comma in front of "crc", gone
// on with from the value of the line before (0 before the first). So each
// value vouches for every record up to it, and neither losing, swapping nor
// changing a line goes unnoticed. Upper-case hex is refused: it would let a
// flipped bit pass.

import (
	"bytes"
	"encoding/hex"
	"fmt"
	"hash/crc32"

	"example.org/wetside/sequence"
)

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

const (
	opening   = `{"v":`
	crcBefore = `,"crc":"`
	crcAfter  = `"}`
	crcLen    = len(crcBefore) + 8 + len(crcAfter)
)

// encode appends the record's line to dst and returns the chain's new value.
func encode(dst []byte, r Record, chain uint32) ([]byte, uint32, error) {
	text, err := sequence.Marshal(r)
	if err != nil {
		return dst, chain, fmt.Errorf("journal: record %d: %w", r.Seq, err)
	}
	text = text[:len(text)-1] // the closing brace comes after the crc
	chain = crc32.Update(chain, castagnoli, text)
	dst = append(dst, text...)
	dst = fmt.Appendf(dst, "%s%08x%s\n", crcBefore, chain, crcAfter)
	return dst, chain, nil
}

// scanned is what the bytes of a journal are worth.
type scanned struct {
	lines [][]byte // the good ones, without their newlines
	chain uint32   // after the last of them
	good  int      // how many bytes they are
	torn  bool     // what follows is the rest of a write that was cut off
	bad   string   // what is wrong with the line after them; "" at the end
	after int      // how many whole lines come after a bad one
}

// broken reports whether lines that had been acknowledged are lost.
func (s scanned) broken() bool { return s.bad != "" && !s.torn }

// claimed is how many records the file once held, as far as can be seen.
func (s scanned) claimed() int {
	if !s.broken() {
		return len(s.lines)
	}
	return len(s.lines) + 1 + s.after
}

// scan follows the chain as far as it holds. A bad line with nothing whole
// after it is the torn end of the last write; with a whole line after it the
// journal is damaged.
func scan(data []byte) scanned {
	var s scanned
	s.lines = make([][]byte, 0, bytes.Count(data, []byte{'\n'}))
	for s.good < len(data) {
		line, _, whole := bytes.Cut(data[s.good:], []byte{'\n'})
		chain, bad := check(line, s.chain)
		if !whole {
			bad = "line has no end; expected a newline"
		}
		if bad != "" {
			s.bad = bad
			s.after = wholeLines(data[s.good+recordEnd(data[s.good:]):])
			s.torn = s.after == 0
			return s
		}
		s.lines, s.chain, s.good = append(s.lines, line), chain, s.good+len(line)+1
	}
	return s
}

// check verifies one line and returns the chain's value after it, or says what
// is wrong.
func check(line []byte, chain uint32) (uint32, string) {
	if !shaped(line) {
		return 0, "line is not a record; expected an object ending in its crc"
	}
	body, tail := line[:len(line)-crcLen], line[len(line)-crcLen:]
	want := crc32.Update(chain, castagnoli, body)
	got := tail[len(crcBefore) : len(crcBefore)+8]
	if string(got) != fmt.Sprintf("%08x", want) {
		return 0, fmt.Sprintf("crc is %q; expected \"%08x\"", got, want)
	}
	return want, ""
}

// shaped reports whether a line looks like a record, whatever its crc says.
func shaped(line []byte) bool {
	if len(line) <= crcLen || !bytes.HasPrefix(line, []byte(opening)) {
		return false
	}
	tail := line[len(line)-crcLen:]
	var value [4]byte
	digits := tail[len(crcBefore) : len(crcBefore)+8]
	_, err := hex.Decode(value[:], digits)
	return err == nil && bytes.HasPrefix(tail, []byte(crcBefore)) && bytes.HasSuffix(tail, []byte(crcAfter))
}

// recordEnd is where the record behind a bad one would begin: with the first
// newline, or behind the first crc where the newline after it was lost. Inside
// JSON's strings quotes are escaped, so nothing there looks like a crc.
func recordEnd(data []byte) int {
	line, _, _ := bytes.Cut(data, []byte{'\n'})
	if i := bytes.Index(line, []byte(crcBefore)); i >= 0 && i+crcLen < len(line) {
		return i + crcLen + 1
	}
	return len(line)
}

// wholeLines counts the lines of rest that look like records.
func wholeLines(rest []byte) int {
	n := 0
	for line := range bytes.Lines(rest) {
		if shaped(bytes.TrimSuffix(line, []byte{'\n'})) {
			n++
		}
	}
	return n
}

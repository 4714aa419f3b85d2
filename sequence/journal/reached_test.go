package journal

// What a damaged file still tells of: how far its session got, and what a list says of it.

import (
	"bytes"
	"hash/crc32"
	"testing"

	"example.org/wetside/sequence/clock"
)

// A session counts as the latest by the last line that can be read, also behind a damage, and
// by nothing that only looks like one.
func TestReachedBehindADamage(t *testing.T) {
	lines := bytes.SplitAfter(text(t, 8), []byte{'\n'})
	bent := bytes.Clone(lines[2])
	bent[len(bent)/2] ^= 1
	joined := func(parts ...[]byte) []byte { return bytes.Join(parts, nil) }
	good := joined(lines[:2]...)
	chained := lineOf(`{"v":1,"seq":9,"event":"note"`, mustParse(t, good).chain)
	later := bytes.TrimSuffix(lines[7], []byte("}\n")) // a whole clock, and no end
	noJSON := []byte(opening + "nothing" + crcBefore + "00000000" + crcAfter + "\n")
	for name, c := range map[string]struct {
		data []byte
		last int // the record whose clock it is; -1 for none
	}{
		"whole":                    {joined(lines...), 7},
		"bent":                     {joined(good, bent, lines[3], lines[4]), 4},
		"its end cut off":          {joined(good, bent, lines[3], lines[4], later), 4},
		"its end no record":        {joined(good, bent, lines[3], noJSON), 3},
		"nothing behind it":        {joined(good, noJSON, noJSON), 1},
		"the first alone":          {joined(lines[0], noJSON, noJSON), 0},
		"the first bent, one more": {joined(bent, lines[5]), 5},
		"out of order":             {joined(good, chained, lines[4]), 4},
		"no line at all":           {[]byte("junk\n"), -1},
		"empty":                    {nil, -1},
	} {
		got, _ := parse("x.jsonl", c.data)
		want := clock.Mark{}
		if c.last >= 0 {
			want = mark(c.last)
		}
		if r := got.Reached(); r.Elapsed != want.Elapsed || r.Boottime != want.Boottime || !r.Wall.Equal(want.Wall) {
			t.Errorf("%s: reached %v; expected %v", name, r.Elapsed, want.Elapsed)
		}
	}
}

// For every cut of a journal and every byte of it changed, the list says what Read says, and
// keeps the first and the last good record.
func TestListAgreesWithRead(t *testing.T) {
	whole := golden(t)
	path := "golden.jsonl"
	same := func(what string, i int, data []byte) {
		t.Helper()
		read, err := parse(path, data)
		e := listedFrom(segment{folder: ".", name: path, id: "golden", n: 1}, data)
		if (err == nil) != (e.Err == nil) || err != nil && err.Error() != e.Err.Error() || e.Status != read.Status || e.Records != len(read.Records) ||
			e.claimed != read.claimed || e.ID != read.ID || e.Path != read.Path {
			t.Fatalf("%s %d: listed %s, %d records, %v; read %s, %d, %v", what, i, e.Status, e.Records, e.Err, read.Status, len(read.Records), err)
		}
		if n := len(read.Records); n > 0 && (e.First.Hash != read.Records[0].Hash || e.Last.Seq != n-1 || e.Last.Event.Text != read.Records[n-1].Event.Text) {
			t.Fatalf("%s %d: its last is %+v; expected %+v", what, i, e.Last, read.Records[n-1])
		}
	}
	same("whole", 0, whole)
	for i := range whole {
		same("cut at", i, whole[:i])
		bent := bytes.Clone(whole)
		bent[i] ^= 0x04
		same("changed at", i, bent)
	}
}

// lineOf is a line that the chain vouches for, whatever it says.
func lineOf(body string, chain uint32) []byte {
	chain = crc32.Update(chain, castagnoli, []byte(body))
	return []byte(body + crcBefore + hexOf(chain) + crcAfter + "\n")
}

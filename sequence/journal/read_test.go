package journal

// Reading: what another program wrote by the same rules is accepted, and no
// cut and no flipped bit goes unnoticed.

import (
	"bytes"
	"encoding/json"
	"errors"
	"hash/crc32"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"example.org/wetside/sequence"
)

func golden(t testing.TB) []byte {
	t.Helper()
	data, err := os.ReadFile("testdata/golden.jsonl")
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// The chain is CRC32C: RFC 3720 appendix B.4, 32 bytes of zero and of 0xff.
func TestCastagnoli(t *testing.T) {
	if got := crc32.Checksum(make([]byte, 32), castagnoli); got != 0x8a9136aa {
		t.Errorf("32 bytes of zero give %08x", got)
	}
	if got := crc32.Checksum(bytes.Repeat([]byte{0xff}, 32), castagnoli); got != 0x62a8ab43 {
		t.Errorf("32 bytes of 0xff give %08x", got)
	}
}

// testdata/golden.py wrote the golden journal with a CRC and a hash of its own.
func TestReadGolden(t *testing.T) {
	s, err := Read("testdata/golden.jsonl")
	if err != nil {
		t.Fatal(err)
	}
	if s.ID != "golden" || s.Status != Open || len(s.Records) != 5 || s.Torn != nil || s.Newer {
		t.Errorf("read %q %s, %d records, torn %q", s.ID, s.Status, len(s.Records), s.Torn)
	}
	if got := s.First().Plan.Recipe.Film.Name; got != "Tern 100" {
		t.Errorf("film is %q", got)
	}
	note, reading := s.Records[3], s.Records[4]
	if note.Event.At != 12500*time.Millisecond || note.Event.Text != "a \"quoted\" word, a tab\tand a tern \u2014" {
		t.Errorf("note is %+v", note.Event)
	}
	if reading.Event.Temperature == nil || *reading.Event.Temperature != 20.5 {
		t.Errorf("reading is %+v", reading.Event)
	}
	a := s.Anchor()
	if a.Boottime != 1015250*time.Millisecond || a.Raw != 915125*time.Millisecond || a.Elapsed != 15001*time.Millisecond ||
		!a.Wall.Equal(evening.Add(15250*time.Millisecond)) {
		t.Errorf("anchor is %+v", a)
	}
}

func TestWrittenIsReadBack(t *testing.T) {
	s := newStore(t, 1)
	write(t, s, 12)
	got, err := s.Read(testID)
	if err != nil || len(got.Records) != 12 {
		t.Fatalf("read %d records: %v", len(got.Records), err)
	}
	samePrefix(t, got.Records)
	if h, _ := PlanHash(plan()); got.First().Hash != h || got.First().Event.ID != testID || got.First().Rehearsal != 10 {
		t.Errorf("first record is %+v", got.First())
	}
}

// samePrefix wants the records to be those that record makes.
func samePrefix(t testing.TB, got []Record) {
	t.Helper()
	for i, g := range got {
		want := record(i)
		want.V = Version
		if i == 0 {
			want.Event.ID, want.Hash, want.Plan, want.PID = g.Event.ID, g.Hash, g.Plan, g.PID
		}
		if !g.Clock.Wall.Equal(want.Clock.Wall) {
			t.Fatalf("record %d: wall is %v; expected %v", i, g.Clock.Wall, want.Clock.Wall)
		}
		g.Clock.Wall = want.Clock.Wall
		if !reflect.DeepEqual(g, want) {
			t.Fatalf("record %d is %+v; expected %+v", i, g, want)
		}
	}
}

// A line is one flat object, so that any reader of JSON can use it.
func TestLineIsFlat(t *testing.T) {
	for i, line := range bytes.Split(bytes.TrimSpace(text(t, 5)), []byte{'\n'}) {
		var m map[string]any
		if err := json.Unmarshal(line, &m); err != nil {
			t.Fatal(err)
		}
		for _, key := range []string{"v", "seq", "at_s", "event", "boot", "boottime_s", "monotonic_s", "wall", "elapsed_s", "crc"} {
			if _, ok := m[key]; !ok {
				t.Errorf("line %d has no %q", i+1, key)
			}
		}
		for key, v := range m {
			if _, nested := v.(map[string]any); nested && key != "plan" {
				t.Errorf("line %d: %q is not flat", i+1, key)
			}
		}
		if !bytes.HasPrefix(line, []byte(`{"v":1,"seq":`)) || line[len(line)-crcLen] != ',' {
			t.Errorf("line %d begins or ends otherwise: %s", i+1, line)
		}
	}
}

func TestEveryCutIsNoticed(t *testing.T) {
	data := golden(t)
	whole := mustParse(t, data).Records
	for k := range len(data) {
		s, err := parse("golden.jsonl", data[:k])
		lines := bytes.Count(data[:k], []byte{'\n'})
		atEnd := k == 0 || data[k-1] == '\n'
		switch {
		case len(s.Records) != lines || !reflect.DeepEqual(s.Records, whole[:lines]) && lines > 0:
			t.Fatalf("cut at %d: %d records; expected the first %d", k, len(s.Records), lines)
		case lines == 0 && err == nil:
			t.Fatalf("cut at %d: nothing is left, and it is not said", k)
		case !atEnd && len(s.Torn) != k-bytes.LastIndexByte(data[:k], '\n')-1:
			t.Fatalf("cut at %d: %d bytes are called torn", k, len(s.Torn))
		case lines > 0 && err != nil:
			t.Fatalf("cut at %d: %v", k, err)
		}
	}
}

func mustParse(t testing.TB, data []byte) Recording {
	t.Helper()
	s, err := parse("golden.jsonl", data)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestEveryBitFlipIsNoticed(t *testing.T) {
	data := golden(t)
	whole := mustParse(t, data).Records
	lastLine := bytes.LastIndexByte(data[:len(data)-1], '\n') + 1
	for i := range data {
		for bit := range 8 {
			bent := bytes.Clone(data)
			bent[i] ^= 1 << bit
			s, err := parse("golden.jsonl", bent)
			damaged := (*DamagedError)(nil)
			line := bytes.Count(data[:i], []byte{'\n'}) + 1
			switch {
			case err == nil && s.Torn == nil:
				t.Fatalf("byte %d bit %d: unnoticed", i, bit)
			case len(s.Records) != line-1 || line > 1 && !reflect.DeepEqual(s.Records, whole[:line-1]):
				t.Fatalf("byte %d bit %d: %d records; expected the %d before line %d", i, bit, len(s.Records), line-1, line)
			case i >= lastLine && (err != nil || len(s.Torn) == 0):
				t.Fatalf("byte %d bit %d: last line is not torn: %v", i, bit, err)
			case i < lastLine && (!errors.As(err, &damaged) || damaged.Line != line || s.Torn != nil || s.Status != Damaged):
				t.Fatalf("byte %d bit %d: line %d is not damaged: %v", i, bit, line, err)
			}
		}
	}
}

func TestLinesLostOrSwappedAreNoticed(t *testing.T) {
	lines := bytes.SplitAfter(golden(t), []byte{'\n'})
	for name, order := range map[string][]int{
		"lost": {0, 1, 3, 4}, "swapped": {0, 2, 1, 3, 4}, "twice": {0, 1, 1, 2, 3, 4}, "first lost": {1, 2, 3, 4},
	} {
		var data []byte
		for _, i := range order {
			data = append(data, lines[i]...)
		}
		if _, err := parse("golden.jsonl", data); !errors.As(err, new(*DamagedError)) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// A chain that holds does not excuse what it holds.
func TestRecordsAreChecked(t *testing.T) {
	begin := func(change func(*Record)) Record {
		r := record(0)
		r.V, r.Event.ID = Version, testID
		r.Hash, _ = PlanHash(r.Plan)
		change(&r)
		return r
	}
	next := record(1)
	next.V = Version
	late, old := next, next
	late.Seq, old.V = 2, 0
	for name, c := range map[string]struct {
		records []Record
		line    int
		reason  string
	}{
		"no plan":    {[]Record{begin(func(r *Record) { r.Plan = nil })}, 1, "with its plan"},
		"no hash":    {[]Record{begin(func(r *Record) { r.Hash = "" })}, 1, "plan_hash"},
		"other kind": {[]Record{begin(func(r *Record) { r.Event.Kind = sequence.Held })}, 1, "session-began"},
		"seq":        {[]Record{begin(func(*Record) {}), late}, 2, "seq is 2; expected 1"},
		"v":          {[]Record{begin(func(*Record) {}), old}, 2, "v is 0"},
	} {
		var data []byte
		var chain uint32
		for _, r := range c.records {
			data, chain, _ = encode(data, r, chain)
		}
		_, err := parse("x.jsonl", data)
		damaged := (*DamagedError)(nil)
		if !errors.As(err, &damaged) || damaged.Line != c.line || !strings.Contains(err.Error(), c.reason) {
			t.Errorf("%s: %v", name, err)
		}
		if !strings.HasPrefix(err.Error(), "x.jsonl:") || !strings.Contains(err.Error(), "damaged") {
			t.Errorf("%s: error does not name file and damage: %v", name, err)
		}
	}
}

func TestFileOfAbsurdSize(t *testing.T) {
	path := filepath.Join(t.TempDir(), "x.jsonl")
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := f.Truncate(maxFile + 1); err != nil {
		t.Skip("no sparse files here")
	}
	if _, err := Read(path); err == nil || errors.As(err, new(*DamagedError)) {
		t.Errorf("read %d bytes: %v", maxFile+1, err)
	}
	if err := f.Truncate(maxFile); err != nil {
		t.Fatal(err)
	}
	if maxFile < 10*5<<20 {
		t.Errorf("%d bytes are less than ten long sessions of 5 MB", maxFile)
	}
	if data, err := load(path); err != nil || len(data) != maxFile {
		t.Errorf("of the largest file %d bytes, %v", len(data), err)
	}
}

func TestNewerIsReadAsFarAsKnown(t *testing.T) {
	data := text(t, 2)
	chain := mustParse(t, data).chain
	body := `{"v":2,"seq":2,"at_s":"in words","event":"hovered","step":"develop","colour":"blue"`
	chain = crc32.Update(chain, castagnoli, []byte(body))
	data = append(data, []byte(body+crcBefore+hexOf(chain)+crcAfter+"\n")...)
	s, err := parse("x.jsonl", data)
	if err != nil || !s.Newer || len(s.Records) != 3 || s.Records[2].V != 2 {
		t.Fatalf("read %d records, newer %v: %v", len(s.Records), s.Newer, err)
	}
}

func hexOf(v uint32) string {
	const digits = "0123456789abcdef"
	b := make([]byte, 8)
	for i := range b {
		b[i] = digits[v>>(28-4*i)&15]
	}
	return string(b)
}

func TestStatus(t *testing.T) {
	for _, c := range []struct {
		last []sequence.EventKind
		want Status
	}{
		{nil, Open},
		{[]sequence.EventKind{sequence.SessionDone}, Done},
		{[]sequence.EventKind{sequence.SessionStopped}, Stopped},
		{[]sequence.EventKind{sequence.SessionDone, sequence.Heartbeat, sequence.SoundLost, sequence.CueGiven, sequence.Noted}, Done},
		{[]sequence.EventKind{sequence.SessionStopped, sequence.Undone}, Open},
	} {
		s := newStore(t, 1)
		w := write(t, s, 3)
		for i, k := range c.last {
			if err := w.Append(Record{Seq: 3 + i, Clock: mark(3 + i), Event: sequence.Event{Kind: k}}); err != nil {
				t.Fatal(err)
			}
		}
		got, err := s.Read(testID)
		if err != nil || got.Status != c.want {
			t.Errorf("after %v: %s, %v; expected %s", c.last, got.Status, err, c.want)
		}
		if e := s.List()[0]; e.Status != c.want {
			t.Errorf("after %v: listed as %s; expected %s", c.last, e.Status, c.want)
		}
	}
}

// A line looks like a record by its beginning and by eight digits in its end.
func TestShaped(t *testing.T) {
	for line, want := range map[string]bool{
		`{"v":1,"crc":"0123abcd"}`: true, `{"v":"crc":"0123abcd"}`: false, `{"v":,"crc":"0123abcd"}`: true, `{"v":1,"crc":"0123abcg"}`: false,
		`{"v":1,"crc":"g123abcd"}`: false, `{"v":1,"crc":"0123abc"}`: false, `{"v":1,"crc":"0123abcd"} `: false, `{"w":1,"crc":"0123abcd"}`: false,
		`,"crc":"0123abcd"}`: false, `{"v":1,"crk":"0123abcd"}`: false, "": false,
	} {
		if got := shaped([]byte(line)); got != want {
			t.Errorf("%s: %v", line, got)
		}
	}
}

// A record counts as whole behind a bad one whose newline is lost, however little is left of that.
func TestRecordBehindALostNewline(t *testing.T) {
	whole := text(t, 2)
	for name, c := range map[string]struct {
		data  string
		after int
	}{
		"the crc alone":    {crcBefore + "00000000" + crcAfter + "?" + string(whole), 2},
		"a byte before it": {"x" + crcBefore + "00000000" + crcAfter + "?" + string(whole), 2},
		"nothing behind":   {crcBefore + "00000000" + crcAfter, 0},
		"one byte behind":  {crcBefore + "00000000" + crcAfter + "?", 0},
		"no crc":           {"x" + string(whole), 1},
	} {
		if sc := scan([]byte(c.data)); sc.after != c.after || sc.torn != (c.after == 0) || len(sc.lines) != 0 {
			t.Errorf("%s: %d whole lines behind it, torn %v; expected %d", name, sc.after, sc.torn, c.after)
		}
	}
}

func FuzzRead(f *testing.F) {
	data := golden(f)
	for _, k := range []int{0, 1, 100, len(data) / 2, len(data) - 1, len(data)} {
		f.Add(data[:k])
	}
	f.Add(append(bytes.Clone(data), make([]byte, 600)...))
	f.Add([]byte("\n\n" + crcBefore + "00000000" + crcAfter + "\n"))
	f.Add([]byte(`{"v":9e99,"crc":"00000000"}` + "\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		s, err := parse("x.jsonl", data)
		if err == nil && len(s.good)+len(s.Torn) != len(data) {
			t.Errorf("%d good and %d torn bytes of %d", len(s.good), len(s.Torn), len(data))
		}
		e := listedFrom(segment{name: "x.jsonl", id: "x", n: 1}, data)
		if (e.Err == nil) != (err == nil) && e.Err != nil {
			t.Errorf("listed as %v; read as %v", e.Err, err)
		}
	})
}

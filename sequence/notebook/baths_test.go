package notebook

// The ledger: what is written comes back, in whatever files and however often;
// sessions book what went through, once, and rehearsals nothing.

import (
	"errors"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
	"pgregory.net/rapid"
)

func ledgerIn(t testing.TB) Ledger {
	return Ledger{Folder: filepath.Join(t.TempDir(), "data", "baths"), Laptop: "Harbour Laptop", Disk: quick{}}
}

func fixerBath() *sequence.Bath {
	r := recipe(sequence.Hangers, 1)
	b := r.Baths[0]
	b.Volume, b.SheetsPerLitre, b.TrayLife = 1000, 10, 24*time.Hour
	return &b
}

func readBack(t testing.TB, l Ledger) Baths {
	t.Helper()
	b, err := l.Read()
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func enterIn(t testing.TB, l Ledger, entries ...Entry) {
	t.Helper()
	if err := l.Write(entries...); err != nil {
		t.Fatal(err)
	}
}

func TestLedgerTellsWhatWasWritten(t *testing.T) {
	l := ledgerIn(t)
	if b := readBack(t, l); len(b.Bottles) != 0 {
		t.Fatal("a ledger that is not there yet has bottles")
	}
	at := func(h int) time.Time { return evening.Add(time.Duration(h) * time.Hour) }
	enterIn(t, l, Entry{At: at(0), Did: Mixed, Bottle: "one", Bath: fixerBath()},
		Entry{At: at(1), Did: Cleared, Bottle: "one", Clearing: 60 * sec},
		Entry{At: at(2), Did: Used, Bottle: "one", Session: "a", Area: 120},
		Entry{At: at(3), Did: Used, Bottle: "one", Area: 80},
		Entry{At: at(4), Did: Cleared, Bottle: "one", Clearing: 130 * sec})
	b := readBack(t, l)
	c := b.Bottles[0]
	if c.Sheets() != 10 || c.Fresh != 60*sec || c.Clearing != 130*sec || !slices.Equal(c.Sessions, []string{"a"}) || b.Bad != 0 {
		t.Errorf("%+v", c)
	}
	if facts := strings.Join(c.Facts(at(5)), "; "); facts != "5:00:00 old, keeps 24:00:00; 10 sheets of 4x5in (200 sq in) done, SPENT: it serves 10; clears in 2:10, fresh 1:00, SPENT" {
		t.Error(facts)
	}
	if facts := c.Facts(at(25)); !strings.Contains(facts[0], "STALE") {
		t.Error(facts)
	}
	if facts := c.Facts(at(-1)); !strings.Contains(facts[0], "future") {
		t.Error(facts)
	}
	names, _ := filepath.Glob(filepath.Join(l.Folder, "*"))
	if len(names) != 2 || filepath.Base(names[0]) != ".lock" || filepath.Base(names[1]) != "harbour-laptop.baths.jsonl" {
		t.Fatal(names)
	}
	for _, name := range names {
		if info, err := os.Stat(name); err != nil || info.Mode().Perm() != 0o600 {
			t.Error(name, info.Mode(), err)
		}
	}
}

// Two laptops that both book a session, at different moments, book it once.
func TestASessionCountsOnce(t *testing.T) {
	entries := []Entry{{At: evening, Did: Mixed, Bottle: "one", Bath: fixerBath()},
		{At: evening.Add(1), Did: Used, Bottle: "one", Session: "s", Area: 120},
		{At: evening.Add(2), Did: Used, Bottle: "one", Session: "s", Area: 120},
		{At: evening.Add(3), Did: Used, Bottle: "one", Session: "t", Area: 20}}
	if b := gather(entries).Bottles[0]; b.Area != 140 || !slices.Equal(b.Sessions, []string{"s", "t"}) {
		t.Errorf("%+v", b)
	}
}

// A fresh clearing time is one measured before the first film.
func TestClearingAfterFilmIsNotFresh(t *testing.T) {
	l := ledgerIn(t)
	enterIn(t, l, Entry{At: evening, Did: Mixed, Bottle: "one", Bath: fixerBath()},
		Entry{At: evening.Add(1), Did: Used, Bottle: "one", Area: 20},
		Entry{At: evening.Add(2), Did: Cleared, Bottle: "one", Clearing: 60 * sec})
	if c := readBack(t, l).Bottles[0]; c.Fresh != 0 || c.Clearing != 60*sec {
		t.Errorf("%+v", c)
	}
}

// However the lines are spread over files, doubled and ordered, the bottles are
// the same: that is what makes synced folders safe.
func TestLedgerMerges(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		var entries []Entry
		for i, n := 0, rapid.IntRange(1, 3).Draw(rt, "bottles"); i < n; i++ {
			name := string(rune('a' + i))
			entries = append(entries, Entry{V: 1, At: evening.Add(time.Duration(i)), Did: Mixed, Bottle: name, Bath: fixerBath()})
			for range rapid.IntRange(0, 4).Draw(rt, "deeds") {
				e := Entry{V: 1, At: evening.Add(time.Duration(rapid.IntRange(10, 99).Draw(rt, "at"))), Bottle: name}
				switch rapid.IntRange(0, 2).Draw(rt, "did") {
				case 0:
					e.Did, e.Session, e.Area = Used, rapid.SampledFrom([]string{"s", "t"}).Draw(rt, "session"), 40
				case 1:
					e.Did, e.Area = Used, float64(rapid.IntRange(1, 9).Draw(rt, "area"))
				case 2:
					e.Did, e.Clearing = Cleared, time.Duration(rapid.IntRange(1, 9).Draw(rt, "clearing"))*sec
				}
				entries = append(entries, e)
			}
		}
		want := gather(slices.Clone(entries))
		mixed := append(slices.Clone(entries), entries...)
		mixed = rapid.Permutation(mixed).Draw(rt, "order")
		got := gather(mixed)
		for i := range want.Bottles {
			slices.Sort(want.Bottles[i].Sessions)
		}
		for i := range got.Bottles {
			slices.Sort(got.Bottles[i].Sessions)
			got.Bottles[i].Clearing, want.Bottles[i].Clearing = 0, 0 // two tests of one moment have no order
			got.Bottles[i].Fresh, want.Bottles[i].Fresh = 0, 0
		}
		if !reflect.DeepEqual(got, want) {
			rt.Errorf("merged %+v\nexpected %+v", got, want)
		}
	})
}

func TestSessionsBookThemselves(t *testing.T) {
	store := newStore(t)
	r := recipe(sequence.Hangers, 6, step(sequence.Develop, 6*mins), step(sequence.Fix, 5*mins))
	r.Baths = append(r.Baths, sequence.Bath{ID: "fixer"})
	r.Steps[0].Bath, r.Steps[1].Bath = "developer", "fixer"
	kept := sequence.Conditions{Kept: []sequence.Kept{{Bath: "developer", Bottle: "d"}, {Bath: "fixer", Bottle: "f"}, {Bath: "toner", Bottle: "x"}}}
	done := sit(t, store, 0, r, kept).finish()
	s := sessionIn(t, store, done)
	got := s.Bookings()
	if len(got) != 2 || got[0].Bottle != "d" || got[0].Area != 120 || got[1].Bottle != "f" || got[1].Area != 120 ||
		got[0].Session != done || !got[0].At.Equal(evening.Add(11*mins)) {
		t.Errorf("%+v", got)
	}
	if !slices.Equal(s.Bottles, []string{"d", "f", "x"}) {
		t.Errorf("the list does not tell the bottles: %v", s.Bottles)
	}
	stopped := sit(t, store, time.Hour, r, kept)
	stopped.do(sequence.Stop{}, 3*mins)
	s = sessionIn(t, store, stopped.close())
	if got := s.Bookings(); len(got) != 1 || got[0].Bottle != "d" {
		t.Errorf("stopped in the developer: %+v", got)
	}
	s = sessionIn(t, store, sit(t, store, 2*time.Hour, r, kept).close())
	if got := s.Bookings(); len(got) != 0 {
		t.Errorf("still open: %+v", got)
	}
	s = sessionIn(t, store, sitAs(t, store, 3*time.Hour, r, kept, 60).finish())
	if got := s.Bookings(); len(got) != 0 {
		t.Errorf("a rehearsal: %+v", got)
	}
}

// Drawn on is the bottle mixed last of the same parts, under the same name.
func TestBathsFor(t *testing.T) {
	r := recipe(sequence.Hangers, 1)
	weaker := *fixerBath()
	weaker.Parts = slices.Clone(weaker.Parts)
	weaker.Parts[1].Parts = 100
	doubled := *fixerBath()
	doubled.Parts = slices.Clone(doubled.Parts)
	for i := range doubled.Parts {
		doubled.Parts[i].Parts *= 2
	}
	other := *fixerBath()
	other.ID = "fixer"
	entries := []Entry{
		{At: evening, Did: Mixed, Bottle: "first", Bath: fixerBath()},
		{At: evening.Add(1), Did: Mixed, Bottle: "second", Bath: &doubled},
		{At: evening.Add(2), Did: Mixed, Bottle: "weaker", Bath: &weaker},
		{At: evening.Add(3), Did: Mixed, Bottle: "other", Bath: &other},
	}
	if got := gather(entries).For(r, evening.Add(time.Hour)); len(got) != 2 || got[0].Bottle != "second" || got[0].Age != time.Hour-1 || got[1].Bottle != "first" {
		t.Errorf("%+v", got)
	}
	entries = append(entries, Entry{At: evening.Add(4), Did: ThrownAway, Bottle: "second"})
	if got := gather(entries).For(r, evening); len(got) != 1 || got[0].Bottle != "first" {
		t.Errorf("%+v", got)
	}
	entries = append(entries, Entry{At: evening.Add(5), Did: Serves, Bottle: "other", Serves: "developer"})
	if got := gather(entries).For(r, evening); len(got) != 2 || got[0].Bottle != "other" || got[1].Bottle != "first" {
		t.Errorf("%+v", got)
	}
}

func TestNamedAndNewName(t *testing.T) {
	b := gather([]Entry{
		{At: evening, Did: Mixed, Bottle: "fixer-2026-11-25", Bath: fixerBath()},
		{At: evening, Did: Mixed, Bottle: "fixer-2026-11-25-2", Bath: fixerBath()},
		{At: evening, Did: Mixed, Bottle: "stock", Bath: fixerBath()},
	})
	if c, err := b.Named("fixer-2026-11-25"); err != nil || c.Name != "fixer-2026-11-25" {
		t.Error(c, err)
	}
	if c, err := b.Named("st"); err != nil || c.Name != "stock" {
		t.Error(c, err)
	}
	for _, name := range []string{"fix", "", "toner"} {
		if c, err := b.Named(name); err == nil {
			t.Errorf("%q: %v", name, c)
		}
	}
	if name := b.NewName("Fixer", evening); name != "fixer-2026-11-25-3" {
		t.Error(name)
	}
}

// Lines that cannot be read spoil nothing and are counted; so are deeds on no bottle.
func TestBadLines(t *testing.T) {
	l := ledgerIn(t)
	enterIn(t, l, Entry{At: evening, Did: Mixed, Bottle: "one", Bath: fixerBath()},
		Entry{At: evening, Did: Used, Bottle: "gone", Area: 20}, Entry{At: evening, Did: "sung to", Bottle: "one"})
	path := filepath.Join(l.Folder, "other.baths.jsonl")
	if err := os.WriteFile(path, []byte("{\"v\":1,\n\nnonsense\n{\"v\":0}\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	if b := readBack(t, l); len(b.Bottles) != 1 || b.Bad != 5 {
		t.Errorf("%d bottles, %d bad lines; expected 1 and 5", len(b.Bottles), b.Bad)
	}
	// a line that a crash cut short is closed off by the next
	file, _ := os.OpenFile(filepath.Join(l.Folder, "harbour-laptop.baths.jsonl"), os.O_APPEND|os.O_WRONLY, 0o600)
	file.WriteString(`{"v":1,"at":"20`)
	file.Close()
	enterIn(t, l, Entry{At: evening.Add(1), Did: Used, Bottle: "one", Area: 20})
	if b := readBack(t, l); b.Bottles[0].Area != 20 || b.Bad != 6 {
		t.Errorf("%+v", b)
	}
}

type full struct{ quick }

func (full) Create(string, string) (journal.File, error) { return nil, errors.New("disk is full") }

func TestWriteSaysWhatWentWrong(t *testing.T) {
	l := ledgerIn(t)
	l.Disk = full{}
	if err := l.Write(Entry{At: evening, Did: Mixed, Bottle: "one", Bath: fixerBath()}); err == nil || err.Error() != "baths: disk is full" {
		t.Error(err)
	}
}

// sessionIn is a session as the notebook has it.
func sessionIn(t testing.TB, store journal.Store, id string) Session {
	t.Helper()
	s, err := Open(store, id)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// Clocks that differ by less than a minute put no bottle into the future.
func TestABottleOfThisMinuteIsNew(t *testing.T) {
	now := time.Date(2026, 1, 5, 20, 0, 0, 0, time.UTC)
	for ahead, want := range map[time.Duration]sequence.Elapsed{0: 0, 59 * time.Second: 0, time.Minute: -time.Minute} {
		b := Bottle{Mixed: now.Add(ahead)}
		if got := b.Kept(now).Age; got != want {
			t.Errorf("mixed %v ahead of the clock: %v old; expected %v", ahead, got, want)
		}
	}
}

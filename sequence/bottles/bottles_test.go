package bottles

// The ledger: what is written comes back, in whatever files and however often;
// sessions book what went through, once, and rehearsals nothing.

import (
	"errors"
	"os"
	"path/filepath"
	"reflect"
	"runtime"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/sequence/recipetest"
	"example.org/wetside/sequence/sessiontest"
)

func ledgerIn(t testing.TB) Ledger {
	return Ledger{Folder: filepath.Join(t.TempDir(), "data", "baths"), Laptop: "Harbour Laptop", Disk: sessiontest.QuickDisk{}}
}

func fixerBath() *sequence.Bath {
	r := sessiontest.Recipe(sequence.Hangers, 1)
	b := r.Baths[0]
	b.Volume, b.SheetsPerLitre, b.WorkingLife = 1000, 10, 24*time.Hour
	return &b
}

func readBack(t testing.TB, l Ledger) Inventory {
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
	at := func(h int) time.Time { return sessiontest.Evening.Add(time.Duration(h) * time.Hour) }
	enterIn(t, l, Entry{At: at(0), Action: Mixed, Bottle: "one", Bath: fixerBath()},
		Entry{At: at(1), Action: Cleared, Bottle: "one", Clearing: 60 * recipetest.Second},
		Entry{At: at(2), Action: Used, Bottle: "one", Session: "a", Area: 120},
		Entry{At: at(3), Action: Used, Bottle: "one", Area: 80},
		Entry{At: at(4), Action: Cleared, Bottle: "one", Clearing: 130 * recipetest.Second})
	b := readBack(t, l)
	c := b.Bottles[0]
	if c.Sheets() != 10 || c.FreshClearing != 60*recipetest.Second || c.Clearing != 130*recipetest.Second || !slices.Equal(c.Sessions, []string{"a"}) || b.Unreadable != 0 {
		t.Errorf("%+v", c)
	}
	names, _ := filepath.Glob(filepath.Join(l.Folder, "*"))
	if len(names) != 2 || filepath.Base(names[0]) != ".lock" || filepath.Base(names[1]) != "harbour-laptop.baths.jsonl" {
		t.Fatal(names)
	}
	for _, name := range names {
		if info, err := os.Stat(name); err != nil || runtime.GOOS != "windows" && info.Mode().Perm() != 0o600 {
			t.Error(name, info.Mode(), err)
		}
	}
}

// Two laptops that both book a session, at different moments, book it once.
func TestASessionCountsOnce(t *testing.T) {
	entries := []Entry{{At: sessiontest.Evening, Action: Mixed, Bottle: "one", Bath: fixerBath()},
		{At: sessiontest.Evening.Add(1), Action: Used, Bottle: "one", Session: "s", Area: 120},
		{At: sessiontest.Evening.Add(2), Action: Used, Bottle: "one", Session: "s", Area: 120},
		{At: sessiontest.Evening.Add(3), Action: Used, Bottle: "one", Session: "t", Area: 20}}
	if b := inventoryOf(entries).Bottles[0]; b.Area != 140 || !slices.Equal(b.Sessions, []string{"s", "t"}) {
		t.Errorf("%+v", b)
	}
}

// A fresh clearing time is one measured before the first film.
func TestColdClearingAndSilver(t *testing.T) {
	l := Ledger{Folder: t.TempDir(), Laptop: "a"}
	at := func(n int) time.Time { return sessiontest.Evening.Add(time.Duration(n) * time.Hour) }
	cold := sequence.Celsius(10) // 50 °F: twice as long (US Army TM 11-2323 para 33c)
	if err := l.Write(Entry{At: at(0), Action: Mixed, Bottle: "one", Bath: &sequence.Bath{ID: "fixer"}},
		Entry{At: at(1), Action: Cleared, Bottle: "one", Clearing: 60 * recipetest.Second},
		Entry{At: at(2), Action: Used, Bottle: "one", Area: 120},
		Entry{At: at(3), Action: Cleared, Bottle: "one", Clearing: 180 * recipetest.Second, Test: &cold},
		Entry{At: at(4), Action: Silver, Bottle: "one"}); err != nil {
		t.Fatal(err)
	}
	c := readBack(t, l).Bottles[0]
	// 3:00 at 50 °F are 1:30 at 68 °F; 30 s more after 6 sheets: twice as long after 12
	if by, ok := c.OpenBottle(at(5)).CapacityByClearing(); c.Clearing != 90*recipetest.Second || !ok || by != 12 || !c.SilverLeft || c.SilverTest == nil {
		t.Errorf("%+v serves %g (%v); expected 1:30, 12 sheets, silver left", c, by, ok)
	}
	if err := l.Write(Entry{At: at(6), Action: Silver, Bottle: "one", Passed: true}); err != nil {
		t.Fatal(err)
	}
	if c := readBack(t, l).Bottles[0]; c.SilverLeft || c.OpenBottle(at(7)).SilverLeft {
		t.Error("silver is left after a test that passed")
	}
}

// What replenisher was added adds up, and a session's film beside it.
func TestReplenisherInTheLedger(t *testing.T) {
	l := ledgerIn(t)
	at := func(n int) time.Time { return sessiontest.Evening.Add(time.Duration(n) * time.Hour) }
	bath := fixerBath()
	bath.Reuse = &chem.Reuse{Replenish: 20, Table: [][2]float64{{4, 1.1}}}
	enterIn(t, l, Entry{At: at(0), Action: Mixed, Bottle: "one", Bath: bath},
		Entry{At: at(1), Action: Used, Bottle: "one", Area: 120},
		Entry{At: at(2), Action: Replenished, Bottle: "one", Volume: 80},
		Entry{At: at(3), Action: Replenished, Bottle: "one", Volume: 20})
	b := readBack(t, l)
	if k := b.Bottles[0].OpenBottle(at(4)); k.Replenished != 100 || k.SheetsDone != 6 || b.Unreadable != 0 || !reflect.DeepEqual(b.Bottles[0].Bath.Reuse, bath.Reuse) {
		t.Errorf("%+v", k)
	}
}

func TestClearingAfterFilmIsNotFresh(t *testing.T) {
	l := ledgerIn(t)
	enterIn(t, l, Entry{At: sessiontest.Evening, Action: Mixed, Bottle: "one", Bath: fixerBath()},
		Entry{At: sessiontest.Evening.Add(1), Action: Used, Bottle: "one", Area: 20},
		Entry{At: sessiontest.Evening.Add(2), Action: Cleared, Bottle: "one", Clearing: 60 * recipetest.Second})
	if c := readBack(t, l).Bottles[0]; c.FreshClearing != 0 || c.Clearing != 60*recipetest.Second {
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
			entries = append(entries, Entry{V: 1, At: sessiontest.Evening.Add(time.Duration(i)), Action: Mixed, Bottle: name, Bath: fixerBath()})
			for range rapid.IntRange(0, 4).Draw(rt, "deeds") {
				e := Entry{V: 1, At: sessiontest.Evening.Add(time.Duration(rapid.IntRange(10, 99).Draw(rt, "at"))), Bottle: name}
				switch rapid.IntRange(0, 2).Draw(rt, "did") {
				case 0:
					e.Action, e.Session, e.Area = Used, rapid.SampledFrom([]string{"s", "t"}).Draw(rt, "session"), 40
				case 1:
					e.Action, e.Area = Used, float64(rapid.IntRange(1, 9).Draw(rt, "area"))
				case 2:
					e.Action, e.Clearing = Cleared, time.Duration(rapid.IntRange(1, 9).Draw(rt, "clearing"))*recipetest.Second
				}
				entries = append(entries, e)
			}
		}
		want := inventoryOf(slices.Clone(entries))
		mixed := append(slices.Clone(entries), entries...)
		mixed = rapid.Permutation(mixed).Draw(rt, "order")
		got := inventoryOf(mixed)
		for i := range want.Bottles {
			slices.Sort(want.Bottles[i].Sessions)
		}
		for i := range got.Bottles {
			slices.Sort(got.Bottles[i].Sessions)
			got.Bottles[i].Clearing, want.Bottles[i].Clearing = 0, 0 // two tests of one moment have no order
			got.Bottles[i].ClearedArea, want.Bottles[i].ClearedArea = 0, 0
			got.Bottles[i].FreshClearing, want.Bottles[i].FreshClearing = 0, 0
		}
		if !reflect.DeepEqual(got, want) {
			rt.Errorf("merged %+v\nexpected %+v", got, want)
		}
	})
}

func TestSessionsBookThemselves(t *testing.T) {
	store := sessiontest.NewStore(t)
	r := sessiontest.Recipe(sequence.Hangers, 6, recipetest.Bath(sequence.Develop, 6*recipetest.Minute), recipetest.Bath(sequence.Fix, 5*recipetest.Minute))
	r.Baths = append(r.Baths, sequence.Bath{ID: "fixer"})
	r.Steps[0].Bath, r.Steps[1].Bath = "developer", "fixer"
	kept := sequence.Conditions{OpenBottles: []sequence.OpenBottle{{Bath: "developer", Bottle: "d"}, {Bath: "fixer", Bottle: "f"}, {Bath: "toner", Bottle: "x"}}}
	done := sessiontest.Begin(t, store, 0, r, kept).Finish()
	s := sessionIn(t, store, done)
	got := Bookings(&s)
	if len(got) != 2 || got[0].Bottle != "d" || got[0].Area != 120 || got[1].Bottle != "f" || got[1].Area != 120 ||
		got[0].Session != done || !got[0].At.Equal(sessiontest.Evening.Add(11*recipetest.Minute)) {
		t.Errorf("%+v", got)
	}
	if !slices.Equal(s.Bottles, []string{"d", "f", "x"}) {
		t.Errorf("the list does not tell the bottles: %v", s.Bottles)
	}
	stopped := sessiontest.Begin(t, store, time.Hour, r, kept)
	stopped.Do(sequence.EndSession{}, 3*recipetest.Minute)
	s = sessionIn(t, store, stopped.Close())
	if got := Bookings(&s); len(got) != 1 || got[0].Bottle != "d" {
		t.Errorf("stopped in the developer: %+v", got)
	}
	s = sessionIn(t, store, sessiontest.Begin(t, store, 2*time.Hour, r, kept).Close())
	if got := Bookings(&s); len(got) != 0 {
		t.Errorf("still open: %+v", got)
	}
	s = sessionIn(t, store, sessiontest.BeginAs(t, store, 3*time.Hour, r, kept, 60).Finish())
	if got := Bookings(&s); len(got) != 0 {
		t.Errorf("a rehearsal: %+v", got)
	}
}

// Drawn on is the bottle mixed last of the same parts, under the same name.
func TestBathsFor(t *testing.T) {
	r := sessiontest.Recipe(sequence.Hangers, 1)
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
		{At: sessiontest.Evening, Action: Mixed, Bottle: "first", Bath: fixerBath()},
		{At: sessiontest.Evening.Add(1), Action: Mixed, Bottle: "second", Bath: &doubled},
		{At: sessiontest.Evening.Add(2), Action: Mixed, Bottle: "weaker", Bath: &weaker},
		{At: sessiontest.Evening.Add(3), Action: Mixed, Bottle: "other", Bath: &other},
	}
	if got := inventoryOf(entries).ForRecipe(r, sessiontest.Evening.Add(time.Hour)); len(got) != 2 || got[0].Bottle != "second" || got[0].Age != time.Hour-1 || got[1].Bottle != "first" {
		t.Errorf("%+v", got)
	}
	entries = append(entries, Entry{At: sessiontest.Evening.Add(4), Action: Retired, Bottle: "second"})
	if got := inventoryOf(entries).ForRecipe(r, sessiontest.Evening); len(got) != 1 || got[0].Bottle != "first" {
		t.Errorf("%+v", got)
	}
	entries = append(entries, Entry{At: sessiontest.Evening.Add(5), Action: Serves, Bottle: "other", Serves: "developer"})
	if got := inventoryOf(entries).ForRecipe(r, sessiontest.Evening); len(got) != 2 || got[0].Bottle != "other" || got[1].Bottle != "first" {
		t.Errorf("%+v", got)
	}
}

func TestNamedAndNewName(t *testing.T) {
	b := inventoryOf([]Entry{
		{At: sessiontest.Evening, Action: Mixed, Bottle: "fixer-2026-11-25", Bath: fixerBath()},
		{At: sessiontest.Evening, Action: Mixed, Bottle: "fixer-2026-11-25-2", Bath: fixerBath()},
		{At: sessiontest.Evening, Action: Mixed, Bottle: "stock", Bath: fixerBath()},
	})
	if c, err := b.OpenBottleNamed("fixer-2026-11-25"); err != nil || c.Name != "fixer-2026-11-25" {
		t.Error(c, err)
	}
	if c, err := b.OpenBottleNamed("st"); err != nil || c.Name != "stock" {
		t.Error(c, err)
	}
	for _, name := range []string{"fix", "", "toner"} {
		if c, err := b.OpenBottleNamed(name); err == nil {
			t.Errorf("%q: %v", name, c)
		}
	}
	if name := b.NewName("Fixer", sessiontest.Evening); name != "fixer-2026-11-25-3" {
		t.Error(name)
	}
}

// Lines that cannot be read spoil nothing and are counted; so are deeds on no bottle.
func TestBadLines(t *testing.T) {
	l := ledgerIn(t)
	enterIn(t, l, Entry{At: sessiontest.Evening, Action: Mixed, Bottle: "one", Bath: fixerBath()},
		Entry{At: sessiontest.Evening, Action: Used, Bottle: "gone", Area: 20}, Entry{At: sessiontest.Evening, Action: "sung to", Bottle: "one"})
	path := filepath.Join(l.Folder, "other.baths.jsonl")
	if err := os.WriteFile(path, []byte("{\"v\":1,\n\nnonsense\n{\"v\":0}\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	if b := readBack(t, l); len(b.Bottles) != 1 || b.Unreadable != 5 {
		t.Errorf("%d bottles, %d bad lines; expected 1 and 5", len(b.Bottles), b.Unreadable)
	}
	// a line that a crash cut short is closed off by the next
	file, _ := os.OpenFile(filepath.Join(l.Folder, "harbour-laptop.baths.jsonl"), os.O_APPEND|os.O_WRONLY, 0o600)
	file.WriteString(`{"v":1,"at":"20`)
	file.Close()
	enterIn(t, l, Entry{At: sessiontest.Evening.Add(1), Action: Used, Bottle: "one", Area: 20})
	if b := readBack(t, l); b.Bottles[0].Area != 20 || b.Unreadable != 6 {
		t.Errorf("%+v", b)
	}
}

type full struct{ sessiontest.QuickDisk }

func (full) Create(string, string) (journal.File, error) { return nil, errors.New("disk is full") }

func TestWriteSaysWhatWentWrong(t *testing.T) {
	l := ledgerIn(t)
	l.Disk = full{}
	if err := l.Write(Entry{At: sessiontest.Evening, Action: Mixed, Bottle: "one", Bath: fixerBath()}); err == nil || err.Error() != "baths: disk is full" {
		t.Error(err)
	}
}

// sessionIn is a session as the notebook has it.
func sessionIn(t testing.TB, store journal.Store, id string) notebook.Session {
	t.Helper()
	s, err := notebook.Open(store, id)
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
		if got := b.OpenBottle(now).Age; got != want {
			t.Errorf("mixed %v ahead of the clock: %v old; expected %v", ahead, got, want)
		}
	}
}

package bottles

// Bottles of stock in the ledger: drawn on once by each bath and each session.

import (
	"math"
	"testing"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/sequence/sessiontest"
)

// diluted is a bath of 900 ml with 100 ml of stock in it.
func diluted() sequence.Bath {
	return sequence.Bath{ID: "developer", Parts: []chem.Part{{Name: "Stock", Parts: 1}, {Name: "water", Parts: 8}}, Volume: 900}
}

func leftIn(t testing.TB, l Ledger, name string) chem.Millilitres {
	t.Helper()
	b := readBack(t, l)
	s, err := b.StockNamed(name)
	if err != nil || b.Unreadable != 0 {
		t.Fatalf("%v, %d bad lines", err, b.Unreadable)
	}
	return s.Left
}

func TestStockIsDrawnOnOnce(t *testing.T) {
	l := ledgerIn(t)
	for i, name := range []string{"first", "second"} {
		if _, err := l.OpenStock("stock", 150, name, sessiontest.Evening.Add(time.Duration(i)*time.Minute)); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := l.OpenStock("stock", 1, "first", sessiontest.Evening); err == nil {
		t.Error("two bottles of one name")
	}
	// 100 ml, then 100 ml of which the first bottle has 50
	for i := range 2 {
		if _, err := l.OpenBottle(diluted(), "", sessiontest.Evening.Add(time.Duration(i+1)*time.Hour)); err != nil {
			t.Fatal(err)
		}
	}
	if a, b := leftIn(t, l, "first"), leftIn(t, l, "sec"); math.Abs(float64(a)) > 1e-9 || math.Abs(float64(b-100)) > 1e-9 {
		t.Errorf("%v ml and %v ml left; expected 0 and 100", a, b)
	}
	drawn := Entry{At: sessiontest.Evening.Add(5 * time.Hour), Action: Drawn, Bottle: "second", Session: "s", Volume: 30}
	enterIn(t, l, drawn, drawn)
	drawn.At = drawn.At.Add(time.Hour)
	enterIn(t, l, drawn) // booked again, by another laptop
	if left := leftIn(t, l, "second"); math.Abs(float64(left-70)) > 1e-9 {
		t.Errorf("%v ml left; a session draws once", left)
	}
	b := readBack(t, l)
	if !b.HasBooking("s", "second") || b.HasBooking("s", "first") || !b.Has("first") || b.Has("third") {
		t.Error("what is booked is not told")
	}
	enterIn(t, l, Entry{At: sessiontest.Evening.Add(9 * time.Hour), Action: Retired, Bottle: "first"})
	if list := readBack(t, l).StockOpen(); len(list) != 1 || list[0].Bottle != "second" || list[0].Opened != 150 {
		t.Errorf("in hand: %+v", list)
	}
}

// Several draws on one bottle are one entry; a bath that no film came into draws nothing.
func TestWhatASessionDrew(t *testing.T) {
	draws := []sequence.Withdrawal{{Bath: "a", Bottle: "one", Volume: 10}, {Bath: "b", Bottle: "one", Volume: 5}, {Bath: "b", Bottle: "two"}, {Bath: "b", Bottle: "three", Volume: 1}}
	got := WithdrawalEntries(draws, sessiontest.Evening, "s")
	if len(got) != 2 || got[0].Bottle != "one" || got[0].Volume != 15 || got[1].Bottle != "three" || got[0].Session != "s" {
		t.Errorf("%+v", got)
	}
	r := sequence.Recipe{Title: "Tern", Film: sequence.Film{Name: "Tern"}, Load: sequence.Load{Vessel: sequence.Hangers, Sheets: 1},
		Baths: []sequence.Bath{diluted(), diluted()},
		Steps: []sequence.Step{{Name: "develop", Kind: sequence.Develop, Time: time.Minute, Bath: "developer"}, {Name: "fix", Kind: sequence.Fix, Time: time.Minute, Bath: "fixer"}}}
	r.Baths[1].ID = "fixer"
	p, err := planning.Resolve(r, sequence.Conditions{Stock: []sequence.Stock{{Part: "stock", Bottle: "s", Left: 500, Opened: 500}}})
	if err != nil {
		t.Fatal(err)
	}
	s := notebook.Session{Plan: &p, Steps: []notebook.StepDone{{Plan: &p.Steps[0], Sheets: []notebook.SheetInStep{{Sheet: 1}}}, {Plan: &p.Steps[1]}}}
	if drew := stockTaken(&s); len(drew) != 1 || drew[0].Bath != "developer" {
		t.Errorf("stopped before the fixer it drew %+v", drew)
	}
}

package holders

import (
	"bytes"
	"fmt"
	"testing"
	"time"
)

// manyHolders is a list as long as a file may be.
func manyHolders(n int) []byte {
	var b bytes.Buffer
	b.WriteString("holder,side,film,development,exposed\n")
	for i := range n {
		fmt.Fprintf(&b, "%d,%c,Plover 80,N,2026-11-%02d\n", i/2, 'A'+rune(i%2), 1+i%28)
	}
	return b.Bytes()
}

// One sheet is put on a list of 20,000, on disk: the aim is 0.2 s.
func BenchmarkAddToTwentyThousand(b *testing.B) {
	store := SheetStore{Folder: b.TempDir(), Laptop: "bench"}
	list, err := ReadCSV("many", manyHolders(20000))
	if err != nil {
		b.Fatal(err)
	}
	if err := store.Add(list...); err != nil {
		b.Fatal(err)
	}
	for n := 0; b.Loop(); n++ {
		e := ExposedSheet{Holder: fmt.Sprint(100000 + n), Side: "A", Film: "Tern 125"}
		if err := store.Add(e); err != nil {
			b.Fatal(err)
		}
		if err := store.Replace(e, nil); err != nil {
			b.Fatal(err)
		}
	}
}

// Ten times as long a list takes about ten times as long, not a hundred: comparing every line with
// every other, or copying all that stands above it for each, took 17 s for 20,000.
func TestALongListTakesNoLongerThanItIs(t *testing.T) {
	took := func(n int) (least time.Duration) {
		l, err := parseCSV("list", manyHolders(n))
		if err != nil || len(l.sheets) != n {
			t.Fatalf("%d sheets, %v", len(l.sheets), err)
		}
		for range 3 {
			began := time.Now()
			if l, err = parseCSV("list", l.text); err != nil {
				t.Fatal(err)
			}
			l.add(ExposedSheet{Holder: "1", Side: "C", Film: "Tern 125", Note: "a column more"})
			if d := time.Since(began); least == 0 || d < least {
				least = d
			}
		}
		return least
	}
	if a, b := took(1000), took(10000); b > 40*a {
		t.Errorf("1,000 lines take %v, 10,000 take %v", a, b)
	}
}

package holders

import (
	"bytes"
	"fmt"
	"runtime"
	"testing"
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

// Ten times as long a list takes about ten times the memory to change, not a hundred: copying all
// that stands above it for each line took most of 17 s for 20,000. Bytes are counted, since no
// busy machine changes them.
func TestALongListTakesNoMoreThanItIs(t *testing.T) {
	took := func(n int) uint64 {
		l, err := parseCSV("list", manyHolders(n))
		if err != nil || len(l.sheets) != n {
			t.Fatalf("%d sheets, %v", len(l.sheets), err)
		}
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		l.add(ExposedSheet{Holder: "1", Side: "C", Film: "Tern 125", Note: "a column more"})
		runtime.ReadMemStats(&after)
		return after.TotalAlloc - before.TotalAlloc
	}
	if a, b := took(1000), took(10000); b > 30*a {
		t.Errorf("1,000 lines take %d bytes, 10,000 take %d", a, b)
	}
}

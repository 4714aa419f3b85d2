package page

import (
	"testing"

	"example.org/wetside/tui/say"
)

// What differs is marked; a long text goes on in its own column.
func TestBeside(t *testing.T) {
	got := SideBySide([]say.ComparedRow{{Label: "film", A: "Plover 80", B: "Plover 80"}, {Label: "develop", A: "8:00", B: "6:00"}, {Label: "notes", A: "", B: "sheet two stuck to three"}}, 46)
	want := "" +
		"film             Plover 80      Plover 80\n" +
		"develop        ≠ 8:00           6:00\n" +
		"notes          ≠                sheet two\n" +
		"                                stuck to\n" +
		"                                three\n"
	if got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

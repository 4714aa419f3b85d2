package page

import "testing"

// What differs is marked; a long text goes on in its own column.
func TestBeside(t *testing.T) {
	got := SideBySide([]CompareRow{{"film", "Plover 80", "Plover 80"}, {"develop", "8:00", "6:00"}, {"notes", "", "sheet two stuck to three"}}, 46)
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

package widget

import "testing"

// A page is what the table showed, less the row that is seen again, however high the window is.
func TestPagerGoesByWhatIsShown(t *testing.T) {
	table := Table{Columns: []Column{{Title: "n"}}, Width: 20}
	for range 60 {
		table.Rows = append(table.Rows, []string{"row"})
	}
	for _, height := range []int{6, 12, 40} {
		var p Pager
		table.Height = height
		p.Draw(table)
		_, n := table.Shown()
		if at, ok := p.Move(3, 60, "pgdown"); !ok || at != 3+n-1 {
			t.Errorf("height %d: pgdown to %d; %d rows are shown", height, at, n)
		}
		if at, _ := p.Move(3, 60, "pgup"); at != 3-min(3, n-1) {
			t.Errorf("height %d: pgup to %d", height, at)
		}
	}
	if at, ok := new(Pager).Move(3, 60, "x"); ok || at != 3 {
		t.Errorf("x moves to %d", at)
	}
}

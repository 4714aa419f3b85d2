package timeline

// Where the names and times of steps stand, so that none covers another.

import (
	"cmp"
	"slices"
	"sort"
)

// Label is where a step's name and its time stand. They come or go together.
type Label struct {
	Segment int
	X       float64
}

// Labels finds places for as many labels as there is room for: the present step's first,
// then those of the longest steps. size tells how wide a step's label is; gap stays free
// between two. Each begins where its step begins; one that would go over the right end is
// moved to the left as far as it must.
func (t Timeline) Labels(width, gap float64, size func(Segment) float64) []Label {
	return t.LabelsAt(gap, size, func(s Segment) (float64, bool) {
		x := min(t.At(s.From, width), width-size(s))
		return x, x >= 0
	})
}

// LabelsAt is Labels in places of the caller's own, such as whole columns; false for a step whose label has none.
func (t Timeline) LabelsAt(gap float64, size func(Segment) float64, place func(Segment) (float64, bool)) []Label {
	order := make([]int, len(t.Segments))
	for i := range order {
		order[i] = i
	}
	present := t.Present()
	slices.SortStableFunc(order, func(a, b int) int {
		if (a == present) != (b == present) {
			if a == present {
				return -1
			}
			return 1
		}
		x, y := t.Segments[a], t.Segments[b]
		return cmp.Compare(y.To-y.From, x.To-x.From)
	})
	var list []Label
	for _, i := range order {
		s := t.Segments[i]
		n := size(s)
		if x, ok := place(s); ok && !slices.ContainsFunc(list, func(l Label) bool {
			return x < l.X+size(t.Segments[l.Segment])+gap && l.X < x+n+gap
		}) {
			list = append(list, Label{i, x})
		}
	}
	sort.Slice(list, func(i, j int) bool { return list[i].X < list[j].X })
	return list
}

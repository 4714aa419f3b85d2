package recipes

// reuse: how much longer a developer takes when it is used again, and what replenisher it wants.

import (
	"example.org/wetside/chem"
	"example.org/wetside/sequence"
)

// readReuse reads a share, or a table of sheets that a litre has served and how many times as long, both rising.
func readReuse(f field) *chem.Reuse {
	t, ok := f.table(reuseKeys...)
	if !ok {
		return nil
	}
	const expected = `pairs of sheets that a litre has served and times as long, such as [[4, 1.1], [8, 1.25]]`
	r := &chem.Reuse{}
	r.Longer, _ = t.lookup("longer").number(0.001, 0.5)
	r.Replenish, _ = t.lookup("replenish").volume()
	longer := numberFrom(1, chem.MostLonger)
	for row := range pairs(t.lookup("table"), expected, 1, numberFrom(0.1, 1000), longer) {
		sheets, times := row.first, row.second
		if n := len(r.Table); n > 0 && (sheets <= r.Table[n-1][0] || times < r.Table[n-1][1]) {
			row.pair.addFault("not more than the pair before",
				"more sheets in each pair, and no shorter a time", "")
			continue
		}
		r.Table = append(r.Table, [2]float64{sheets, times})
	}
	switch {
	case t.lookup("longer").isSet() && t.lookup("table").isSet():
		t.lookup("table").addFault("a second way to say how much longer", "longer or table, not both", "")
	case !t.lookup("longer").isSet() && !t.lookup("table").isSet() && !t.lookup("replenish").isSet():
		t.addFault("says nothing", oneOf(reuseKeys), "")
	}
	return r
}

// checkReuse refuses reuse that has no end, or of a bath for one session.
func (t table) checkReuse(b sequence.Bath) {
	f := t.lookup("reuse")
	switch {
	case b.Reuse == nil:
	case b.OneShot:
		f.addFault("a bath for one session", "reuse or one_shot, not both", "staining developers are for one session")
	case b.MostPerLitre() == 0 && !t.lookup("sheets_per_litre").isSet():
		f.addFault("reuse without an end", "sheets_per_litre beside it, the most that a litre serves", "")
	case b.Volume == 0 && !t.lookup("volume").isSet():
		f.addFault("reuse of a bath of no known volume", "volume beside it", "")
	}
}

// checkReuse refuses reuse of a bath in which nothing is developed.
func checkReuse(top table, baths []sequence.Bath, steps []step) {
	for i, f := range top.lookup("bath").elements("") {
		if i >= len(baths) || baths[i].Reuse == nil {
			continue
		}
		develops, used := false, false
		for _, s := range steps {
			if s.Bath == baths[i].ID {
				used, develops = true, develops || s.Kind == sequence.Develop
			}
		}
		if used && !develops {
			f.asTable().lookup("reuse").addFault("nothing is developed in this bath",
				"reuse of a developer only", "a fixer's time goes by its clearing time: wetside bottles clearing")
		}
	}
}

func (w *writer) reuse(r *chem.Reuse) {
	if r == nil {
		return
	}
	var rows []string
	for _, e := range r.Table {
		rows = append(rows, list([]string{formatDecimal(e[0]), formatDecimal(e[1])}))
	}
	w.table("reuse", func(of keys) {
		of.number("longer", r.Longer)
		of.list("table", rows)
		of.volume("replenish", r.Replenish)
	})
}

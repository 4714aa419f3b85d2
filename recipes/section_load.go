package recipes

// [load] and [[bath]]: the film in its vessel, and what it is put into.

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
)

func readLoad(f field) sequence.Load {
	load := sequence.Load{LoadEvery: 15 * time.Second, ShuffleEvery: 10 * time.Second, TransferEvery: 10 * time.Second}
	t, ok := f.require("[load] with vessel, sheets and size").table(loadKeys...)
	if !ok {
		return load
	}
	load.Vessel, _ = enum(t.lookup("vessel").require(oneOf(sequence.Vessels)), sequence.Vessels, "")
	load.Sheets, _ = t.lookup("sheets").require("a whole number from 1 to 200").integer(1, 200)
	load.Size = t.lookup("size").size()
	t.lookup("load_every").replace(&load.LoadEvery, timeLimits)
	t.lookup("turn_every").replace(&load.ShuffleEvery, timeLimits)
	t.lookup("move_every").replace(&load.TransferEvery, timeLimits)
	t.lookup("reverse_every").replace(&load.ReverseEvery, timeLimits)
	load.Names = readNames(t.lookup("names"), load.Sheets)
	return load
}

// readNames reads what the sheets are called: one for each, all different.
func readNames(f field, sheets int) []string {
	const expected = `a name for each sheet, such as ["1A", "1B"]`
	var names []string
	list := f.elements(expected)
	for _, n := range list {
		s, ok := n.text(20, false)
		if !ok {
			continue
		}
		if slices.Contains(names, s) {
			n.addFault(quote(s)+" twice", expected, "")
		}
		names = append(names, s)
	}
	if len(list) > 0 && sheets > 0 && len(list) != sheets {
		f.addFault(fmt.Sprintf("%d names for %d sheets", len(list), sheets), expected, "")
	}
	return names
}

// readBaths reads every [[bath]].
func readBaths(f field) []sequence.Bath {
	var baths []sequence.Bath
	seen := map[string]bool{}
	for _, b := range f.elements("[[bath]] headings") {
		t, ok := b.table(bathKeys...)
		if !ok {
			continue
		}
		bath := t.bath()
		if bath.ID != "" && seen[bath.ID] {
			t.lookup("id").addFault("a second bath called "+quote(bath.ID), "an id of its own", "")
		}
		seen[bath.ID] = true
		baths = append(baths, bath)
	}
	return baths
}

func (t table) bath() sequence.Bath {
	var b sequence.Bath
	b.ID, _ = t.lookup("id").require(`a short name, such as "developer"`).text(40, false)
	b.Parts = readParts(t.lookup("parts"))
	b.Volume, _ = t.lookup("volume").volume()
	b.StockPerSheet, _ = t.lookup("stock_per_sheet").volume()
	b.SheetsPerLitre, _ = t.lookup("sheets_per_litre").number(0.1, 1000)
	b.WorkingLife, _ = t.lookup("working_life").duration(timeLimits)
	b.OneShot = t.lookup("one_shot").boolean(false)
	b.Reuse = readReuse(t.lookup("reuse"))
	t.checkReuse(b)
	for _, c := range t.lookup("cautions").elements("a list of sentences") {
		if s, ok := c.text(500, true); ok {
			b.Cautions = append(b.Cautions, s)
		}
	}
	return b
}

// readParts reads what a bath is mixed from.
func readParts(f field) []chem.Part {
	const expected = `pairs of name and parts by volume, such as [["A", 1], ["water", 9]]`
	var parts []chem.Part
	name := func(f field) (string, bool) { return f.text(40, false) }
	for row := range pairs(f, expected, 1, name, numberFrom(0.001, 100_000)) {
		parts = append(parts, chem.Part{Name: row.first, Parts: row.second})
	}
	return parts
}

// formatLimit is a time as a recipe would write it.
func formatLimit(d sequence.Elapsed) string {
	s := d.String()
	for _, zero := range []string{"m0s", "h0m"} {
		if strings.HasSuffix(s, zero) {
			s = s[:len(s)-2]
		}
	}
	return s
}

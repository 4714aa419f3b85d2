package recipes

// growth: what a film test found, and what it was found with.

import "example.org/wetside/sequence"

// readGrowth reads how the gradient grows in a developing step, and the film,
// developer, vessel and agitation that it was measured with.
func readGrowth(f field) *sequence.Growth {
	t, ok := f.table(growthKeys...)
	if !ok {
		return nil
	}
	const limit = "the gradient that long development comes to, such as 1.2"
	g := &sequence.Growth{}
	g.Limit, _ = t.lookup("gamma_infinity").require(limit).number(0.1, 10)
	g.K, _ = t.lookup("k_per_min").require("how fast it grows, such as 0.11").number(0.0001, 100)
	g.Induction, _ = t.lookup("induction_min").number(0, 24*60)
	g.Film, _ = t.lookup("film").require("the film that was tested").text(80, false)
	g.Developer, _ = t.lookup("developer").text(200, false)
	g.Vessel, _ = enum(t.lookup("vessel").require(oneOf(sequence.Vessels)), sequence.Vessels, "")
	g.Agitate = readAgitation(t.lookup("agitate").require("the agitation that it was tested with"))
	g.From, _ = t.lookup("from").text(300, false)
	g.Tested = readTestedTimes(t.lookup("tested"))
	return g
}

// readTestedTimes reads the times of a film test, each with the gradient that it gave.
func readTestedTimes(f field) []sequence.TestedTime {
	const expected = `pairs of developing time and average gradient, such as [["5m", 0.44], ["12m", 0.66]]`
	var out []sequence.TestedTime
	for row := range pairs(f, expected, 1, timeWithin(timeLimits), numberFrom(0, 10)) {
		if n := len(out); n > 0 && row.first < out[n-1].Time {
			row.pair.addFault("the times fall", "each pair as long as the one before, or longer", "")
			continue
		}
		out = append(out, sequence.TestedTime{Time: row.first, Gradient: row.second})
	}
	return out
}

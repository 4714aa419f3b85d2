package recipes

// aim: what the times of a developing step were found for.

import "example.org/wetside/sequence"

// aimBounds are the least and most that a gradient or a contrast index may be.
var aimBounds = [2]float64{0.1, 3}

// readAim reads an average gradient, a contrast index, or a paper with what is printed on it.
func readAim(f field) *sequence.Aim {
	t, ok := f.table(aimKeys...)
	if !ok {
		return nil
	}
	a := &sequence.Aim{}
	kinds := 0
	for _, key := range aimKeys[:3] {
		if t.lookup(key).isSet() {
			kinds++
		}
	}
	if kinds != 1 {
		f.addFault("an aim of several or of none", "one of average, ci, paper", "")
	}
	a.Average, _ = t.lookup("average").number(aimBounds[0], aimBounds[1])
	a.Contrast, _ = t.lookup("ci").number(aimBounds[0], aimBounds[1])
	if !t.lookup("paper").isSet() {
		for _, key := range aimKeys[3:] {
			if x := t.lookup(key); x.isSet() {
				x.addFault("there is no paper", key+" with paper only", "")
			}
		}
		return a
	}
	p := &sequence.PrintAim{}
	p.Paper, _ = t.lookup("paper").number(0.3, 3)
	p.Subject, _ = t.lookup("subject").require("the subject's log range, such as 2.1").number(0.1, 6)
	p.Flare, _ = t.lookup("flare").number(0, 1.5)
	p.Shadow, _ = t.lookup("shadow").number(0.02, 1)
	p.Placed, _ = t.lookup("placed").number(-8, 3)
	p.Enlarger, _ = enum(t.lookup("enlarger"), sequence.Enlargers, sequence.Diffuse)
	if !t.lookup("shadow").isSet() {
		p.Shadow = sequence.UsualShadow
	}
	if !t.lookup("placed").isSet() {
		p.Placed = sequence.UsualPlaced
	}
	a.Print = p
	return a
}

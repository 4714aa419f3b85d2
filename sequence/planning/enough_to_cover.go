package planning

// How much of a bath covers the film in a vessel.

import (
	"math"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
)

// What a vessel takes besides the sheets: our own rule, for vessels of the usual makes.
const (
	besideSheet   chem.Centimetres = 3   // a tray or a tank is so much wider than its sheet
	overHanger    chem.Centimetres = 2.5 // so much over the sheet's upper edge
	betweenHanged chem.Centimetres = 1.3 // from hanger to hanger (half an inch)
	endsOfTank    chem.Centimetres = 2
)

// Cover is about how much of a bath covers n sheets in a vessel; 0 where that is not
// known: closed vessels say it themselves.
func Cover(v sequence.Vessel, n int, size sequence.Size) chem.Millilitres {
	w, h := chem.Centimetres(size.Width*chem.CentimetresPerInch), chem.Centimetres(size.Height*chem.CentimetresPerInch)
	var ml chem.Millilitres
	switch v {
	case sequence.Hangers:
		ml, _ = chem.RectangularVolume(w+besideSheet, chem.Centimetres(n)*betweenHanged+endsOfTank, h+overHanger)
	case sequence.Tray:
		depth := chem.MinDepth
		if n > 1 {
			depth = chem.StackDepth
		}
		ml, _ = chem.RectangularVolume(w+besideSheet, h+besideSheet, depth)
	case sequence.SingleTrays, sequence.Cradle:
		ml, _ = chem.RectangularVolume(w+besideSheet, h+besideSheet, chem.MinDepth)
		ml *= chem.Millilitres(n)
	}
	return chem.Millilitres(math.Ceil(float64(ml)/100) * 100)
}

// covered warns where a bath was mixed for another vessel than the one that it is used in,
// and may not cover the sheets there.
func (w *cautionBuilder) covered(b *sequence.Bath) {
	for i := range w.p.Steps {
		st := &w.p.Steps[i]
		if st.Bath != b.ID || st.Vessel == w.p.Recipe.Load.Vessel && !w.p.HasFilmTest() {
			continue
		}
		if need := Cover(st.Vessel, w.p.Sheets, w.p.Recipe.Load.Size); b.Volume > 0 && b.Volume < need {
			w.add(sequence.Care, "not-covered", sequence.Values{Bath: b.ID, Volume: b.Volume, Need: need, Vessel: st.Vessel, Sheets: w.p.Sheets})
			return
		}
	}
}

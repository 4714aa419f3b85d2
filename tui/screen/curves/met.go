package curves

// A contrast index or a print met: what is said of it, and its curve with shadow, highlight and the paper's range.

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"example.org/wetside/chem/response"
	"example.org/wetside/sequence/densities"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/widget"
)

// aimed is what was aimed at, in few words.
func (f *found) aimed() string {
	switch p := f.aim.Print; {
	case p != nil:
		return fmt.Sprintf("print, grade %.1f", response.GradeOf(p.Paper))
	case f.aim.Contrast > 0:
		return fmt.Sprintf("contrast index %.2f", f.aim.Contrast)
	}
	return fmt.Sprintf("gradient %.2f", f.gradient)
}

// index is the exposure index of N; nil where exposures are relative.
func (f *found) index() *float64 {
	if f.met != nil {
		return f.met.Index
	}
	return f.out.IndexAt(time.Duration(f.normal().Time * float64(time.Second)))
}

// ofPrint is where both ends of a print come to lie and how likely it is; "" for no print.
func (f *found) ofPrint() string {
	if f.met == nil || f.aim.Print == nil {
		return ""
	}
	n := &f.met.Negative
	return fmt.Sprintf("shadow %.2f, highlight %.2f; on the grade %.0f%%, within half a grade %.0f%%", n.BaseFog+n.Lands.ShadowD, n.BaseFog+n.Lands.HighlightD, 100*n.Chance, 100*n.Near)
}

// prints are N-2 to N+2 by the subject's range; where there is less room without the chance, which stands above for N.
func (f *found) prints(w int) []string {
	narrow := w < 60
	t := widget.Table{Width: w, Selected: -1, Plain: true, Columns: []widget.Column{{Title: "stops"}, {Title: "develop", Right: true}, {Title: "90%", Right: true},
		{Title: "expose", Right: true}, {Title: "on grade", Right: true}, {Title: "EI", Right: true}}}
	for _, d := range f.met.Developments {
		cells := []string{say.Minus(fmt.Sprintf("%-3s %4.1f", d.Name, d.Subject/math.Log10(2))), "–", "not reached", "–", "–", "–"}
		if n := d.Negative; n != nil {
			low, high := n.Low.Seconds(), n.High.Seconds()
			within := bounds(&low, &high)
			switch {
			case n.Outside && narrow:
				within = "untested"
			case n.Outside:
				within = "untested " + within
			}
			cells = append(cells[:1], seconds(n.Time.Seconds()), within, moreOrAsN(d), fmt.Sprintf("%.0f%%", 100*n.Chance), figure(d.Index, 0))
		}
		if d.Name == "N" {
			cells = strong(cells)
		}
		t.Rows = append(t.Rows, cells)
	}
	t = withoutEmpty(t)
	if narrow {
		for i := range t.Rows {
			t.Rows[i] = slices.Delete(t.Rows[i], 4, 5)
		}
		t.Columns = slices.Delete(t.Columns, 4, 5)
	}
	return strings.Split(t.View(), "\n")
}

// moreOrAsN is the exposure over N's, in stops.
func moreOrAsN(d densities.MetDevelopment) string {
	if math.Abs(d.More) < 0.05 {
		return "as N"
	}
	return say.Minus(fmt.Sprintf("%+.1f", d.More))
}

// atThePrint says what the paper sees.
func (f *found) atThePrint(w int) []string {
	n, p := &f.met.Negative, f.aim.Print
	text := fmt.Sprintf("A subject of %.1f stops (%.2f) is %.2f on film: flare lifts the shadow by %.2f. Shadow at log H %.2f: %.2f over a base plus fog of %.2f; highlight at %.2f. The paper sees a range of %.2f by %s light; it has %.2f.",
		p.Subject/math.Log10(2), p.Subject, n.Print.OnFilm(), n.Print.FlareLift(), n.Lands.Shadow, n.Lands.ShadowD, n.BaseFog, n.Lands.Highlight, n.Lands.Range, p.Enlarger, p.Paper)
	return widget.Painted(say.Minus(text), w, style.Value)
}

// chosen adds the curve of the time found, its shadow or speed point, and for a print its highlight and the paper's range beside
// the axis of densities.
func (f *found) chosen(list []widget.Curve, signs []widget.Sign) ([]widget.Curve, []widget.Sign) {
	const steps = 160
	low, high := f.response.Exposures()
	curve := widget.Curve{Label: "N " + seconds(f.met.Time.Seconds()), Ink: &style.Strong}
	for i := range steps + 1 {
		h := low + (high-low)*float64(i)/steps
		curve.Points = append(curve.Points, widget.Point{X: h, Y: f.response.Density(h, f.met.Time)})
	}
	list = append(list, curve)
	mark := func(h float64, sign rune) widget.Point {
		at := widget.Point{X: h, Y: f.response.Density(h, f.met.Time)}
		signs = append(signs, widget.Sign{At: at, Sign: sign, Ink: &style.Strong})
		return at
	}
	shadow := mark(f.met.Shadow, 'o')
	if f.aim.Print == nil {
		return list, signs
	}
	highlight := mark(f.met.Negative.Lands.Highlight, 'x')
	return append([]widget.Curve{paperRangeAt(low, shadow.Y, highlight.Y)}, list...), signs
}

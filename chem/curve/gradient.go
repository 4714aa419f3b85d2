package curve

// Average gradient and gamma.
//
// Sources: ISO 6:1993 (second hand) for the point n at 1.30 log H from the
// speed point and the rise of 0.80, within 0.05 (memory), that makes a speed
// valid; US Army subcourse SS0513 p. 97 for gamma as rise over run.

const (
	averagedOver     = 1.30 // log H
	validRise        = 0.80 // density over those
	validWithin      = 0.05
	gammaOver        = 0.60 // log H
	gammaSlack       = 0.01 // two stops, 0.602, pass for 0.60
	minGammaReadings = 3    // readings
)

// curveTraits are what bootstrap rounds need of a curve: its speed point and its
// rise over 1.30 log H from there.
type curveTraits struct {
	base, speedPoint, rise     float64
	hasSpeedPoint, hasGradient bool // whether speedPoint and rise are known
}

// gradient is the average gradient.
func (t curveTraits) gradient() float64 { return t.rise / averagedOver }

// traits of a curve over a base plus fog.
func (p *Interpolant) traits(base float64) curveTraits {
	t := curveTraits{base: base}
	t.speedPoint, t.hasSpeedPoint = p.crossing(base + speedOverBase)
	if !t.hasSpeedPoint {
		return t
	}
	end := t.speedPoint + averagedOver
	_, last := p.Range()
	if over := end - float64(last); over > 0 && over < Tolerance {
		end = float64(last)
	}
	if d, ok := p.At(LogH(end)); ok {
		t.rise, t.hasGradient = float64(d)-(base+speedOverBase), true
	}
	return t
}

// gamma is the greatest least-squares slope over any 0.60 log H: of the three
// or more readings that lie within it. ok is false where no such stretch lies
// inside the readings.
func gamma(x, y []float64) (slope float64, ok bool) {
	for i := range x {
		if x[i]+gammaOver > x[len(x)-1]+gammaSlack {
			break
		}
		j := i
		for j < len(x) && x[j] <= x[i]+gammaOver+gammaSlack {
			j++
		}
		if j-i < minGammaReadings {
			continue
		}
		if s := FitLine(x[i:j], y[i:j]).Slope; !ok || s > slope {
			slope, ok = s, true
		}
	}
	return slope, ok
}

// StraightLine is a straight line.
type StraightLine struct{ Slope, Intercept float64 }

// FitLine is the straight line of least squares through points; x holds at least
// two different values.
func FitLine(x, y []float64) StraightLine {
	var mx, my, xx, xy float64
	n := float64(len(x))
	for i := range x {
		mx += x[i] / n
		my += y[i] / n
	}
	for i := range x {
		xx += (x[i] - mx) * (x[i] - mx)
		xy += (x[i] - mx) * (y[i] - my)
	}
	return StraightLine{Slope: xy / xx, Intercept: my - xy/xx*mx}
}

// ISOTriangle is that of ISO 6:1993 at a speed point: 1.30 of log H on, and 0.80 up.
func ISOTriangle(m Reading) (corners [3]Reading) {
	return [3]Reading{m, {m.LogH + averagedOver, m.Density}, {m.LogH + averagedOver, m.Density + validRise}}
}

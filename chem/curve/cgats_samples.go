package curve

// The samples of CGATS text as a curve: which column, in which order, behind
// which exposures.

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

const fieldSample = "SAMPLE_ID"

// fieldOf are the names of the channels in a data format.
var fieldOf = map[Channel]string{Visual: "D_VIS", Blue: "D_BLUE", Green: "D_GREEN", Red: "D_RED"}

// sample is a numbered density.
type sample struct {
	number  int // from its name; 0 where that is no number
	id      csvCell
	density float64
	nth     int      // in their order, from 1
	at      position // of the density
}

// ReadCGATS reads one curve: the chosen channel of the samples, in the order
// of their numbers. Exposures are a tablet's, Options.LogH0 less its density,
// or equal steps from 0. Samples whose density falls with exposure are turned
// round, and Notes says so. The error is Faults, or about the Options.
func ReadCGATS(name string, data []byte, o Options) (Family, error) {
	if err := o.check(); err != nil {
		return Family{}, err
	}
	fs := &faultList{file: name}
	f := Family{Name: name}
	samples, said := samplesOf(fs, data, o.Channel)
	f.Notes = append(f.Notes, said...)
	if len(fs.list) == 0 && len(samples) < 2 {
		fs.add(position{}, fmt.Sprintf("%d samples", len(samples)), "at least 2")
	}
	if o.Tablet != nil && len(o.Tablet) != len(samples) && len(fs.list) == 0 {
		fs.add(position{}, fmt.Sprintf("%d samples for a tablet of %d steps", len(samples), len(o.Tablet)), "a sample for each step")
	}
	if err := fs.err(); err != nil {
		return Family{}, err
	}
	for i := range samples {
		samples[i].nth = i + 1
	}
	x := o.behind(len(samples))
	if o.Tablet != nil && o.LogH0 != nil {
		f.Scale = LuxSeconds
	}
	if fallsTooFar(x, samples) {
		slices.Reverse(samples)
		f.Notes = append(f.Notes, "densities fall with exposure as the samples are numbered; they are turned round")
	}
	f.Curves = []Curve{curveOf(fs, o.Time, nil, tabletReadings(x, samples))}
	if err := fs.err(); err != nil {
		return Family{}, err
	}
	if err := f.Curves[0].check(); err != nil {
		return Family{}, fmt.Errorf("%s: %w", printable(name), err)
	}
	return f, nil
}

// behind are the exposures of n samples by number.
func (o Options) behind(n int) []LogH {
	h0, step := LogH(0), cmp.Or(o.Step, tabletStep)
	if o.LogH0 != nil {
		h0 = *o.LogH0
	}
	x := make([]LogH, n)
	for i := range x {
		x[i] = LogH(i) * step
		if o.Tablet != nil {
			x[i] = h0 - LogH(o.Tablet[i])
		}
	}
	return x
}

// fallsTooFar tells whether densities fall with exposure, by and large.
func fallsTooFar(x []LogH, samples []sample) bool {
	h, d := make([]float64, len(x)), make([]float64, len(x))
	for i := range x {
		h[i], d[i] = float64(x[i]), samples[i].density
	}
	return FitLine(h, d).Slope < 0
}

// tabletReadings joins exposures and samples, exposure rising.
func tabletReadings(x []LogH, samples []sample) []tabletReading {
	spots := make([]tabletReading, len(x))
	for i, s := range samples {
		spots[i] = tabletReading{Reading{x[i], Density(s.density)}, s.nth, s.at}
	}
	if x[len(x)-1] < x[0] {
		slices.Reverse(spots)
	}
	return spots
}

// samplesOf reads a file's samples in the order of their numbers.
func samplesOf(fs *faultList, data []byte, c Channel) (samples []sample, notes []string) {
	t := parseCGATS(fs, data)
	if len(fs.list) > 0 {
		return nil, nil
	}
	id := t.column(fieldSample)
	if id < 0 {
		fs.add(t.fields[0].at, "no "+fieldSample+" in the format", "one")
	}
	k, notes := t.channel(fs, c)
	if len(fs.list) > 0 {
		return nil, nil
	}
	notes = append(notes, t.stain()...)
	for _, set := range t.sets {
		s := sample{id: set[id], at: set[k].at}
		s.number, _ = parseCount(s.id.text)
		v, what, expected := densityLimits.read(set[k].text)
		if what != "" {
			fs.add(set[k].at, what, expected)
		}
		s.density = v
		samples = append(samples, s)
	}
	return ordered(fs, samples), notes
}

// stainRatio is by how much blue densities must rise faster than visual ones to be told
// (our own rule; the published ratios are 1.16 and more).
const stainRatio = 1.08

// stain is a note where blue densities rise faster than visual ones: the image is
// stained, and prints harder than it looks.
//
// Source: H. E. Ives, Airplane Photography, 1920: printing over visual density of a
// pyro negative 1.16 to 2.75.
func (t cgatsTable) stain() []string {
	blue, visual := t.column(fieldOf[Blue]), t.column(fieldOf[Visual])
	if blue < 0 || visual < 0 {
		return nil
	}
	var x, y []float64
	for _, set := range t.sets {
		v, ok1 := parseDecimal(set[visual].text)
		b, ok2 := parseDecimal(set[blue].text)
		if ok1 && ok2 {
			x, y = append(x, v), append(y, b)
		}
	}
	if len(x) < 3 {
		return nil
	}
	ratio := FitLine(x, y).Slope
	if !(ratio >= stainRatio) {
		return nil
	}
	return []string{fmt.Sprintf("blue densities rise %.2f times as fast as visual ones: a stained negative; read it in blue for graded paper, in ultraviolet for processes that print by it; for variable-contrast paper neither is right", ratio)}
}

// column is the place of a field in the format; -1 where it is not there.
func (t cgatsTable) column(field string) int {
	return slices.IndexFunc(t.fields, func(c csvCell) bool { return c.text == field })
}

// channel is the column of the chosen channel. Without a choice it is the
// visual one, or the only one there is, which is said.
func (t cgatsTable) channel(fs *faultList, c Channel) (k int, notes []string) {
	var there []string
	for _, f := range t.fields {
		if strings.HasPrefix(f.text, "D_") {
			there = append(there, f.text)
		}
	}
	field := fieldOf[c]
	if c == "" {
		field = fieldOf[Visual]
		if len(there) == 1 && there[0] != field {
			field = there[0]
			notes = []string{"densities are of " + printable(field) + ", the only channel in the file"}
		}
	}
	k = t.column(field)
	if k < 0 {
		expected := "a file with densities"
		if len(there) > 0 {
			expected = "one of those there: " + quoted(strings.Join(there, " "))
		}
		fs.add(t.fields[0].at, "no "+field+" in the format", expected)
	}
	return k, notes
}

// ordered sorts samples with numbers by them, without a gap; samples with
// other names keep their order. No name may come twice.
func ordered(fs *faultList, samples []sample) []sample {
	seen := map[string]bool{}
	numbered := true
	for _, s := range samples {
		if seen[s.id.text] {
			fs.add(s.id.at, "a second sample "+quoted(s.id.text), "each once")
		}
		seen[s.id.text] = true
		numbered = numbered && s.number > 0
	}
	if !numbered {
		return samples
	}
	slices.SortStableFunc(samples, func(a, b sample) int { return a.number - b.number })
	for i := 1; i < len(samples); i++ {
		if n, before := samples[i].number, samples[i-1].number; n > before+1 {
			fs.add(samples[i].id.at, fmt.Sprintf("sample %d follows %d", n, before), "no gap in the numbers")
		}
	}
	return samples
}

// readTabletCGATS reads a tablet's densities.
func readTabletCGATS(name string, data []byte, c Channel) ([]Density, error) {
	if err := (Options{Channel: c}).check(); err != nil {
		return nil, err
	}
	fs := &faultList{file: name}
	samples, _ := samplesOf(fs, data, c)
	values := make([]float64, len(samples))
	for i, s := range samples {
		values[i] = s.density
		if !tabletLimits.holds(s.density) {
			fs.add(s.at, fmt.Sprintf("tablet density %g", s.density), tabletLimits.String())
		}
	}
	return tabletOf(fs, values, func(i int) position { return samples[i].at })
}

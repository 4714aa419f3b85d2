package curve

// Reading files of readings: what a caller may say, what is refused before
// anything is read, and what both formats have in common.

import (
	"bytes"
	"fmt"
	"slices"
	"strconv"
	"time"
	"unicode/utf8"
)

// Channel is the filter that densities were read through.
type Channel string

// The channels of CGATS text. Stained negatives are read in blue for graded
// paper; for variable-contrast paper no one channel is right.
const (
	Visual Channel = "vis"
	Blue   Channel = "blue"
	Green  Channel = "green"
	Red    Channel = "red"
)

// tabletStep is the usual step of a tablet: 0.05 to 3.05 in 21 steps
// (NAVEDTRA 14209 p. 282).
const tabletStep = 0.15

// maxFall is by how much a density may lie below one at less exposure
// before it is taken for a slip: a spot meter read to a third of a stop, and
// some noise (our own rule).
const maxFall = 0.15

// Options is what a file does not say itself.
type Options struct {
	LogH0   *LogH         // log H behind tablet density 0; nil: 0, relative
	Channel Channel       // of CGATS text; "": vis, or the only one there is
	Tablet  []Density     // of the samples of CGATS text, by number; nil: equal steps
	Step    LogH          // log H from sample to sample; 0: 0.15
	Time    time.Duration // developing time of CGATS text; 0: not known
}

func (o Options) check() error {
	switch o.Channel {
	case "", Visual, Blue, Green, Red:
	default:
		return fmt.Errorf("channel: %s; expected vis, blue, green or red", quoted(string(o.Channel)))
	}
	switch {
	case !(o.Step == 0 || o.Step >= 0.01 && o.Step <= 1):
		return fmt.Errorf("step: %g; expected 0.01 to 1", float64(o.Step))
	case o.LogH0 != nil && !logHLimits.holds(float64(*o.LogH0)):
		return fmt.Errorf("log H behind density 0: %g; expected %s", float64(*o.LogH0), logHLimits)
	case o.Time < 0 || o.Time > maxMinutes*time.Minute:
		return fmt.Errorf("developing time: %v; expected up to %d h", o.Time, maxMinutes/60)
	}
	return nil
}

// Read reads CSV or CGATS text, whichever it is. The error is Faults where the
// file is at fault: every bad field in one go.
func Read(name string, data []byte, o Options) (Family, error) {
	if IsCGATS(data) {
		return ReadCGATS(name, data, o)
	}
	return ReadCSV(name, data, o)
}

// ReadTablet reads the densities of a step tablet in the order of the file:
// the column `tablet` of a CSV, or CGATS text (by sample number; channel as
// Options say for samples). The error is as Read's.
func ReadTablet(name string, data []byte, channel Channel) ([]Density, error) {
	if IsCGATS(data) {
		return readTabletCGATS(name, data, channel)
	}
	return readTabletCSV(name, data)
}

// IsCGATS reports whether a file is CGATS text; any other is read as CSV.
func IsCGATS(data []byte) bool { return bytes.Contains(data, []byte(kwData)) }

// guard refuses a file that is too large or, for CSV, not text, and takes a
// byte order mark off.
func guard(fs *faultList, data []byte, text bool) ([]byte, bool) {
	if len(data) > maxFileSize {
		fs.add(position{}, fmt.Sprintf("%d bytes", len(data)), fmt.Sprintf("at most %d", maxFileSize))
		return nil, false
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	if text {
		for i := 0; i < len(data); {
			r, width := utf8.DecodeRune(data[i:])
			if r == utf8.RuneError && width == 1 {
				fs.add(positionOf(data, i), fmt.Sprintf("byte 0x%02x is not UTF-8", data[i]), "a text file in UTF-8")
				return nil, false
			}
			i += width
		}
	}
	return data, true
}

// positionOf is the line and column of byte i.
func positionOf(data []byte, i int) position {
	start := bytes.LastIndexByte(data[:i], '\n') + 1
	return position{bytes.Count(data[:i], []byte("\n")) + 1, utf8.RuneCount(data[start:i]) + 1}
}

// tabletReading is a reading and where it stands in the file.
type tabletReading struct {
	Reading
	step int
	at   position
}

// curveOf makes a curve of spots in the order of rising exposure. A density that falls too
// far below one at less exposure is a fault, one for each curve, unless it or what it falls
// below is a slip that Evaluate names; a strip that falls throughout is asked about.
func curveOf(fs *faultList, t time.Duration, base *Density, spots []tabletReading) Curve {
	c := Curve{Time: t, Base: base}
	for _, s := range spots {
		c.Readings, c.Steps = append(c.Readings, s.Reading), append(c.Steps, s.step)
	}
	x, y := c.columns()
	if at, below := c.falls(); at >= 0 && len(spots) > 2 && FitLine(x, y).Slope < 0 {
		fs.add(spots[at].at, "densities fall with exposure from step to step: was the strip read from its other end?",
			"at the tablet's clearest step the densest patch of the negative; turn the column round")
	} else if at >= 0 {
		fs.add(spots[at].at, fmt.Sprintf("density %.2f falls below %.2f, read at less exposure", y[at], float64(below)),
			fmt.Sprintf("densities that rise with exposure, within %.2f; leave a doubtful one empty", maxFall))
	}
	return c
}

// falls is the first reading too far below one at less exposure, slips left out, and that
// one's density; -1 for none.
func (c Curve) falls() (int, Density) {
	var slips []int
	if at, _ := c.deepest(nil); at >= 0 {
		slips = c.Outliers(c.readingError())
	}
	return c.deepest(slips)
}

// deepest is falls with the readings to be left out.
func (c Curve) deepest(but []int) (int, Density) {
	greatest := Density(densityLimits.min)
	for i, r := range c.Readings {
		switch {
		case slices.Contains(but, i):
		case r.Density < greatest-maxFall-Tolerance:
			return i, greatest
		default:
			greatest = max(greatest, r.Density)
		}
	}
	return -1, 0
}

// checkDirection is +1 where values rise throughout, -1 where they fall; at a value
// that does neither it returns its index as bad, else -1.
func checkDirection(values []float64) (sign, bad int) {
	sign = 1
	if len(values) > 1 && values[1] < values[0] {
		sign = -1
	}
	for i := 1; i < len(values); i++ {
		if float64(sign)*(values[i]-values[i-1]) < minStep {
			return sign, i
		}
	}
	return sign, -1
}

// readTabletCSV reads the column `tablet`.
func readTabletCSV(name string, data []byte) ([]Density, error) {
	fs := &faultList{file: name}
	s, ok := readTabletRows(fs, data, headTablet)
	if !ok {
		return nil, fs.err()
	}
	values, rows := s.firstColumn(fs)
	return tabletOf(fs, values, func(i int) position { return rows[i][0].at })
}

// tabletOf makes a tablet of densities that rise or fall throughout.
func tabletOf(fs *faultList, values []float64, at func(int) position) ([]Density, error) {
	if _, bad := checkDirection(values); bad >= 0 {
		fs.add(at(bad), fmt.Sprintf("tablet density %g after %g", values[bad], values[bad-1]), "every step to go on in the direction of the first two")
	}
	if err := fs.err(); err != nil {
		return nil, err
	}
	tablet := make([]Density, len(values))
	for i, v := range values {
		tablet[i] = Density(v)
	}
	return tablet, nil
}

// The usual tablet: 0.05 to 3.05 in 21 steps (NAVEDTRA 14209 p. 282).
const (
	DefaultSteps = 21
	DefaultStep  = tabletStep
	firstStep    = 0.05
)

// NominalTablet is the densities of a tablet of n equal steps. It errs for less
// than 5 or more than 100 steps, and for steps not from 0.01 to 1.
func NominalTablet(n int, step float64) ([]float64, error) {
	if n < minSmoothed || n > maxSmoothed || !(step >= 0.01 && step <= 1) || firstStep+step*float64(n-1) > tabletLimits.max {
		return nil, fmt.Errorf("tablet: %d steps of %g; expected %d to %d steps of 0.01 to 1, up to density %g", n, step, minSmoothed, maxSmoothed, tabletLimits.max)
	}
	tablet := make([]float64, n)
	for i := range tablet {
		tablet[i], _ = strconv.ParseFloat(fmt.Sprintf("%.4f", firstStep+step*float64(i)), 64)
	}
	return tablet, nil
}

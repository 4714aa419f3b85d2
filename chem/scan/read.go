package scan

// Read: from a picture to densities.

import (
	"fmt"
	"math"
	"slices"
)

// Options are what a person may say about a picture.
type Options struct {
	Tablet   []float64 // densities of the tablet's steps, rising
	Flat     *Picture  // the panel alone; nil: not taken
	TabletAt *Strip    // nil: looked for
	Strips   []Strip   // none: looked for
	BaseAt   *Place    // on unexposed film; nil: the margins about the strips are looked at
}

// veiledShare is the share of a patch's light that flare may be (our own rule): beyond it, flare that
// differs by a tenth from place to place changes the density by more than 0.02.
const veiledShare = 0.5

// Result is what a picture tells.
type Result struct {
	Tablet      []Patch // as the picture shows the tablet itself, each step by the curve of the others
	TabletAt    Strip
	Strips      []StripReading
	Tone        Tone
	Calibration [channels]Calibration
	Veil        float64 // share of the panel's light that lies over everything
	Panel       Panel
	Unevenness  float64 // density between the panel's brightest and dimmest parts, where it was seen
	veilLight   float64 // the same, of the file's scale
	panelErr    float64 // standard error of the panel's light, in density
}

// Panel is how the panel's uneven light is known.
type Panel int

// The ways, the least first.
const (
	PanelHidden  Panel = iota // nothing of it shows: its light counts as even
	PanelSeen                 // from what is bare about the strips
	PanelPicture              // from a picture of its own
)

// MarshalText is the way's name.
func (p Panel) MarshalText() ([]byte, error) {
	return []byte([]string{"hidden", "seen", "picture"}[p]), nil
}

// StripReading is one strip, its densest step first: the step that most light reached.
type StripReading struct {
	At      Strip
	Patches []Patch
	Base    *Patch // base plus fog; nil where none of it shows
}

// Patch is one step of a strip.
type Patch struct {
	Step    int
	X, Y    float64
	Density [channels]float64
	Error   [channels]float64 // standard error
	Doubt   [channels]Doubt   // not NoDoubt: there is no density, or a doubtful one (Spotted)
}

// Read finds and measures the strips of a picture. It errs where tablet or strips are not
// found, where too few of the tablet's steps can be told apart, or where a size does not fit.
func Read(p *Picture, o Options) (*Result, error) {
	if err := o.fits(p); err != nil {
		return nil, err
	}
	r := &Result{}
	if err := r.findStrips(p, &o); err != nil {
		return r, err
	}
	raw := p.measure(r.TabletAt, Linear, nil)
	if raw[0].by[Luminance].light < raw[len(raw)-1].by[Luminance].light {
		r.TabletAt = r.TabletAt.turned()
		slices.Reverse(raw)
	}
	values := make([]float64, len(raw))
	for i := range raw {
		values[i] = raw[i].by[Luminance].light
	}
	r.Tone = toneOf(values, o.Tablet)
	even, err := r.evenOut(p, o.Flat)
	if err != nil {
		return r, err
	}
	return r, r.take(p, o, even)
}

// evenOut is what divides uneven light out: a picture of the panel, or what shows of it.
func (r *Result) evenOut(p, panel *Picture) (evener, error) {
	if panel != nil {
		r.Panel = PanelPicture
		even, noise, err := flat(p, panel, r.Tone)
		r.panelErr = noise
		return even, err
	}
	l, ok := bare(p, r.Tone)
	if !ok {
		return nil, nil
	}
	r.Panel, r.Unevenness, r.panelErr = PanelSeen, l.whole, l.err
	return l.even, nil
}

// fits errs for options that contradict themselves.
func (o Options) fits(p *Picture) error {
	if len(o.Tablet) < leastSteps {
		return fmt.Errorf("a tablet of %d steps; expected at least %d", len(o.Tablet), leastSteps)
	}
	for i := 1; i < len(o.Tablet); i++ {
		if !(o.Tablet[i] > o.Tablet[i-1]) {
			return fmt.Errorf("the tablet's step %d is not denser than the step before it", i+1)
		}
	}
	strips := slices.Clone(o.Strips)
	if o.TabletAt != nil {
		strips = append(strips, *o.TabletAt)
	}
	for _, s := range strips {
		if s.Steps < 1 || math.Hypot(s.X2-s.X1, s.Y2-s.Y1) < float64(4*s.Steps) {
			return fmt.Errorf("a strip from %.0f,%.0f to %.0f,%.0f is too short for %d steps", s.X1, s.Y1, s.X2, s.Y2, s.Steps)
		}
		for _, v := range [][2]float64{{s.X1, float64(p.Width)}, {s.X2, float64(p.Width)}, {s.Y1, float64(p.Height)}, {s.Y2, float64(p.Height)}} {
			if v[0] < 0 || v[0] > v[1] {
				return fmt.Errorf("a strip from %.0f,%.0f to %.0f,%.0f lies outside the picture of %d by %d pixels", s.X1, s.Y1, s.X2, s.Y2, p.Width, p.Height)
			}
		}
	}
	if b := o.BaseAt; b != nil && !(b.X >= 0 && b.X < float64(p.Width) && b.Y >= 0 && b.Y < float64(p.Height)) {
		return fmt.Errorf("base plus fog at %.0f,%.0f lies outside the picture of %d by %d pixels", b.X, b.Y, p.Width, p.Height)
	}
	return nil
}

// findStrips takes what the person said and looks for the rest.
func (r *Result) findStrips(p *Picture, o *Options) error {
	if o.TabletAt != nil {
		r.TabletAt = *o.TabletAt
	}
	if o.TabletAt != nil && len(o.Strips) > 0 {
		return nil
	}
	at, strips, err := Find(p, o.Tablet)
	if o.TabletAt == nil {
		r.TabletAt = at
	}
	if err == ErrNoStrips && len(o.Strips) > 0 {
		err = nil
	}
	if len(o.Strips) == 0 {
		o.Strips = strips
	}
	return err
}

// turned is the strip from its other end.
func (s Strip) turned() Strip {
	s.X1, s.Y1, s.X2, s.Y2 = s.X2, s.Y2, s.X1, s.Y1
	return s
}

// take measures tablet and strips and turns light into density.
func (r *Result) take(p *Picture, o Options, even evener) error {
	list := p.measure(r.TabletAt, r.Tone, even)
	for c := range channels {
		cal, err := calibrate(list, o.Tablet, c)
		if err != nil && (c == Luminance || !p.Grey) {
			return err
		}
		r.Calibration[c] = cal
	}
	var stray float64
	r.veilLight, r.Veil, stray = veil(list, o.Tablet, Luminance)
	r.Tablet = r.patches(list, stray)
	var base *Patch
	if o.BaseAt != nil {
		base = new(r.baseAt(p, *o.BaseAt, even, stray))
	}
	for _, s := range o.Strips {
		patches := p.measure(s, r.Tone, even)
		if patches[0].by[Luminance].light > patches[len(patches)-1].by[Luminance].light {
			slices.Reverse(patches)
			s = s.turned()
		}
		one := StripReading{At: s, Patches: r.patches(patches, stray)}
		one.Base = base
		if base == nil {
			one.Base = r.margin(p, one, even, stray)
		}
		r.Strips = append(r.Strips, one)
	}
	return nil
}

// patches turns light into density, each with all that makes it uncertain.
func (r *Result) patches(list []patch, stray float64) []Patch {
	out := make([]Patch, len(list))
	for i, p := range list {
		out[i] = Patch{Step: i + 1, X: p.x, Y: p.y}
		for c := range channels {
			d, e, doubt := r.Calibration[c].density(p.by[c])
			veiled := p.by[c].light > 0 && r.veilLight > veiledShare*p.by[c].light
			switch {
			case p.pixels < leastInner:
				doubt = TooSmall
			case doubt == NoDoubt && veiled:
				doubt = Veiled
			case doubt == NoDoubt && p.spotted:
				doubt = Spotted
			}
			if doubt == NoDoubt || doubt == Spotted {
				out[i].Density[c] = d
				out[i].Error[c] = math.Sqrt(e*e + math.Pow(stray/p.by[c].light/math.Ln10, 2) + r.panelErr*r.panelErr)
			}
			out[i].Doubt[c] = doubt
		}
	}
	return out
}

// Known reports whether there is a density of a channel, doubtful or not.
func (p Patch) Known(c Channel) bool { return p.Doubt[c] == NoDoubt || p.Doubt[c] == Spotted }

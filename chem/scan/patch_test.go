package scan

// Small pictures drawn here, each with one thing that must be told of a patch, a strip or the panel.

import (
	"errors"
	"image"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

const (
	side      = 40   // of a drawn patch, in pixels
	bareLight = 0.9  // of the scale: the bare panel
	grain     = 1e-3 // share of a pixel's light that it scatters by
)

// card is a picture of grey that is being drawn.
type card struct {
	*image.Gray16
	rng *rand.Rand
}

func newCard(w, h int) card {
	c := card{image.NewGray16(image.Rect(0, 0, w, h)), rand.New(rand.NewPCG(3, 5))}
	c.fill(0, 0, w, h, bareLight)
	return c
}

// fill is a part of it in one light, with its grain.
func (c card) fill(x1, y1, x2, y2 int, light float64) {
	for y := y1; y < y2; y++ {
		for x := x1; x < x2; x++ {
			c.set(x, y, light*(1+grain*c.rng.NormFloat64()))
		}
	}
}

func (c card) set(x, y int, light float64) {
	v := uint16(min(max(light, 0), 1)*0xffff + 0.5)
	i := c.PixOffset(x, y)
	c.Pix[i], c.Pix[i+1] = uint8(v>>8), uint8(v)
}

// strip lays patches of those densities from a place on, and says where they lie.
func (c card) strip(x, y int, densities []float64) Strip {
	for k, d := range densities {
		c.fill(x+k*side, y, x+(k+1)*side, y+side, bareLight*math.Pow(10, -d))
	}
	return Strip{X1: float64(x), X2: float64(x + len(densities)*side), Y1: float64(y) + side/2, Y2: float64(y) + side/2, Across: side, Steps: len(densities)}
}

// specks are of another light, on that share of a patch's pixels.
func (c card) specks(s Strip, k int, share, light float64) {
	for y := range side {
		for x := range side {
			if c.rng.Float64() < share {
				c.set(int(s.X1)+k*side+x, int(s.Y1)-side/2+y, light)
			}
		}
	}
}

func (c card) picture(t testing.TB) *Picture {
	t.Helper()
	p, err := pictureOf(c.Gray16)
	if err != nil {
		t.Fatal(err)
	}
	p.Width, p.Height = c.Rect.Dx(), c.Rect.Dy()
	return p
}

// steps are evenly rising densities.
func steps(n int, first, each float64) (list []float64) {
	for k := range n {
		list = append(list, first+each*float64(k))
	}
	return list
}

// TestDoubts: what is wrong with a patch is told, and only then.
func TestDoubts(t *testing.T) {
	c := newCard(600, 300)
	tablet := steps(11, 0.05, 0.15)
	at := c.strip(60, 40, tablet)
	wedge := []float64{2.0, 1.4, 1.25, 1.1, 0.95, 0.8, 0.65, 0.5, 0.35, 0.2, 0.02}
	s := c.strip(60, 160, wedge)
	c.specks(s, 2, 0.10, 0)  // dust
	c.specks(s, 3, 0.35, 0)  // much of it
	c.specks(s, 4, 0.10, 1)  // bright, at the end of the scale
	c.specks(s, 5, 0.005, 1) // a few
	r, err := Read(c.picture(t), Options{Tablet: tablet, TabletAt: &at, Strips: []Strip{s}})
	if err != nil {
		t.Fatal(err)
	}
	for k, want := range []Doubt{Denser, NoDoubt, NoDoubt, Spotted, Clipped, NoDoubt, NoDoubt, NoDoubt, NoDoubt, NoDoubt, Lighter} {
		p := r.Strips[0].Patches[k]
		if p.Doubt[Luminance] != want {
			t.Errorf("density %.2f: %q; expected %q", wedge[k], p.Doubt[Luminance], want)
		}
		if p.Known(Luminance) && math.Abs(p.Density[Luminance]-wedge[k]) > 0.005 {
			t.Errorf("density %.2f read as %.4f", wedge[k], p.Density[Luminance])
		}
	}
	small := s
	small.X2, small.Y1, small.Y2, small.Across = s.X1+44, s.Y1-10, s.Y1-10, 4
	r, err = Read(c.picture(t), Options{Tablet: tablet, TabletAt: &at, Strips: []Strip{small}})
	if err != nil || r.Strips[0].Patches[4].Doubt[Luminance] != TooSmall {
		t.Errorf("patches of 4 by 4 pixels: %v, %+v", err, r.Strips)
	}
}

// TestVeiledIsRefused: a patch of which flare is more than half.
func TestVeiledIsRefused(t *testing.T) {
	c := newCard(600, 300)
	tablet := steps(11, 0.05, 0.2)
	at := c.strip(60, 40, tablet)
	s := c.strip(60, 160, tablet)
	for i := 0; i < len(c.Pix); i += 2 {
		v := float64(uint16(c.Pix[i])<<8|uint16(c.Pix[i+1])) / 0xffff
		c.set(i/2%600, i/2/600, v+0.03*bareLight)
	}
	r, err := Read(c.picture(t), Options{Tablet: tablet, TabletAt: &at, Strips: []Strip{s}})
	if err != nil || math.Abs(r.Veil-0.03) > 0.005 {
		t.Fatalf("%v, veil %.4f; 0.03 lies over it", err, r.Veil)
	}
	for _, p := range r.Strips[0].Patches {
		d := tablet[len(tablet)-p.Step]
		want := NoDoubt
		if 0.03 > 0.5*(math.Pow(10, -d)+0.03) {
			want = Veiled
		}
		if p.Doubt[Luminance] != want {
			t.Errorf("density %.2f: %q; expected %q", d, p.Doubt[Luminance], want)
		}
	}
}

// TestAStepOff: where the film goes on at both ends as the steps do that lie there, a strip may be taken
// a step off, and that is told; of a strip with two ends it is not.
func TestAStepOff(t *testing.T) {
	tablet := steps(11, 0.05, 0.15)
	bent := []float64{0.3, 0.31, 0.33, 0.45, 0.62, 0.83, 1.05, 1.25, 1.4, 1.42, 1.43} // as no tablet is
	for _, goesOn := range []bool{false, true} {
		c := newCard(620, 400)
		c.strip(60, 60, tablet)
		if goesOn {
			c.fill(10, 240, 60, 240+side, bareLight*math.Pow(10, -bent[0]))
			c.fill(500, 240, 550, 240+side, bareLight*math.Pow(10, -bent[10]))
		}
		c.strip(60, 240, bent)
		_, strips, err := Find(c.picture(t), tablet)
		if err != nil || len(strips) != 1 || strips[0].Unsure != goesOn {
			t.Errorf("goes on %v: %v, %+v", goesOn, err, strips)
		}
	}
}

// TestPanelOfItsOwn: its noise is part of every standard error, and it must be of the same size.
func TestPanelOfItsOwn(t *testing.T) {
	tablet := steps(11, 0.05, 0.15)
	c := newCard(600, 300)
	at := c.strip(60, 40, tablet)
	s := c.strip(60, 160, tablet)
	const rough = 0.05
	panel := newCard(600, 300)
	for y := range 300 {
		for x := range 600 {
			panel.set(x, y, 0.7*(1+rough*c.rng.NormFloat64()))
		}
	}
	r, err := Read(c.picture(t), Options{Tablet: tablet, TabletAt: &at, Strips: []Strip{s}, Flat: panel.picture(t)})
	if err != nil {
		t.Fatal(err)
	}
	// Cells of 10 by 10 pixels, every third of them looked at: 16.
	want := rough / math.Sqrt(16) / math.Ln10
	if e := r.Strips[0].Patches[5].Error[Luminance]; e < 0.8*want || e > 1.4*want {
		t.Errorf("standard error %.4f; the panel's noise alone makes %.4f", e, want)
	}
	if _, err := Read(c.picture(t), Options{Tablet: tablet, TabletAt: &at, Strips: []Strip{s}, Flat: newCard(600, 301).picture(t)}); !errors.Is(err, ErrFlatSize) {
		t.Errorf("a panel of another size: %v", err)
	}
}

// TestMiddleOf is the median that a full order gives.
func TestMiddleOf(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 9))
	for range 2000 {
		v := make([]float32, 1+r.IntN(40))
		for i := range v {
			v[i] = float32(r.IntN(1 + r.IntN(30)))
		}
		want := slices.Sorted(slices.Values(v))[len(v)/2]
		if got := middleOf(slices.Clone(v)); got != want {
			t.Fatalf("%v of %v; expected %v", got, v, want)
		}
	}
}

// TestSmall: a copy for the eye keeps what is bright and dark; half the light is 188 of 255 in sRGB.
func TestSmall(t *testing.T) {
	c := newCard(400, 200)
	for y := range 200 {
		for x := range 400 {
			c.set(x, y, []float64{0, 0.5, 1, 0.5}[x/100])
		}
	}
	s := c.picture(t).Small(100, Linear)
	if s.W != 100 || s.H != 50 {
		t.Fatalf("%d by %d", s.W, s.H)
	}
	for i, want := range []uint8{0, 188, 255, 188} {
		if got := s.Pix[20*s.W+i*25+12]; got != [3]uint8{want, want, want} {
			t.Errorf("%d: %v; expected %d", i, got, want)
		}
	}
}

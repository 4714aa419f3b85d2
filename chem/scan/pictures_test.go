package scan

// Whole pictures, made by numpy and ImageMagick in testdata/pictures.py: where the strips are found,
// how far the densities err, and whether the standard errors are honest.

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// truth is what pictures.py says of a picture.
type truth struct {
	Tablet   []float64 `json:"tablet"`
	TabletAt []float64 `json:"tablet_at"`
	Strips   []struct {
		Densities []float64 `json:"densities"`
		At        []float64 `json:"at"`
	} `json:"strips"`
}

// python is Debian's, which has numpy.
const python = "/usr/bin/python3"

// outside skips where a part is missing, or fails if WETSIDE_E2E=1 asks for all.
func outside(t testing.TB) {
	t.Helper()
	err := exec.Command(python, "-c", "import numpy, scipy").Run()
	if err == nil {
		_, err = exec.LookPath("convert")
	}
	if err != nil {
		if os.Getenv("WETSIDE_E2E") == "1" {
			t.Fatal("python3-numpy, python3-scipy and imagemagick are wanted by WETSIDE_E2E=1: ", err)
		}
		t.Skip("python3-numpy, python3-scipy or imagemagick is not installed")
	}
}

// taken is a picture made as asked, the panel's where there is one, and what is true of it.
func taken(t testing.TB, kind, how string) (p, panel *Picture, tr truth) {
	t.Helper()
	folder := t.TempDir()
	args := append([]string{"testdata/pictures.py", folder, "p", kind}, strings.Fields(how)...)
	if out, err := exec.Command(python, args...).CombinedOutput(); err != nil {
		t.Fatalf("pictures.py: %v\n%s", err, out)
	}
	text, err := os.ReadFile(filepath.Join(folder, "p.json"))
	if err == nil {
		err = json.Unmarshal(text, &tr)
	}
	if err != nil {
		t.Fatal(err)
	}
	open := func(name string) *Picture {
		files, _ := filepath.Glob(filepath.Join(folder, name+".[tpj]*g"))
		tiff, _ := filepath.Glob(filepath.Join(folder, name+".tiff"))
		files = append(files, tiff...)
		if len(files) == 0 {
			return nil
		}
		data, err := os.ReadFile(files[0])
		if err != nil {
			t.Fatal(err)
		}
		picture, err := Decode(fileOf(data))
		if err != nil {
			t.Fatal(err)
		}
		return picture
	}
	return open("p"), open("p-flat"), tr
}

// TestPictures: densities from 0.05 to 2.0. The bounds were set before the program was written.
func TestPictures(t *testing.T) {
	outside(t)
	cases := []struct {
		kind, how  string
		rms, worst float64
		refused    Doubt // what may be refused
	}{
		{"tiff16", "", 0.01, 0.03, NoDoubt},
		{"tiff16", "full=3000", 0.01, 0.03, NoDoubt},
		{"jpeg", "full=4000", 0.02, 0.06, NoDoubt},
		{"tiff16", "falloff=0.1 flat=1", 0.015, 0.03, NoDoubt},
		{"png16", "falloff=0.1", 0.015, 0.03, NoDoubt}, // what shows of the panel stands in
		{"jpeg", "rotation=3 dust=300", 0.02, 0.06, NoDoubt},
		{"tiff16", "rotation=-5 dust=500 sheet=1 flip=1", 0.02, 0.06, NoDoubt},
		{"tiff16", "veil=0.02 rotation=1.5", 0.02, 0.06, Veiled},
		{"png16", "vertical=1 rotation=2 stain=20", 0.01, 0.03, NoDoubt},
		{"png8", "grey=1 steps=11 step=0.3 strips=6 height=1500", 0.02, 0.06, NoDoubt},
		{"tiff16", "steps=31 step=0.1", 0.01, 0.03, NoDoubt},
	}
	var inside, all float64
	for i, c := range cases {
		t.Run(c.kind+" "+c.how, func(t *testing.T) {
			p, panel, tr := taken(t, c.kind, fmt.Sprintf("%s seed=%d", c.how, 40+i))
			r, err := Read(p, Options{Tablet: tr.Tablet, Flat: panel})
			if err != nil {
				t.Fatal(err)
			}
			if len(r.Strips) != len(tr.Strips) {
				t.Fatalf("%d strips found; %d lie there", len(r.Strips), len(tr.Strips))
			}
			e := judged(t, r, tr, c.refused)
			if e.rms > c.rms || e.worst > c.worst {
				t.Errorf("root mean square error %.4f, worst %.4f; at most %g and %g", e.rms, e.worst, c.rms, c.worst)
			}
			t.Logf("root mean square %.4f, worst %.4f, %.0f of %.0f inside 90%%, %d refused", e.rms, e.worst, e.inside, e.n, e.refused)
			inside, all = inside+e.inside, all+e.n
		})
	}
	// Errors within one picture share the tablet's, so the band is of pictures, not of patches.
	if share := inside / all; share < 0.85 || share > 0.97 {
		t.Errorf("%.3f of the densities lie inside their 90%% intervals", share)
	}
}

type judgement struct {
	rms, worst, inside, n float64
	refused               int
}

// judged compares with the truth in all channels that are not stained.
func judged(t *testing.T, r *Result, tr truth, may Doubt) (e judgement) {
	t.Helper()
	for i, s := range r.Strips {
		want := slices.Clone(tr.Strips[i].Densities)
		if want[0] < want[len(want)-1] {
			slices.Reverse(want)
		}
		for k, p := range s.Patches {
			switch doubt := p.Doubt[Green]; {
			case want[k] > 2:
				continue
			case doubt != NoDoubt && doubt == may:
				e.refused++
				continue
			case doubt != NoDoubt:
				t.Errorf("strip %d step %d, density %.2f: %s", i+1, k+1, want[k], doubt)
				continue
			}
			off := p.Density[Green] - want[k]
			e.n, e.rms, e.worst = e.n+1, e.rms+off*off, max(e.worst, math.Abs(off))
			if math.Abs(off) < 1.645*p.Error[Green] {
				e.inside++
			}
		}
	}
	e.rms = math.Sqrt(e.rms / e.n)
	return e
}

// TestStainInBlue: blue light sees the stain of a negative beside a tablet of silver.
func TestStainInBlue(t *testing.T) {
	outside(t)
	p, _, tr := taken(t, "tiff16", "stain=15 seed=5 strips=2")
	r, err := Read(p, Options{Tablet: tr.Tablet})
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range r.Strips {
		for _, step := range s.Patches[3:12] {
			if ratio := step.Density[Blue] / step.Density[Green]; math.Abs(ratio-1.15) > 0.005 {
				t.Errorf("step %d: blue %.3f, 15%% more than green wanted; green %.3f", step.Step, step.Density[Blue], step.Density[Green])
			}
		}
	}
}

// TestGivenPlaces: a person's strips are taken where they are, from either end.
func TestGivenPlaces(t *testing.T) {
	outside(t)
	p, _, tr := taken(t, "tiff16", "rotation=4 seed=9 strips=2")
	strip := func(at []float64) Strip {
		return Strip{X1: at[0], Y1: at[1], X2: at[2], Y2: at[3], Across: 100, Steps: len(tr.Tablet)}
	}
	tablet := strip(tr.TabletAt).turned()
	r, err := Read(p, Options{Tablet: tr.Tablet, TabletAt: &tablet, Strips: []Strip{strip(tr.Strips[0].At), strip(tr.Strips[1].At).turned()}})
	if err != nil {
		t.Fatal(err)
	}
	if e := judged(t, r, tr, NoDoubt); e.rms > 0.01 {
		t.Errorf("root mean square error %.4f", e.rms)
	}
}

// TestCalibrationIsScipys: between the tablet's steps the curve is that of scipy's monotone cubic.
func TestCalibrationIsScipys(t *testing.T) {
	outside(t)
	tablet := []float64{0.05, 0.2, 0.36, 0.49, 0.66, 0.8, 1.1}
	x := []float64{0.03, 0.22, 0.33, 0.55, 0.7, 0.82, 1.2}
	list := make([]patch, len(x))
	for i := range x {
		list[i] = patch{pixels: 100}
		list[i].by[Green] = sample{light: math.Pow(10, -x[i]), err: 1e-6}
	}
	c, err := calibrate(list, tablet, Green)
	if err != nil {
		t.Fatal(err)
	}
	script := fmt.Sprintf("import scipy.interpolate as s, json; f=s.PchipInterpolator(%s,%s); print(json.dumps([float(f(0.05+0.11*i)) for i in range(10)]))", list64(x), list64(tablet))
	out, err := exec.Command(python, "-c", script).Output()
	if err != nil {
		t.Fatal(err)
	}
	var want []float64
	if err := json.Unmarshal(out, &want); err != nil {
		t.Fatal(err)
	}
	for i, w := range want {
		at := 0.05 + 0.11*float64(i)
		if at < x[1] || at > x[len(x)-2] {
			continue // the two differ in how they end
		}
		if d, _, _ := c.density(sample{light: math.Pow(10, -at)}); math.Abs(d-w) > 1e-9 {
			t.Errorf("at %.2f: %.9f; scipy %.9f", at, d, w)
		}
	}
}

func list64(v []float64) string {
	text, _ := json.Marshal(v)
	return string(text)
}

// TestBase: base plus fog from the sheet's margin and from a place on it; pictures.py gives sheets a
// base of 0.14. Where strips lie on the bare panel there is none.
func TestBase(t *testing.T) {
	outside(t)
	p, _, tr := taken(t, "tiff16", "sheet=1 seed=31 strips=2 rotation=1")
	r, err := Read(p, Options{Tablet: tr.Tablet})
	if err != nil {
		t.Fatal(err)
	}
	for i, s := range r.Strips {
		if s.Base == nil || math.Abs(s.Base.Density[Luminance]-0.14) > 0.01 {
			t.Fatalf("strip %d: base plus fog %+v; expected 0.14", i+1, s.Base)
		}
	}
	r, err = Read(p, Options{Tablet: tr.Tablet, BaseAt: &Place{r.Strips[1].Base.X, r.Strips[1].Base.Y}})
	if err != nil || math.Abs(r.Strips[0].Base.Density[Luminance]-0.14) > 0.02 {
		t.Errorf("at a place: %v, %+v; expected 0.14", err, r.Strips[0].Base)
	}
	p, _, tr = taken(t, "tiff16", "seed=31 strips=2")
	if r, err = Read(p, Options{Tablet: tr.Tablet}); err != nil || r.Strips[0].Base != nil || r.Strips[1].Base != nil {
		t.Errorf("without a sheet: %v, %+v", err, r.Strips)
	}
}

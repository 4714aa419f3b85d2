package scan

// Files that are no pictures, or not to be believed.

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"encoding/json"
	"errors"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"io"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"runtime"
	"strings"
	"testing"

	"golang.org/x/image/tiff"
)

// grey is a picture of one grey.
func grey(w, h int, v uint16) image.Image {
	m := image.NewGray16(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			m.SetGray16(x, y, color.Gray16{Y: v})
		}
	}
	return m
}

func encoded(t testing.TB, m image.Image, kind string) []byte {
	t.Helper()
	var b bytes.Buffer
	var err error
	switch kind {
	case "png":
		err = png.Encode(&b, m)
	case "tiff":
		err = tiff.Encode(&b, m, nil)
	case "jpeg":
		err = jpeg.Encode(&b, m, nil)
	}
	if err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// fileOf is bytes as a file.
func fileOf(data []byte) *io.SectionReader {
	return io.NewSectionReader(bytes.NewReader(data), 0, int64(len(data)))
}

// pngOfSize is a PNG whose header claims a size.
func pngOfSize(w, h uint32) []byte {
	b := []byte("\x89PNG\r\n\x1a\n")
	head := binary.BigEndian.AppendUint32(nil, w)
	head = append(binary.BigEndian.AppendUint32(head, h), 8, 2, 0, 0, 0)
	chunk := append([]byte("IHDR"), head...)
	b = append(binary.BigEndian.AppendUint32(b, 13), chunk...)
	return binary.BigEndian.AppendUint32(b, crc32.ChecksumIEEE(chunk))
}

// tiffOf is a grey TIFF of 16 bits whose one strip of data is deflated (TIFF 6.0 and its supplement of
// 2002).
func tiffOf(w, h uint32, strip []byte) []byte {
	b := append([]byte("II*\x00"), 8, 0, 0, 0)
	fields := [][3]uint32{{256, 4, w}, {257, 4, h}, {258, 3, 16}, {259, 3, 8}, {262, 3, 1}, {273, 4, 8 + 2 + 9*12 + 4}, {277, 3, 1}, {278, 4, h}, {279, 4, uint32(len(strip))}}
	b = binary.LittleEndian.AppendUint16(b, uint16(len(fields)))
	for _, f := range fields {
		b = binary.LittleEndian.AppendUint16(binary.LittleEndian.AppendUint16(b, uint16(f[0])), uint16(f[1]))
		b = binary.LittleEndian.AppendUint32(binary.LittleEndian.AppendUint32(b, 1), f[2])
	}
	return append(append(b, 0, 0, 0, 0), strip...)
}

// deflated is so many zeros.
func deflated(n int) []byte {
	var b bytes.Buffer
	z, _ := zlib.NewWriterLevel(&b, zlib.BestSpeed)
	block := make([]byte, 1<<16)
	for ; n > 0; n -= len(block) {
		z.Write(block[:min(n, len(block))])
	}
	z.Close()
	return b.Bytes()
}

// TestDeflatedBomb: what a strip holds beyond its pixels is never kept.
func TestDeflatedBomb(t *testing.T) {
	if _, err := Decode(fileOf(tiffOf(200, 100, deflated(200*100*2)))); err != nil {
		t.Fatal("an honest one: ", err)
	}
	bomb := tiffOf(200, 100, deflated(150<<20))
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	_, err := Decode(fileOf(bomb))
	runtime.ReadMemStats(&after)
	if grown := after.TotalAlloc - before.TotalAlloc; grown > 50e6 {
		t.Errorf("%d bytes of memory for a strip of 40 kB, %v", grown, err)
	}
}

func TestDecodeRefuses(t *testing.T) {
	whole := encoded(t, grey(300, 200, 30000), "png")
	for name, c := range map[string]struct {
		data []byte
		want string
	}{
		"nothing":     {nil, "not a picture"},
		"text":        {[]byte("step,density\n1,0.05\n"), "not a picture"},
		"one pixel":   {encoded(t, grey(1, 1, 0), "png"), "1 by 1 pixels"},
		"60000 wide":  {pngOfSize(60000, 60000), "60000 by 60000 pixels"},
		"a bomb":      {pngOfSize(19999, 19999), "19999 by 19999 pixels"},
		"a wide TIFF": {tiffOf(60000, 400, nil), "60000 by 400 pixels"},
		"a TIFF bomb": {tiffOf(19999, 19999, nil), "19999 by 19999 pixels"},
		"no strip":    {tiffOf(4000, 5000, nil), "damaged or cut short"},
		"cut short":   {whole[:len(whole)/2], "damaged or cut short"},
		"cut in head": {whole[:20], "not a picture"},
	} {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		_, err := Decode(fileOf(c.data))
		runtime.ReadMemStats(&after)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v; expected %q", name, err, c.want)
		}
		if grown := after.TotalAlloc - before.TotalAlloc; grown > 50e6 {
			t.Errorf("%s: %d bytes of memory for a refusal", name, grown)
		}
	}
}

// TestDecodeSameLight: the three formats say the same of one grey.
func TestDecodeSameLight(t *testing.T) {
	m := grey(128, 96, 0x8080)
	for _, kind := range []string{"png", "tiff", "jpeg"} {
		p, err := Decode(fileOf(encoded(t, m, kind)))
		if err != nil {
			t.Errorf("%s: %v", kind, err)
			continue
		}
		if v := p.at(5, 5)[Green-1]; v < 0.500 || v > 0.504 {
			t.Errorf("%s: %v; 0.502 was written", kind, v)
		}
	}
}

// TestNothingThere: a bare panel, and noise, have no tablet.
func TestNothingThere(t *testing.T) {
	noise := image.NewGray(image.Rect(0, 0, 400, 300))
	r := rand.New(rand.NewPCG(1, 2))
	for i := range noise.Pix {
		noise.Pix[i] = uint8(r.IntN(256))
	}
	tablet := []float64{0.05, 0.35, 0.65, 0.95, 1.25, 1.55}
	for name, m := range map[string]image.Image{"bare": grey(400, 300, 60000), "noise": noise} {
		p, err := Decode(fileOf(encoded(t, m, "png")))
		if err != nil {
			t.Fatal(err)
		}
		if _, err := Read(p, Options{Tablet: tablet}); !errors.Is(err, ErrNoTablet) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// FuzzDecode: no file ends the program or takes memory that its size does not allow.
func FuzzDecode(f *testing.F) {
	for _, kind := range []string{"png", "tiff", "jpeg"} {
		f.Add(encoded(f, grey(80, 70, 999), kind))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		if p, err := Decode(fileOf(data)); err == nil {
			_, _ = Read(p, Options{Tablet: []float64{0.05, 0.35, 0.65, 0.95, 1.25}})
		}
	})
}

// TestSRGBIsLCMS: light of a number as the curve of liblcms2's own sRGB profile has it.
func TestSRGBIsLCMS(t *testing.T) {
	missing := t.Skip
	if os.Getenv("WETSIDE_E2E") == "1" {
		missing = t.Fatal
	}
	script := `import ctypes, json
l = ctypes.CDLL("liblcms2.so.2")
for f in ("cmsCreate_sRGBProfile", "cmsReadTag"): getattr(l, f).restype = ctypes.c_void_p
l.cmsReadTag.argtypes = [ctypes.c_void_p, ctypes.c_uint32]
l.cmsEvalToneCurveFloat.argtypes = [ctypes.c_void_p, ctypes.c_float]
l.cmsEvalToneCurveFloat.restype = ctypes.c_float
c = l.cmsReadTag(l.cmsCreate_sRGBProfile(), 0x67545243) # gTRC
print(json.dumps([l.cmsEvalToneCurveFloat(c, i / 255) for i in range(256)]))`
	out, err := exec.Command(python, "-c", script).Output()
	var want []float64
	if err == nil {
		err = json.Unmarshal(out, &want)
	}
	if err != nil || len(want) != 256 {
		missing("liblcms2 is not there: sRGB is not compared with it: ", err)
	}
	for i, w := range want {
		if got := float64(SRGB.light(float32(i) / 255)); math.Abs(got-w) > 1e-5 {
			t.Errorf("%d of 255: light %.6f; liblcms2 %.6f", i, got, w)
		}
	}
}

// TestSRGB: light of a number by IEC 61966-2-1; the values are the standard's equations at places
// worked by hand, 0.5 -> 0.21404 and 0.04045 -> 0.0031308.
func TestSRGB(t *testing.T) {
	for _, c := range [][2]float32{{0, 0}, {1, 1}, {0.5, 0.21404}, {0.04045, 0.0031308}} {
		if got := SRGB.light(c[0]); got < c[1]-2e-6 || got > c[1]+2e-6 {
			t.Errorf("%g: light %g; expected %g", c[0], got, c[1])
		}
	}
}

package scan

// Every way of saving a TIFF, against the pixels that ImageMagick and libtiff wrote and read.

import (
	"encoding/binary"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// convert is ImageMagick's.
func convert(t testing.TB, args ...string) []byte {
	t.Helper()
	out, err := exec.Command("convert", args...).Output()
	if err != nil {
		t.Fatalf("convert %s: %v", strings.Join(args, " "), err)
	}
	return out
}

// pattern is a picture of 131 by 97 pixels as ImageMagick can read it: no two pixels alike, so that
// none may change places, with flat parts for what packs runs.
func pattern(t testing.TB) (file string) {
	t.Helper()
	const w, h = 131, 97
	r := rand.New(rand.NewPCG(8, 15))
	data := []byte("P6\n131 97\n65535\n")
	for y := range h {
		for x := range w {
			for c := range 3 {
				v := uint16(r.IntN(1 << 16))
				if x > 40 && x < 90 {
					v = uint16(y*600 + c*77)
				}
				data = binary.BigEndian.AppendUint16(data, v)
			}
		}
	}
	file = filepath.Join(t.TempDir(), "pattern.ppm")
	if err := os.WriteFile(file, data, 0o600); err != nil {
		t.Fatal(err)
	}
	return file
}

func TestEveryTIFF(t *testing.T) {
	outside(t)
	from := pattern(t)
	for _, how := range []string{
		"-compress none", "-compress lzw", "-compress zip", "-compress rle", "-endian MSB -compress none", "-endian MSB -compress lzw",
		"-compress lzw -define tiff:predictor=2", "-compress zip -define tiff:predictor=2 -endian MSB", "-depth 8 -compress zip -define tiff:predictor=2",
		"-depth 8 -compress none", "-depth 8 -compress rle", "-depth 8 -compress lzw", "-colorspace gray -compress none", "-colorspace gray -depth 8 -compress zip",
		"-colorspace gray -define quantum:polarity=min-is-white -compress none", "-colorspace gray -depth 8 -define quantum:polarity=min-is-white -compress lzw",
		"-compress zip -define tiff:tile-geometry=64x32", "-depth 8 -compress none -define tiff:tile-geometry=16x16", "-compress lzw -define tiff:rows-per-strip=7",
		"-compress none -define tiff:rows-per-strip=1", "-compress zip -define tiff:rows-per-strip=97", "-alpha on -channel A -evaluate set 60% +channel -compress none",
		"-depth 8 -alpha on -channel A -evaluate set 60% +channel -compress zip -define tiff:predictor=2",
	} {
		file := filepath.Join(t.TempDir(), "p.tiff")
		convert(t, append(append([]string{from, "-set", "colorspace", "RGB"}, strings.Fields(how)...), file)...)
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		p, err := Decode(fileOf(data))
		if err != nil {
			t.Errorf("%s: %v", how, err)
			continue
		}
		if want := map[bool]int{true: 8, false: 16}[strings.Contains(how, "-depth 8")]; p.Bits != want || p.Grey != strings.Contains(how, "gray") {
			t.Errorf("%s: %d bits, grey %v", how, p.Bits, p.Grey)
		}
		want := convert(t, file, "-alpha", "off", "-depth", "16", "-endian", "MSB", "rgb:-")
		wrong := 0
		for i := range p.Width * p.Height {
			for c, v := range p.at(i%p.Width, i/p.Width) {
				if w := binary.BigEndian.Uint16(want[6*i+2*c:]); uint16(v*0xffff+0.5) != w {
					wrong++
				}
			}
		}
		if wrong > 0 || p.Width != 131 || p.Height != 97 {
			t.Errorf("%s: %d of %d numbers are not as ImageMagick reads them, %d by %d", how, wrong, len(want)/2, p.Width, p.Height)
		}
	}
}

// TestTIFFsThatAreNotRead: each in a sentence that says what to save instead.
func TestTIFFsThatAreNotRead(t *testing.T) {
	outside(t)
	from := pattern(t)
	for how, want := range map[string]string{
		"-interlace plane -compress none":         "separate planes",
		"-colorspace cmyk -compress none":         "printing colours",
		"-colors 16 -type palette -compress none": "indexed",
		"-depth 1 -type bilevel -compress none":   "1-bit numbers; expected 8 or 16 bits",
		"-compress jpeg -depth 8":                 "expected",
		"-type bilevel -compress fax":             "1-bit",
	} {
		file := filepath.Join(t.TempDir(), "p.tiff")
		convert(t, append(append([]string{from}, strings.Fields(how)...), file)...)
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := Decode(fileOf(data)); err == nil || !strings.Contains(err.Error(), want) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: %v; expected %q", how, err, want)
		}
	}
}

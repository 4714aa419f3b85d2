package scan

// Files made to harm: each is refused in one sentence, by a process that is measured from outside.

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"image/jpeg"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/iotest"
)

// What a refusal may take.
const (
	mostMemory = 300e6 // bytes
	mostTime   = 3.0   // seconds of processor time
)

// part is a chunk of a PNG (ISO/IEC 15948, 5.3).
func part(kind string, data []byte) []byte {
	b := binary.BigEndian.AppendUint32(nil, uint32(len(data)))
	b = append(append(b, kind...), data...)
	return binary.BigEndian.AppendUint32(b, crc32.ChecksumIEEE(b[4:]))
}

// blackPNG is a picture of zeros.
func blackPNG(w, h, bits, colours, interlaced, bytes int) []byte {
	head := binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, uint32(w)), uint32(h))
	head = append(head, byte(bits), byte(colours), 0, 0, byte(interlaced))
	b := append([]byte("\x89PNG\r\n\x1a\n"), part("IHDR", head)...)
	return append(append(b, part("IDAT", deflated(bytes))...), part("IEND", nil)...)
}

// field is one of a TIFF's directory: a tag, a type, a count, a value.
type tiffEntry [4]uint32

// tiffWith is a TIFF of those fields, then data, which begins at byte 8 + 2 + 12 * fields + 4.
func tiffWith(data []byte, fields ...tiffEntry) []byte {
	b := append([]byte("II*\x00"), 8, 0, 0, 0)
	b = binary.LittleEndian.AppendUint16(b, uint16(len(fields)))
	for _, f := range fields {
		b = binary.LittleEndian.AppendUint16(binary.LittleEndian.AppendUint16(b, uint16(f[0])), uint16(f[1]))
		b = binary.LittleEndian.AppendUint32(binary.LittleEndian.AppendUint32(b, f[2]), f[3])
	}
	return append(append(b, 0, 0, 0, 0), data...)
}

// rgbTIFF is the fields of one of red, green and blue with so many more numbers, 16 bits each, in one
// strip.
func rgbTIFF(w, h, samples, compression, strip uint32) []tiffEntry {
	const fields = 10
	at := uint32(8 + 2 + 12*fields + 4)
	return []tiffEntry{{256, 4, 1, w}, {257, 4, 1, h}, {258, 3, samples, at}, {259, 3, 1, compression}, {262, 3, 1, 2},
		{273, 4, 1, at + 2*samples}, {277, 3, 1, samples}, {278, 4, 1, h}, {279, 4, 1, strip}, {284, 3, 1, 1}}
}

// words of 16 bits, little end first.
func words(n int, v uint16) (b []byte) {
	for range n {
		b = binary.LittleEndian.AppendUint16(b, v)
	}
	return b
}

// oneStrip is a TIFF with a strip packed in one way.
func oneStrip(w, h, samples, compression uint32, strip []byte) []byte {
	return tiffWith(append(words(int(samples), 16), strip...), rgbTIFF(w, h, samples, compression, uint32(len(strip)))...)
}

// manyStrips is a grey TIFF whose strips all lie at one place of the file.
func manyStrips(rows int, strip []byte) []byte {
	const fields = 8
	at := uint32(8 + 2 + 12*fields + 4)
	n := uint32(rows)
	data := strip
	list := func(v uint32) (place uint32) {
		place = at + uint32(len(data))
		for range rows {
			data = binary.LittleEndian.AppendUint32(data, v)
		}
		return place
	}
	places, sizes := list(at), list(uint32(len(strip)))
	return tiffWith(data, tiffEntry{256, 4, 1, 1000}, tiffEntry{257, 4, 1, n}, tiffEntry{258, 3, 1, 16}, tiffEntry{259, 3, 1, 8}, tiffEntry{262, 3, 1, 1},
		tiffEntry{273, 4, n, places}, tiffEntry{278, 4, 1, 1}, tiffEntry{279, 4, n, sizes})
}

// progressive is a JPEG (ITU-T T.81) of black whose frame claims a size, whose blocks' first numbers
// come in one scan and which then goes over all of them so many times more.
func progressive(w, h, sampling, scans int) []byte {
	segment := func(marker byte, data ...byte) []byte {
		return append(binary.BigEndian.AppendUint16([]byte{0xff, marker}, uint16(len(data)+2)), data...)
	}
	one := func(class byte, symbol byte) []byte { // a code of one bit for one symbol
		return append(append([]byte{class, 1}, make([]byte, 15)...), symbol)
	}
	b := append([]byte{0xff, 0xd8}, segment(0xdb, append([]byte{0}, bytes.Repeat([]byte{1}, 64)...)...)...)
	b = append(b, segment(0xc2, 8, byte(h>>8), byte(h), byte(w>>8), byte(w), 3, 1, byte(sampling), 0, 2, 0x11, 0, 3, 0x11, 0)...)
	b = append(append(b, segment(0xc4, one(0, 0)...)...), segment(0xc4, one(0x10, 0xe0)...)...)
	b = append(b, segment(0xda, 3, 1, 0, 2, 0, 3, 0, 0, 0, 0)...)
	b = append(b, make([]byte, w*h/64*3/8+w+h)...)
	for i := range scans { // each says in a few bits that the next 16,384 blocks hold nothing
		b = append(b, segment(0xda, 1, byte(1+i%3), 0, byte(1+i%60), byte(1+i%60), 0)...)
		b = append(b, make([]byte, w*h/64/16384*2+8)...)
	}
	return append(b, 0xff, 0xd9)
}

// hostile are the files, and what is said of each. The largest pictures that are read are 24.5 million pixels.
func hostile() map[string]struct {
	data []byte
	want string
} {
	const w, h = 4900, 5000
	type file = struct {
		data []byte
		want string
	}
	black := deflated(w * h * 8)
	cut := blackPNG(w, h, 16, 6, 0, w*h*8+h)
	huge := rgbTIFF(w, h, 3, 8, 10)
	huge[5] = tiffEntry{273, 4, 0xffffffff, 200}
	long := rgbTIFF(w, h, 3, 8, 10)
	long[2] = tiffEntry{258, 3, 0x7fffffff, 100}
	return map[string]file{
		"one pixel":                  {blackPNG(1, 1, 16, 2, 0, 7), "1 by 1 pixels"},
		"60,000 wide":                {blackPNG(60000, 400, 16, 2, 0, 7), "60000 by 400 pixels"},
		"60,000 by 60,000":           {oneStrip(60000, 60000, 3, 8, nil), "60000 by 60000 pixels"},
		"sizes that overflow":        {oneStrip(0xffffffff, 0xffffffff, 3, 8, nil), "pixels; expected at most"},
		"a deflated TIFF":            {oneStrip(w, h, 3, 8, deflated(w*h*6)), "no step tablet"},
		"a deflated TIFF of four":    {oneStrip(w, h, 4, 8, black), "no step tablet"},
		"a deflated TIFF of eight":   {oneStrip(w, h, 8, 8, black), "take 392 MB of memory saved so; expected at most 196: save it with red, green and blue alone"},
		"more deflated than it says": {oneStrip(200, 100, 3, 8, black), "no step tablet"},
		"PackBits":                   {oneStrip(w, h, 4, 32773, bytes.Repeat([]byte{0x81, 0}, w*h*8/128+1)), "no step tablet"},
		"PackBits of nothing":        {oneStrip(w, h, 4, 32773, bytes.Repeat([]byte{0x80}, 50e6)), "damaged or cut short"},
		"LZW that is none":           {oneStrip(w, h, 4, 5, bytes.Repeat([]byte{0x81, 0}, 1e6)), "damaged or cut short"},
		"a plain TIFF cut short":     {oneStrip(w, h, 4, 1, make([]byte, 1e6)), "damaged or cut short"},
		"a TIFF of huge counts":      {tiffWith(words(8, 16), huge...), "damaged or cut short (field 273 has 4294967295 values; expected 1)"},
		"a TIFF of many bits":        {tiffWith(nil, long...), "not a picture that can be read (field 258 has 2147483647 values; expected 3)"},
		"strips at one place":        {manyStrips(20000, deflated(8<<20)), "its parts come to"},
		"a deflated PNG":             {cut, "no step tablet"},
		"a PNG cut short":            {cut[:len(cut)/2], "damaged or cut short"},
		"an interlaced PNG":          {blackPNG(w, h, 16, 6, 1, w*h*8), "take 392 MB of memory saved so; expected at most 196: save it without interlacing"},
		"a progressive JPEG":         {progressive(w, h, 0x11, 3), "take 368 MB of memory saved so; expected at most 196: save it as baseline JPEG, not progressive"},
		"a progressive JPEG, halved": {progressive(w, h, 0x22, 3), "no step tablet"},
		"a JPEG of many scans":       {progressive(w, h, 0x22, 5000), "a JPEG of 5001 scans; expected at most 60"},
		"a JPEG of as many as may":   {progressive(w, h, 0x22, maxScans-1), "no step tablet"},
		"a JPEG cut short":           {progressive(w, h, 0x22, 3)[:40000], "damaged or cut short"},
	}
}

// childFile names the file that the test, started anew, is to read.
const childFile = "WETSIDE_HOSTILE_PICTURE"

// TestHostilePictures: refused in one sentence, within memory and time that GNU time measures.
func TestHostilePictures(t *testing.T) {
	if name := os.Getenv(childFile); name != "" {
		readHostile(t, name)
		return
	}
	const gnuTime = "/usr/bin/time"
	if _, err := os.Stat(gnuTime); err != nil {
		if os.Getenv("WETSIDE_E2E") == "1" {
			t.Fatal("GNU time is wanted by WETSIDE_E2E=1: ", err)
		}
		t.Skip("GNU time is not installed")
	}
	for name, c := range hostile() {
		file := filepath.Join(t.TempDir(), "picture")
		if err := os.WriteFile(file, c.data, 0o600); err != nil {
			t.Fatal(err)
		}
		cmd := exec.Command(gnuTime, "-f", "%M %U %S", os.Args[0], "-test.run=^TestHostilePictures$")
		cmd.Env = append(os.Environ(), childFile+"="+file)
		var said, measured bytes.Buffer
		cmd.Stdout, cmd.Stderr = &said, &measured
		if err := cmd.Run(); err != nil {
			t.Errorf("%s: %v\n%s%s", name, err, said.String(), measured.String())
			continue
		}
		refusal, _, _ := strings.Cut(said.String(), "\nPASS")
		if !strings.Contains(refusal, c.want) || strings.Contains(refusal, "\n") {
			t.Errorf("%s: %q; expected %q in one line", name, refusal, c.want)
		}
		var kilobytes, user, system float64
		if _, err := fmt.Sscan(measured.String(), &kilobytes, &user, &system); err != nil {
			t.Fatalf("%s: %v in %q", name, err, measured.String())
		}
		t.Logf("%-27s %3.0f MB %.2f s, a file of %s bytes: %s", name, kilobytes*1024/1e6, user+system, strconv.Itoa(len(c.data)), refusal)
		if kilobytes*1024 > mostMemory || user+system > mostTime {
			t.Errorf("%s: %.0f MB and %.2f s; expected at most %g and %g", name, kilobytes*1024/1e6, user+system, mostMemory/1e6, mostTime)
		}
	}
}

// readHostile reads a file as the program does, and says why it is refused.
func readHostile(t *testing.T, name string) {
	f, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	info, err := f.Stat()
	if err != nil {
		t.Fatal(err)
	}
	p, err := Decode(io.NewSectionReader(f, 0, info.Size()))
	if err == nil {
		_, err = Read(p, Options{Tablet: []float64{0.05, 0.35, 0.65, 0.95, 1.25, 1.55}})
	}
	fmt.Println(err)
}

// TestJPEGFrameIsFound as image/jpeg finds it, behind fill bytes, stray ones and what is no marker: none
// of them hides a progressive frame.
func TestJPEGFrameIsFound(t *testing.T) {
	whole := progressive(640, 480, 0x22, 3)
	frame := bytes.Index(whole, []byte{0xff, 0xc2})
	for _, between := range []string{"", "\xff\xff\xff", "stray", "\xff\x00\x00\x05", "\xff\xd3", "\xff\xfe\x00\x06\xff\xc0\x00\x11"} {
		data := slices.Concat(whole[:frame], []byte(between), whole[frame:])
		if _, err := jpeg.Decode(bytes.NewReader(data)); err != nil {
			t.Fatalf("%q: image/jpeg: %v", between, err)
		}
		found, samples, err := jpegFrame(bytes.NewReader(data))
		if !found || samples != 1.5 || err != nil {
			t.Errorf("%q: progressive %v, %g numbers a pixel, %v; expected 1.5", between, found, samples, err)
		}
	}
	for _, r := range []io.Reader{bytes.NewReader(whole), iotest.OneByteReader(bytes.NewReader(whole))} {
		if n, err := scansOf(r); n != 4 || err != nil {
			t.Errorf("%d scans, %v; expected 4", n, err)
		}
	}
}

// TestTIFFsThatContradictThemselves are refused.
func TestTIFFsThatContradictThemselves(t *testing.T) {
	grey := []tiffEntry{{256, 4, 1, 100}, {257, 4, 1, 100}, {258, 3, 1, 16}, {259, 3, 1, 1}, {262, 3, 1, 1}}
	for want, fields := range map[string][]tiffEntry{
		"not whole":              {{339, 3, 1, 3}},
		"tiles of 1 by 1":        {{322, 3, 1, 1}, {323, 3, 1, 1}},
		"tiles of 16 by 0":       {{322, 3, 1, 16}},
		"tiles of 60000 by 16":   {{322, 3, 1, 60000}, {323, 3, 1, 16}},
		"0 numbers a pixel":      {{277, 3, 1, 0}},
		"with predictor 3":       {{317, 3, 1, 3}},
		"field 273 is missing":   {{279, 4, 1, 20000}},
		"field 258 has 1 values": {{277, 3, 1, 3}},
	} {
		all := append(slices.Clone(grey), fields...)
		if want == "field 258 has 1 values" {
			all[4] = tiffEntry{262, 3, 1, 2}
		}
		if _, err := Decode(fileOf(tiffWith(make([]byte, 30000), all...))); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v; expected %q", err, want)
		}
	}
}

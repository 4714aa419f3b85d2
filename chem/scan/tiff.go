package scan

// TIFF pictures (revision 6.0, Adobe 1992, and its supplement of 2002 for deflate), as scanners and raw
// converters write them: grey or red, green and blue of 8 or 16 bits, in strips or tiles.

import (
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math"
)

// Fields of a directory.
const (
	tiffWidth        = 256
	tiffHeight       = 257
	tiffBits         = 258
	tiffCompression  = 259
	tiffPhotometric  = 262
	tiffStripAt      = 273
	tiffSamples      = 277
	tiffRows         = 278 // of a strip
	tiffStripBytes   = 279
	tiffPlanar       = 284
	tiffPredictor    = 317
	tiffTileWidth    = 322
	tiffTileHeight   = 323
	tiffTileAt       = 324
	tiffTileBytes    = 325
	tiffSampleFormat = 339
)

// Values of fields.
const (
	whiteIsZero, rgb                      = 0, 2 // photometric: 1 is grey whose 0 is black
	plain, lzwPacked, deflate, oldDeflate = 1, 5, 8, 32946
	packBits                              = 32773
	chunky                                = 1 // red, green and blue of each pixel stand together
	noPredictor, differences              = 1, 2
	unsigned                              = 1
)

// What a TIFF may be.
const (
	leastTile   = 16
	mostOutside = 1024 // of a tile, behind the picture's edge
	mostSamples = 8
)

// tiffFile is a TIFF whose first directory is read.
type tiffFile struct {
	file                          *io.SectionReader
	order                         binary.ByteOrder
	entries                       map[uint16][]byte // the twelve bytes of each
	first                         map[uint16]int    // value of those that have one
	width, height, bytes, samples int
}

func tiffHead(file *io.SectionReader) (header, error) {
	t := &tiffFile{file: file, order: binary.LittleEndian}
	if err := t.directory(); err != nil {
		return header{}, notRead(err)
	}
	if err := t.kind(); err != nil {
		return header{}, err
	}
	return header{width: t.width, height: t.height, perPixel: float64(t.samples * t.bytes), cure: "save it with red, green and blue alone", pixels: t.picture}, nil
}

// directory reads the first one.
func (t *tiffFile) directory() error {
	var head [8]byte
	if _, err := t.file.ReadAt(head[:], 0); err != nil {
		return err
	}
	if head[0] == 'M' {
		t.order = binary.BigEndian
	}
	at := int64(t.order.Uint32(head[4:]))
	if _, err := t.file.ReadAt(head[:2], at); err != nil {
		return err
	}
	list := make([]byte, 12*int(t.order.Uint16(head[:])))
	if _, err := t.file.ReadAt(list, at+2); err != nil {
		return err
	}
	t.entries, t.first = map[uint16][]byte{}, map[uint16]int{tiffBits: 1, tiffCompression: plain, tiffSamples: 1, tiffPlanar: chunky, tiffPredictor: noPredictor, tiffSampleFormat: unsigned}
	for ; len(list) > 0; list = list[12:] {
		field := t.order.Uint16(list)
		t.entries[field] = list[:12]
		if t.order.Uint32(list[4:]) == 1 {
			values, err := t.values(field, 1)
			if err == nil {
				t.first[field] = int(min(values[0], math.MaxInt32))
			}
		}
	}
	return nil
}

// sizes of the values of a field, by its type: 1 for bytes, 3 and 4 for words of 16 and 32 bits.
var tiffTypes = map[uint16]int{1: 1, 3: 2, 4: 4}

// values are those of a field, which must be so many.
func (t *tiffFile) values(field uint16, n int) ([]int64, error) {
	entry, ok := t.entries[field]
	if !ok {
		return nil, fmt.Errorf("field %d is missing", field)
	}
	size, count := tiffTypes[t.order.Uint16(entry[2:])], t.order.Uint32(entry[4:])
	switch {
	case size == 0:
		return nil, fmt.Errorf("field %d has values of another type", field)
	case int64(count) != int64(n):
		return nil, fmt.Errorf("field %d has %d values; expected %d", field, count, n)
	}
	data := entry[8:]
	if size*n > len(data) {
		at := int64(t.order.Uint32(data))
		if at+int64(size*n) > t.file.Size() {
			return nil, io.ErrUnexpectedEOF
		}
		data = make([]byte, size*n)
		if _, err := t.file.ReadAt(data, at); err != nil {
			return nil, err
		}
	}
	list := make([]int64, n)
	for i := range list {
		switch size {
		case 1:
			list[i] = int64(data[i])
		case 2:
			list[i] = int64(t.order.Uint16(data[2*i:]))
		case 4:
			list[i] = int64(t.order.Uint32(data[4*i:]))
		}
	}
	return list, nil
}

// kind is what the pixels are; it errs for those that are not read.
func (t *tiffFile) kind() error {
	t.width, t.height, t.samples = t.first[tiffWidth], t.first[tiffHeight], t.first[tiffSamples]
	if t.samples < 1 || t.samples > mostSamples {
		return notRead(fmt.Errorf("%d numbers a pixel", t.samples))
	}
	if f := t.first[tiffPhotometric]; f > rgb || f == rgb && t.samples < 3 {
		return errColours
	}
	bits := []int64{int64(t.first[tiffBits])}
	if t.samples > 1 {
		var err error
		if bits, err = t.values(tiffBits, t.samples); err != nil {
			return notRead(err)
		}
	}
	for _, n := range bits {
		if n != bits[0] || n != 8 && n != 16 {
			return fmt.Errorf("a TIFF of %d-bit numbers; expected 8 or 16 bits", n)
		}
	}
	t.bytes = int(bits[0] / 8)
	switch {
	case t.first[tiffSampleFormat] != unsigned:
		return errors.New("a TIFF of numbers that are not whole; expected whole ones of 8 or 16 bits")
	case t.first[tiffPlanar] != chunky && t.samples > 1:
		return errors.New("a TIFF in separate planes; expected red, green and blue of each pixel together")
	}
	switch t.first[tiffCompression] {
	case plain, lzwPacked, deflate, oldDeflate, packBits:
	default:
		return fmt.Errorf("a TIFF packed in way %d; expected none, LZW, deflate or PackBits", t.first[tiffCompression])
	}
	if f := t.first[tiffPredictor]; f != noPredictor && f != differences {
		return fmt.Errorf("a TIFF with predictor %d; expected none or differences", f)
	}
	return nil
}

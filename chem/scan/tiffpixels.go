package scan

// The pixels of a TIFF. What is packed goes straight to its place in the picture, so that it takes no
// more memory than its pixels do, and no byte of the file is unpacked twice.

import (
	"bufio"
	"compress/zlib"
	"encoding/binary"
	"fmt"
	"io"

	"golang.org/x/image/tiff/lzw"
)

// picture unpacks the pixels.
func (t *tiffFile) picture() (*Picture, error) {
	p := &Picture{Bits: 8 * t.bytes, Grey: t.first[tiffPhotometric] != rgb}
	p.step = t.samples * t.bytes
	p.stride = t.width * p.step
	p.low, p.high = 1, 0
	if t.order == binary.ByteOrder(binary.LittleEndian) {
		p.low, p.high = 0, 1
	}
	b, err := t.parts()
	if err != nil {
		return nil, err
	}
	p.pix = make([]byte, p.stride*t.height)
	u := unpacker{tiffFile: t, from: bufio.NewReaderSize(nil, 1<<16)}
	row := make([]byte, b.width*p.step)
	for i, at := range b.at {
		from := u.open(at, b.bytes[i])
		x, y := i%b.across*b.width, i/b.across*b.height
		for end := min(y+b.height, t.height); y < end; y++ {
			if _, err := io.ReadFull(from, row); err == io.EOF {
				return nil, io.ErrUnexpectedEOF
			} else if err != nil {
				return nil, err
			}
			t.finish(row)
			copy(p.pix[y*p.stride+x*p.step:(y+1)*p.stride], row)
		}
	}
	return p, nil
}

// parts are the strips or tiles.
type parts struct {
	width, height, across int
	at, bytes             []int64
}

func (t *tiffFile) parts() (b parts, err error) {
	at, sizes := uint16(tiffStripAt), uint16(tiffStripBytes)
	b.width, b.height = t.width, t.height
	if rows := t.first[tiffRows]; rows > 0 {
		b.height = min(rows, t.height)
	}
	if w := t.first[tiffTileWidth]; w > 0 {
		at, sizes = tiffTileAt, tiffTileBytes
		b.width, b.height = w, t.first[tiffTileHeight]
		if w < leastTile || b.height < leastTile || w > t.width+mostOutside {
			return b, fmt.Errorf("tiles of %d by %d pixels", w, b.height)
		}
	}
	b.across = (t.width + b.width - 1) / b.width
	n := b.across * ((t.height + b.height - 1) / b.height)
	if b.at, err = t.values(at, n); err != nil {
		return b, err
	}
	if b.bytes, err = t.values(sizes, n); err != nil {
		return b, err
	}
	var sum int64
	for _, size := range b.bytes {
		sum += size
	}
	if sum > t.file.Size() {
		return b, fmt.Errorf("its parts come to %d bytes, and the file has %d", sum, t.file.Size())
	}
	return b, nil
}

// finish makes a row's numbers what they stand for.
func (t *tiffFile) finish(row []byte) {
	n := t.samples
	switch {
	case t.first[tiffPredictor] == noPredictor:
	case t.bytes == 1:
		for i := n; i < len(row); i++ {
			row[i] += row[i-n]
		}
	default:
		for i := 2 * n; i < len(row); i += 2 {
			t.order.PutUint16(row[i:], t.order.Uint16(row[i:])+t.order.Uint16(row[i-2*n:]))
		}
	}
	if t.first[tiffPhotometric] == whiteIsZero {
		for i := range row {
			row[i] = ^row[i]
		}
	}
}

// unpacker opens one block after the other.
type unpacker struct {
	*tiffFile
	from *bufio.Reader
	zlib io.ReadCloser
}

// open is a block unpacked.
func (u *unpacker) open(at, size int64) io.Reader {
	u.from.Reset(io.NewSectionReader(u.file, at, size))
	switch u.first[tiffCompression] {
	case lzwPacked:
		return lzw.NewReader(u.from, lzw.MSB, 8)
	case packBits:
		return &runs{from: u.from}
	case deflate, oldDeflate:
		var err error
		if u.zlib == nil {
			u.zlib, err = zlib.NewReader(u.from)
		} else {
			err = u.zlib.(zlib.Resetter).Reset(u.from, nil)
		}
		if err != nil {
			return failing{err}
		}
		return u.zlib
	}
	return u.from
}

// failing is a reader of nothing but an error.
type failing struct{ err error }

func (f failing) Read([]byte) (int, error) { return 0, f.err }

// runs unpacks PackBits (section 9 of TIFF 6.0).
type runs struct {
	from  *bufio.Reader
	left  int  // of the run
	same  bool // of one byte
	value byte
}

func (r *runs) Read(into []byte) (n int, err error) {
	for r.left == 0 {
		code, err := r.from.ReadByte()
		if err != nil {
			return 0, err
		}
		switch c := int(int8(code)); {
		case c >= 0:
			r.left, r.same = c+1, false
		case c > -128:
			r.left, r.same = 1-c, true
			if r.value, err = r.from.ReadByte(); err != nil {
				return 0, err
			}
		}
	}
	into = into[:min(len(into), r.left)]
	if n = len(into); r.same {
		for i := range into {
			into[i] = r.value
		}
	} else {
		n, err = r.from.Read(into)
	}
	r.left -= n
	return n, err
}

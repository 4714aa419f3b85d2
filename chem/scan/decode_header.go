package scan

// What the headers of PNG and JPEG files tell, and how their pixels are decoded.

import (
	"bufio"
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"io"
)

// again is the file from its beginning.
func again(file *io.SectionReader) *io.SectionReader {
	return io.NewSectionReader(file, 0, file.Size())
}

// decoded is what one of Go's decoders makes of a file.
func decoded(file *io.SectionReader, decode func(io.Reader) (image.Image, error)) func() (*Picture, error) {
	return func() (*Picture, error) {
		img, err := decode(again(file))
		if err != nil {
			return nil, err
		}
		return pictureOf(img)
	}
}

// pngInterlace is where a PNG's header says whether it is interlaced (ISO/IEC 15948, 11.2.2).
const pngInterlace = 28

func pngHead(file *io.SectionReader) (header, error) {
	c, err := png.DecodeConfig(again(file))
	if err != nil {
		return header{}, notRead(err)
	}
	h := header{width: c.Width, height: c.Height, pixels: decoded(file, png.Decode)}
	switch c.ColorModel {
	case color.GrayModel:
		h.perPixel = 1
	case color.Gray16Model:
		h.perPixel = 2
	case color.RGBAModel, color.NRGBAModel:
		h.perPixel = 4
	case color.RGBA64Model, color.NRGBA64Model:
		h.perPixel = 8
	default:
		return header{}, errColours
	}
	var interlaced [1]byte
	if _, err := file.ReadAt(interlaced[:], pngInterlace); err != nil {
		return header{}, notRead(err)
	}
	if interlaced[0] != 0 { // its seven passes are pictures of their own, and together as large
		h.perPixel, h.cure = 2*h.perPixel, "save it without interlacing"
	}
	return h, nil
}

// maxScans is how often a JPEG may go over its pixels: a dozen is usual, and each takes time
// whatever it weighs. Pictures within its notes count too.
const maxScans = 60

func jpegHead(file *io.SectionReader) (header, error) {
	c, err := jpeg.DecodeConfig(again(file))
	if err != nil {
		return header{}, notRead(err)
	}
	if c.ColorModel == color.CMYKModel {
		return header{}, errColours
	}
	h := header{width: c.Width, height: c.Height, pixels: decoded(file, jpeg.Decode)}
	progressive, samples, err := jpegFrame(again(file))
	if err != nil {
		return header{}, notRead(err)
	}
	h.perPixel = samples
	if c.ColorModel == color.RGBAModel { // a copy of it in other colours
		h.perPixel += 4
	}
	if progressive { // all its coefficients are kept, 4 bytes each
		h.perPixel, h.cure = h.perPixel+4*samples, "save it as baseline JPEG, not progressive"
	}
	if n, err := scansOf(again(file)); err != nil || n > maxScans {
		return header{}, errors.Join(err, fmt.Errorf("a JPEG of %d scans; expected at most %d: save it as baseline JPEG", n, maxScans))
	}
	return h, nil
}

// scansOf counts what may begin a scan, FF DA, wherever in the file: no decoder finds more of them.
func scansOf(r io.Reader) (n int, err error) {
	buf := make([]byte, 1<<16)
	kept := 0 // of the last block, so that none is cut in two
	for {
		got, err := r.Read(buf[kept:])
		n += bytes.Count(buf[:kept+got], []byte{0xff, 0xda})
		switch {
		case err == io.EOF:
			return n, nil
		case err != nil:
			return n, err
		case got > 0:
			last := buf[kept+got-1]
			if kept = 0; last == 0xff {
				buf[0], kept = last, 1
			}
		}
	}
}

// jpegFrame is whether a JPEG's frame is progressive, and how many numbers it has for each pixel
// (ITU-T T.81, B.1.1 and B.2.2), found as image/jpeg finds it.
func jpegFrame(from io.Reader) (progressive bool, samples float64, err error) {
	r := bufio.NewReader(from)
	if _, err := r.Discard(2); err != nil {
		return false, 0, err
	}
	for {
		if _, err := r.ReadSlice(0xff); err != nil && err != bufio.ErrBufferFull {
			return false, 0, err
		} else if err != nil {
			continue
		}
		marker, err := r.ReadByte()
		if err == nil && marker == 0 {
			continue // a byte of data
		}
		for err == nil && marker == 0xff {
			marker, err = r.ReadByte()
		}
		if err == nil && marker >= 0xd0 && marker <= 0xd7 {
			continue // no segment
		}
		if err != nil {
			return false, 0, err
		}
		var long [2]byte
		if _, err := io.ReadFull(r, long[:]); err != nil {
			return false, 0, err
		}
		segment := int(binary.BigEndian.Uint16(long[:])) - len(long)
		if marker >= 0xc0 && marker <= 0xc2 {
			samples, err := perPixel(r, segment)
			return marker == 0xc2, samples, err
		}
		if _, err := r.Discard(max(0, segment)); err != nil {
			return false, 0, err
		}
	}
}

// perPixel is how many numbers a frame has for each pixel, by its components' sampling.
func perPixel(r io.Reader, segment int) (float64, error) {
	frame := make([]byte, max(0, segment))
	if _, err := io.ReadFull(r, frame); err != nil {
		return 0, err
	}
	if len(frame) < 6 || len(frame) < 6+3*int(frame[5]) {
		return 0, io.ErrUnexpectedEOF
	}
	var sum, widest, highest int
	for i := range int(frame[5]) {
		across, down := int(frame[7+3*i]>>4), int(frame[7+3*i]&15)
		sum, widest, highest = sum+across*down, max(widest, across), max(highest, down)
	}
	if sum == 0 {
		return 0, io.ErrUnexpectedEOF
	}
	return float64(sum) / float64(widest*highest), nil
}

package scan

// A picture file becomes a Picture: PNG, JPEG and TIFF of 8 or 16 bits. What its pixels will take is
// known from its header, and refused there where it is too much.

import (
	"errors"
	"fmt"
	"image"
	"io"
)

// What a picture may be. A hostile file is refused by its header, before its pixels take memory.
const (
	maxSide   = 20000
	maxPixels = 24.5e6            // cameras of "24 megapixels"
	maxMemory = maxPixels * 4 * 2 // bytes while it is decoded: red, green, blue and one more of 16 bits
	minSide   = 64
)

// format is a kind of file.
type format struct {
	name, begins string
	head         func(*io.SectionReader) (header, error)
}

var formats = []format{{"png", "\x89PNG", pngHead}, {"jpeg", "\xff\xd8", jpegHead}, {"tiff", "II*\x00", tiffHead}, {"tiff", "MM\x00*", tiffHead}}

// header is what a file says of its picture before its pixels are read.
type header struct {
	width, height int
	perPixel      float64                  // bytes of memory while it is decoded
	cure          string                   // how to save it so that it takes fewer
	pixels        func() (*Picture, error) // decodes it
}

// Errors of heads.
var (
	errUnknown = errors.New("it begins like none of them")
	errColours = errors.New("a picture of indexed or printing colours; expected grey or red, green and blue")
)

// notRead is a fault of a file that is none of the pictures.
func notRead(err error) error {
	return fmt.Errorf("not a picture that can be read (%w); expected PNG, TIFF or JPEG", err)
}

// formatOf is the kind that a file's first bytes tell.
func formatOf(file io.ReaderAt) (format, error) {
	var first [4]byte
	if _, err := file.ReadAt(first[:], 0); err != nil && err != io.EOF {
		return format{}, err
	}
	for _, f := range formats {
		if string(first[:len(f.begins)]) == f.begins {
			return f, nil
		}
	}
	return format{}, notRead(errUnknown)
}

// Decode reads a picture from its file. It errs for a file that is no picture, is cut short, or
// is larger than the program reads.
func Decode(file *io.SectionReader) (*Picture, error) {
	f, err := formatOf(file)
	if err != nil {
		return nil, err
	}
	head, err := f.head(file)
	if err != nil {
		return nil, err
	}
	if err := head.fits(); err != nil {
		return nil, err
	}
	p, err := head.pixels()
	if err != nil {
		return nil, fmt.Errorf("a %s picture that is damaged or cut short (%w)", f.name, err)
	}
	p.Width, p.Height, p.Format = head.width, head.height, f.name
	return p, nil
}

// fits refuses a size that is not a picture of strips, or takes too much memory.
func (h header) fits() error {
	switch size := h.width * h.height; {
	case h.width < minSide || h.height < minSide:
		return fmt.Errorf("%d by %d pixels; expected at least %d on each side", h.width, h.height, minSide)
	case h.width > maxSide || h.height > maxSide || size > maxPixels:
		return fmt.Errorf("%d by %d pixels; expected at most %d on a side and %.1f million in all", h.width, h.height, maxSide, maxPixels/1e6)
	case float64(size)*h.perPixel > maxMemory:
		return fmt.Errorf("%d by %d pixels take %.0f MB of memory saved so; expected at most %.0f: %s", h.width, h.height, float64(size)*h.perPixel/1e6, maxMemory/1e6, h.cure)
	}
	return nil
}

// Picture is a decoded picture.
type Picture struct {
	Width, Height int
	Bits          int // of each channel: 8 or 16
	Grey          bool
	Format        string       // png, jpeg or tiff
	raster                     // its pixels
	coded         *image.YCbCr // or these
}

// raster is rows of pixels: bytes of which the first of each pixel are grey, or red, green and blue.
type raster struct {
	pix          []byte
	stride, step int // bytes of a row, of a pixel
	low, high    int // where of 16 bits the low and the high byte stand
}

// pictureOf is a decoded image as a picture.
func pictureOf(img image.Image) (*Picture, error) {
	p := &Picture{Bits: 8, raster: raster{low: 1}}
	switch m := img.(type) {
	case *image.Gray:
		p.Grey, p.pix, p.stride, p.step = true, m.Pix, m.Stride, 1
	case *image.Gray16:
		p.Bits, p.Grey, p.pix, p.stride, p.step = 16, true, m.Pix, m.Stride, 2
	case *image.RGBA64:
		p.Bits, p.pix, p.stride, p.step = 16, m.Pix, m.Stride, 8
	case *image.NRGBA64:
		p.Bits, p.pix, p.stride, p.step = 16, m.Pix, m.Stride, 8
	case *image.RGBA:
		p.pix, p.stride, p.step = m.Pix, m.Stride, 4
	case *image.NRGBA:
		p.pix, p.stride, p.step = m.Pix, m.Stride, 4
	case *image.YCbCr:
		p.coded = m
	default:
		return nil, errColours
	}
	return p, nil
}

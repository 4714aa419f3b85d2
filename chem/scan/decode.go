package scan

// A picture file becomes a Picture: PNG, JPEG and TIFF of 8 or 16 bits.

import (
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"io"

	"golang.org/x/image/tiff"
)

// What a picture may be. A hostile file is refused by its header, before its pixels take memory.
const (
	maxSide   = 20000
	maxPixels = 24.5e6 // cameras of "24 megapixels"; in 16 bits 196 MB, and as much again is read at one time for them
	minSide   = 64
)

// format is a kind of file. TIFF asks for places in the file, so none of them is given a copy.
type format struct {
	name, begins string
	head         func(io.Reader) (image.Config, error)
	decode       func(io.Reader) (image.Image, error)
}

var formats = []format{
	{"png", "\x89PNG", png.DecodeConfig, png.Decode},
	{"jpeg", "\xff\xd8", jpeg.DecodeConfig, jpeg.Decode},
	{"tiff", "II*\x00", tiff.DecodeConfig, tiff.Decode},
	{"tiff", "MM\x00*", tiff.DecodeConfig, tiff.Decode},
}

var errUnknown = errors.New("it begins like none of them")

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
	return format{}, errUnknown
}

// Picture is a decoded picture.
type Picture struct {
	Width, Height int
	Bits          int // of each channel: 8 or 16
	Grey          bool
	Format        string // png, jpeg or tiff
	image         image.Image
}

// Decode reads a picture from its file. It errs for a file that is no picture, is cut short, or
// is larger than the program reads.
func Decode(file *io.SectionReader) (*Picture, error) {
	whole := func() io.Reader { return io.NewSectionReader(file, 0, file.Size()) }
	f, err := formatOf(file)
	var head image.Config
	if err == nil {
		head, err = f.head(whole())
	}
	if err != nil {
		return nil, fmt.Errorf("not a picture that can be read (%w); expected PNG, TIFF or JPEG", err)
	}
	if err := fits(head.Width, head.Height); err != nil {
		return nil, err
	}
	img, err := f.decode(whole())
	if err != nil {
		return nil, fmt.Errorf("a %s picture that is damaged or cut short (%w)", f.name, err)
	}
	p := &Picture{Width: img.Bounds().Dx(), Height: img.Bounds().Dy(), Bits: 8, Format: f.name, image: img}
	switch img.(type) {
	case *image.Gray16:
		p.Bits, p.Grey = 16, true
	case *image.Gray:
		p.Grey = true
	case *image.RGBA64, *image.NRGBA64:
		p.Bits = 16
	case *image.YCbCr, *image.RGBA, *image.NRGBA:
	default:
		return nil, fmt.Errorf("a picture of indexed or printing colours; expected grey or red, green and blue")
	}
	return p, fits(p.Width, p.Height)
}

// fits refuses a size that is not a picture of strips.
func fits(width, height int) error {
	switch {
	case width < minSide || height < minSide:
		return fmt.Errorf("%d by %d pixels; expected at least %d on each side", width, height, minSide)
	case width > maxSide || height > maxSide || width*height > maxPixels:
		return fmt.Errorf("%d by %d pixels; expected at most %d on a side and %.1f million in all", width, height, maxSide, maxPixels/1e6)
	}
	return nil
}

// at is the pixel's red, green and blue, from 0 to 1 as the file has them.
func (p *Picture) at(x, y int) [3]float32 {
	const byte8, word16 = 1 / 255.0, 1 / 65535.0
	b := p.image.Bounds().Min
	x, y = x+b.X, y+b.Y
	switch m := p.image.(type) {
	case *image.Gray:
		v := float32(m.GrayAt(x, y).Y) * byte8
		return [3]float32{v, v, v}
	case *image.Gray16:
		v := float32(m.Gray16At(x, y).Y) * word16
		return [3]float32{v, v, v}
	case *image.RGBA64:
		c := m.RGBA64At(x, y)
		return [3]float32{float32(c.R) * word16, float32(c.G) * word16, float32(c.B) * word16}
	case *image.NRGBA64:
		c := m.NRGBA64At(x, y)
		return [3]float32{float32(c.R) * word16, float32(c.G) * word16, float32(c.B) * word16}
	case *image.YCbCr:
		i, j := m.YOffset(x, y), m.COffset(x, y)
		r, g, bl := color.YCbCrToRGB(m.Y[i], m.Cb[j], m.Cr[j])
		return [3]float32{float32(r) * byte8, float32(g) * byte8, float32(bl) * byte8}
	case *image.NRGBA:
		c := m.NRGBAAt(x, y)
		return [3]float32{float32(c.R) * byte8, float32(c.G) * byte8, float32(c.B) * byte8}
	}
	r, g, bl, _ := p.image.At(x, y).RGBA()
	return [3]float32{float32(r) * word16, float32(g) * word16, float32(bl) * word16}
}

package scan

// A picture file becomes a Picture: PNG, JPEG and TIFF of 8 or 16 bits.

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	_ "image/jpeg" // JPEG files
	_ "image/png"  // PNG files

	_ "golang.org/x/image/tiff" // TIFF files
)

// What a picture may be. A hostile file is refused by its header, before its pixels take memory.
const (
	maxSide   = 20000
	maxPixels = 40e6 // 16 bits in four channels are then 320 MB
	minSide   = 64
)

// Picture is a decoded picture.
type Picture struct {
	Width, Height int
	Bits          int // of each channel: 8 or 16
	Grey          bool
	Format        string // png, jpeg or tiff
	image         image.Image
}

// Decode reads a picture from the bytes of its file. It errs for a file that is no picture,
// is cut short, or is larger than the program reads.
func Decode(data []byte) (*Picture, error) {
	head, format, err := image.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("not a picture that can be read (%w); expected PNG, TIFF or JPEG", err)
	}
	if err := fits(head.Width, head.Height); err != nil {
		return nil, err
	}
	img, _, err := image.Decode(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("a %s picture that is damaged or cut short (%w)", format, err)
	}
	p := &Picture{Width: img.Bounds().Dx(), Height: img.Bounds().Dy(), Bits: 8, Format: format, image: img}
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
		return fmt.Errorf("%d by %d pixels; expected at most %d on a side and %.0f million in all", width, height, maxSide, maxPixels/1e6)
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

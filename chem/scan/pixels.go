package scan

// The numbers of a picture's pixels.

import "image/color"

const byte8, word16 = 1 / 255.0, 1 / 65535.0

// at is the pixel's red, green and blue, from 0 to 1 as the file has them.
func (p *Picture) at(x, y int) [3]float32 {
	if m := p.coded; m != nil {
		i, j := m.YOffset(x, y), m.COffset(x, y)
		r, g, b := color.YCbCrToRGB(m.Y[i], m.Cb[j], m.Cr[j])
		return [3]float32{float32(r) * byte8, float32(g) * byte8, float32(b) * byte8}
	}
	px := p.pix[y*p.stride+x*p.step:]
	if p.Bits == 8 {
		if p.Grey {
			v := float32(px[0]) * byte8
			return [3]float32{v, v, v}
		}
		return [3]float32{float32(px[0]) * byte8, float32(px[1]) * byte8, float32(px[2]) * byte8}
	}
	v := float32(p.word(px)) * word16
	if p.Grey {
		return [3]float32{v, v, v}
	}
	return [3]float32{v, float32(p.word(px[2:])) * word16, float32(p.word(px[4:])) * word16}
}

// word is the number of 16 bits that stands first.
func (r *raster) word(b []byte) uint32 {
	_ = b[1]
	return uint32(b[r.high&1])<<8 | uint32(b[r.low&1])
}

// numbers is how many the file has of each pixel: grey, or red, green and blue.
func (p *Picture) numbers() int {
	if p.Grey {
		return 1
	}
	return 3
}

// addRow adds to each cell the numbers of its k pixels in row y, as the file has them.
func (p *Picture) addRow(y, k int, cells []uint32) {
	if p.coded != nil {
		p.addCodedRow(y, k, cells)
		return
	}
	row, n := p.pix[y*p.stride:], p.numbers()
	at := 0
	for i := range cells {
		var sum uint32
		for range k {
			if px := row[at:]; p.Bits == 8 {
				for _, v := range px[:n] {
					sum += uint32(v)
				}
			} else {
				for px = px[:2*n]; len(px) > 1; px = px[2:] {
					sum += p.word(px)
				}
			}
			at += p.step
		}
		cells[i] += sum
	}
}

func (p *Picture) addCodedRow(y, k int, cells []uint32) {
	x := 0
	for i := range cells {
		for range k {
			at, c := p.coded.YOffset(x, y), p.coded.COffset(x, y)
			r, g, b := color.YCbCrToRGB(p.coded.Y[at], p.coded.Cb[c], p.coded.Cr[c])
			cells[i] += uint32(r) + uint32(g) + uint32(b)
			x++
		}
	}
}

package tui

// The large face: numerals and capitals drawn five dots wide and seven high, two
// dots to a cell in half blocks, at any whole scale. It uses only the full and
// half blocks and the space, which are one column wide everywhere.

import "strings"

const (
	faceWidth  = 5
	faceHeight = 7
)

// digitFont holds a glyph as seven rows of dots: five to a row, fewer where a glyph is
// narrow.
var digitFont = map[rune][faceHeight]string{
	'0': {".###.", "#...#", "#..##", "#.#.#", "##..#", "#...#", ".###."},
	'1': {"..#..", ".##..", "..#..", "..#..", "..#..", "..#..", ".###."},
	'2': {".###.", "#...#", "....#", "...#.", "..#..", ".#...", "#####"},
	'3': {".###.", "#...#", "....#", "..##.", "....#", "#...#", ".###."},
	'4': {"...#.", "..##.", ".#.#.", "#..#.", "#####", "...#.", "...#."},
	'5': {"#####", "#....", "####.", "....#", "....#", "#...#", ".###."},
	'6': {"..##.", ".#...", "#....", "####.", "#...#", "#...#", ".###."},
	'7': {"#####", "....#", "...#.", "..#..", "..#..", ".#...", ".#..."},
	'8': {".###.", "#...#", "#...#", ".###.", "#...#", "#...#", ".###."},
	'9': {".###.", "#...#", "#...#", ".####", "....#", "...#.", ".##.."},
	':': {".", "#", "#", ".", "#", "#", "."},
	'-': {"...", "...", "...", "###", "...", "...", "..."},
	'A': {".###.", "#...#", "#...#", "#####", "#...#", "#...#", "#...#"},
	'B': {"####.", "#...#", "#...#", "####.", "#...#", "#...#", "####."},
	'C': {".###.", "#...#", "#....", "#....", "#....", "#...#", ".###."},
	'D': {"####.", "#...#", "#...#", "#...#", "#...#", "#...#", "####."},
	'E': {"#####", "#....", "#....", "####.", "#....", "#....", "#####"},
	'F': {"#####", "#....", "#....", "####.", "#....", "#....", "#...."},
	'G': {".###.", "#...#", "#....", "#.###", "#...#", "#...#", ".###."},
	'H': {"#...#", "#...#", "#...#", "#####", "#...#", "#...#", "#...#"},
	'I': {".###.", "..#..", "..#..", "..#..", "..#..", "..#..", ".###."},
	'J': {"..###", "...#.", "...#.", "...#.", "...#.", "#..#.", ".##.."},
	'K': {"#...#", "#..#.", "#.#..", "##...", "#.#..", "#..#.", "#...#"},
	'L': {"#....", "#....", "#....", "#....", "#....", "#....", "#####"},
	'M': {"#...#", "##.##", "#.#.#", "#.#.#", "#...#", "#...#", "#...#"},
	'N': {"#...#", "##..#", "#.#.#", "#..##", "#...#", "#...#", "#...#"},
	'O': {".###.", "#...#", "#...#", "#...#", "#...#", "#...#", ".###."},
	'P': {"####.", "#...#", "#...#", "####.", "#....", "#....", "#...."},
	'Q': {".###.", "#...#", "#...#", "#...#", "#.#.#", "#..#.", ".##.#"},
	'R': {"####.", "#...#", "#...#", "####.", "#.#..", "#..#.", "#...#"},
	'S': {".####", "#....", "#....", ".###.", "....#", "....#", "####."},
	'T': {"#####", "..#..", "..#..", "..#..", "..#..", "..#..", "..#.."},
	'U': {"#...#", "#...#", "#...#", "#...#", "#...#", "#...#", ".###."},
	'V': {"#...#", "#...#", "#...#", "#...#", "#...#", ".#.#.", "..#.."},
	'W': {"#...#", "#...#", "#...#", "#.#.#", "#.#.#", "##.##", "#...#"},
	'X': {"#...#", "#...#", ".#.#.", "..#..", ".#.#.", "#...#", "#...#"},
	'Y': {"#...#", "#...#", ".#.#.", "..#..", "..#..", "..#..", "..#.."},
	'Z': {"#####", "....#", "...#.", "..#..", ".#...", "#....", "#####"},
	'.': {".", ".", ".", ".", ".", ".", "#"},
	',': {"..", "..", "..", "..", "..", ".#", "#."},
	'/': {"....#", "....#", "...#.", "..#..", ".#...", "#....", "#...."},
	' ': {"...", "...", "...", "...", "...", "...", "..."},
}

// digitSize is how many columns and rows a text takes at a scale.
func digitSize(s string, scale int) (w, h int) {
	for _, r := range strings.ToUpper(s) {
		w += glyphWidth(r) + 1
	}
	return max(0, w-1) * scale, (faceHeight*scale + 1) / 2
}

// glyphWidth is how many dots wide a character is; one that the face lacks is
// left blank.
func glyphWidth(r rune) int {
	if glyph, ok := digitFont[r]; ok {
		return len(glyph[0])
	}
	return faceWidth
}

// fitScale is the largest scale at which a text fits, 0 where none does.
func fitScale(s string, w, h int) int {
	scale := 0
	for {
		fw, fh := digitSize(s, scale+1)
		if fw > w || fh > h {
			return scale
		}
		scale++
	}
}

// drawLarge draws a text at a scale; characters that the face lacks are left blank.
func (g grid) drawLarge(x, y int, s string, scale int, l brightness) {
	for _, r := range strings.ToUpper(s) {
		if glyph, ok := digitFont[r]; ok {
			g.glyph(x, y, glyph, scale, l)
		}
		x += (glyphWidth(r) + 1) * scale
	}
}

func (g grid) glyph(x, y int, glyph [faceHeight]string, scale int, l brightness) {
	dot := func(cx, cy int) bool {
		cy /= scale
		return cy < faceHeight && glyph[cy][cx/scale] == '#'
	}
	for row := 0; row < (faceHeight*scale+1)/2; row++ {
		for col := 0; col < len(glyph[0])*scale; col++ {
			switch upper, lower := dot(col, 2*row), dot(col, 2*row+1); {
			case upper && lower:
				g.set(x+col, y+row, '█', l)
			case upper:
				g.set(x+col, y+row, '▀', l)
			case lower:
				g.set(x+col, y+row, '▄', l)
			}
		}
	}
}

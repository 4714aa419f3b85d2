package page

// A canvas that writes SVG: text stays text, in the reader's own sans-serif.

import (
	"encoding/xml"
	"fmt"
	"image/color"
	"io"
	"strings"
)

type svgCanvas struct {
	w, h  float64
	title string // read out to those who cannot see it
	body  strings.Builder
}

func (c *svgCanvas) lines(paths [][]xy, ink color.RGBA, width float64) {
	c.body.WriteString(`<path d="`)
	for _, path := range paths {
		for i, p := range path {
			fmt.Fprintf(&c.body, "%c%.2f,%.2f", "ML"[min(i, 1)], p.x, p.y)
		}
	}
	fmt.Fprintf(&c.body, "\" fill=\"none\" stroke=\"%s\" stroke-width=\"%g\" stroke-linejoin=\"round\"/>\n", hex(ink), width)
}

func (c *svgCanvas) dots(at []xy, radius float64, ink color.RGBA) {
	for _, p := range at {
		fmt.Fprintf(&c.body, "<circle cx=\"%.2f\" cy=\"%.2f\" r=\"%g\" fill=\"%s\"/>\n", p.x, p.y, radius, hex(ink))
	}
}

func (c *svgCanvas) rings(at []xy, radius, width float64, ink color.RGBA) {
	for _, p := range at {
		fmt.Fprintf(&c.body, "<circle cx=\"%.2f\" cy=\"%.2f\" r=\"%g\" fill=\"none\" stroke=\"%s\" stroke-width=\"%g\"/>\n",
			p.x, p.y, radius, hex(ink), width)
	}
}

func (c *svgCanvas) text(at xy, s string, l lettering) {
	anchor := [...]string{anchorStart: "start", anchorMiddle: "middle", anchorEnd: "end"}[l.side]
	fmt.Fprintf(&c.body, "<text x=\"%.2f\" y=\"%.2f\" font-size=\"%g\" text-anchor=\"%s\" fill=\"%s\"", at.x, at.y, l.size, anchor, hex(l.ink))
	if l.upright {
		fmt.Fprintf(&c.body, " transform=\"rotate(-90 %.2f %.2f)\"", at.x, at.y)
	}
	fmt.Fprintf(&c.body, ">%s</text>\n", escaped(s))
}

func (c *svgCanvas) writeTo(out io.Writer) error {
	title := escaped(c.title)
	_, err := fmt.Fprintf(out, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"+
		"<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"%gcm\" height=\"%gcm\" viewBox=\"0 0 %g %g\" font-family=\"sans-serif\" stroke=\"none\" role=\"img\" aria-label=\"%s\">\n"+
		"<title>%s</title>\n<rect width=\"%g\" height=\"%g\" fill=\"#ffffff\"/>\n%s</svg>\n",
		c.w/perCentimetre, c.h/perCentimetre, c.w, c.h, title, title, c.w, c.h, c.body.String())
	return err
}

// escaped makes a text safe in an element and in an attribute; characters that XML
// does not have become replacement characters.
func escaped(s string) string {
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(s)) // a Builder never errs
	return b.String()
}

func hex(ink color.RGBA) string { return fmt.Sprintf("#%02x%02x%02x", ink.R, ink.G, ink.B) }

package widget

// The strip: the session to scale, full height where the room is dark, half where there
// may be light, and under it, to the same scale, the wet line.

import (
	"math"
	"time"

	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"

	"example.org/wetside/sequence"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/timeline"
)

// StripRows is how many rows the whole of it takes: names, band, times, wet line, limit.
const StripRows = 5

// Strip is the picture of a session. With fewer rows than StripRows it leaves out the
// limit's row (4), names and times (3: band, wet line, limit; 2), the wet line (1).
type Strip struct {
	timeline.Timeline
	Width, Rows int
	LimitIn     string // the vessel in which the limit is reached, where that has to be said: "in hangers"
}

// View draws it.
func (s Strip) View() string {
	span, _ := s.Span()
	if span <= 0 || s.Width <= 0 || s.Rows <= 0 {
		return ""
	}
	c := newCanvas(s.Width, min(s.Rows, StripRows))
	names, band, times, wet, limit := 0, 1, 2, 3, 4
	if s.Rows < 4 {
		names, band, times, wet, limit = -1, 0, -1, 1, 2
	}
	s.band(c, band)
	if names >= 0 {
		s.labels(c, names, times)
	}
	s.wet(c, wet)
	s.limit(c, wet, limit)
	return c.View()
}

// column is where a moment lies.
func (s Strip) column(t time.Duration) int {
	return int(math.Round(s.At(t, float64(s.Width))))
}

var bandInks = map[timeline.Kind]*lipgloss.Style{
	timeline.Planned: &style.Bar, timeline.Past: &style.Quiet, timeline.Elapsed: &style.Now,
	timeline.Rest: &style.Trough, timeline.Ahead: &style.Rule,
}

// band draws the steps with a gap before the next, one column each at least.
func (s Strip) band(c canvas, y int) {
	for _, piece := range s.Band() {
		seg := s.Segments[piece.Segment]
		block := '█'
		if seg.Lit() {
			block = '▄'
		}
		from, to := s.column(piece.From), s.column(piece.To)
		if piece.To == seg.To {
			if start := min(s.column(seg.From), s.Width-1); to-start > 1 && seg.To < s.End() {
				to--
			} else if to <= start {
				from, to = start, start+1
			}
		}
		for x := from; x < to; x++ {
			c.set(x, y, block, bandInks[piece.Kind])
		}
	}
}

// labels writes names over the band and times under it, both or neither.
func (s Strip) labels(c canvas, names, times int) {
	size := func(g timeline.Segment) float64 {
		return float64(max(ansi.StringWidth(g.Name), len(sequence.FormatElapsed(g.From))))
	}
	now, present := style.Now.Bold(true), s.Present()
	for _, l := range s.Labels(float64(s.Width), 1.5, size) {
		g, ink := s.Segments[l.Segment], &style.Quiet
		if l.Segment == present {
			ink = &now
		}
		x, clock := s.column(g.From), sequence.FormatElapsed(g.From)
		c.text(max(0, min(x, s.Width-ansi.StringWidth(g.Name))), names, g.Name, ink)
		c.text(max(0, min(x, s.Width-len(clock))), times, clock, &style.Quiet)
	}
}

// strokes differ in weight too, so that they can be told apart in one colour.
var strokes = map[timeline.Kind]struct {
	r   rune
	ink *lipgloss.Style
}{
	timeline.Planned: {'━', &style.Water}, timeline.Past: {'━', &style.Water}, timeline.Ahead: {'─', &style.Quiet},
	timeline.Spare: {'┄', &style.Rule}, timeline.Over: {'═', &style.Danger},
}

func (s Strip) wet(c canvas, y int) {
	for _, piece := range s.Wet() {
		k := strokes[piece.Kind]
		for x := s.column(piece.From); x < s.column(piece.To); x++ {
			c.set(x, y, k.r, k.ink)
		}
	}
}

// limit marks the moment of the alarm on the wet line, and says it beneath or, where there
// is no row for that, at the end of the line.
func (s Strip) limit(c canvas, wet, row int) {
	if s.Limit == nil {
		return
	}
	_, beyond := s.Span()
	ink, words := &style.Water, "limit "+sequence.FormatElapsed(*s.Limit)
	if s.WetEnd() > *s.Limit && !s.Lasting { // by how much is the worst sheet's to say, not the line's
		ink, words = &style.Danger, words+", over it from here"
	} else if s.LimitIn != "" && !s.Lasting {
		words += " " + s.LimitIn
	}
	x := min(s.column(*s.Limit), s.Width-1)
	if beyond {
		words += " ▸"
	} else {
		c.set(x, wet, '┃', ink)
	}
	n := ansi.StringWidth(words)
	switch at := max(0, min(x+1, s.Width)-n); {
	case row < c.h:
		c.text(at, row, words, ink)
	case wet < c.h && x-2-n > 0 && beyond:
		c.text(s.Width-n-1, wet, " "+words, ink)
	case wet < c.h && x-2-n > s.column(s.WetEnd()):
		c.text(x-1-n, wet, words, ink)
	case wet < c.h && ink == &style.Danger:
		s.overLimit(c, x, wet)
	}
}

// overLimit says the limit on the wet line itself: behind its mark, or before it where there is
// more room.
func (s Strip) overLimit(c canvas, x, wet int) {
	words := " limit " + sequence.FormatElapsed(*s.Limit) + " "
	switch n := ansi.StringWidth(words); {
	case x+1+n < s.Width:
		c.text(x+1, wet, words, &style.Danger)
	case x > n:
		c.text(x-n, wet, words, &style.Danger)
	}
}

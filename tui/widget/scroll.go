package widget

// A text in a window lower than itself.

import (
	"strings"

	"example.org/wetside/tui/style"
)

// Scroll is a text in a window that may be lower than it. Where it is, a bar at the right says
// which part is shown.
type Scroll struct {
	Text          string // drawn for Inner columns
	Width, Height int
	First         int // the row at the top
}

// barRoom is what the bar and the space before it take.
const barRoom = 2

// Inner is how many columns there are for the text.
func (s Scroll) Inner() int { return max(1, s.Width-barRoom) }

// Moved goes on by so many rows, no further than the text goes.
func (s Scroll) Moved(by int) Scroll {
	s.First = s.clamp(s.First + by)
	return s
}

// Key moves as a key does wherever something is read; false for a key that is none of these.
func (s Scroll) Key(name string) (Scroll, bool) {
	first, ok := Move(s.First, s.rows()-s.Height+1, name, s.Height)
	if ok {
		s.First = first
	}
	return s, ok
}

// Shows goes to where a row is in the window.
func (s Scroll) Shows(row int) Scroll {
	s.First = s.clamp(min(max(s.First, row-s.Height+1), row))
	return s
}

// Whole tells whether all of it is shown.
func (s Scroll) Whole() bool { return s.rows() <= s.Height }

func (s Scroll) rows() int { return strings.Count(s.Text, "\n") + 1 }

func (s Scroll) clamp(first int) int { return max(0, min(first, s.rows()-s.Height)) }

// View draws what is in the window.
func (s Scroll) View() string {
	if s.Width <= 0 || s.Height <= 0 {
		return ""
	}
	rows := strings.Split(s.Text, "\n")
	if s.Whole() {
		return strings.Join(cutRows(s.Text, s.Width), "\n")
	}
	first := s.clamp(s.First)
	from, to := s.thumb(first, len(rows))
	var out []string
	for i := range s.Height {
		bar := style.Rule.Render("│")
		if i >= from && i < to {
			bar = style.Quiet.Render("┃")
		}
		if s.Width <= barRoom {
			out = append(out, Truncate(rows[first+i], s.Width))
			continue
		}
		out = append(out, Pad(rows[first+i], s.Inner())+" "+bar)
	}
	return strings.Join(out, "\n")
}

// thumb is which rows of the bar are the window's.
func (s Scroll) thumb(first, rows int) (from, to int) {
	n := max(1, s.Height*s.Height/rows)
	last := rows - s.Height
	from = (first*(s.Height-n) + last/2) / last
	return from, from + n
}

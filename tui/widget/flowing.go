package widget

import "strings"

// Flowing is a window over a text that is drawn for its width: where it is longer than the
// window, for the columns that the bar leaves.
func Flowing(width, height int, draw func(width int) []string) Scroll {
	s := Scroll{Width: width, Height: height, Text: strings.Join(draw(width), "\n")}
	if !s.Whole() {
		s.Text = strings.Join(draw(s.Inner()), "\n")
	}
	return s
}

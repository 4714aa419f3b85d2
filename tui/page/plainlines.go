package page

import (
	"fmt"

	"example.org/wetside/sequence"
)

// HandsLine says what the hands do from now on, and until when; without that where Until is
// Never.
func HandsLine(h sequence.Hand) string {
	line := fmt.Sprintf("%8s  hands: %s", clock(h.At), h.Do)
	if h.Until != sequence.Never {
		line += " until " + clock(h.Until)
	}
	return line
}

package page

import (
	"fmt"

	"example.org/wetside/sequence"
)

// HandsLine says what the hands do from now on, and until when.
func HandsLine(h sequence.Hand) string {
	return fmt.Sprintf("%8s  hands: %s until %s", clock(h.At), h.Do, clock(h.Until))
}

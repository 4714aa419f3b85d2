//go:build !windows

package light

import "os"

// bareTerminal is what a terminal can whose TERM is not set: nothing is known of it.
const bareTerminal = NoColours

// Obeys tells whether a terminal obeys escape sequences: here all that are told apart by TERM do.
func Obeys(*os.File) bool { return true }

// enableEscapes does nothing: terminals obey escape sequences.
func enableEscapes(g *Guard) (undo func()) { return func() {} }

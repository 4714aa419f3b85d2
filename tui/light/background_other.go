//go:build !unix

package light

// Where a terminal cannot be asked with a limit of time, it is not asked.
func (g *Guard) askBackground() bool { return false }

//go:build !unix

package light

// ask is for terminals that can be polled.
func (g *Guard) ask() (answer string) { return "" }

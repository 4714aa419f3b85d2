//go:build !unix

package light

// ask is for terminals that can be polled.
func ask(g *Guard) (answer string) { return "" }

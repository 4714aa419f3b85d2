//go:build !windows

package light

// enableEscapes does nothing: terminals obey escape sequences.
func (g *Guard) enableEscapes() (undo func()) { return func() {} }

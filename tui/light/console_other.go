//go:build !windows

package light

// enableEscapes does nothing: terminals obey escape sequences.
func (g *Filter) enableEscapes() (undo func()) { return func() {} }

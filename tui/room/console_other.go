//go:build !windows

package room

// obedient does nothing: terminals obey escape sequences.
func (g *Guard) obedient() (undo func()) { return func() {} }

//go:build !linux && !darwin && !windows

package room

// Other systems: nothing is known here that keeps them awake.

import "context"

func (a *Awake) run(context.Context) { a.reportUnblocked("this system offers nothing for it") }

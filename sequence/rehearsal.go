package sequence

// A rehearsal's clock: how many times as fast as the wall's it may go.

const (
	MinRehearsalSpeed = 0.1
	MaxRehearsalSpeed = 10_000
)

// IsRehearsalSpeed reports whether a rehearsal may go so many times as fast.
func IsRehearsalSpeed(x float64) bool { return x >= MinRehearsalSpeed && x <= MaxRehearsalSpeed }

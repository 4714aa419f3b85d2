//go:build unix && !linux

package supervisor

// Other systems keep timers as they see fit.

func withTimerSlack(start func() error) error { return start() }

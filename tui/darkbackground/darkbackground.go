// Package darkbackground tells lipgloss, before bubbletea asks the terminal, that the
// background is dark.
//
// bubbletea v1 asks in a package init, and every command of the program then
// waits up to five seconds on a terminal that does not answer. Go initialises
// packages in the order of their import paths as soon as their own imports are
// ready; this one imports lipgloss alone and sorts before bubbletea, so it comes
// first. For cmd, which imports it for that effect only.
package darkbackground

import "github.com/charmbracelet/lipgloss"

func init() { lipgloss.SetHasDarkBackground(true) }

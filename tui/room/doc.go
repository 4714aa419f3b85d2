// Package room keeps the laptop fit for a darkroom: it stands between the
// screens and the terminal and lets no light through that the room may not have.
//
// For cmd. Start with Guard: give it to bubbletea as its output, call Begin
// before the screens and End after them, and SetLight whenever the light
// changes. The guard trusts nobody: what bubbletea, lipgloss or a stray print
// writes is parsed, and only what is known to be harmless is written on.
//
// It cannot reach the window's title bar, notifications, the pointer, or tmux's
// status line.
//
// KeepAwake keeps the laptop from sleeping, as far as the system grants it, and
// gives word before it sleeps all the same. Glow turns down the light behind the
// panel and under the keys. Neither fails, and nobody waits for either.
package room

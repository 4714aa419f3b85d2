// Package room keeps the laptop fit for a darkroom. What reaches the terminal is
// tui/light's business.
//
// For cmd. Start with KeepAwake, which keeps the laptop from sleeping as far as the
// system grants it, and gives word before it sleeps all the same; NewBacklight turns
// down the light behind the panel and under the keys; ReadPowerSettings tells what the
// desktop would do by itself. None of them fails a session, and nobody waits for them.
//
// It cannot reach the window's title bar, notifications, or the pointer.
package room

// Package widget is what screens are put together from: the strip of the session, large
// digits, tables, curves, a place to type, the keys at the foot, the help, bodies that
// scroll. Each is a value that is filled in and asked for its View: rows of text with
// the colours of tui/style, none wider than it was told, nothing cut without a mark. They hold
// no clock and reach nothing; what a key does to one is a method that returns the changed
// value. Start with Table, or with Columns for how a screen is divided.
package widget

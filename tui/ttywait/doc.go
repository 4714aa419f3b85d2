// Package ttywait waits until a terminal, or a pipe, can be read, for at most so long.
//
// For whoever reads keys or a terminal's answers; start with For. It reads nothing itself. Where a
// terminal cannot be waited for, as on Windows, it has nothing.
package ttywait

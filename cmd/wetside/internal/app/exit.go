package app

// Exit statuses, and how an error is written before one.

import (
	"errors"
	"fmt"

	"example.org/wetside/recipes"
	"example.org/wetside/tui/say"
)

// PrintError writes an error, each of a recipe's faults on a line of its own.
func (p *Env) PrintError(err error) {
	var faults recipes.Faults
	if !errors.As(err, &faults) {
		p.Complain("%s", p.Words(err))
		return
	}
	for _, f := range faults {
		p.Complain("%v", f)
	}
}

// Words is an error in words.
func (p *Env) Words(err error) string { return say.Error(err, p.Settings.Habits) }

// Complain writes what is wrong, or to be known, on standard error: the one place where that is
// done. Names and texts from outside may hold what a terminal obeys; here none of it gets through.
func (p *Env) Complain(format string, args ...any) {
	fmt.Fprintf(p.Err, "wetside: %s\n", CleanPage(fmt.Sprintf(format, args...)))
}

// Hint writes a cure below what is wrong.
func (p *Env) Hint(text string) { fmt.Fprintf(p.Err, "hint: %s\n", CleanPage(text)) }

// The exit statuses of the contract.
const (
	ExitOK     = 0
	ExitFailed = 1 // it cannot be done, or a check found something
	ExitUsage  = 2 // wrong usage
)

// UsageError is an error in the words of the command line.
type UsageError struct{ error }

func Usagef(format string, args ...any) error { return AsUsage(fmt.Errorf(format, args...)) }

// AsUsage makes an error one in the words of the command line.
func AsUsage(err error) error { return UsageError{err} }

// ErrReported ends a command with status 1 when all has been said already.
var ErrReported = errors.New("")

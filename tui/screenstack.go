package tui

// The screens over each other: the recipes beneath all others, the one that is shown on top.

import (
	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/tui/light"
	"example.org/wetside/tui/screen"
)

// stack is never empty.
type stack []screen.Screen

// top is the screen that is shown.
func (s stack) top() screen.Screen { return s[len(s)-1] }

// with is the stack with the shown screen changed.
func (s stack) with(top screen.Screen) stack { return append(s[:len(s)-1:len(s)-1], top) }

// under is the stack with a screen laid over the one that is shown.
func (s stack) under(top screen.Screen) stack { return append(s[:len(s):len(s)], top) }

// only is a screen right over the recipes: those between are gone.
func (s stack) only(top screen.Screen) stack { return append(s[:1:1], top) }

// less is the stack without the shown screen; the last one stays.
func (s stack) less() stack {
	if len(s) == 1 {
		return s
	}
	return s[: len(s)-1 : len(s)-1]
}

// renewed has the shown screen read anew what it shows.
func (s stack) renewed() (stack, tea.Cmd) {
	if top, ok := s.top().(screen.Renewed); ok {
		next, cmd := top.Renew()
		return s.with(next), cmd
	}
	return s, nil
}

// light is what the shown screen may be seen in. One that says nothing is of the desk.
func (s stack) light() light.Light {
	if top, ok := s.top().(screen.Lit); ok {
		return top.Light()
	}
	return light.White
}

// unsaved reports whether leaving now would lose what was not kept: a plan with conditions
// of its own, a line being typed.
func (s stack) unsaved() bool {
	top, ok := s.top().(interface{ Unsaved() bool })
	return ok && top.Unsaved()
}

// nextRound is how the next round is planned, of the plan among them; nil for none.
func (s stack) nextRound() (next *screen.OpenPlan) {
	for _, one := range s {
		if p, ok := one.(interface {
			Next() (screen.OpenPlan, bool)
		}); ok {
			if plan, more := p.Next(); more {
				next = &plan
			}
		}
	}
	return next
}

// started asks for what a screen asks for as soon as it is shown.
func started(s screen.Screen) tea.Cmd {
	if s, ok := s.(screen.Started); ok {
		return s.Start()
	}
	return nil
}

package widget

// The help that is laid over a screen.

import (
	"strings"

	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/x/ansi"

	"example.org/wetside/tui/style"
)

// KeyGroup is keys of one purpose: the hands, the plan, looking, leaving.
type KeyGroup struct {
	Purpose string
	Keys    []key.Binding
}

// Help is what stands over a screen when all keys were asked for: what the screen is for, and its
// keys by purpose. In a wide window the groups stand in two columns.
type Help struct {
	About         string // a short paragraph about the screen
	Groups        []KeyGroup
	Guides        []string // the topics of the guides that belong here
	Width, Height int
	First         int // row at the top
}

const (
	wideHelp  = 90 // from this width on in two columns
	helpProse = 72 // no row of the paragraph is longer
)

// Scroll is the help as a body that can be moved; its First is the one to keep.
func (h Help) Scroll() Scroll {
	s := Scroll{Width: h.Width, Height: h.Height, First: h.First}
	inner := s.Inner()
	var parts []string
	if h.About != "" {
		parts = append(parts, strings.Join(mapped(Wrap(h.About, min(inner, helpProse)), style.Value), "\n"), "")
	}
	c := Columns{Width: inner}
	if inner < wideHelp {
		c.Least = inner
	}
	lw, rw, beside := c.Widths()
	if !beside {
		parts = append(parts, groups(h.Groups, inner))
	} else {
		n := half(h.Groups)
		parts = append(parts, c.Join(groups(h.Groups[:n], lw), groups(h.Groups[n:], rw)))
	}
	s.Text = strings.Join(parts, "\n")
	return s
}

// half is how many groups go into the first column, so that it is not the shorter one.
func half(list []KeyGroup) int {
	all := 0
	for _, g := range list {
		all += len(g.Keys) + 2
	}
	sum := 0
	for i, g := range list {
		if sum += len(g.Keys) + 2; 2*sum >= all {
			return i + 1
		}
	}
	return len(list)
}

func groups(list []KeyGroup, width int) string {
	column := 0
	for _, g := range list {
		for _, k := range g.Keys {
			column = max(column, ansi.StringWidth(k.Help().Key))
		}
	}
	var rows []string
	for i, g := range list {
		if i > 0 {
			rows = append(rows, "")
		}
		rows = append(rows, Truncate(style.Heading(g.Purpose), width))
		for _, k := range g.Keys {
			if k.Enabled() {
				rows = append(rows, helpRows(k, column, width)...)
			}
		}
	}
	return strings.Join(rows, "\n")
}

// helpRows is a key and what it does, in more rows than one where that is long.
func helpRows(k key.Binding, column, width int) []string {
	const gap = 3
	rows := mapped(Wrap(k.Help().Desc, max(1, width-column-gap)), style.Value)
	return Hanging(style.Key.Render(k.Help().Key), column+gap, rows, width)
}

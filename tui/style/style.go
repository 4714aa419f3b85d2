// Package style is how the screens look: every colour and weight there is. Screens and
// their parts are drawn in white light's full colour; what of it may reach the terminal is
// for tui/light to say. Start with the styles, one for each meaning; the functions write what is
// met on many screens. The terminal is never asked for anything: the profile is fixed here,
// and tui/light turns full colour into what the terminal has.
package style

import (
	"io"
	"strings"

	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"
	"github.com/muesli/termenv"
)

// renderer writes 24 bits of colour, whatever the environment says.
var renderer = func() *lipgloss.Renderer {
	r := lipgloss.NewRenderer(io.Discard, termenv.WithProfile(termenv.TrueColor))
	r.SetColorProfile(termenv.TrueColor)
	r.SetHasDarkBackground(true)
	return r
}()

func ink(colour string) lipgloss.Style {
	return renderer.NewStyle().Foreground(lipgloss.Color(colour)).TabWidth(lipgloss.NoTabConversion)
}

// RowColour lies behind the selected row.
const RowColour = lipgloss.Color("#3a2f1a")

// A meaning each. A word or a shape always says it too.
var (
	Ink    = ink("#d8d4cc")            // values, sentences
	Strong = ink("#f4f0e8").Bold(true) // titles, and the one number
	Quiet  = ink("#8f8b84")            // labels, units, what is past
	Rule   = ink("#45423e")            // lines, axes, the empty part of a bar
	Now    = ink("#f2a93b")            // one thing on a screen: the present bath, what the hands do
	Key    = Now.Bold(true)            // a key at the foot
	Water  = ink("#5fa8d3")            // wet time and nothing else
	Care   = ink("#e6d05a").Bold(true) // a caution's word, where it asks for care
	Danger = ink("#ff5f56").Bold(true) // a caution's word, where somebody can be hurt; over the limit
	Done   = ink("#7fb88a")            // proven good: ready, kept, in time
	Bar    = ink("#b8b4ac")            // the strip's steps in a plan: large, so not as bright as ink
	Trough = ink("#6b6761")            // of the present step, what is to come
)

// Title is what a screen is about.
func Title(s string) string { return Strong.Render(s) }

// Heading stands over a group.
func Heading(s string) string { return Strong.Render(s) }

// Label says what a value is, or names a column.
func Label(s string) string { return Quiet.Render(s) }

// Value is what was asked for.
func Value(s string) string { return Ink.Render(s) }

// CareLine is a caution that asks for care, with its word.
func CareLine(s string) string { return Care.Render("care") + "    " + Ink.Render(s) }

// DangerLine is a caution about what can hurt, with its word.
func DangerLine(s string) string {
	return Danger.Render("danger") + "  " + Strong.Bold(false).Render(s)
}

// reset ends each styled text of lipgloss.
const reset = "\x1b[0m"

// behind is the sequence that begins the selected row's background.
var behind = begin(renderer.NewStyle().Background(RowColour))

// begin is the sequence with which a text of a style begins.
func begin(s lipgloss.Style) string { return strings.SplitN(s.Render("x"), "x", 2)[0] }

// onRow lifts the inks that have less than 4.5:1 on the selected row's colour.
var onRow = strings.NewReplacer(begin(Quiet), begin(ink("#a39f97")), begin(Danger), begin(ink("#ff7a72").Bold(true)))

// SelectedRow fills a row across so many columns, behind whatever colours it has; what would be
// too dark to read there is lifted.
func SelectedRow(s string, width int) string {
	s += strings.Repeat(" ", max(0, width-ansi.StringWidth(s)))
	return behind + onRow.Replace(strings.ReplaceAll(s, reset, reset+behind)) + reset
}

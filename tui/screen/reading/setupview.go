package reading

import (
	"fmt"
	"strings"

	"example.org/wetside/sequence"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/widget"
	"github.com/charmbracelet/bubbles/key"
)

// The picture of what is asked before reading.

// View draws the body.
func (s Setup) View(w, h int) string {
	c := widget.Columns{Width: w, Left: max(52, w*6/10), Least: 30, Ruled: true}
	lw, rw, beside := c.Widths()
	sheets := s.sheets(rw)
	if !beside {
		need := len(s.form.Fields) + 5
		if len(sheets) > 0 && h-need > len(sheets) {
			return s.form.View(w, need) + "\n\n" + strings.Join(sheets, "\n")
		}
		return s.form.View(w, h)
	}
	if len(sheets) == 0 {
		sheets = widget.Painted("With a session chosen, each sheet's developing time stands here, as its temperatures came to.", rw, style.Label)
	}
	return c.Join(s.form.View(lw, h), strings.Join(sheets[:min(len(sheets), h)], "\n"))
}

// sheets is what the session's sheets had.
func (s Setup) sheets(w int) []string {
	if len(s.sessions.Developed) == 0 {
		return nil
	}
	t := widget.Table{Width: w, Selected: -1, Plain: true, Columns: []widget.Column{{Title: "sheet", Right: true}, {Title: "planned", Right: true}, {Title: "actual", Right: true}}}
	for _, d := range s.sessions.Developed {
		t.Rows = append(t.Rows, []string{fmt.Sprint(d.Sheet), sequence.FormatElapsed(d.Planned), sequence.FormatElapsed(d.Actual)})
	}
	return strings.Split(t.View(), "\n")
}

// About is what stands around it.
func (s Setup) About() screen.About {
	return screen.About{Title: "New readings", Typing: s.form.Typing(),
		Foot: []key.Binding{widget.Bind("↑↓", "field"), widget.Bind("←→", "choose"), widget.Bind("enter", "next, at last begin"), widget.Bind("esc", "back")},
		Help: widget.Help{
			About:  "Say which sheets are read, and with what. The readings are kept as a file of densities, one column a sheet; nothing is written before the first value.",
			Guides: []string{"film-test", "curves"},
			Groups: []widget.KeyGroup{
				{Purpose: "The form", Keys: []key.Binding{widget.Bind("↑↓ tab", "from field to field"), widget.Bind("←→", "another choice"), widget.Bind("enter", "take it and go on; at Begin reading, begin"), widget.Bind("pgdn", "to Begin reading")}},
				{Purpose: "Leaving", Keys: []key.Binding{widget.Bind("esc", "back; nothing is kept"), widget.Bind("q", "leave wetside, where nothing is typed")}},
			}}}
}

package reading

// The readings that are kept, to go on with or to see their curves.

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence/densities"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/widget"
)

// List is that screen.
type List struct {
	b    Backend
	env  screen.Env
	kept []densities.ReadingsFile
	read bool
	at   int
	page *widget.Pager
}

// NewList makes it.
func NewList(b Backend, env screen.Env) List { return List{b: b, env: env, page: &widget.Pager{}} }

// listMsg is what is kept now.
type listMsg struct{ kept []densities.ReadingsFile }

// Start reads the list.
func (l List) Start() tea.Cmd {
	return func() tea.Msg { return listMsg{l.b.Densities()} }
}

// Renew reads it anew.
func (l List) Renew() (screen.Screen, tea.Cmd) { return l, l.Start() }

// listed puts the cursor on readings that were begun meanwhile, else leaves it where it was.
func (l List) listed(kept []densities.ReadingsFile) List {
	name := ""
	if l.at < len(l.kept) && (!l.read || len(kept) <= len(l.kept)) {
		name = l.kept[l.at].Name
	}
	l.kept, l.read, l.at = kept, true, 0
	for i, k := range kept {
		if k.Name == name {
			l.at = i
		}
	}
	return l
}

// Update takes a message.
func (l List) Update(msg tea.Msg) (screen.Screen, screen.Action, tea.Cmd) {
	switch msg := msg.(type) {
	case listMsg:
		return l.listed(msg.kept), nil, nil
	case tea.KeyMsg:
		l.at, _ = l.page.Move(l.at, len(l.kept), msg.String())
		return l, l.asked(msg.String()), nil
	}
	return l, nil, nil
}

// asked is what a key asks for.
func (l List) asked(name string) screen.Action {
	switch name {
	case "n":
		return screen.OpenReadingSetup{}
	case "p":
		if l.env.RedDesk {
			return screen.Message{Text: noPictureInRed, Fault: true}
		}
		return screen.OpenScan{}
	case "esc":
		return screen.Back{}
	case "q":
		return screen.Quit{}
	case "enter", "c":
		if l.at >= len(l.kept) {
			return nil
		}
		k := l.kept[l.at]
		switch {
		case k.Err != nil:
			return screen.Message{Text: k.Err.Error(), Fault: true}
		case name == "c":
			return screen.OpenCurves{File: k}
		}
		return screen.OpenReading{File: k}
	}
	return nil
}

const noPictureInRed = "No picture can be judged in red: its greys and its marks look alike there. Where there may be white light, wetside scan or these screens without palette = \"red\" read it."

// View draws the body.
func (l List) View(w, h int) string {
	if !l.read {
		return style.Label(widget.Truncate("The list is being read.", w))
	}
	c := widget.Columns{Width: w, Left: max(40, w*6/10), Least: 34, Ruled: true}
	lw, rw, beside := c.Widths()
	t := widget.Table{Width: lw, Height: h, Selected: l.at, Columns: []widget.Column{{Title: "film"}, {Title: "begun", Least: 10}, {Title: "sheets", Right: true}, {Title: "read", Right: true}},
		Empty: "No readings yet. Densities of step-tablet negatives are typed here, step after step; their curves tell the film's speed, its contrast and the right developing time. n begins new ones." + l.orPicture()}
	for _, k := range l.kept {
		t.Rows = append(t.Rows, row(k))
	}
	if !beside {
		about := l.about(w)
		if room := h - len(about) - 1; len(l.kept) > 0 && room >= min(len(l.kept)+1, 5) {
			t.Height = room
			return l.page.Draw(t) + "\n\n" + strings.Join(about, "\n")
		}
		return l.page.Draw(t)
	}
	about := l.about(rw)
	return c.Join(l.page.Draw(t), strings.Join(about[:min(len(about), h)], "\n"))
}

// orPicture tells of the other way to densities, where it can be gone.
func (l List) orPicture() string {
	if l.env.RedDesk {
		return ""
	}
	return " p reads them off a picture of the negatives beside a tablet."
}

// row is one of them.
func row(k densities.ReadingsFile) []string {
	if k.Err != nil {
		return []string{safetext.Clean(k.Name), k.Day(), "", style.Danger.Render("cannot be read")}
	}
	n, all := 0, 0
	for _, s := range k.Readings.Sheets {
		n, all = n+s.Count(), all+len(s.Steps)
	}
	share := "–"
	if all > 0 {
		share = fmt.Sprintf("%d%%", 100*n/all)
	}
	return []string{safetext.Clean(cmp.Or(k.Readings.Film, k.Name)), k.Day(), fmt.Sprint(len(k.Readings.Sheets)), share}
}

// about is what is told of the readings under the cursor.
func (l List) about(w int) (rows []string) {
	if l.at >= len(l.kept) {
		return nil
	}
	k := l.kept[l.at]
	if k.Err != nil {
		return widget.Painted(k.Err.Error(), w, style.Value)
	}
	rows = widget.Painted(k.Name+".csv", w, style.Label)
	for i, s := range k.Readings.Sheets {
		rows = append(rows, widget.Spread(style.Value(sheetName(&k.Readings, i)), style.Label(fmt.Sprintf("%d of %d steps", s.Count(), len(s.Steps))), min(w, 40)))
	}
	if k.Readings.Session != "" {
		rows = append(rows, widget.Painted("session "+k.Readings.Session, w, style.Label)...)
	}
	for _, origin := range densities.Origins(k.Readings) {
		rows = append(rows, widget.Painted("read off "+origin, w, style.Label)...)
	}
	return rows
}

// About is what stands around it.
func (l List) About() screen.About {
	a := screen.About{Title: "Densities", Help: widget.Help{
		About:  "Densities of step-tablet negatives. Readings that are not finished go on where a step is still to be read.",
		Guides: []string{"film-test", "curves", "scan"},
		Groups: []widget.KeyGroup{
			{Purpose: "Readings", Keys: []key.Binding{widget.Bind("enter", "go on with these"), widget.Bind("c", "their curves"), widget.Bind("n", "begin new ones"), widget.Bind("p", "read them off a picture; not where the screens are red")}},
			{Purpose: "Looking", Keys: []key.Binding{widget.Bind("↑↓", "from one to another"), widget.Bind("pgup pgdn", "page by page")}},
			{Purpose: "Leaving", Keys: []key.Binding{widget.Bind("esc", "back"), widget.Bind("q", "leave wetside")}},
		}}}
	if l.read {
		a.Right = fmt.Sprintf("%d kept", len(l.kept))
	}
	a.Foot = []key.Binding{widget.Bind("n", "new readings"), widget.Bind("p", "off a picture"), widget.Bind("esc", "back")}
	if l.env.RedDesk {
		a.Foot = slices.Delete(a.Foot, 1, 2)
	}
	if len(l.kept) > 0 {
		a.Foot = append([]key.Binding{widget.Bind("enter", "go on"), widget.Bind("c", "curves")}, a.Foot...)
	}
	return a
}

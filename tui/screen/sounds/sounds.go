// Package sounds is the sounds, one by one, grouped by what they ask for: each is heard as
// the cursor comes to it, so that they are known before film is opened.
package sounds

import (
	"slices"
	"sort"
	"strconv"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/style"
	"example.org/wetside/tui/widget"
)

// Backend is what this screen needs of the world.
type Backend interface {
	Sounds() []screen.Sound // all that can be heard
	Play(name string)       // "" lets go of the loudspeaker
	Sound() string          // whether there is sound
}

// Model is the screen.
type Model struct {
	b    Backend
	list []screen.Sound // in the order of the groups
	at   int
	// about is where the sound goes, or that there is none.
	about string
}

// New makes it. The first sound is heard when it is asked for.
func New(b Backend) Model {
	m := Model{b: b, list: slices.Clone(b.Sounds()), about: b.Sound()}
	sort.SliceStable(m.list, func(i, j int) bool { return groupOf(m.list[i].Name) < groupOf(m.list[j].Name) })
	return m
}

// group is what sounds ask for.
type group int

const (
	hands group = iota
	warnings
	menu
)

var groups = []struct{ name, meaning string }{
	hands:    {"Hands", "They say what the hands do, or that there is nothing to do."},
	warnings: {"Warnings", "They say that time is up, that wet time runs out, or that the plan has changed."},
	menu:     {"Menu", "They answer the keys where there is no voice: what the menu offers, and whether it is done."},
}

// groupOf is what a sound asks for. Those that are no cue of a session answer a key.
func groupOf(name string) group {
	switch k := sequence.CueKind(name); {
	case !slices.Contains(sequence.CueKinds, k):
		return menu
	case slices.Contains([]sequence.CueKind{sequence.CueOverdue, sequence.CueWetWarning, sequence.CueWetLimit, sequence.CueReading}, k):
		return warnings
	}
	return hands
}

// called is what a sound is called.
func called(name string) string {
	words := map[sequence.CueKind]string{
		sequence.CueReady: "get ready", sequence.CueLoad: "next sheet in", sequence.CueTransfer: "transfer", sequence.CuePull: "pull the sheet",
		sequence.CueShuffle: "shuffle", sequence.CueAgitate: "agitate", sequence.CueStand: "stand", sequence.CueReverse: "turn the drum", sequence.CueDrain: "drain",
		sequence.CueTick: "all is well", sequence.CueOverdue: "time is up", sequence.CueWetWarning: "wet time runs short", sequence.CueWetLimit: "wet limit",
		sequence.CueLightsOut: "lights out", sequence.CueLightsOffer: "light offered", sequence.CueReading: "temperature read", sequence.CueDone: "all done",
	}
	if w := words[sequence.CueKind(name)]; w != "" {
		return w
	}
	if name == "menu-stop" { // the menu's own word; a stop is a bath
		return "end session"
	}
	return strings.ReplaceAll(strings.TrimPrefix(safetext.Clean(name), "menu-"), "-", " ")
}

// Update takes a message.
func (m Model) Update(msg tea.Msg) (screen.Screen, screen.Action, tea.Cmd) {
	k, ok := msg.(tea.KeyMsg)
	if !ok {
		return m, nil, nil
	}
	if k.String() == "esc" {
		m.b.Play("")
		return m, screen.Back{}, nil
	}
	at, moved := widget.Move(m.at, len(m.list), k.String(), page+1)
	if len(m.list) > 0 && (moved || k.String() == "enter") {
		m.at = at
		m.b.Play(m.list[at].Name)
	}
	return m, nil, nil
}

const nameWidth = 19 // the longest that a sound is called

// leastTold is how many columns what a sound asks for needs to be wrapped.
const leastTold = 24

// page is how far pgup and pgdn go.
const page = 5

// View draws the body.
func (m Model) View(w, h int) string {
	if len(m.list) == 0 {
		return strings.Join(widget.Painted("There is no sound to hear here.", w, style.Value), "\n")
	}
	const wide, most = 110, 80
	if w >= wide {
		c := widget.Columns{Width: w, Left: min(most, w*3/5)}
		lw, rw, _ := c.Widths()
		return c.Join(m.names(lw, h), m.chosen(rw, h))
	}
	chosen := m.chosen(w, max(0, h/2-1))
	list := m.names(w, h-strings.Count(chosen, "\n")-2)
	return list + "\n\n" + chosen
}

// parted is what a sound asks for and what it sounds like, as sentences.
func parted(says string) (asks, sounds string) {
	sounds, asks, found := strings.Cut(says, ": ")
	if !found {
		sounds, asks = "", says
	}
	return say.Sentence(asks), say.Sentence(sounds)
}

// names is the list under its headings, with what each asks for.
func (m Model) names(w, h int) string {
	var rows []string
	at, last := 0, group(-1)
	for i, s := range m.list {
		if g := groupOf(s.Name); g != last {
			if last = g; len(rows) > 0 {
				rows = append(rows, "")
			}
			rows = append(rows, style.Heading(groups[g].name))
		}
		asks, _ := parted(s.Says)
		told := []string{asks}
		if room := w - nameWidth - 6; room >= leastTold {
			told = widget.Wrap(safetext.Clean(asks), room)
		}
		name := called(s.Name)
		for k, part := range told {
			row := widget.Truncate("  "+style.Value(widget.Pad(name, nameWidth))+"  "+style.Label(safetext.Clean(part)), max(0, w-2))
			if name = ""; i == m.at {
				if k == 0 {
					at = len(rows)
				}
				row = widget.Chosen(row, w-2)
			}
			rows = append(rows, row)
		}
	}
	s := widget.Scroll{Text: strings.Join(rows, "\n"), Width: w, Height: h}
	return s.Moved(at - h/2).View()
}

// chosen is the sound under the cursor: what it asks for and what it sounds like.
func (m Model) chosen(w, h int) string {
	const prose = 64
	one := m.list[m.at]
	asks, sounds := parted(safetext.Clean(one.Says))
	w = min(w, prose)
	rows := widget.Painted(asks, w, style.Heading)
	if sounds != "" {
		rows = append(rows, widget.Painted(sounds, w, style.Value)...)
	}
	for _, more := range []string{groups[groupOf(one.Name)].meaning, "It is heard over running water in the session: listen with the tap open.", whereItGoes(m.about)} {
		if text := widget.Painted(safetext.Clean(more), w, style.Label); len(rows)+1+len(text) <= h {
			rows = append(append(rows, ""), text...)
		}
	}
	return strings.Join(rows[:min(len(rows), max(1, h))], "\n")
}

// whereItGoes is where the sound goes; where there is none that alone, as a sentence: each
// way out has a reason of its own, and wetside ready tells them all.
func whereItGoes(state string) string {
	if strings.HasPrefix(state, "NO SOUND") {
		return "No sound comes out of this computer now: wetside ready says why."
	}
	return say.Sentence(state)
}

// About is what stands around it.
func (m Model) About() screen.About {
	right := ""
	if len(m.list) > 0 {
		right = strconv.Itoa(m.at+1) + " of " + strconv.Itoa(len(m.list))
	}
	again := widget.Bind("enter", "hear it again")
	choose := widget.Bind("↑↓", "hear the next")
	back := widget.Bind("esc", "recipes")
	return screen.About{Title: "Sounds", Right: right, Foot: []key.Binding{choose, again, back}, Help: widget.Help{
		About: "Every sound of a session, grouped by what it asks for. The rhythm says which it is. " +
			"Learn them here, before film is opened.",
		Guides: []string{"voice", "dark"},
		Groups: []widget.KeyGroup{
			{Purpose: "Listening", Keys: []key.Binding{choose, again, widget.Bind("pgup pgdn", "five on; home and end: the first and the last")}},
			{Purpose: "Leaving", Keys: []key.Binding{back}},
		}}}
}

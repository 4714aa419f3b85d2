package tui

// What ? lays over a screen: all its keys, and the guides that belong to it.

import (
	"strconv"

	"github.com/charmbracelet/bubbles/key"

	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/widget"
)

// help is open over a screen: its keys, or the guide that was chosen there by a digit.
type help struct {
	keys   widget.Help
	topics []string
	guides []widget.Guide // one for each topic
	read   int            // which of them is read, from 1; 0 for the keys
}

// openHelp is the help of a screen, its keys first. Where a guide cannot be read it is not offered.
func openHelp(about screen.About, b Backend) *help {
	h := help{keys: about.Help}
	group := widget.KeyGroup{Purpose: "Guides"}
	for _, topic := range about.Help.Guides {
		text, err := b.Guide(topic)
		if err != nil {
			continue
		}
		g := widget.Guide{Text: text}
		h.topics, h.guides = append(h.topics, topic), append(h.guides, g)
		group.Keys = append(group.Keys, widget.Bind(strconv.Itoa(len(h.topics)), g.Title()))
	}
	if len(group.Keys) > 0 {
		h.keys.Groups = append(h.keys.Groups[:len(h.keys.Groups):len(h.keys.Groups)], group)
	}
	return &h
}

// read is the help after a key: moved, at a guide, back at the keys, or closed.
func (f frame) read(h help, name string) *help {
	if n, err := strconv.Atoi(name); err == nil && n > 0 && n <= len(h.guides) {
		h.read = n
		return &h
	}
	if name == " " {
		name = "pgdown"
	}
	s, moved := h.scroll(f).Key(name)
	switch {
	case moved && h.read > 0:
		h.guides = append([]widget.Guide(nil), h.guides...)
		h.guides[h.read-1].First = s.First
	case moved:
		h.keys.First = s.First
	case h.read > 0 && name != "?":
		h.read = 0
	default:
		return nil
	}
	return &h
}

// scroll is what is read, in the room there is.
func (h help) scroll(f frame) widget.Scroll {
	if h.read > 0 {
		g := h.guides[h.read-1]
		g.Width, g.Height = f.inner(), f.body()
		return g.Scroll()
	}
	h.keys.Width, h.keys.Height = f.inner(), f.body()
	return h.keys.Scroll()
}

// help draws it; a guide has its own head.
func (f frame) help(h help, about screen.About) string {
	text := h.scroll(f)
	foot := []key.Binding{widget.Bind("esc", "back to the screen")}
	if !text.Whole() {
		foot = append(foot, widget.Bind("↑↓", "read on"))
	}
	if h.read > 0 {
		about = screen.About{Title: h.guides[h.read-1].Title(), Right: "wetside help " + h.topics[h.read-1]}
		foot[0] = widget.Bind("esc", "all keys")
	}
	for i, topic := range h.topics {
		if i+1 != h.read {
			foot = append(foot, widget.Bind(strconv.Itoa(i+1), topic))
		}
	}
	if !text.Whole() {
		foot = append(foot, widget.Bind("pgup pgdn", "by pages"))
	}
	return f.around(about, text.View(), widget.KeysAlone(f.inner(), foot...))
}

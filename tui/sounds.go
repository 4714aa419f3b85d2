package tui

// The sounds, one by one: each is heard as the cursor comes to it, with its name and
// what it asks for, so that they are known before film is opened.

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"
)

// SoundLesson is a sound that can be learnt.
type SoundLesson struct{ Name, Description string }

// SoundPlayer plays sounds where no session is running. Play makes nobody wait; "" lets
// go of the loudspeaker.
type SoundPlayer interface {
	Sounds() []SoundLesson
	Play(name string)
}

// soundsModel is the list.
type soundsModel struct {
	noMessages
	noInput
	list  []SoundLesson
	at    int
	sound string // whether there is any
}

func (soundsModel) id() screenID { return soundsScreen }

// enterSounds opens the sounds. The first is heard when it is asked for.
func (m Model) enterSounds() Model {
	return m.enter(soundsModel{list: m.o.Backend.Sounds(), sound: m.o.Backend.Sound()})
}

func (s soundsModel) HandleKey(m Model, key string) (Model, tea.Cmd) {
	switch actionOf(soundsScreen, key) {
	case up:
		s.at = max(0, s.at-1)
	case down:
		s.at = min(len(s.list)-1, s.at+1)
	case enter:
	case goBack:
		m.o.Backend.Play("")
		return m.back(), nil
	case quit:
		return m, tea.Quit
	default:
		return m, nil
	}
	m.o.Backend.Play(s.list[s.at].Name)
	return m.changed(s), nil
}

func (s soundsModel) draw(g grid, f frame) {
	used := g.text(f.head, fmt.Sprintf("The sounds, %d of %d", s.at+1, len(s.list)), strong) - f.head.x
	g.right(f.head.beside(used+2), cut(s.sound, max(0, f.head.w-used-2)), dim)
	l := lessonsOf(f.body)
	first := max(0, min(s.at-l.list.h/2, len(s.list)-l.list.h))
	for i := first; i < len(s.list) && i-first < l.list.h; i++ {
		r := l.list.row(i - first)
		level := text
		if i == s.at {
			g.set(r.x, r.y, '█', bright)
			level = bright
		}
		g.text(r.beside(2), s.list[i].Name, level)
	}
	g.paragraphs(l.about, []prepLine{{s.list[s.at].Description, text}, {},
		{"It will be heard over running water: listen with the tap open.", dim}})
}

package tui

// The sounds, one by one: each is heard as the cursor comes to it, with its name and
// what it asks for, so that they are known before film is opened.

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"
)

// Lesson is a sound that can be learnt.
type Lesson struct{ Name, Says string }

// Teacher plays sounds where no session is running. Play makes nobody wait; "" lets
// go of the loudspeaker.
type Teacher interface {
	Lessons() []Lesson
	Play(name string)
}

// lessonsModel is the list.
type lessonsModel struct {
	deaf
	still
	list  []Lesson
	at    int
	sound string // whether there is any
}

func (lessonsModel) is() screen { return lessons }

// enterLessons opens the sounds. The first is heard when it is asked for.
func (m Model) enterLessons() Model {
	return m.enter(lessonsModel{list: m.o.Host.Lessons(), sound: m.o.Host.Sound()})
}

func (s lessonsModel) keyed(m Model, key string) (Model, tea.Cmd) {
	switch actionOf(lessons, key) {
	case up:
		s.at = max(0, s.at-1)
	case down:
		s.at = min(len(s.list)-1, s.at+1)
	case enter:
	case back:
		m.o.Host.Play("")
		return m.back(), nil
	case leave:
		return m, tea.Quit
	default:
		return m, nil
	}
	m.o.Host.Play(s.list[s.at].Name)
	return m.changed(s), nil
}

func (s lessonsModel) draw(g grid, f frame) {
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
	g.paragraphs(l.about, []prepLine{{s.list[s.at].Says, text}, {},
		{"It will be heard over running water: listen with the tap open.", dim}})
}

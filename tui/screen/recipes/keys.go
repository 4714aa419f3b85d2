package recipes

// The keys, and the questions that stand before what cannot be taken back.

import (
	"fmt"

	"github.com/charmbracelet/bubbles/key"

	"example.org/wetside/tui/say"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/widget"
)

// question is what stands over the list until it is answered.
type question int

const (
	asksNothing question = iota
	asksTakeOver
	asksDamaged
	asksEditor
)

const (
	runningText  = "Another wetside carries this session out now. y asks it for the session and goes on with it here, any other key leaves it."
	takeOverText = "This session began on another laptop and may still be running there. Two laptops that both carry it out " +
		"call every transfer twice, so take it over only when the other one no longer does. y takes it over here, any other key leaves it."
	damagedText = "The record of this session is damaged, and what came after its last good line is not known. y goes on from there, in a new file, " +
		"and keeps the damaged one beside it; any other key leaves all as it is."
	editorText = "Your own editor opens on the recipe; of a shipped one on a copy. Save and leave it as you always do " +
		"(nano: ctrl+o enter ctrl+x, vi: esc :wq enter). Then the recipe is checked and its plan shown. enter opens it, any other key stays here."
)

// scrollBy is how far pgup and pgdn move what stands about a recipe.
const scrollBy = 5

func (m Model) key(name string) (Model, screen.Action) {
	if m.asking != asksNothing {
		return m.answer(name)
	}
	switch name {
	case "up", "k", "down", "j", "home", "end":
		at, _ := widget.Move(m.list.at, m.list.rows(), name, 1)
		return m.choose(at), nil
	case "pgdown":
		m.scrolled = min(m.scrolled+scrollBy, m.chosen.rows())
	case "pgup":
		m.scrolled = max(0, m.scrolled-scrollBy)
	case "esc": // this is the ground floor
		m.rehearsed = false
	case "enter":
		return m.open()
	case "r":
		return m.rehearse()
	case "e", "c":
		return m.change(name)
	}
	return m, m.elsewhere(name)
}

// elsewhere are the keys that only lead to another screen.
func (m Model) elsewhere(name string) screen.Action {
	switch name {
	case "n":
		return screen.OpenNewRecipe{}
	case "N":
		return screen.OpenNotebook{}
	case "b":
		return screen.OpenBottles{}
	case "h":
		return screen.OpenHolders{}
	case "d":
		return screen.OpenDensities{}
	case "l":
		return screen.OpenSounds{}
	case "q":
		return screen.Quit{}
	case "f":
		if m.chosen.plan == nil {
			return screen.OpenFilms{}
		}
		return screen.OpenFilms{Name: m.chosen.plan.Recipe.Film.Name}
	case "t":
		if m.chosen.plan == nil {
			return screen.Message{Text: "A film test is made of a recipe that can be used. Choose one.", Fault: true}
		}
		return screen.OpenFilmTest{Recipe: m.chosen.plan.Recipe}
	}
	return nil
}

// open plans the recipe chosen, or takes up the session.
func (m Model) open() (Model, screen.Action) {
	u, isSession := m.list.session()
	e, isRecipe := m.list.entry()
	switch {
	case u.Elsewhere || u.Running:
		m.asking = asksTakeOver
		return m, nil
	case u.Damaged != nil:
		m.asking = asksDamaged
		return m, nil
	case isSession:
		return m, screen.Resume{ID: u.ID}
	case !isRecipe:
		return m, nil
	case m.chosen.fault != nil:
		return m, m.unusable()
	}
	return m, screen.OpenPlan{Name: e.Name, Conditions: m.env.Defaults}
}

// unusable says why a broken recipe cannot be planned or rehearsed, and what mends it.
func (m Model) unusable() screen.Action {
	e, _ := m.list.entry()
	return screen.Message{Text: e.Name + " cannot be used as it is. e opens it at the first fault.", Fault: true}
}

// rehearse begins the recipe chosen without film, many times as fast.
func (m Model) rehearse() (Model, screen.Action) {
	if _, ok := m.list.session(); ok {
		return m, screen.Message{Text: "A session is not rehearsed. Choose a recipe.", Fault: true}
	}
	e, ok := m.list.entry()
	switch {
	case !ok:
		return m, nil
	case m.chosen.fault != nil:
		return m, m.unusable()
	}
	plan, err := m.env.Plan(m.chosen.plan.Recipe)
	if err != nil {
		return m, screen.Message{Text: say.Error(err, m.env.Units()), Fault: true}
	}
	m.rehearsal = e.Name
	return m, m.env.Rehearse(plan, m.env.UsualRehearsal())
}

// change opens the editor, after a word on how it is left, or the form.
func (m Model) change(name string) (Model, screen.Action) {
	e, ok := m.list.entry()
	switch {
	case !ok:
		return m, screen.Message{Text: "A session is not edited. Choose a recipe.", Fault: true}
	case name == "e":
		m.asking = asksEditor
		return m, nil
	case e.Fault != nil:
		return m, m.unusable()
	}
	return m, screen.OpenNewRecipe{From: e.Name}
}

// answer takes the key that answers the question.
func (m Model) answer(name string) (Model, screen.Action) {
	asked := m.asking
	m.asking = asksNothing
	u, _ := m.list.session()
	e, _ := m.list.entry()
	switch {
	case (asked == asksTakeOver || asked == asksDamaged) && name == "y":
		return m, screen.Resume{ID: u.ID, BehindDamage: asked == asksDamaged}
	case asked == asksEditor && (name == "enter" || name == "e"):
		return m, screen.Edit{Recipe: e.Name}
	}
	return m, nil
}

// About is what stands around it.
func (m Model) About() screen.About {
	return screen.About{Title: "wetside", Right: m.list.count(), Foot: m.foot(), Help: widget.Help{
		About: "A recipe says how one film is developed, bath by bath. Choose one: it is planned for today's temperature, " +
			"prepared, and then carried out in the dark. A rehearsal shows all of it without film.",
		Guides: []string{"start", "recipe", "settings", "files", "machines"},
		Groups: []widget.KeyGroup{
			{Purpose: "The session", Keys: []key.Binding{widget.Bind("enter", "plan the recipe for today, or take up the session"),
				widget.Bind("r", fmt.Sprintf("rehearse without film, %g times as fast", m.env.Speed()))}},
			{Purpose: "Recipes", Keys: []key.Binding{widget.Bind("n", "new recipe, field by field"), widget.Bind("c", "change the recipe, or start one from it, field by field"),
				widget.Bind("e", "edit it as a file, in your own editor")}},
			{Purpose: "Film and chemistry", Keys: []key.Binding{widget.Bind("N", "notebook: all sessions"), widget.Bind("b", "bottles: what is mixed"),
				widget.Bind("h", "film holders: exposed sheets"), widget.Bind("f", "film: all that is known of it"), widget.Bind("t", "film test of the recipe"), widget.Bind("d", "densities that were read")}},
			{Purpose: "Looking", Keys: []key.Binding{widget.Bind("↑↓", "choose; home and end go to the first and the last"),
				widget.Bind("pgup pgdn", "read on beside the list"), widget.Bind("l", "hear the sounds")}},
			{Purpose: "Leaving", Keys: []key.Binding{widget.Bind("q", "leave wetside")}},
		}}}
}

// foot are the keys that matter for what is chosen.
func (m Model) foot() []key.Binding {
	switch {
	case m.asking == asksTakeOver:
		return []key.Binding{widget.Bind("y", "take it over"), widget.Bind("esc", "leave it")}
	case m.asking == asksDamaged:
		return []key.Binding{widget.Bind("y", "go on from the last good line"), widget.Bind("esc", "leave it")}
	case m.asking == asksEditor:
		return []key.Binding{widget.Bind("enter", "open the editor"), widget.Bind("esc", "stay here")}
	}
	last := []key.Binding{widget.Bind("n", "new recipe"), widget.Bind("N", "notebook"), widget.Bind("b", "bottles"), widget.Bind("q", "quit")}
	if _, ok := m.list.session(); ok {
		return append([]key.Binding{widget.Bind("enter", "take up")}, last...)
	}
	if m.chosen.fault != nil {
		return append([]key.Binding{widget.Bind("e", "edit")}, last...)
	}
	first := []key.Binding{widget.Bind("enter", "plan"), widget.Bind("r", "rehearse")}
	if m.newcomer && !m.rehearsed {
		first[0], first[1] = first[1], first[0]
	}
	return append(first, last...)
}

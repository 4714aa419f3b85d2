package tui

// The rack: the bottles of mixed baths that stand open, how old they are, what they
// have done and what is left. One may be thrown away; those of the recipe under the
// opening's cursor may be opened, once what they do to people has been shown.

import (
	"fmt"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/bottles"
	"example.org/wetside/tui/say"
)

// BottleStore is where bottles stand. Its calls may take a while, but Kept, Stock and Watch.
type BottleStore interface {
	OpenBottlesFor(sequence.Recipe) []sequence.OpenBottle // what a recipe can draw on, of each bath the newest first
	Stock() []sequence.Stock                              // stock: bottles of the parts that baths are mixed from
	Bottles() ([]bottles.Bottle, error)                   // that stand open
	OpenBottles(sequence.Recipe) error                    // one for each of its baths that is more than water
	Retire(bottle string) error
	Swap(first, second bottles.Bottle) error                // the first is thrown away, the second takes its place
	RecordClearing(bottle string, took time.Duration) error // a clearing time was measured
	SoundStopwatch(on bool)                                 // a stopwatch is heard from now on, or no more; nothing is waited for
}

// bottlesModel is the list.
type bottlesModel struct {
	bottles []bottles.Bottle
	stock   []sequence.Stock
	now     time.Time        // when they were read
	fault   string           // why they could not be
	read    bool             // they have come
	at      int              // the one under the cursor
	asked   keyAction        // what is done when its key comes again
	recipe  *sequence.Recipe // for which bottles can be opened; nil for none
	habits  sequence.Units
	watch   stopwatch
}

// bottlesMsg are the bottles as they stand now.
type bottlesMsg struct {
	bottles []bottles.Bottle
	stock   []sequence.Stock
	now     time.Time
	err     error
}

func (bottlesModel) id() screenID { return bottlesScreen }

// enterBottles opens the rack, with the recipe under the opening's cursor.
func (m Model) enterBottles() (Model, tea.Cmd) {
	r := bottlesModel{habits: m.o.Defaults.Units}
	if e, ok := m.list.recipe(); ok && e.Fault == nil {
		if found, err := m.o.Backend.Recipe(e.Name); err == nil && len(found.Baths) > 0 {
			r.recipe = &found
		}
	}
	return m.enter(r), m.bottlesCmd(nil)
}

// bottlesCmd does something to the bottles, and reads them.
func (m Model) bottlesCmd(do func() error) tea.Cmd {
	host, now := m.o.Backend, m.o.Now()
	return func() tea.Msg {
		var err error
		if do != nil {
			err = do()
		}
		bottles, unread := host.Bottles()
		if err == nil {
			err = unread
		}
		return bottlesMsg{bottles, host.Stock(), now, err}
	}
}

func (r bottlesModel) HandleMsg(m Model, msg tea.Msg) (Model, tea.Cmd) {
	if msg, ok := msg.(watchedMsg); ok {
		return r.watched(m, msg)
	}
	if msg, ok := msg.(bottlesMsg); ok {
		r.bottles, r.stock, r.now, r.read, r.fault = msg.bottles, msg.stock, msg.now, true, ""
		if msg.err != nil {
			r.fault = msg.err.Error()
		}
		r.at = min(r.at, max(0, len(r.bottles)-1))
	}
	return m.changed(r), nil
}

func (r bottlesModel) HandleKey(m Model, key string) (Model, tea.Cmd) {
	a := actionOf(bottlesScreen, key)
	if r.watch.runs() && a != clearIt && a != quit {
		r = r.unwatch(m.o.Backend) // given up
	}
	again := a != noAction && a == r.asked
	r.asked = noAction
	switch a {
	case up:
		r.at = max(0, r.at-1)
	case down:
		r.at = min(r.at+1, max(0, len(r.bottles)-1))
	case throwAway, openBottles, rotate:
		return r.act(m, a, again)
	case clearIt:
		return r.clear(m, again)
	case goBack:
		return m.back(), nil
	case quit:
		return m, tea.Quit
	}
	return m.changed(r), nil
}

// act asks before it throws away or opens; the same key again does it.
func (r bottlesModel) act(m Model, a keyAction, again bool) (Model, tea.Cmd) {
	host := m.o.Backend
	switch {
	case a != openBottles && len(r.bottles) == 0, a == openBottles && r.recipe == nil:
		return m.changed(r), nil
	case a == rotate && r.behind() == nil:
		return m.changed(r).showError("no bottle of the same mix serves as another bath: nothing to put in its place"), nil
	case !again:
		r.asked = a
		return m.changed(r), nil
	case a == throwAway:
		name := r.bottles[r.at].Name
		return m.changed(r), m.bottlesCmd(func() error { return host.Retire(name) })
	}
	if a == rotate {
		first, second := r.bottles[r.at], *r.behind()
		return m.changed(r), m.bottlesCmd(func() error { return host.Swap(first, second) })
	}
	recipe := *r.recipe
	return m.changed(r), m.bottlesCmd(func() error { return host.OpenBottles(recipe) })
}

// behind is the bottle that takes the place of the one under the cursor; nil for none.
func (r bottlesModel) behind() *bottles.Bottle {
	if c, ok := (bottles.Inventory{Bottles: r.bottles}).Successor(r.bottles[r.at]); ok {
		return &c
	}
	return nil
}

// typing is what is asked, or the stopwatch, at the foot: there is room for it on
// every screen.
func (r bottlesModel) typing() string {
	switch {
	case r.watch.runs():
		return "c when it is clear: " + sequence.FormatElapsed(r.watch.shown)
	case r.asked == clearIt:
		return "c again as a scrap of film goes into " + r.bottles[r.at].Name
	case r.asked == rotate:
		return "r again throws away " + r.bottles[r.at].Name + "; " + r.behind().Name + " takes its place"
	case r.asked != throwAway:
		return ""
	}
	return "t again throws away " + r.bottles[r.at].Name
}

func (r bottlesModel) draw(g grid, f frame) {
	g.text(f.head, "Bottles", strong)
	g.right(f.head, pluralise(len(r.bottles), "open bottle"), dim)
	if len(r.bottles) == 0 || r.asked == openBottles {
		g.paragraphs(below(f.body), append(r.notice(), r.empty()...))
		return
	}
	l := listOf(f.body, len(r.bottles)).stripless(f.body)
	g.listed(l.list, len(r.bottles), r.at, func(i int) (string, string, brightness) { return r.line(&r.bottles[i]) })
	g.paragraphs(l.about, append(r.notice(), r.about()...))
}

// line is a bottle in the list: its name, and what is left.
func (r bottlesModel) line(b *bottles.Bottle) (string, string, brightness) {
	facts := strings.Join(b.Condition(r.now), "; ")
	if strings.Contains(facts, "SPENT") || strings.Contains(facts, "STALE") {
		return safetext.Clean(b.Name), "not to be used", strong
	}
	if room, known := b.OpenBottle(r.now).Capacity(); known {
		return safetext.Clean(b.Name), fmt.Sprintf("%.4g of %.4g sheets left", room-b.Sheets(), room), text
	}
	return safetext.Clean(b.Name), fmt.Sprintf("%.4g sheets done", b.Sheets()), text
}

// notice is what is asked, or what went wrong.
func (r bottlesModel) notice() []prepLine {
	switch {
	case r.watch.runs() || r.asked == clearIt:
		return []prepLine{{"In the light, gloves on, the room aired. Move the scrap about until nothing milky is left. The time goes into the ledger; at twice the fresh one the fixer is spent (NAVEDTRA 14209 p. 249). Type it at the plan's clearing time.", dim}, {}}
	case r.asked == rotate:
		return []prepLine{{"Of two fixing baths the first is spent first: the second takes its place, and a new second is mixed. The silver in the spent one is to be collected; local rules decide where it goes.", dim}, {}}
	case r.asked == throwAway:
		return []prepLine{{"Used fixer holds silver: collect it; local rules decide where it goes.", dim}, {}}
	case r.asked == openBottles:
		list := []prepLine{{"Mixed now, for " + safetext.Clean(r.recipe.Title) + "? o again: yes.", bright}}
		for i := range r.recipe.Baths {
			b := &r.recipe.Baths[i]
			list = append(list, prepLine{"  " + safetext.Clean(b.ID) + ": " + amounts(*b, r.habits), text})
			for _, h := range say.HazardsIn(r.recipe, b) {
				if h != say.SafetyReminder {
					list = append(list, prepLine{"    " + safetext.Clean(h), dim})
				}
			}
		}
		return append(list, prepLine{say.SafetyReminder, dim}, prepLine{})
	case r.fault != "":
		return []prepLine{{r.fault, strong}, {}}
	}
	return nil
}

func (r bottlesModel) empty() []prepLine {
	switch {
	case !r.read:
		return []prepLine{{"reading the ledger", dim}}
	case r.asked == openBottles:
		return nil
	}
	list := []prepLine{{"No bottle stands open: each plan counts on baths mixed fresh.", dim}}
	if r.recipe != nil {
		list = append(list, prepLine{"o opens those for " + safetext.Clean(r.recipe.Title) + ".", dim})
	}
	return append(list, r.stockLines()...)
}

// about is what is told of the bottle under the cursor.
func (r bottlesModel) about() []prepLine {
	b := &r.bottles[r.at]
	list := []prepLine{{"serves as " + safetext.Clean(b.Bath.ID) + ": " + amounts(b.Bath, r.habits), text}}
	for _, fact := range b.Condition(r.now) {
		list = append(list, prepLine{fact, text})
	}
	if times := say.FixTimes(b.OpenBottle(r.now)); times != "" {
		list = append(list, prepLine{times, text})
	}
	if n := len(b.Sessions); n > 0 {
		list = append(list, prepLine{pluralise(n, "session") + ", the last " + safetext.Clean(b.Sessions[n-1]), dim})
	}
	return append(list, r.stockLines()...)
}

// stockLines is what is left of the stock, bottle by bottle; nothing where none is counted.
func (r bottlesModel) stockLines() []prepLine {
	if len(r.stock) == 0 {
		return nil
	}
	list := []prepLine{{}, {"Stock in hand", strong}}
	for _, s := range r.stock {
		l := text
		if s.Left <= 0 {
			l = dim
		}
		list = append(list, prepLine{"  " + safetext.Clean(s.Part) + ": " + say.Volume(s.Left, r.habits) + " of " + say.Volume(s.Opened, r.habits) + " left in " + safetext.Clean(s.Bottle), l})
	}
	return list
}

// stopwatch is the clearing test of the bottle under the cursor.
type stopwatch struct {
	since time.Time
	shown time.Duration // since then, at the last look
}

func (w stopwatch) runs() bool { return !w.since.IsZero() }

// watchedMsg is a look at the stopwatch that began then.
type watchedMsg struct{ since time.Time }

// look comes back in a second.
func (w stopwatch) look() tea.Cmd {
	since := w.since
	return tea.Tick(time.Second, func(time.Time) tea.Msg { return watchedMsg{since} })
}

// clear asks, then starts the stopwatch, then stops it and keeps the time.
func (r bottlesModel) clear(m Model, again bool) (Model, tea.Cmd) {
	now := m.o.Now()
	switch {
	case len(r.bottles) == 0:
		return m.changed(r), nil
	case r.watch.runs():
		host, name, took := m.o.Backend, r.bottles[r.at].Name, now.Sub(r.watch.since)
		r = r.unwatch(host)
		if took <= 0 || took >= sequence.LongestClearing {
			return m.changed(r).showError(notClear), nil
		}
		return m.changed(r), m.bottlesCmd(func() error { return host.RecordClearing(name, took) })
	case !again:
		r.asked = clearIt
		return m.changed(r), nil
	}
	m.o.Backend.SoundStopwatch(true)
	r.watch = stopwatch{since: now}
	return m.changed(r), r.watch.look()
}

// unwatch stops the stopwatch.
func (r bottlesModel) unwatch(h Backend) bottlesModel {
	h.SoundStopwatch(false)
	r.watch = stopwatch{}
	return r
}

const notClear = "not clear after ten minutes: the fixer is spent, too weak or far too cold"

// watched shows the time, and gives up where it makes no sense to go on.
func (r bottlesModel) watched(m Model, msg watchedMsg) (Model, tea.Cmd) {
	if msg.since != r.watch.since {
		return m, nil
	}
	r.watch.shown = m.o.Now().Sub(r.watch.since).Truncate(time.Second)
	if r.watch.shown >= sequence.LongestClearing {
		return m.changed(r.unwatch(m.o.Backend)).showError(notClear), nil
	}
	return m.changed(r), r.watch.look()
}

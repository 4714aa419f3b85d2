package sequence

// While a session runs: the one best thing that can still be done about its wet time.
// Each possibility is laid out to the end from where the film is now, overruns and
// holds included.

import (
	"fmt"
	"slices"

	"example.org/wetside/chem"
)

// Deed is what an Advice says to do, for whoever says it in words of its own.
type Deed string

// The deeds.
const (
	GoOnNow     Deed = "go-on"      // what is held, or waits, is overdue
	IntoHangers Deed = "in-hangers" // from Step on; or into single trays, as In says
	LeastTime   Deed = "least"      // Step for For alone; its sheets move on at At
	LeaveOut    Deed = "leave-out"  // Step
)

// Advice is one thing to do, and what it comes to.
type Advice struct {
	Do     Deed
	Step   int // index into the plan's steps; -1 for loading
	For    Elapsed
	At     Elapsed
	In     Vessel
	Text   string
	Saves  Elapsed  // of the longest wet time
	Margin *Elapsed // that it leaves by the limit; nil where no limit is known
}

// Say is the advice in a sentence; found is what Advise said of it.
func (a Advice) Say(found bool) string {
	switch {
	case !found:
		return "nothing more would shorten the wet time"
	case a.Margin == nil:
		return "best now: " + a.Text
	case *a.Margin < 0:
		return fmt.Sprintf("best now: %s; still %s over the limit", a.Text, Clock(-*a.Margin))
	}
	return fmt.Sprintf("best now: %s; leaves %s", a.Text, Clock(*a.Margin))
}

// option is one thing that could still be done.
type option struct {
	Advice // what is not known before the film is laid out with it left open
	plan   *Plan
	doses  []Elapsed
}

// Advise is the kindest thing that still brings the wet time under its limit, with
// the film's warning to spare where that can be had; where nothing does, what helps
// most. False where nothing helps, or the session does not run.
func (s State) Advise(now Elapsed) (Advice, bool) {
	if !s.began || s.over != "" || s.ahead.edge.at == Never {
		return Advice{}, false
	}
	before := tally(s.plan, s.lay(s.floor(now)))
	if s.moves.overdue {
		over := max(0, now-s.moves.since)
		return Advice{Do: GoOnNow, Step: s.ahead.edge.from, For: over, Margin: before.Margin,
			Text: fmt.Sprintf("go on: %s is %s over its time", s.overdueIn(), Clock(over))}, true
	}
	var best Advice
	found, most := false, 0.0
	for _, margin := range []Elapsed{s.plan.Recipe.Film.WetWarning, 0} {
		for _, o := range s.options() {
			a, wet, ok := s.weigh(o, before, now)
			if !ok {
				continue
			}
			if wet.Margin != nil && *wet.Margin >= margin {
				return a, true
			}
			if helps := gain(before, wet); helps > most {
				best, found, most = a, true, helps
			}
		}
	}
	return best, found
}

// gain is by how much a wet time is better: in shares of the limit, in seconds where
// none is known.
func gain(a, b Wet) float64 {
	if a.Used != nil && b.Used != nil {
		return *a.Used - *b.Used
	}
	return Seconds(a.Total - b.Total)
}

// overdueIn names what is overdue.
func (s State) overdueIn() string {
	if e := s.ahead.edge; e.from >= 0 {
		return s.plan.name(e.from)
	}
	return "loading"
}

// weigh lays the film out with an option; false where it gains nothing.
func (s State) weigh(o option, before Wet, now Elapsed) (Advice, Wet, bool) {
	t := s
	t.plan, t.moves.doses = o.plan, o.doses
	laid := t.lay(t.floor(now))
	wet := tally(o.plan, laid)
	if !better(wet, before) {
		return Advice{}, wet, false
	}
	a := o.Advice
	a.Saves, a.Margin = before.Total-wet.Total, wet.Margin
	if a.Do == LeastTime {
		_, _, a.At, _ = span(laid.row(o.plan, a.Step))
		a.Text += ": move on at " + Clock(a.At)
	}
	return a, wet, true
}

// options are what can still be done, kindest first: hangers where a stack comes into
// the light, the least that does its work, leaving out what is optional.
func (s State) options() []option {
	var hang, least, leave []option
	for i := range s.plan.Steps {
		st, row := &s.plan.Steps[i], s.moves.film.row(s.plan, i)
		begun := slices.ContainsFunc(row, func(y stay) bool { return y.in != Never })
		left := slices.ContainsFunc(row, func(y stay) bool { return y.out != Never })
		if !begun && st.Stack && st.RoomLight == White && i > 0 {
			hang = append(hang, s.hung(i))
		}
		if d := s.plan.least(i); !left && st.Kind != Develop && d > 0 && d < s.moves.doses[i] {
			least = append(least, s.cut(i, d))
		}
		if !begun && st.Optional && i > 0 && !(st.Kind == Presoak && st.Stack) {
			leave = append(leave, s.left(i))
		}
	}
	return slices.Concat(hang, least, leave)
}

// hung is the rest in hangers, or single trays, from step i on.
func (s State) hung(i int) option {
	p := *s.plan
	p.Steps = slices.Clone(p.Steps)
	apart := p.apart()
	for k := i; k < len(p.Steps) && p.Steps[k].Stack; k++ {
		p.Steps[k].Vessel, p.Steps[k].Stack = apart, false
	}
	return option{Advice{Do: IntoHangers, Step: i, In: apart, Text: fmt.Sprintf("%s %s, once the light is on", p.Steps[i].Name, apart.In())}, &p, s.moves.doses}
}

// cut is the least of step i.
func (s State) cut(i int, least Elapsed) option {
	doses := slices.Clone(s.moves.doses)
	doses[i] = least
	text := fmt.Sprintf("%s for %s is enough", s.plan.Steps[i].Name, chem.FormatDuration(least))
	return option{Advice{Do: LeastTime, Step: i, For: least, Text: text}, s.plan, doses}
}

// left is step i left out: film passes through it in no time.
func (s State) left(i int) option {
	doses := slices.Clone(s.moves.doses)
	doses[i] = 0
	return option{Advice{Do: LeaveOut, Step: i, Text: "leave out " + s.plan.Steps[i].Name}, s.plan, doses}
}

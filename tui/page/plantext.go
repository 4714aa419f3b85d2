// Package page writes what wetside shows as paper does: the plan as one calm
// page, a line for each event.
//
// For cmd and the screens. Start with Plan and EventLine. Everything here is a pure
// function from values to text; nothing is drawn with colour. Texts come as the
// recipe and the person wrote them: whoever writes to a terminal cleans them.
package page

// The plan as a page.

import (
	"fmt"
	"strings"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/widget"
)

// Plan is the plan as a page of so many columns.
func Plan(p *sequence.Plan, h sequence.Units, width int) string {
	b := &strings.Builder{}
	hangingText(b, "", p.Recipe.Title, width)
	hangingText(b, "", planFacts(p, h), width)
	fmt.Fprintln(b)
	for _, line := range TimeLine(p, width) {
		fmt.Fprintln(b, line)
	}
	fmt.Fprintln(b)
	planSteps(b, p, h, width)
	fmt.Fprintln(b)
	hangingText(b, "", say.WetTimeInFull(p), width)
	errorBudget(b, p, h, width)
	betterWashes(b, p, h, width)
	waysToShorten(b, p, h, width)
	gentlerWays(b, p, h, width)
	cautionList(b, p, h, width)
	return b.String()
}

func clock(d sequence.Elapsed) string { return sequence.FormatElapsed(d) }

// planFacts is what the plan is for, on one line.
func planFacts(p *sequence.Plan, h sequence.Units) string {
	list := []string{p.Recipe.Film.Name, say.Count(p.Sheets, "sheet") + " of " + p.Recipe.Load.Size.Name, string(p.Vessel)}
	for i := range p.Steps {
		if t := p.Steps[i].Temperature; p.Steps[i].TimeByTemperature != nil && t != nil {
			list = append(list, "developer at "+say.Temperature(*t, h))
			break
		}
	}
	return strings.Join(list, ", ")
}

// planSteps is the table of steps.
func planSteps(b *strings.Builder, p *sequence.Plan, h sequence.Units, width int) {
	name := 4
	for i := range p.Steps {
		name = max(name, len([]rune(say.StepName(p.Steps[i].Name))))
	}
	name = min(name, 20, max(8, width-32)) // a narrow page keeps room beside it
	for i := range p.Steps {
		st := &p.Steps[i]
		head := fmt.Sprintf("%8s  %-*s %7s  ", clock(st.Start), name, widget.Truncate(say.StepName(st.Name), name), clock(st.Given))
		indent := strings.Repeat(" ", len([]rune(head)))
		for j, line := range widget.Wrap(stepDetails(p, i, h), max(leastWidth, width-len(indent))) {
			if j > 0 {
				head = indent
			}
			fmt.Fprintln(b, strings.TrimRight(head+line, " "))
		}
	}
	end := p.Steps[len(p.Steps)-1].End
	fmt.Fprintf(b, "%8s  %s\n", clock(end), "last sheet out")
}

// lightOf is the light of a step where no heading stands over it.
func lightOf(l sequence.Light) string {
	if l == sequence.White {
		return "light on"
	}
	return say.RoomLight(l)
}

// agitation is how a step is agitated where no heading stands over it: the screens' words.
func agitation(p *sequence.Plan, st *sequence.PlanStep) string {
	if st.Agitate.Mode == sequence.Pattern {
		return "agitate " + say.StepAgitation(p, st)
	}
	return say.StepAgitation(p, st)
}

// stepDetails is what is special about a step.
func stepDetails(p *sequence.Plan, i int, h sequence.Units) string {
	st := &p.Steps[i]
	list := []string{lightOf(st.RoomLight)}
	if i == 0 || p.Steps[i-1].Vessel != st.Vessel {
		list = append(list, st.Vessel.In())
	}
	if st.Kind == sequence.Develop {
		list = append(list, developTimes(p, i, h)...)
	}
	list = append(list, agitation(p, st))
	if st.Drain > 0 {
		list = append(list, say.Drain(&st.Step))
	}
	if st.Stack && st.End > st.FirstOut {
		list = append(list, fmt.Sprintf("transfer from %s to %s", clock(st.FirstOut), clock(st.End)))
	}
	list = append(list, stepEnd(p, i, h)...)
	if st.Note != "" {
		list = append(list, st.Note)
	}
	if sequence.WaitsInWater(p, i) {
		list = append(list, say.WaterTray)
	}
	return strings.Join(list, "; ")
}

// stepEnd is how a step ends, how warm its water should be, and how a wash is done.
func stepEnd(p *sequence.Plan, i int, h sequence.Units) (list []string) {
	st := &p.Steps[i]
	if st.LightsOnAfter > 0 {
		list = append(list, "safe to turn on the room light after "+clock(st.LightsOnAfter))
	}
	if st.WaitForPerson && st.Drain == 0 {
		list = append(list, "on your signal")
	}
	if p.JoinsPulled(i) {
		list = append(list, say.JoinedUntil(clock(st.FirstOut-st.Given)))
	}
	if t, ok := planning.WaterAt(p, i); ok && planning.OfWater(p, i) {
		list = append(list, "water at "+say.Temperature(t, h)+", within "+say.Difference(planning.BathSpread, h))
	}
	if how := say.Washing(p, i, h); how != "" {
		list = append(list, how)
	}
	return list
}

func developTimes(p *sequence.Plan, i int, h sequence.Units) []string {
	var list []string
	st := &p.Steps[i]
	if pulls := p.Pulls(i); len(pulls) > 0 {
		times := make([]string, len(pulls))
		for k, d := range pulls {
			times[k] = p.Recipe.Load.SheetName(k+1) + " " + clock(d)
		}
		how := "out after "
		if st.LeaveTogether {
			how = "in for "
		}
		list = append(list, how+strings.Join(times, ", ")+say.PullOrder(&st.Step))
	}
	if text := say.RecipeTime(st, h); text != "" {
		list = append(list, text)
	}
	return list
}

// errorBudget is what small errors do to development.
func errorBudget(b *strings.Builder, p *sequence.Plan, h sequence.Units, width int) {
	for _, e := range planning.ErrorBudgets(p) {
		coefficient := ""
		if name, share := say.CoefficientError(e); share != "" {
			coefficient = ", the " + name + " = " + share
		}
		if e.Temperature > 0 {
			coefficient += ", today's readings = " + say.Percent(e.Temperature)
		}
		if e.Reuse > 0 {
			coefficient += ", reuse = " + say.Percent(e.Reuse)
		}
		agitation := "a twentieth of the agitation"
		if e.Sessions > 0 {
			agitation = "as " + say.AgitationError(e) + " differ"
		}
		text := fmt.Sprintf("Error budget, %s: %s = %s, 10 s = %s, %s = %s%s; together %s.",
			e.Step, say.Difference(0.5, h), say.Percent(e.HalfDegree), say.Percent(e.TenSeconds), agitation, say.Percent(e.Agitation), coefficient, say.Percent(e.Together))
		if e.Gradient != nil {
			text += fmt.Sprintf(" That is %.2f of gradient.", *e.Gradient)
		}
		hangingText(b, "", text, width)
	}
}

// betterWashes is what it takes to leave less in the film than the plan's washes do.
func betterWashes(b *strings.Builder, p *sequence.Plan, h sequence.Units, width int) {
	for i := range p.Steps {
		lines := say.BetterWashes(p, i, h)
		if len(lines) == 0 {
			continue
		}
		fmt.Fprintf(b, "\nTo leave less thiosulfate, %s\n", say.StepName(p.Steps[i].Name))
		for _, line := range lines {
			hangingText(b, "          ", say.Sentence(line), width)
		}
	}
}

func waysToShorten(b *strings.Builder, p *sequence.Plan, h sequence.Units, width int) {
	if p.Wet.Limit == nil || *p.Wet.Margin >= p.Recipe.Film.WetWarning || len(p.Shorten) == 0 {
		return
	}
	fmt.Fprint(b, "\nWays to shorten wet time\n")
	for _, s := range p.Shorten {
		words := say.Shortening(s, h)
		text := marginWords(s) + words.Text + "."
		if len(s.Parts) == 0 { // what a combination costs is told of its parts
			text += " Costs: " + words.Price
			if words.Caution != "" {
				text += "; " + words.Caution
			}
			text += "."
		}
		hangingText(b, fmt.Sprintf("%8s  ", less(s.Saves)), text, width)
	}
}

// gentlerWays lists what is kind to the film and saves no time.
func gentlerWays(b *strings.Builder, p *sequence.Plan, h sequence.Units, width int) {
	list := planning.Gentler(p)
	if len(list) == 0 {
		return
	}
	fmt.Fprint(b, "\nAlso gentler, same length\n")
	for _, s := range list {
		head := "          "
		if s.Saves < 0 {
			head = fmt.Sprintf("%8s  ", less(s.Saves))
		}
		words := say.Shortening(s, h)
		hangingText(b, head, say.Capital(words.Text)+". Costs: "+words.Price+"; "+words.Caution+".", width)
	}
}

// less is wet time that is saved, or added: "-2:30", "+2:10".
func less(saved sequence.Elapsed) string {
	switch {
	case saved > 0:
		return "-" + clock(saved)
	case saved < 0:
		return "+" + clock(-saved)
	}
	return clock(0)
}

// marginWords is what a proposal makes of the margin.
func marginWords(s sequence.Shortening) string {
	switch {
	case s.Margin == nil:
		return "no limit known: "
	case *s.Margin < 0:
		return "still " + clock(-*s.Margin) + " too long: "
	}
	return "then " + clock(*s.Margin) + " in hand: "
}

func cautionList(b *strings.Builder, p *sequence.Plan, h sequence.Units, width int) {
	if len(p.Cautions) == 0 {
		return
	}
	fmt.Fprint(b, "\nCautions\n")
	for _, c := range say.Cautions(p, h) {
		hangingText(b, fmt.Sprintf("%8s  ", say.Level(c.Level)), c.Text, width)
	}
}

// leastWidth is how narrow a text is broken at the least, in columns.
const leastWidth = 12

// hangingText is a head and a text hanging from it.
func hangingText(b *strings.Builder, head, text string, width int) {
	for i, line := range widget.Wrap(text, max(leastWidth, width-len([]rune(head)))) {
		if i > 0 {
			head = strings.Repeat(" ", len([]rune(head)))
		}
		fmt.Fprintf(b, "%s%s\n", head, line)
	}
}

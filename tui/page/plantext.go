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
	hangingText(b, "", wetTime(p), width)
	errorBudget(b, p, h, width)
	waysToShorten(b, p, h, width)
	gentlerWays(b, p, h, width)
	cautionList(b, p, h, width)
	return b.String()
}

func clock(d sequence.Elapsed) string { return sequence.FormatElapsed(d) }

// planFacts is what the plan is for, on one line.
func planFacts(p *sequence.Plan, h sequence.Units) string {
	sheets := fmt.Sprintf("%d sheets", p.Sheets)
	if p.Sheets == 1 {
		sheets = "1 sheet"
	}
	list := []string{p.Recipe.Film.Name, sheets + " of " + p.Recipe.Load.Size.Name, string(p.Vessel)}
	for i := range p.Steps {
		if t := p.Steps[i].Temperature; p.Steps[i].TimeByTemperature != nil && t != nil {
			list = append(list, "developer at "+h.Temperature(*t))
			break
		}
	}
	return strings.Join(list, ", ")
}

// planSteps is the table of steps.
func planSteps(b *strings.Builder, p *sequence.Plan, h sequence.Units, width int) {
	name := 4
	for i := range p.Steps {
		name = max(name, len([]rune(p.Steps[i].Name)))
	}
	name = min(name, 20)
	for i := range p.Steps {
		st := &p.Steps[i]
		head := fmt.Sprintf("%8s  %-*s %7s  ", clock(st.Start), name, cut(st.Name, name), clock(st.Given))
		indent := strings.Repeat(" ", len([]rune(head)))
		for j, line := range wrap(stepDetails(p, i, h), width-len(indent)) {
			if j > 0 {
				head = indent
			}
			fmt.Fprintln(b, strings.TrimRight(head+line, " "))
		}
	}
	end := p.Steps[len(p.Steps)-1].End
	fmt.Fprintf(b, "%8s  %s\n", clock(end), "last lift")
}

// stepDetails is what is special about a step.
func stepDetails(p *sequence.Plan, i int, h sequence.Units) string {
	st := &p.Steps[i]
	list := []string{string(st.RoomLight)}
	if i == 0 || p.Steps[i-1].Vessel != st.Vessel {
		list = append(list, st.Vessel.In())
	}
	if st.Kind == sequence.Develop {
		list = append(list, developTimes(p, i)...)
	}
	list = append(list, agitation(p, st))
	if st.Drain > 0 {
		list = append(list, "drain for the last "+shortDuration(st.Drain))
	}
	if st.Stack && st.End > st.FirstOut {
		list = append(list, fmt.Sprintf("sheets move on from %s to %s", clock(st.FirstOut), clock(st.End)))
	}
	if st.LightsOnAfter > 0 {
		list = append(list, "light possible after "+clock(st.LightsOnAfter))
	}
	if st.WaitForPerson {
		list = append(list, "waits for you")
	}
	list = append(list, water(p, i, h)...)
	if st.Note != "" {
		list = append(list, st.Note)
	}
	if sequence.WaitsInWater(p, i) {
		list = append(list, planning.WaterTray)
	}
	return strings.Join(list, "; ")
}

// water is how warm a step's water should be, and how a wash is done.
func water(p *sequence.Plan, i int, h sequence.Units) []string {
	var list []string
	if k := p.Steps[i].Kind; k == sequence.Presoak || k == sequence.Wash || k == sequence.Rinse {
		if t, ok := planning.WaterAt(p, i); ok {
			list = append(list, "water at "+h.Temperature(t)+", within "+h.Difference(float64(planning.BathSpread)))
		}
	}
	if how := planning.Washing(p, i, h); how != "" {
		list = append(list, how)
	}
	return list
}

func developTimes(p *sequence.Plan, i int) []string {
	var list []string
	st := &p.Steps[i]
	if pulls := p.Pulls(i); len(pulls) > 0 {
		times := make([]string, len(pulls))
		for k, d := range pulls {
			times[k] = p.Recipe.Load.SheetName(k+1) + " " + clock(d)
		}
		if st.LeaveTogether {
			list = append(list, "in for "+strings.Join(times, ", ")+", the longest first, all out together")
		} else {
			list = append(list, "out after "+strings.Join(times, ", "))
		}
	}
	if st.Given != st.Base {
		list = append(list, "instead of "+clock(st.Base))
	}
	return list
}

func agitation(p *sequence.Plan, st *sequence.PlanStep) string {
	a := st.Agitate
	switch {
	case a.Mode == sequence.Still:
		return "no agitation"
	case a.Mode == sequence.Shuffle && st.Stack:
		return "shuffle"
	case a.Mode == sequence.Pattern && len(a.At) > 0:
		return fmt.Sprintf("agitate %s, then %s at %d moments", shortDuration(a.Initial), shortDuration(a.For), len(a.At))
	case a.Mode == sequence.Pattern:
		return fmt.Sprintf("agitate %s, then %s every %s", shortDuration(a.Initial), shortDuration(a.For), shortDuration(a.Every))
	}
	return "agitate all the time"
}

func shortDuration(d sequence.Elapsed) string {
	if d%1e9 == 0 && d < 100e9 {
		return fmt.Sprintf("%d s", d/1e9)
	}
	return clock(d)
}

// wetTime is the forecast in a sentence.
func wetTime(p *sequence.Plan) string {
	w := p.Wet
	if w.Limit == nil {
		return fmt.Sprintf("Wet for %s; no limit is known for this film %s.", clock(w.Total), p.Vessel.In())
	}
	text := fmt.Sprintf("Wet for %s of %s %s: ", clock(w.Total), clock(*w.Limit), p.Vessel.In())
	if changesVessel(p) {
		text = fmt.Sprintf("Wet for %s in more than one vessel, %s of what the film stands: ", clock(w.Total), say.Share(*w.Used))
	}
	if *w.Margin < 0 {
		text += clock(-*w.Margin) + " too long"
	} else {
		text += clock(*w.Margin) + " left"
		if w.WarningAt != nil {
			text += ", warning at " + clock(*w.WarningAt)
		}
	}
	if w.LimitAt != nil {
		text += ", limit at " + clock(*w.LimitAt)
	}
	return text + "."
}

// errorBudget is what small errors do to development.
func errorBudget(b *strings.Builder, p *sequence.Plan, h sequence.Units, width int) {
	for _, e := range planning.ErrorBudgets(p) {
		text := fmt.Sprintf("%s: %s is %.1f %% of development, ten seconds %.1f %%, a twentieth of the agitation %.1f %%; together %.1f %%.",
			e.Step, halfDegree(h), 100*e.HalfDegree, 100*e.TenSeconds, 100*e.Agitation, 100*e.Together)
		if e.Gradient != nil {
			text += fmt.Sprintf(" That is %.2f of gradient.", *e.Gradient)
		}
		hangingText(b, "", text, width)
	}
}

// halfDegree is half a degree Celsius on a person's scale.
func halfDegree(h sequence.Units) string {
	if h.Fahrenheit {
		return h.Difference(0.5)
	}
	return "half a degree"
}

func changesVessel(p *sequence.Plan) bool {
	for i := range p.Steps {
		if p.Steps[i].Vessel != p.Vessel {
			return true
		}
	}
	return false
}

func waysToShorten(b *strings.Builder, p *sequence.Plan, h sequence.Units, width int) {
	if p.Wet.Limit == nil || *p.Wet.Margin >= p.Recipe.Film.WetWarning || len(p.Shorten) == 0 {
		return
	}
	fmt.Fprint(b, "\nWhat would shorten it, the kindest first\n")
	for _, s := range p.Shorten {
		text := marginWords(s) + s.TextFor(h) + "."
		if len(s.Parts) == 0 { // what a combination costs is told of its parts
			text += " Costs: " + s.Price
			if s.Caution != "" {
				text += "; " + s.Caution
			}
			text += "."
		}
		hangingText(b, fmt.Sprintf("%8s  ", "-"+clock(s.Saves)), text, width)
	}
}

// gentlerWays lists what is kind to the film and saves no time.
func gentlerWays(b *strings.Builder, p *sequence.Plan, h sequence.Units, width int) {
	list := planning.Gentler(p)
	if len(list) == 0 {
		return
	}
	fmt.Fprint(b, "\nKind to it besides, though no shorter\n")
	for _, s := range list {
		head := "          "
		if s.Saves < 0 {
			head = fmt.Sprintf("%8s  ", "+"+clock(-s.Saves))
		}
		hangingText(b, head, s.TextFor(h)+". Costs: "+s.Price+"; "+s.Caution+".", width)
	}
}

// marginWords is what a proposal makes of the margin.
func marginWords(s sequence.Shortening) string {
	switch {
	case s.Margin == nil:
		return "no limit known: "
	case *s.Margin < 0:
		return clock(-*s.Margin) + " over: "
	}
	return clock(*s.Margin) + " left: "
}

func cautionList(b *strings.Builder, p *sequence.Plan, h sequence.Units, width int) {
	if len(p.Cautions) == 0 {
		return
	}
	fmt.Fprint(b, "\nTo watch for\n")
	for _, c := range planning.CautionsFor(p, h) {
		hangingText(b, fmt.Sprintf("%8s  ", levelWord[c.Level]), c.Text, width)
	}
}

var levelWord = map[sequence.Level]string{sequence.Danger: "DANGER", sequence.Care: "Care", sequence.Note: "note"}

// hangingText is a head and a text hanging from it.
func hangingText(b *strings.Builder, head, text string, width int) {
	for i, line := range wrap(text, width-len([]rune(head))) {
		if i > 0 {
			head = strings.Repeat(" ", len([]rune(head)))
		}
		fmt.Fprintf(b, "%s%s\n", head, line)
	}
}

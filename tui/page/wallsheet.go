package page

// The sheet for the wall of the dry side: dangers and mixing first, then the baths
// in their order with their times, large enough to read across a room. As plain
// text, and as one HTML file that prints on one page.

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/widget"
)

// wallSheet is what the sheet says.
type wallSheet struct {
	title, facts, wet string
	dangers           []string // of the baths, then the plan's own
	mixing            []wallBath
	steps             []wallStep
	end               string
	cautions          []string
}

// wallBath is one bath to mix, or to take from its bottle.
type wallBath struct{ name, what, how string }

// wallStep is one step of the way.
type wallStep struct{ start, name, time, what, light string }

func newWallSheet(p *sequence.Plan, h sequence.Units, besides ...string) wallSheet {
	w := wallSheet{title: p.Recipe.Title, facts: strings.Join(append([]string{planFacts(p, h)}, besides...), ". "), wet: say.WetTimeInFull(p), end: clock(p.Steps[len(p.Steps)-1].End)}
	said := map[string]bool{say.SafetyReminder: true}
	for i := range p.Recipe.Baths {
		b := &p.Recipe.Baths[i]
		for _, hazard := range say.HazardsIn(&p.Recipe, b) {
			if !said[hazard] {
				said[hazard] = true
				w.dangers = append(w.dangers, say.Capital(say.StepName(b.ID))+": "+hazard)
			}
		}
		w.mixing = append(w.mixing, mixingOf(p, b, h))
	}
	for _, b := range planning.MixedByLabel(p) {
		w.mixing = append(w.mixing, wallBath{b.Name, say.ByLabel(b, h), ""})
	}
	w.dangers = append(append(w.dangers, say.Workplace()...), say.SafetyReminder)
	for i := range p.Steps {
		st := &p.Steps[i]
		w.steps = append(w.steps, wallStep{start: clock(st.Start), name: say.StepName(st.Name), time: clock(st.Given), what: stepReminder(p, i, h), light: lightOf(st.RoomLight)})
		if sequence.WaitsInWater(p, i) {
			w.steps = append(w.steps, wallStep{start: clock(st.Start + st.Given), name: "water", time: "", what: say.WaterTray, light: lightOf(st.RoomLight)})
		}
	}
	for _, c := range p.Cautions {
		if c.Level != sequence.Note || slices.Contains(onTheWall, c.Code) {
			w.cautions = append(w.cautions, say.Level(c.Level)+": "+say.Caution(c, p, h))
		}
	}
	return w
}

// onTheWall are the notes that ask for something to be done before the film is wet.
var onTheWall = []string{"load-dark", "to-read"}

// mixingOf is a bath in amounts and their order, or the bottle that it comes from.
func mixingOf(p *sequence.Plan, b *sequence.Bath, h sequence.Units) wallBath {
	name := say.StepName(b.ID)
	if k, ok := p.OpenBottle(b.ID); ok {
		return wallBath{name, "from the bottle " + k.Bottle, say.BottleFacts(k)}
	}
	amounts := b.Amounts()
	if len(amounts) == 0 {
		return wallBath{name, "as its maker says", ""}
	}
	var list []string
	for _, a := range amounts {
		list = append(list, a.Name+" "+say.Volume(a.Volume, h))
	}
	how := say.MixingOrder(b.Parts)
	if len(amounts) == 1 {
		how = ""
	}
	if b.WorkingLife > 0 {
		how = strings.TrimPrefix(how+"; keeps "+say.Span(b.WorkingLife)+" once mixed", "; ")
	}
	return wallBath{name, strings.Join(list, ", "), how}
}

// stepReminder is what hands do in a step.
func stepReminder(p *sequence.Plan, i int, h sequence.Units) string {
	st := &p.Steps[i]
	list := []string{agitation(p, st)}
	if i == 0 || p.Steps[i-1].Vessel != st.Vessel {
		list = append(list, st.Vessel.In())
	}
	if bath := say.StepName(st.Bath); bath != "" && bath != say.StepName(st.Name) {
		list = append(list, "bath: "+bath)
	}
	if len(st.Doses) > 0 {
		list = append(list, developTimes(p, i, h)[0])
	}
	if st.Drain > 0 {
		list = append(list, say.Drain(&st.Step))
	}
	list = append(list, stepEnd(p, i, h)...)
	if st.Note != "" {
		list = append(list, st.Note)
	}
	return strings.Join(list, "; ")
}

// WallSheet is the sheet as plain text: few words a line, so that it can be printed large. What is said besides stands
// behind the facts.
func WallSheet(p *sequence.Plan, h sequence.Units, besides ...string) string {
	const width = 60
	w, b := newWallSheet(p, h, besides...), &strings.Builder{}
	hangingText(b, "", strings.ToUpper(w.title), width)
	hangingText(b, "", w.facts, width)
	b.WriteString("\nFIRST\n")
	for _, d := range w.dangers {
		hangingText(b, "  ! ", d, width)
	}
	b.WriteString("\nMIX\n")
	for _, m := range w.mixing {
		hangingText(b, "  "+strings.ToUpper(m.name)+"  ", m.what, width)
		if m.how != "" {
			hangingText(b, "      ", m.how, width)
		}
	}
	b.WriteString("\nTHEN\n")
	for i, st := range w.steps {
		fmt.Fprintf(b, "\n%8s  %d  %-24s %8s\n", st.start, i+1, strings.ToUpper(widget.Truncate(st.name, 24)), st.time)
		hangingText(b, "             ", st.light+"; "+st.what, width)
	}
	fmt.Fprintf(b, "\n%8s  LAST SHEET OUT\n\n", w.end)
	hangingText(b, "", w.wet, width)
	for _, c := range w.cautions {
		hangingText(b, "  ! ", c, width)
	}
	return strings.Map(printableRune, b.String())
}

// wallStyle is the sheet's own; %s is the size of its type on paper, in points.
const wallStyle = `body { font: 17px/1.3 Arial, "Liberation Sans", Helvetica, sans-serif; color: #000; background: #fff; max-width: 54em; margin: 1.5em auto; padding: 0 1em; }
h1 { font-size: 1.6em; line-height: 1.15; margin: 0 0 .15em; overflow-wrap: anywhere; }
h2 { font-size: 1em; margin: .6em 0 .2em; border-bottom: 2px solid #000; }
p { margin: 0; overflow-wrap: anywhere; }
ul { margin: 0; padding-left: 1.1em; }
ul.first { font-size: .72em; columns: 2; column-gap: 2em; }
li { overflow-wrap: anywhere; }
dl { margin: 0; display: grid; grid-template-columns: max-content 1fr; column-gap: 1em; }
dt { font-weight: bold; max-width: 12em; overflow-wrap: anywhere; }
dd { margin: 0; overflow-wrap: anywhere; }
small { display: block; font-size: .72em; }
table { width: 100%%; border-collapse: collapse; font-variant-numeric: tabular-nums; }
td { padding: .1em .4em; border-bottom: 1px solid #888; vertical-align: middle; }
td.s { text-align: right; white-space: nowrap; }
td.b { font-size: 1.3em; font-weight: bold; white-space: nowrap; }
td.n { font-size: 1.3em; font-weight: bold; white-space: nowrap; text-align: right; }
td.w { width: 60%%; font-size: .85em; overflow-wrap: anywhere; }
ul.watch { font-weight: bold; }
@page { margin: 11mm; }
@media print {
  body { font-size: %spt; max-width: none; margin: 0; padding: 0; }
  tr, li, dt, dd { break-inside: avoid; }
}
`

// The room for type on a page, in points: as high as letter paper and as wide as A4
// allow within the margins, with a little to spare.
const (
	paperHeight = 705.0
	paperWidth  = 530.0
	largestType = 18.0
	minType     = 6.0
)

// printSize is the largest type at which the sheet fills one page at most, in points.
func (w wallSheet) printSize() float64 {
	size := largestType
	for size > minType && w.height(size) > paperHeight {
		size -= 0.25
	}
	return size
}

// height estimates how high the sheet is at a size of type. A letter is taken to be
// 0.48 of its size wide, which is more than most are.
func (w wallSheet) height(size float64) float64 {
	rows := func(text string, scale, width float64) float64 {
		perLine := max(1, width/(0.48*scale*size))
		return scale * size * 1.3 * math.Ceil(float64(len([]rune(text)))/perLine)
	}
	total := rows(w.title, 1.6, paperWidth) + rows(w.facts, 1, paperWidth) + rows(w.wet, 1, paperWidth)
	const bold = 0.58          // of its size is a bold letter wide
	total += 0.72 * 1.3 * size // columns need not be even
	for _, d := range w.dangers {
		total += rows(d, 0.72, paperWidth/2-2*size) / 2
	}
	longest := 0
	for _, m := range w.mixing {
		longest = max(longest, len([]rune(m.name)))
	}
	beside := paperWidth - min(12, bold*float64(longest))*size - size
	for _, m := range w.mixing {
		total += rows(m.what, 1, beside) + rows(m.how, 0.72, beside)
	}
	beside = min(0.6*paperWidth, paperWidth-w.columns(bold)*size)
	for _, st := range w.steps {
		total += max(1.3*1.3*size, rows(st.light+"; "+st.what, 0.85, beside-size)) + 0.2*size + 1
	}
	for _, c := range w.cautions {
		total += rows(c, 1.05, paperWidth-size)
	}
	const head, lastLift = 2.2, 2.0
	heads := 3
	if len(w.cautions) > 0 {
		heads++
	}
	return total + (float64(heads)*head+lastLift)*size
}

// columns is how wide the columns are that stand before what hands do, with the room
// between all, in the size of type.
func (w wallSheet) columns(bold float64) float64 {
	start, name, time := 0, 0, 0
	for _, st := range w.steps {
		start, name, time = max(start, len(st.start)), max(name, len([]rune(widget.Truncate(st.name, 24)))), max(time, len(st.time))
	}
	const number, between = 1.2, 4
	return 0.56*float64(start) + number + 1.3*bold*float64(name+time) + between
}

// WallSheetHTML is the sheet as a file that needs no other.
func WallSheetHTML(p *sequence.Plan, h sequence.Units, besides ...string) string {
	w, b := newWallSheet(p, h, besides...), &strings.Builder{}
	writeHead(b, w.title, fmt.Sprintf(wallStyle, strconv.FormatFloat(w.printSize(), 'f', -1, 64)))
	fmt.Fprintf(b, "<p>%s</p>\n", escapeHTML(w.facts))
	writeList(b, "First", ` class="first"`, w.dangers)
	b.WriteString("<h2>Mix</h2>\n<dl>\n")
	for _, m := range w.mixing {
		fmt.Fprintf(b, "<dt>%s</dt><dd>%s<small>%s</small></dd>\n", escapeHTML(m.name), escapeHTML(m.what), escapeHTML(m.how))
	}
	b.WriteString("</dl>\n<h2>Then</h2>\n<table>\n")
	for i, st := range w.steps {
		fmt.Fprintf(b, "<tr><td class=\"s\">%s</td><td>%d</td><td class=\"b\">%s</td><td class=\"n\">%s</td><td class=\"w\">%s; %s</td></tr>\n",
			escapeHTML(st.start), i+1, escapeHTML(widget.Truncate(st.name, 24)), escapeHTML(st.time), escapeHTML(st.light), escapeHTML(st.what))
	}
	fmt.Fprintf(b, "<tr><td class=\"s\">%s</td><td></td><td class=\"b\">last sheet out</td><td></td><td></td></tr>\n</table>\n<p>%s</p>\n", escapeHTML(w.end), escapeHTML(w.wet))
	writeList(b, "To watch for", ` class="watch"`, w.cautions)
	b.WriteString("</body>\n</html>\n")
	return strings.Map(printableRune, b.String())
}

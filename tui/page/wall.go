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
)

// wall is what the sheet says.
type wall struct {
	title, facts, wet string
	dangers           []string // of the baths, then the plan's own
	mixing            []wallBath
	steps             []wallStep
	end               string
	watch             []string
}

// wallBath is one bath to mix, or to take from its bottle.
type wallBath struct{ name, what, how string }

// wallStep is one step of the way.
type wallStep struct{ start, name, time, what, light string }

func newWall(p *sequence.Plan, h sequence.Habits) wall {
	w := wall{title: p.Recipe.Title, facts: facts(p, h), wet: wetTime(p), end: clock(p.Steps[len(p.Steps)-1].End)}
	said := map[string]bool{sequence.SafetyFirst: true}
	for i := range p.Recipe.Baths {
		b := &p.Recipe.Baths[i]
		for _, hazard := range p.Recipe.Hazards(b) {
			if !said[hazard] {
				said[hazard] = true
				w.dangers = append(w.dangers, b.ID+": "+hazard)
			}
		}
		w.mixing = append(w.mixing, mixed(p, b, h))
	}
	for _, b := range p.MixedByLabel() {
		w.mixing = append(w.mixing, wallBath{b.Name, strings.TrimPrefix(b.Say(h), b.Name+": "), ""})
	}
	w.dangers = append(append(w.dangers, sequence.Workplace()...), sequence.SafetyFirst)
	for i := range p.Steps {
		st := &p.Steps[i]
		w.steps = append(w.steps, wallStep{start: clock(st.Start), name: st.Name, time: clock(st.Given), what: reminder(p, i, h), light: string(st.RoomLight)})
		if p.WaitsInWater(i) {
			w.steps = append(w.steps, wallStep{start: clock(st.Start + st.Given), name: "water", time: "", what: sequence.WaterTray, light: string(st.RoomLight)})
		}
	}
	for _, c := range p.Cautions {
		if c.Level != sequence.Note || slices.Contains(onTheWall, c.Code) {
			w.watch = append(w.watch, levelWord[c.Level]+": "+c.Text)
		}
	}
	return w
}

// onTheWall are the notes that ask for something to be done before the film is wet.
var onTheWall = []string{"load-dark", "to-read"}

// mixed is a bath in amounts and their order, or the bottle that it comes from.
func mixed(p *sequence.Plan, b *sequence.Bath, h sequence.Habits) wallBath {
	if k, ok := p.Bottle(b.ID); ok {
		return wallBath{b.ID, "from the bottle " + k.Bottle, k.Story()}
	}
	amounts := b.Amounts()
	if len(amounts) == 0 {
		return wallBath{b.ID, "as usual", ""}
	}
	var list []string
	for _, a := range amounts {
		list = append(list, a.Name+" "+h.Volume(a.Volume))
	}
	how := sequence.MixingOrder(b.Parts)
	if len(amounts) == 1 {
		how = ""
	}
	if b.TrayLife > 0 {
		how = strings.TrimPrefix(how+"; keeps "+sequence.LongTime(b.TrayLife)+" once mixed", "; ")
	}
	return wallBath{b.ID, strings.Join(list, ", "), how}
}

// reminder is what hands do in a step.
func reminder(p *sequence.Plan, i int, h sequence.Habits) string {
	st := &p.Steps[i]
	list := []string{agitation(p, st)}
	if i == 0 || p.Steps[i-1].Vessel != st.Vessel {
		list = append(list, st.Vessel.In())
	}
	if st.Bath != "" && st.Bath != st.Name {
		list = append(list, "bath: "+st.Bath)
	}
	if len(st.Doses) > 0 {
		list = append(list, developing(p, i)[0])
	}
	if st.Drain > 0 {
		list = append(list, "drain for the last "+seconds(st.Drain))
	}
	if st.LightsOnAfter > 0 {
		list = append(list, "light after "+clock(st.LightsOnAfter))
	}
	if st.Wait {
		list = append(list, "waits for you")
	}
	list = append(list, water(p, i, h)...)
	return strings.Join(append(list, notes(st)...), "; ")
}

func notes(st *sequence.PlanStep) []string {
	if st.Note == "" {
		return nil
	}
	return []string{st.Note}
}

// Wall is the sheet as plain text: few words a line, so that it can be printed large.
func Wall(p *sequence.Plan, h sequence.Habits) string {
	const width = 60
	w, b := newWall(p, h), &strings.Builder{}
	entry(b, "", strings.ToUpper(w.title), width)
	entry(b, "", w.facts, width)
	b.WriteString("\nFIRST\n")
	for _, d := range w.dangers {
		entry(b, "  ! ", d, width)
	}
	b.WriteString("\nMIX\n")
	for _, m := range w.mixing {
		entry(b, "  "+strings.ToUpper(m.name)+"  ", m.what, width)
		if m.how != "" {
			entry(b, "      ", m.how, width)
		}
	}
	b.WriteString("\nTHEN\n")
	for i, st := range w.steps {
		fmt.Fprintf(b, "\n%8s  %d  %-24s %8s\n", st.start, i+1, strings.ToUpper(cut(st.name, 24)), st.time)
		entry(b, "             ", st.light+"; "+st.what, width)
	}
	fmt.Fprintf(b, "\n%8s  LAST LIFT\n\n", w.end)
	entry(b, "", w.wet, width)
	for _, c := range w.watch {
		entry(b, "  ! ", c, width)
	}
	return strings.Map(visible, b.String())
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
	leastType   = 6.0
)

// printSize is the largest type at which the sheet fills one page at most, in points.
func (w wall) printSize() float64 {
	size := largestType
	for size > leastType && w.height(size) > paperHeight {
		size -= 0.25
	}
	return size
}

// height estimates how high the sheet is at a size of type. A letter is taken to be
// 0.48 of its size wide, which is more than most are.
func (w wall) height(size float64) float64 {
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
	for _, c := range w.watch {
		total += rows(c, 1.05, paperWidth-size)
	}
	const head, lastLift = 2.2, 2.0
	heads := 3
	if len(w.watch) > 0 {
		heads++
	}
	return total + (float64(heads)*head+lastLift)*size
}

// columns is how wide the columns are that stand before what hands do, with the room
// between all, in the size of type.
func (w wall) columns(bold float64) float64 {
	start, name, time := 0, 0, 0
	for _, st := range w.steps {
		start, name, time = max(start, len(st.start)), max(name, len([]rune(cut(st.name, 24)))), max(time, len(st.time))
	}
	const number, between = 1.2, 4
	return 0.56*float64(start) + number + 1.3*bold*float64(name+time) + between
}

// WallHTML is the sheet as a file that needs no other.
func WallHTML(p *sequence.Plan, h sequence.Habits) string {
	w, b := newWall(p, h), &strings.Builder{}
	fmt.Fprintf(b, "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"+
		"<meta name=\"viewport\" content=\"width=device-width\">\n<title>%s</title>\n<style>\n"+wallStyle+"</style>\n</head>\n<body>\n<h1>%s</h1>\n<p>%s</p>\n",
		esc(w.title), strconv.FormatFloat(w.printSize(), 'f', -1, 64), esc(w.title), esc(w.facts))
	list(b, "First", "first", w.dangers)
	b.WriteString("<h2>Mix</h2>\n<dl>\n")
	for _, m := range w.mixing {
		fmt.Fprintf(b, "<dt>%s</dt><dd>%s<small>%s</small></dd>\n", esc(m.name), esc(m.what), esc(m.how))
	}
	b.WriteString("</dl>\n<h2>Then</h2>\n<table>\n")
	for i, st := range w.steps {
		fmt.Fprintf(b, "<tr><td class=\"s\">%s</td><td>%d</td><td class=\"b\">%s</td><td class=\"n\">%s</td><td class=\"w\">%s; %s</td></tr>\n",
			esc(st.start), i+1, esc(cut(st.name, 24)), esc(st.time), esc(st.light), esc(st.what))
	}
	fmt.Fprintf(b, "<tr><td class=\"s\">%s</td><td></td><td class=\"b\">last lift</td><td></td><td></td></tr>\n</table>\n<p>%s</p>\n", esc(w.end), esc(w.wet))
	list(b, "To watch for", "watch", w.watch)
	b.WriteString("</body>\n</html>\n")
	return strings.Map(visible, b.String())
}

// list is a heading with what stands under it; nothing where there is nothing.
func list(b *strings.Builder, title, class string, lines []string) {
	if len(lines) == 0 {
		return
	}
	fmt.Fprintf(b, "<h2>%s</h2>\n<ul class=\"%s\">\n", esc(title), class)
	for _, line := range lines {
		fmt.Fprintf(b, "<li>%s</li>\n", esc(line))
	}
	b.WriteString("</ul>\n")
}

package tui

// What readings come to: the curves in one picture, speed and gradients, how the
// gradient grows, the time that is wanted with its interval, less and more contrast;
// and one key that writes the recipe which follows from it.

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/chem/curve"
	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/densities"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/tui/braille"
)

// curvesModel is the screen of the results.
type curvesModel struct {
	noMessages
	name      string
	r         curve.Readings
	f         curve.Family
	out       curve.Results
	fault     string // why there is no time for what is wanted
	wanted    curve.PrintConditions
	smooth    bool
	published string // what a borrowed time would do
	asking    *prompt
	session   *notebook.Session // that developed the sheets; nil where none is known
	starts    []startingRecipe  // recipes that the new one may start from
	from      int
	written   string // name of the recipe that was written
	first     int
}

// startingRecipe is a recipe to start from.
type startingRecipe struct {
	title  string
	recipe func() (sequence.Recipe, error)
}

// usualGradient is what is wanted until another is told: a diffusion enlarger and a
// paper of log exposure scale 1.05 (Stroebel et al., from memory).
const usualGradient = 0.58

func newCurves(host Backend, name string, r curve.Readings) (curvesModel, error) {
	m := curvesModel{name: name, r: r, wanted: curve.PrintConditionsFor(usualGradient)}
	m.f, _ = r.Family(name)
	if len(m.f.Curves) == 0 {
		return m, fmt.Errorf("no sheet has two readings yet; a curve needs more")
	}
	if r.Session != "" {
		if s, _ := host.Read(r.Session); s.Plan != nil {
			m.session = &s
			m.starts = append(m.starts, startingRecipe{s.Plan.Recipe.Title, func() (sequence.Recipe, error) { return s.Plan.Recipe, nil }})
		}
	}
	for _, e := range host.Recipes() {
		if e.Fault == nil {
			m.starts = append(m.starts, startingRecipe{e.Title, func() (sequence.Recipe, error) { return host.Recipe(e.Name) }})
		}
	}
	if m.session == nil {
		m.from = notChosen
		slices.SortStableFunc(m.starts, func(a, b startingRecipe) int { return -cmp.Compare(ofFilm(a, r.Film), ofFilm(b, r.Film)) })
	}
	return m.again(), nil
}

// notChosen stands where no recipe has been chosen to start from: which bath and vessel the
// sheets were developed in, only the person knows.
const notChosen = -1

// ofFilm is 1 for a recipe whose title names the film, else 0: those are offered first.
func ofFilm(s startingRecipe, film string) int {
	if film != "" && strings.Contains(s.title, film) {
		return 1
	}
	return 0
}

func (curvesModel) id() screenID { return curvesScreen }

// again evaluates the readings anew. What gives no time still gives its curves.
func (d curvesModel) again() curvesModel {
	q := curve.Request{Intervals: true}
	if d.smooth {
		q.Smooth = readingError
	}
	if b, err := curve.ParseExposed(d.r.Metered); err == nil {
		q.SpeedAnchor = &b
	}
	d.fault = ""
	var err error
	if q.Target, err = d.wanted.Gradient(); err == nil {
		d.out, err = curve.Evaluate(d.f, q)
	}
	if err != nil {
		d.fault = err.Error()
	}
	return d
}

func (d curvesModel) typing() string {
	if d.asking == nil {
		return ""
	}
	return d.asking.line()
}

func (d curvesModel) HandleKey(m Model, key string) (Model, tea.Cmd) {
	if d.asking != nil {
		return d.answer(m, key), nil
	}
	switch a := actionOf(curvesScreen, key); a {
	case up, down:
		by := 1
		if a == up {
			by = -1
		}
		l := familyOf(frameOf(m.w, m.h, 1).body)
		d.first = scroll(d.rows(l.lines.w), l.lines.h, d.first+by)
	case target:
		d.asking = &prompt{prompt: "gradient, or paper scale, subject range, flare (1.05 2.2 0.4):", kind: target}
	case borrow:
		d.asking = &prompt{prompt: "a developing time from elsewhere:", kind: borrow}
	case smoothing:
		d.smooth = !d.smooth
		d = d.again()
	case left, right:
		return d.turn(m, a == right), nil
	case keepRecipe:
		return d.keep(m), nil
	case enter:
		return d.plan(m), nil
	case goBack:
		return m.back(), nil
	case quit:
		return m, tea.Quit
	}
	return m.changed(d), nil
}

// turn chooses the recipe that the new one starts from.
func (d curvesModel) turn(m Model, on bool) Model {
	n := len(d.starts)
	if n == 0 {
		return m.showError("no recipe to start from")
	}
	switch {
	case on:
		d.from = (d.from + 1) % n
	case d.from <= 0:
		d.from = n - 1
	default:
		d.from--
	}
	return m.changed(d).showMessage("a new recipe from: " + d.starts[d.from].title)
}

// answer takes the line that is typed.
func (d curvesModel) answer(m Model, key string) Model {
	next, done, kept := d.asking.edit(key)
	d.asking = &next
	if !done {
		return m.changed(d)
	}
	d.asking = nil
	if !kept || strings.TrimSpace(next.text) == "" {
		return m.changed(d)
	}
	if next.kind == borrow {
		return d.showPublished(m, next.text)
	}
	w, err := wantedOf(next.text)
	if err != nil {
		return m.changed(d).showError(err.Error())
	}
	d.wanted = w
	return m.changed(d.again())
}

// wantedOf reads a gradient, or what a print wants in two or three numbers.
func wantedOf(line string) (curve.PrintConditions, error) {
	var x []float64
	for _, word := range strings.Fields(line) {
		v, err := strconv.ParseFloat(strings.Replace(word, ",", ".", 1), 64)
		if err != nil {
			return curve.PrintConditions{}, fmt.Errorf("%q is no number; expected a gradient such as 0.58, or three numbers such as 1.05 2.2 0.4", word)
		}
		x = append(x, v)
	}
	w := curve.PrintConditions{Subject: curve.DefaultSubject, Flare: curve.DefaultFlare}
	switch len(x) {
	case 1:
		w = curve.PrintConditionsFor(x[0])
	case 3:
		w = curve.PrintConditions{Paper: curve.LogH(x[0]), Subject: curve.LogH(x[1]), Flare: curve.LogH(x[2])}
	default:
		return w, fmt.Errorf("%d numbers; expected a gradient, or paper scale, subject range and flare", len(x))
	}
	_, err := w.Gradient()
	return w, err
}

// showPublished says what a time from elsewhere would do to this film.
func (d curvesModel) showPublished(m Model, line string) Model {
	times, err := curve.ParseTimes(line)
	if err != nil {
		return m.changed(d).showError(err.Error())
	}
	b, err := d.out.AtPublishedTime(times[0], d.wanted)
	if err != nil {
		return m.changed(d).showError(err.Error())
	}
	d.published = fmt.Sprintf("%s would give %.2f: %+.2f, as for a subject %+.1f stops shorter", sequence.FormatElapsed(times[0]), b.Gradient, b.Over, b.Stops)
	if b.Untested {
		d.published += "; beyond the times tested"
	}
	return m.changed(d)
}

// keep writes the recipe that follows from the curves.
func (d curvesModel) keep(m Model) Model {
	switch {
	case d.fault != "":
		return m.changed(d).showError(d.fault)
	case len(d.starts) == 0:
		return m.changed(d).showError("no recipe to start from")
	}
	if d.from == notChosen {
		return m.changed(d).showError("Which recipe were the sheets developed by? ←→ chooses it, w then writes the new one")
	}
	from, err := d.starts[d.from].recipe()
	if err != nil {
		return m.changed(d).showError(err.Error())
	}
	found := densities.FilmTestResult{Results: d.out, Wanted: d.wanted, Day: m.o.Now(), Film: d.r.Film, Source: "readings " + d.name + ".csv"}
	if d.session != nil {
		found.Source = "session " + d.session.ID + ", " + found.Source
		if t, ok := densities.TestConditionsOf(d.session.Plan); ok {
			found.Conditions = &t
		}
	}
	next, err := densities.Refine(from, found)
	if err != nil {
		return m.changed(d).showError(err.Error())
	}
	if d.written, err = m.o.Backend.KeepRecipe(next); err != nil {
		return m.changed(d).showError(err.Error())
	}
	return m.changed(d).showMessage("written: " + next.Title + "; the old one is as it was. enter plans it")
}

// plan goes on to planning with the recipe that was written.
func (d curvesModel) plan(m Model) Model {
	if d.written == "" {
		return m.changed(d).showMessage("w writes a recipe first")
	}
	p, err := newPlan(m.o.Backend, d.written, m.o.Defaults)
	if err != nil {
		return m.changed(d).showError(err.Error())
	}
	m.list = m.home().list // the new one among them
	m.subscreens, m.plan, m.screen = nil, p, planScreen
	return m
}

func (d curvesModel) draw(g grid, f frame) {
	head := "Curves"
	if d.r.Film != "" {
		head += ": " + d.r.Film
	}
	g.text(f.head, head, strong)
	if d.smooth {
		g.right(f.head, "smoothed", dim)
	}
	l := familyOf(f.body)
	d.picture(g, l.picture)
	g.scrolled(l.lines, d.rows(l.lines.w), d.first)
}

// picture is all curves, the speed points and the triangle of ISO 6 at the first.
func (d curvesModel) picture(g grid, r rect) {
	if r.w < 3*plotMarks || r.h < 4 {
		return
	}
	var lines []*curve.Interpolant
	for _, c := range d.out.Curves {
		lines = append(lines, c.Curve)
	}
	p := newPlot(g, r, braille.ExtentOf(lines))
	for i, c := range lines {
		p.curve(c, i)
	}
	p.show(func(i int) brightness { return []brightness{text, strong, dim}[max(0, i)%3] })
	if m, ok := speedPoint(d.out); ok {
		p.triangle(m)
	}
	for _, c := range d.out.Curves {
		if c.SpeedPoint == nil {
			continue
		}
		if x, ok := c.Curve.At(*c.SpeedPoint); ok {
			p.mark(curve.Reading{LogH: *c.SpeedPoint, Density: x}, 'o', bright)
		}
	}
}

// speedPoint is the first curve's.
func speedPoint(out curve.Results) (curve.Reading, bool) {
	for _, c := range out.Curves {
		if c.SpeedPoint != nil {
			x, ok := c.Curve.At(*c.SpeedPoint)
			return curve.Reading{LogH: *c.SpeedPoint, Density: x}, ok
		}
	}
	return curve.Reading{}, false
}

// rows are what the curves come to, in rows of at most w columns.
func (d curvesModel) rows(w int) []prepLine {
	const arrow = 2
	return broken(sections(d.table(), d.times(), d.sure(), d.next(), d.sources(), d.notes()), max(10, w-arrow))
}

// table is one line a sheet.
func (d curvesModel) table() []prepLine {
	list := []prepLine{{fmt.Sprintf("%-6s %4s %5s %4s %4s %4s", "time", "b+f", "speed", "grad", "CI", "EI"), dim}}
	for i, c := range d.out.Curves {
		index := c.ISOSpeed
		if index == nil {
			index = c.ExposureIndex
		}
		list = append(list, prepLine{fmt.Sprintf("%-6s %4.2f %5s %4s %4s %4s", sequence.FormatElapsed(d.f.Curves[i].Time), float64(c.BaseFog),
			figure(c.SpeedPoint, 2), figure(c.AverageGradient, 2), figure(c.ContrastIndex, 2), figure(index, 0)), text})
	}
	return list
}

func figure[T ~float64](x *T, digits int) string {
	if x == nil {
		return "-"
	}
	return fmt.Sprintf("%.*f", digits, float64(*x))
}

// times is the growth, and the times that follow from it.
func (d curvesModel) times() []prepLine {
	var list []prepLine
	if g := d.out.Growth; g != nil {
		list = append(list, prepLine{fmt.Sprintf("growth: %.2f (1 - exp(-%.3f (t - %.1f min)))", g.Limit, float64(g.K), float64(g.Induction)), text})
	}
	if d.fault != "" {
		list = append(list, prepLine{d.fault, strong})
	}
	all, err := d.out.Developments(d.wanted)
	if err != nil {
		return append(list, d.fromOne()...)
	}
	for _, one := range all {
		line := prepLine{fmt.Sprintf("%-3s %.2f  beyond what was tested", one.Name, one.Wanted), dim}
		if t := one.Target; t != nil {
			line = prepLine{fmt.Sprintf("%-3s %.2f  %s%s", one.Name, one.Wanted, atSecond(t.Time), between(t)), text}
		}
		if one.Name == "N" {
			line.l = bright
		}
		list = append(list, line)
	}
	if d.published != "" {
		list = append(list, prepLine{d.published, strong})
	}
	return list
}

// fromOne is what one sheet alone tells, with growth assumed.
func (d curvesModel) fromOne() []prepLine {
	sheets := d.out.Sheets()
	wanted, err := d.wanted.Gradient()
	if err != nil || len(sheets) != 1 {
		return nil
	}
	k := curve.HalfLimitRate(sheets[0].Time)
	t, _, err := curve.FromOneSheet(sheets[0], k, false, wanted, curve.Errors{})
	if err != nil {
		return nil
	}
	return []prepLine{
		{fmt.Sprintf("%s gave %.2f; for %.2f %s would have been right%s", sequence.FormatElapsed(sheets[0].Time), sheets[0].Gradient, wanted, atSecond(t.Time), between(&t)), bright},
		{fmt.Sprintf("assumed: growth of %.3f a minute, as if the sheet had reached half of its limit, and perhaps wrong by a third", float64(k)), dim},
	}
}

func atSecond(s float64) string { return sequence.FormatElapsed(sequence.Elapsed(s * 1e9)) }

// between is a time's interval in words.
func between(t *curve.Target) string {
	if t.Low == nil || t.High == nil {
		return ", with no bound on one side"
	}
	return fmt.Sprintf(" (%s to %s, %.0f %%)", atSecond(*t.Low), atSecond(*t.High), 100*t.Confidence)
}

// sure is how sure each curve is, and what a print asks for.
func (d curvesModel) sure() []prepLine {
	list := []prepLine{{"90 %, for reading error and scatter from sheet to sheet:", dim}}
	for i, c := range d.out.Curves {
		in := c.Intervals
		if in == nil || in.SpeedPoint == nil || in.AverageGradient == nil {
			continue
		}
		list = append(list, prepLine{fmt.Sprintf("%-6s speed %.2f to %.2f, gradient %.2f to %.2f", sequence.FormatElapsed(d.f.Curves[i].Time),
			in.SpeedPoint.Low, in.SpeedPoint.High, in.AverageGradient.Low, in.AverageGradient.High), text})
	}
	if sheet, shadows, highlights, ok := d.out.Aims(d.wanted); ok {
		list = append(list, prepLine{fmt.Sprintf("aims for the print: shadows %.2f, highlights %.2f (base plus fog %.2f)", float64(shadows), float64(highlights), float64(sheet.BaseFog)), text})
	}
	return list
}

// next is the recipe that would be written.
func (d curvesModel) next() []prepLine {
	if len(d.starts) == 0 {
		return nil
	}
	if d.from == notChosen {
		return []prepLine{{"a new recipe: ←→ choose the one that the sheets were developed by", text}}
	}
	return []prepLine{{"a new recipe from: " + safetext.Clean(d.starts[d.from].title), text}}
}

// sources are the records that the numbers come from.
func (d curvesModel) sources() []prepLine {
	list := []prepLine{{"readings " + d.name + ".csv", text}}
	if d.r.Session == "" {
		return append(list, prepLine{"no session: the developing times are those typed", dim})
	}
	if d.session == nil {
		return append(list, prepLine{"session " + d.r.Session + ", which cannot be read here; the times are those kept with the readings", strong})
	}
	what := "session " + d.r.Session
	if d.session.Rehearsal {
		what += ", a rehearsal"
	}
	list = append(list, prepLine{what, text})
	for _, one := range d.session.Developed() {
		list = append(list, prepLine{fmt.Sprintf("sheet %d: planned %s, developed %s", one.Sheet, sequence.FormatElapsed(one.Planned), sequence.FormatElapsed(one.Actual)), dim})
	}
	return list
}

func (d curvesModel) notes() []prepLine {
	var list []prepLine
	for _, n := range d.out.Notes {
		list = append(list, prepLine{n, dim})
	}
	return append(list, prepLine{"a home test gives a speed by ISO arithmetic, never an ISO speed", dim})
}

package recipes

// A recipe as a file: what Write gives, Read reads back as the same recipe. Keys
// stand in the order of the contract; what a default says is left out.

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
)

// Write is a recipe as TOML. Comment lines, if any, stand above it.
func Write(r sequence.Recipe, comment ...string) []byte {
	w := &writer{}
	for _, line := range comment {
		w.line("# " + safetext.Clean(line))
	}
	if len(comment) > 0 {
		w.line("")
	}
	w.text("title", r.Title)
	w.text("about", r.About)
	w.film(r.Film)
	w.load(r.Load)
	for _, b := range r.Baths {
		w.bath(b)
	}
	numbered := map[sequence.Kind]int{}
	for _, st := range r.Steps {
		numbered[st.Kind]++
		w.step(st, numbered[st.Kind])
	}
	return []byte(w.b.String())
}

type writer struct{ b strings.Builder }

func (w *writer) line(s string) { w.b.WriteString(s + "\n") }

func (w *writer) head(s string) { w.line("\n" + s) }

func (w *writer) key(k, v string) { w.line(fmt.Sprintf("%-16s = %s", k, v)) }

func (w *writer) text(k, v string) {
	if v != "" {
		w.key(k, tomlString(v))
	}
}

// inline writes a table on one line.
func (w *writer) inline(k string, parts []string) {
	if len(parts) > 0 {
		w.key(k, "{ "+strings.Join(parts, ", ")+" }")
	}
}

// flag writes a value where it is set.
func (w *writer) flag(k string, set bool, value string) {
	if set {
		w.key(k, value)
	}
}

func (w *writer) number(k string, v float64) {
	if v != 0 {
		w.key(k, formatDecimal(v))
	}
}

func (w *writer) time(k string, d time.Duration) {
	if d != 0 {
		w.key(k, formatDuration(d))
	}
}

func (w *writer) film(f sequence.Film) {
	w.head("[film]")
	w.text("name", f.Name)
	w.text("sensitivity", string(f.Sensitivity))
	w.number("box_speed", f.BoxSpeed)
	w.number("exposure_index", f.ExposureIndex)
	w.time("wet_limit", f.WetLimit.All)
	var limits []string
	for _, v := range sequence.Vessels {
		if d, ok := f.WetLimit.ByVessel[v]; ok {
			limits = append(limits, string(v)+" = "+formatDuration(d))
		}
	}
	w.inline("wet_limit", limits)
	w.time("wet_warning", f.WetWarning)
	if t := f.Reciprocity; t != nil {
		var rows []string
		for _, e := range t.Table {
			rows = append(rows, formatDurations(e[:]))
		}
		parts := []string{"table = " + list(rows)}
		if t.Longest > 0 {
			parts = append(parts, "longest = "+formatDuration(t.Longest))
		}
		w.inline("reciprocity", parts)
	}
}

func (w *writer) load(l sequence.Load) {
	w.head("[load]")
	w.text("vessel", string(l.Vessel))
	w.key("sheets", strconv.Itoa(l.Sheets))
	w.text("size", l.Size.Name)
	w.time("load_every", l.LoadEvery)
	w.time("turn_every", l.ShuffleEvery)
	w.time("move_every", l.TransferEvery)
	w.time("reverse_every", l.ReverseEvery)
	if len(l.Names) > 0 {
		names := make([]string, len(l.Names))
		for i, n := range l.Names {
			names[i] = tomlString(n)
		}
		w.key("names", list(names))
	}
}

func (w *writer) bath(b sequence.Bath) {
	w.head("[[bath]]")
	w.text("id", b.ID)
	if len(b.Parts) > 0 {
		var parts []string
		for _, p := range b.Parts {
			parts = append(parts, list([]string{tomlString(p.Name), formatDecimal(p.Parts)}))
		}
		w.key("parts", list(parts))
	}
	w.flag("volume", b.Volume > 0, `"`+formatDecimal(float64(b.Volume))+`ml"`)
	w.flag("stock_per_sheet", b.StockPerSheet > 0, `"`+formatDecimal(float64(b.StockPerSheet))+`ml"`)
	w.number("sheets_per_litre", b.SheetsPerLitre)
	w.time("working_life", b.WorkingLife)
	w.flag("one_shot", b.OneShot, "true")
	w.reuse(b.Reuse)
	if len(b.Cautions) > 0 {
		w.line("cautions         = [")
		for _, c := range b.Cautions {
			w.line("  " + tomlString(c) + ",")
		}
		w.line("]")
	}
}

func (w *writer) step(st sequence.Step, nth int) {
	w.head("[[step]]")
	w.text("kind", string(st.Kind))
	if st.Name != isDefaultName(st.Kind, nth) {
		w.text("name", st.Name)
	}
	w.text("bath", st.Bath)
	w.text("vessel", string(st.Vessel))
	w.time("time", st.Time)
	var times []string
	for _, t := range st.Times {
		times = append(times, tomlString(t.Name)+" = "+formatDuration(t.Time))
	}
	w.inline("times", times)
	w.flag("take_out", len(st.PullTimes) > 0, formatDurations(st.PullTimes))
	w.flag("leave_together", st.LeaveTogether, "true")
	w.flag("straight_on", st.StraightOn, "true")
	if st.RoomLight != sequence.Dark {
		w.text("room_light", string(st.RoomLight))
	}
	w.agitate(st.Agitate)
	w.time("drain", st.Drain)
	if st.WaitForPerson {
		w.text("advance", "wait")
	}
	w.temperature(st.Temperature)
	w.growth(st.Growth)
	w.aim(st.Aim)
	w.time("lights_on_after", st.LightsOnAfter)
	w.time("at_least", st.LeastTime)
	w.time("reverse_every", st.ReverseEvery)
	w.flag("optional", st.Optional, "true")
	w.flag("wet", st.OutsideWetTime, "false")
	w.text("note", st.Note)
}

// isDefaultName is what a step is called that has no name of its own.
func isDefaultName(k sequence.Kind, nth int) string {
	if nth == 1 {
		return string(k)
	}
	return fmt.Sprintf("%s %d", k, nth)
}

func (w *writer) agitate(a sequence.Agitation) {
	if a.Mode != sequence.Still && a.Mode != "" {
		w.key("agitate", agitation(a))
	}
}

// agitation is a word, or a table.
func agitation(a sequence.Agitation) string {
	switch a.Mode {
	case sequence.Pattern:
		parts := []string{"initial = " + formatDuration(a.Initial), "for = " + formatDuration(a.For)}
		if a.Initial == 0 {
			parts = parts[1:]
		}
		if a.Every > 0 {
			parts = append(parts, "every = "+formatDuration(a.Every))
		}
		if len(a.At) > 0 {
			at := make([]string, len(a.At))
			for i, x := range a.At {
				at[i] = strconv.FormatFloat(x, 'g', -1, 64)
			}
			parts = append(parts, "at = "+list(at))
		}
		return "{ " + strings.Join(parts, ", ") + " }"
	case "":
		return tomlString(string(sequence.Still))
	}
	return tomlString(string(a.Mode))
}

// growth is written as a table on one line.
func (w *writer) growth(g *sequence.Growth) {
	if g == nil {
		return
	}
	parts := []string{"gamma_infinity = " + formatDecimal(g.Limit), "k_per_min = " + formatDecimal(g.K)}
	if g.Induction > 0 {
		parts = append(parts, "induction_min = "+formatDecimal(g.Induction))
	}
	parts = append(parts, "film = "+tomlString(g.Film))
	if g.Developer != "" {
		parts = append(parts, "developer = "+tomlString(g.Developer))
	}
	parts = append(parts, "vessel = "+tomlString(string(g.Vessel)), "agitate = "+agitation(g.Agitate))
	if g.From != "" {
		parts = append(parts, "from = "+tomlString(g.From))
	}
	if len(g.Tested) > 0 {
		var rows []string
		for _, t := range g.Tested {
			rows = append(rows, list([]string{formatDuration(t.Time), formatDecimal(t.Gradient)}))
		}
		parts = append(parts, "tested = "+list(rows))
	}
	w.inline("growth", parts)
}

// aim is written as a table on one line, a print's with all that belongs to it.
func (w *writer) aim(a *sequence.Aim) {
	switch {
	case a == nil:
	case a.Print != nil:
		p := a.Print
		w.inline("aim", []string{"paper = " + formatDecimal(p.Paper), "subject = " + formatDecimal(p.Subject), "flare = " + formatDecimal(p.Flare),
			"shadow = " + formatDecimal(p.Shadow), "placed = " + formatDecimal(p.Placed), "enlarger = " + tomlString(string(p.Enlarger))})
	case a.Contrast > 0:
		w.inline("aim", []string{"ci = " + formatDecimal(a.Contrast)})
	case a.Average > 0:
		w.inline("aim", []string{"average = " + formatDecimal(a.Average)})
	}
}

func (w *writer) temperature(t *sequence.Temperature) {
	if t == nil {
		return
	}
	parts := []string{"at = " + formatDecimal(float64(t.At))}
	if t.Coefficient > 0 {
		parts = append(parts, "coefficient = "+formatDecimal(t.Coefficient))
	}
	if len(t.Table) > 0 {
		var rows []string
		for _, e := range t.Table {
			rows = append(rows, list([]string{formatDecimal(float64(e.T)), formatDuration(time.Duration(e.Seconds * 1e9))}))
		}
		parts = append(parts, "table = "+list(rows))
	}
	if len(t.Range) == 2 {
		parts = append(parts, "range = "+list([]string{formatDecimal(float64(t.Range[0])), formatDecimal(float64(t.Range[1]))}))
	}
	w.inline("temperature", parts)
}

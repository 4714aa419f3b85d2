package recipes

// A recipe as a file: what Write gives, Read reads back as the same recipe. Keys
// stand in the order of the contract; what a default says is left out.

import (
	"cmp"
	"fmt"
	"strconv"
	"strings"
	"time"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
)

// Write is a recipe as TOML. Comment lines, if any, stand above it.
func Write(r sequence.Recipe, comment ...string) []byte {
	var text strings.Builder
	for _, line := range comment {
		text.WriteString("# " + safetext.Clean(line) + "\n")
	}
	if len(comment) > 0 {
		text.WriteString("\n")
	}
	for _, b := range blocks(r) {
		text.WriteString(b.text())
	}
	return []byte(text.String())
}

// blocks are those of a recipe.
func blocks(r sequence.Recipe) []block {
	w := &writer{}
	w.keys = func(k, v string) {
		b := &w.blocks[len(w.blocks)-1]
		b.keys, b.vals[k] = append(b.keys, k), v
	}
	w.head("", "")
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
	return w.blocks
}

type writer struct {
	blocks []block
	keys   // of the last block
}

func (w *writer) head(s, id string) {
	w.blocks = append(w.blocks, block{head: s, id: id, vals: map[string]string{}})
}

func (w *writer) film(f sequence.Film) {
	w.head("[film]", "")
	w.text("name", f.Name)
	w.text("sensitivity", string(f.Sensitivity))
	w.number("box_speed", f.BoxSpeed)
	w.number("exposure_index", f.ExposureIndex)
	w.time("wet_limit", f.WetLimit.All)
	w.table("wet_limit", func(of keys) {
		for _, v := range sequence.Vessels {
			if d, ok := f.WetLimit.ByVessel[v]; ok {
				of(string(v), formatDuration(d))
			}
		}
	})
	w.time("wet_warning", f.WetWarning)
	if t := f.Reciprocity; t != nil {
		var rows []string
		for _, e := range t.Table {
			rows = append(rows, formatDurations(e[:]))
		}
		w.table("reciprocity", func(of keys) {
			of("table", list(rows))
			of.time("longest", t.Longest)
		})
	}
}

func (w *writer) load(l sequence.Load) {
	w.head("[load]", "")
	w.text("vessel", string(l.Vessel))
	w.keys("sheets", strconv.Itoa(l.Sheets))
	w.text("size", l.Size.Name)
	w.time("load_every", l.LoadEvery)
	w.time("turn_every", l.ShuffleEvery)
	w.time("move_every", l.TransferEvery)
	w.time("reverse_every", l.ReverseEvery)
	names := make([]string, len(l.Names))
	for i, n := range l.Names {
		names[i] = tomlString(n)
	}
	w.list("names", names)
}

func (w *writer) bath(b sequence.Bath) {
	w.head("[[bath]]", b.ID)
	w.text("id", b.ID)
	var parts []string
	for _, p := range b.Parts {
		parts = append(parts, list([]string{tomlString(p.Name), formatDecimal(p.Parts)}))
	}
	w.list("parts", parts)
	w.volume("volume", b.Volume)
	w.volume("stock_per_sheet", b.StockPerSheet)
	w.number("sheets_per_litre", b.SheetsPerLitre)
	w.time("working_life", b.WorkingLife)
	w.flag("one_shot", b.OneShot, "true")
	w.reuse(b.Reuse)
	cautions := "[\n"
	for _, c := range b.Cautions {
		cautions += "  " + tomlString(c) + ",\n"
	}
	w.flag("cautions", len(b.Cautions) > 0, cautions+"]")
}

func (w *writer) step(st sequence.Step, nth int) {
	name, id := "", fmt.Sprint(st.Kind, nth)
	if st.Name != "" && st.Name != defaultName(st.Kind, nth) {
		name, id = st.Name, tomlString(st.Name)
	}
	w.head("[[step]]", id)
	w.text("kind", string(st.Kind))
	w.text("name", name)
	w.text("bath", st.Bath)
	w.text("vessel", string(st.Vessel))
	w.time("time", st.Time)
	w.table("times", func(of keys) {
		for _, t := range st.Times {
			of(tomlString(t.Name), formatDuration(t.Time))
		}
	})
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

// defaultName is what a step is called that has no name of its own.
func defaultName(k sequence.Kind, nth int) string {
	if nth == 1 {
		return string(k)
	}
	return fmt.Sprintf("%s %d", k, nth)
}

func (w *writer) agitate(a sequence.Agitation) {
	if a.Mode != sequence.Still && a.Mode != "" {
		w.keys("agitate", agitation(a))
	}
}

// agitation is a word, or a table.
func agitation(a sequence.Agitation) string {
	if a.Mode != sequence.Pattern {
		return tomlString(string(cmp.Or(a.Mode, sequence.Still)))
	}
	at := make([]string, len(a.At))
	for i, x := range a.At {
		at[i] = strconv.FormatFloat(x, 'g', -1, 64)
	}
	return inline(func(of keys) {
		of.time("initial", a.Initial)
		of("for", formatDuration(a.For))
		of.time("every", a.Every)
		of.list("at", at)
	})
}

// growth is written as a table on one line.
func (w *writer) growth(g *sequence.Growth) {
	if g == nil {
		return
	}
	var rows []string
	for _, t := range g.Tested {
		rows = append(rows, list([]string{formatDuration(t.Time), formatDecimal(t.Gradient)}))
	}
	w.table("growth", func(of keys) {
		of("gamma_infinity", formatDecimal(g.Limit))
		of("k_per_min", formatDecimal(g.K))
		of.number("induction_min", g.Induction)
		of("film", tomlString(g.Film))
		of.text("developer", g.Developer)
		of("vessel", tomlString(string(g.Vessel)))
		of("agitate", agitation(g.Agitate))
		of.text("from", g.From)
		of.list("tested", rows)
	})
}

// aim is written as a table on one line, a print's with all that belongs to it.
func (w *writer) aim(a *sequence.Aim) {
	if a == nil {
		return
	}
	w.table("aim", func(of keys) {
		if p := a.Print; p != nil {
			of("paper", formatDecimal(p.Paper))
			of("subject", formatDecimal(p.Subject))
			of("flare", formatDecimal(p.Flare))
			of("shadow", formatDecimal(p.Shadow))
			of("placed", formatDecimal(p.Placed))
			of("enlarger", tomlString(string(p.Enlarger)))
		} else if of.number("ci", a.Contrast); a.Contrast == 0 {
			of.number("average", a.Average)
		}
	})
}

func (w *writer) temperature(t *sequence.Temperature) {
	if t == nil {
		return
	}
	var rows, within []string
	for _, e := range t.Table {
		time := formatDuration(time.Duration(e.Seconds * 1e9))
		rows = append(rows, list([]string{formatDecimal(float64(e.T)), time}))
	}
	for _, end := range t.Range {
		within = append(within, formatDecimal(float64(end)))
	}
	w.table("temperature", func(of keys) {
		of("at", formatDecimal(float64(t.At)))
		of.number("coefficient", t.Coefficient)
		of.list("table", rows)
		of.list("range", within)
	})
}

package say

// All that is known of a film, as a page: the answer first, then each thing that is known with how sure it is and
// where it is from, then what is only assumed.

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/film"
)

// Section is a table or lines under a heading. Of a table without columns' names the last column is text.
type Section struct {
	Title   string
	Columns []string
	Rows    [][]string
	Lines   []string
}

// FilmHandling is a film with its developer and handling: "Plover 80 in A 1 + B 3, in trays, shuffle".
func FilmHandling(h film.Handling) string {
	parts := []string{h.Film}
	if h.Developer != "" {
		parts[0] += " in " + h.Developer
	} else {
		parts[0] += ", developer not known"
	}
	if h.Vessel != "" {
		parts = append(parts, h.Vessel.In())
	}
	if h.Agitate.Mode != "" {
		parts = append(parts, Agitation(h.Agitate))
	}
	return strings.Join(parts, ", ")
}

// FilmAnswer is the developing time for the aim, and how sure it is.
func FilmAnswer(p *film.Page, h sequence.Units) []string {
	t := p.Target
	text := fmt.Sprintf("Develop %s at %s for an average gradient of %.2f: %s in the next session (90%%).",
		minutesOf(t.Time), Temperature(t.Temperature, h), t.AverageGradient, between(t.Low, t.High))
	lines := []string{text, fmt.Sprintf("The film's own time is %s (90%%); on top of that sessions differ by %s of developing time.", between(t.FilmLow, t.FilmHigh), share(p.Scatter))}
	if p.Recipe != nil {
		lines = append(lines, fmt.Sprintf("The recipe %q gives %s.", p.Recipe.Title, minutesOf(&p.Recipe.Time)))
	}
	if slices.Contains(p.Assumed, film.AssumedGrowth) {
		lines = append(lines, "No test yet: this rests on what is usual for films, and on what sessions and borrowed times say.")
	}
	return lines
}

// minutesOf is a time in seconds as a session's, to 5 s, as a hand keeps it.
func minutesOf(seconds *float64) string {
	if seconds == nil {
		return "no time"
	}
	return Elapsed(time.Duration(math.Round(*seconds/5)*5) * time.Second)
}

// between is an interval of times: "6:45–7:25", "from 6:45 on".
func between(low, high *float64) string {
	switch {
	case low == nil:
		return "out of reach"
	case high == nil:
		return "from " + minutesOf(low) + " on"
	}
	return minutesOf(low) + "–" + minutesOf(high)
}

// share is a figure that is a share, with its interval.
func share(f film.Figure) string {
	return fmt.Sprintf("%s (%.0f–%s)", Percent(f.Value), 100*f.Low, Percent(f.High))
}

// FilmSections is the page below the answer.
func FilmSections(p *film.Page, h sequence.Units) []Section {
	all := []Section{
		filmDevelopments(p),
		filmGrowth(p),
		{Title: "Exposure index", Lines: filmIndex(p)},
		{Title: "Wet life", Lines: filmWetLife(p, h)},
		{Title: "Reciprocity", Lines: filmReciprocity(p)},
		{Title: "Borrowed times", Lines: filmBorrowed(p, h)},
		{Title: "Next test sheets", Lines: NextSheets(&film.Proposal{Temperature: p.Target.Temperature, Next: p.Next, Usual: p.Usual, Enough: p.Enough}, h)},
		{Title: "Known from", Rows: filmSources(p)},
		{Title: "Only assumed", Lines: filmAssumed(p, h)},
	}
	return slices.DeleteFunc(all, func(s Section) bool { return len(s.Lines)+len(s.Rows) == 0 })
}

// filmDevelopments is each development's time, its interval, gradient, and what it does to speed where that is known.
func filmDevelopments(p *film.Page) Section {
	s := Section{Title: "Developments", Columns: []string{"", "time", "90%", "gradient"}}
	speeds := slices.ContainsFunc(p.Developments, func(d film.Development) bool { return d.Name != "N" && d.IndexStops != nil })
	if speeds {
		s.Columns = append(s.Columns, "speed")
	}
	for _, d := range p.Developments {
		row := []string{Minus(d.Name), minutesOf(d.Time), between(d.Low, d.High), fmt.Sprintf("%.2f", d.AverageGradient)}
		switch {
		case !speeds:
		case d.Name == "N" || d.IndexStops == nil:
			row = append(row, "")
		default:
			row = append(row, stopsFromN(*d.IndexStops))
		}
		s.Rows = append(s.Rows, row)
	}
	return s
}

// filmGrowth is how contrast grows with time and with temperature.
func filmGrowth(p *film.Page) Section {
	s := Section{Title: "How contrast grows, at 20 °C", Columns: []string{"", "value", "90%", ""}}
	add := func(what string, f film.Figure, form string) {
		row := []string{what, fmt.Sprintf(form, f.Value), fmt.Sprintf(form+"–"+form, f.Low, f.High), ""}
		if f.Assumed {
			row[3] = "assumed"
		}
		s.Rows = append(s.Rows, row)
	}
	add("highest gradient", p.Growth.Limit, "%.2f")
	add("rate a minute", p.Growth.K, "%.3f")
	add("minutes to begin", p.Growth.Induction, "%.1f")
	add("10 °C less: time ×", p.Coefficient, "%.2f")
	return s
}

// stopsFromN is how much faster a development is than N, to a third of a stop: "+0.3 stop", "−0.7 stop", "as N".
func stopsFromN(stops float64) string {
	switch x := math.Round(3*stops) / 3; {
	case x > 0:
		return fmt.Sprintf("+%.1f stop", x)
	case x < 0:
		return fmt.Sprintf("−%.1f stop", -x)
	}
	return "as N"
}

func filmIndex(p *film.Page) []string {
	x := p.ExposureIndex
	if x == nil {
		return []string{"Not measured: it takes a step tablet exposed by the meter (film-test --exposed)."}
	}
	return []string{fmt.Sprintf("EI %.0f, %.0f–%.0f (90%%), from %s.", x.Index, x.Low, x.High, Count(x.Tests, "test"))}
}

func filmWetLife(p *film.Page, h sequence.Units) (lines []string) {
	for _, w := range p.WetLife {
		wet := time.Duration(w.Minutes * float64(time.Minute))
		lines = append(lines, fmt.Sprintf("%s, wet for %s at %s with %d shuffles and transfers: the emulsion suffers in %s of sessions, %.0f–%.0f%% (90%%); from %s.",
			Capital(w.Vessel.In()), Elapsed(wet), Temperature(w.Temperature, h), w.Handlings, wholePercent(w.Risk), math.Floor(100*w.Low), math.Ceil(100*w.High), Count(w.Sessions, "session")))
	}
	if lines == nil {
		lines = []string{"Nobody has noted yet how the emulsion came through a session."}
	}
	return lines
}

func filmReciprocity(p *film.Page) []string {
	if p.Reciprocity == nil {
		return []string{"No recipe of this film has a table of long exposures (fit reciprocity finds one)."}
	}
	var parts []string
	for _, row := range p.Reciprocity.Table {
		parts = append(parts, Span(seconds(row[0]))+" → "+Span(seconds(row[1])))
	}
	return []string{strings.Join(parts, ", ") + ", by the recipe " + fmt.Sprintf("%q", p.Reciprocity.From) + "."}
}

func seconds(s float64) time.Duration { return time.Duration(s * float64(time.Second)) }

// verdicts are what tests say of a borrowed time.
var verdicts = map[string]string{"fits": "it fits", "long": "too long", "far-long": "far too long", "short": "too short", "far-short": "far too short"}

func filmBorrowed(p *film.Page, h sequence.Units) (lines []string) {
	for _, b := range p.Borrowed {
		text := fmt.Sprintf("%s at %s, from %s: ", Elapsed(b.Time), Temperature(b.Temperature, h), b.From)
		switch {
		case b.Gradient == nil:
			text += fmt.Sprintf("not tested yet, taken to be right within %s for a gradient of %.2f.", Percent(b.Within), b.Wanted)
		case b.Verdict == "fits":
			text += fmt.Sprintf("%s, a gradient of %.2f (%.2f–%.2f) where %.2f is wanted.", verdicts[b.Verdict], b.Gradient.Value, b.Gradient.Low, b.Gradient.High, b.Wanted)
		default:
			than := "soft"
			if b.Grades > 0 {
				than = "hard"
			}
			text += fmt.Sprintf("%s. A gradient of %.2f (%.2f–%.2f) where %.2f is wanted: %.1f paper grades too %s.",
				verdicts[b.Verdict], b.Gradient.Value, b.Gradient.Low, b.Gradient.High, b.Wanted, math.Abs(b.Grades), than)
		}
		lines = append(lines, text)
	}
	return lines
}

// NextSheets is which test sheets would say most, beside the usual series, and whether more are needed.
func NextSheets(p *film.Proposal, h sequence.Units) (lines []string) {
	if p.Enough {
		lines = append(lines, "No more tests needed: sessions differ by more than the film is in doubt.")
	}
	if p.Guessed {
		lines = append(lines, "Nothing is known of the film yet: this rests on the time guessed, taken to be right within "+Percent(film.UsualWithin)+".")
	}
	if len(p.Next) > 0 {
		lines = append(lines, fmt.Sprintf("The sheets that say most, at %s: %s.", Temperature(p.Temperature, h), gains(p.Next)))
	}
	if len(p.Usual) > 0 {
		lines = append(lines, "The usual series: "+gains(p.Usual)+".")
	}
	return lines
}

// gains are test sheets and what they do to the interval: "4:30, 5:15, 5:15; interval 7.4% narrower, 4.6% by the first".
func gains(sheets []film.NextSheet) string {
	var times []string
	total := 0.0
	for _, s := range sheets {
		times, total = append(times, minutesOf(&s.Time)), total+s.Gain
	}
	text := fmt.Sprintf("%s; interval %s narrower", strings.Join(times, ", "), Percent(total))
	if len(sheets) > 1 {
		text += fmt.Sprintf(", %s by the first", Percent(sheets[0].Gain))
	}
	return text
}

// filmSources are the days and what was learnt on each.
func filmSources(p *film.Page) (rows [][]string) {
	for _, s := range p.Sources {
		text := ""
		switch s.Kind {
		case "test":
			text = fmt.Sprintf("test of %s, readings %s%s", Count(s.Sheets, "sheet"), s.Readings, ofSession(s.Session))
		case "also":
			text = fmt.Sprintf("test of %s in %s, readings %s: counts %s", Count(s.Sheets, "sheet"), s.From, s.Readings, Percent(film.AlsoWeight))
		case "session":
			text = "session " + s.Session + ": negatives not looked at"
			if s.Look != "" {
				text = "session " + s.Session + ": negatives " + s.Look
			}
		case "borrowed":
			text = "borrowed time, " + s.From
		}
		rows = append(rows, []string{s.Day, text})
	}
	return rows
}

func ofSession(id string) string {
	if id == "" {
		return ", no session linked"
	}
	return ", session " + id
}

func filmAssumed(p *film.Page, h sequence.Units) (lines []string) {
	for _, code := range p.Assumed {
		switch code {
		case film.AssumedAim:
			lines = append(lines, fmt.Sprintf("The aim: an average gradient of %.2f, for the usual subject on a diffusion enlarger.", p.Target.AverageGradient))
		case film.AssumedTemperature:
			lines = append(lines, "The developer's temperature today: "+Temperature(p.Target.Temperature, h)+".")
		case film.AssumedGrowth:
			lines = append(lines, "The growth: common practice, no source, until a test is read.")
		case film.AssumedCoefficient:
			lines = append(lines, "What temperature does: common practice, no source, until tests at two temperatures are read.")
		case film.AssumedAlso:
			lines = append(lines, "That another developer's tests say something of this one: they count "+Percent(film.AlsoWeight)+".")
		}
	}
	return lines
}

// FilmInList is a film in the list of all: what is known of it in numbers.
func FilmInList(k *film.Known) string {
	return fmt.Sprintf("%s: %s, %s", FilmHandling(k.Handling), Count(len(k.Tests), "test"), Count(len(k.Sessions), "session"))
}

package say

// All that is known of a film, as a page: the answer first, then each thing that is known with how sure it is and
// where it is from, then what is only assumed.

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"text/tabwriter"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/film"
)

// Section is lines under a heading.
type Section struct {
	Title string
	Lines []string
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

// number is a figure with its interval, and whether it is only assumed.
func number(f film.Figure, form string) string {
	text := fmt.Sprintf(form+" ("+form+"–"+form+")", f.Value, f.Low, f.High)
	if f.Assumed {
		text += ", assumed"
	}
	return text
}

// FilmSections is the page below the answer.
func FilmSections(p *film.Page, h sequence.Units) []Section {
	all := []Section{
		{"Developments", filmDevelopments(p)},
		{"Growth at 20 °C", []string{"limit of the gradient " + number(p.Growth.Limit, "%.2f"), "rate a minute " + number(p.Growth.K, "%.3f"),
			"induction, minutes " + number(p.Growth.Induction, "%.1f")}},
		{"Temperature coefficient", []string{number(p.Coefficient, "%.2f")}},
		{"Exposure index", filmIndex(p)},
		{"Wet life", filmWetLife(p, h)},
		{"Reciprocity", filmReciprocity(p)},
		{"Borrowed times", filmBorrowed(p, h)},
		{"Next test sheets", NextSheets(&film.Proposal{Temperature: p.Target.Temperature, Next: p.Next, Usual: p.Usual, Enough: p.Enough}, h)},
		{"Known from", filmSources(p)},
		{"Only assumed", filmAssumed(p, h)},
	}
	return slices.DeleteFunc(all, func(s Section) bool { return len(s.Lines) == 0 })
}

// filmDevelopments is a table: each development's time, its interval, gradient, and what it does to
// speed where that is known.
func filmDevelopments(p *film.Page) []string {
	if len(p.Developments) == 0 {
		return nil
	}
	var b strings.Builder
	t := tabwriter.NewWriter(&b, 0, 0, 2, ' ', 0)
	speed := func(d film.Development) string {
		if d.Name == "N" || d.IndexStops == nil {
			return ""
		}
		return "\t" + stopsFromN(*d.IndexStops)
	}
	head := ""
	if slices.ContainsFunc(p.Developments, func(d film.Development) bool { return speed(d) != "" }) {
		head = "\tspeed"
	}
	fmt.Fprintf(t, "\t time\t90%%\tgradient%s\n", head)
	for _, d := range p.Developments {
		fmt.Fprintf(t, "%s\t%5s\t%s\t%.2f%s\n", strings.ReplaceAll(d.Name, "-", "−"), minutesOf(d.Time), between(d.Low, d.High), d.AverageGradient, speed(d))
	}
	t.Flush()
	return strings.Split(strings.TrimRight(b.String(), "\n"), "\n")
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
		return []string{"not measured: expose the tablet by a meter (film-test --exposed)"}
	}
	return []string{fmt.Sprintf("%.0f (%.0f–%.0f), from %s", x.Index, x.Low, x.High, Count(x.Tests, "test"))}
}

func filmWetLife(p *film.Page, h sequence.Units) (lines []string) {
	for _, w := range p.WetLife {
		wet := time.Duration(w.Minutes * float64(time.Minute))
		lines = append(lines, fmt.Sprintf("%s: %s at %s, %d shuffles and transfers: %s, %.0f–%.0f%%; from %s", Capital(w.Vessel.In()), Elapsed(wet), Temperature(w.Temperature, h),
			w.Handlings, wholePercent(w.Risk), math.Floor(100*w.Low), math.Ceil(100*w.High), Count(w.Sessions, "session")))
	}
	if lines == nil {
		lines = []string{"nobody has noted how the emulsion came through"}
	}
	return lines
}

func filmReciprocity(p *film.Page) []string {
	if p.Reciprocity == nil {
		return []string{"no recipe of it has a table (fit reciprocity)"}
	}
	var parts []string
	for _, row := range p.Reciprocity.Table {
		parts = append(parts, Span(seconds(row[0]))+" → "+Span(seconds(row[1])))
	}
	return []string{strings.Join(parts, ", ") + ": as the recipe " + fmt.Sprintf("%q", p.Reciprocity.From) + " has it"}
}

func seconds(s float64) time.Duration { return time.Duration(s * float64(time.Second)) }

// verdicts are what tests say of a borrowed time.
var verdicts = map[string]string{"fits": "fits", "long": "too long", "far-long": "far too long", "short": "too short", "far-short": "far too short"}

func filmBorrowed(p *film.Page, h sequence.Units) (lines []string) {
	for _, b := range p.Borrowed {
		text := fmt.Sprintf("%s at %s for %.2f, from %s, taken to be right within %s", Elapsed(b.Time), Temperature(b.Temperature, h), b.Wanted, b.From, Percent(b.Within))
		if b.Gradient == nil {
			text += ": not tested yet"
		} else {
			text += fmt.Sprintf(": %s, would have given %.2f (%.2f–%.2f)", verdicts[b.Verdict], b.Gradient.Value, b.Gradient.Low, b.Gradient.High)
			switch g := math.Abs(b.Grades); {
			case b.Verdict == "fits":
			case b.Grades > 0:
				text += fmt.Sprintf(", %.1f paper grades too hard", g)
			default:
				text += fmt.Sprintf(", %.1f paper grades too soft", g)
			}
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
	list := func(sheets []film.NextSheet) string {
		var parts []string
		total := 0.0
		for i, s := range sheets {
			does := "%s (interval %s narrower)"
			if i > 0 {
				does = "%s (%s more)"
			}
			parts = append(parts, fmt.Sprintf(does, minutesOf(&s.Time), Percent(s.Gain)))
			total += s.Gain
		}
		return strings.Join(parts, ", ") + fmt.Sprintf("; %s narrower in all", Percent(total))
	}
	if len(p.Next) > 0 {
		lines = append(lines, fmt.Sprintf("the sheets that say most, at %s: %s", Temperature(p.Temperature, h), list(p.Next)))
	}
	if len(p.Usual) > 0 {
		lines = append(lines, "the usual series: "+list(p.Usual))
	}
	return lines
}

func filmSources(p *film.Page) (lines []string) {
	for _, s := range p.Sources {
		switch s.Kind {
		case "test":
			lines = append(lines, fmt.Sprintf("%s  test of %s, readings %s%s", s.Day, Count(s.Sheets, "sheet"), s.Readings, ofSession(s.Session)))
		case "also":
			lines = append(lines, fmt.Sprintf("%s  test of %s in %s, readings %s: counts %s", s.Day, Count(s.Sheets, "sheet"), s.From, s.Readings, Percent(film.AlsoWeight)))
		case "session":
			text := s.Day + "  session " + s.Session
			if s.Look != "" {
				text += ": negatives " + s.Look
			} else {
				text += ": negatives not looked at"
			}
			lines = append(lines, text)
		case "borrowed":
			lines = append(lines, s.Day+"  borrowed time, "+s.From)
		}
	}
	return lines
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
			lines = append(lines, fmt.Sprintf("the aim: an average gradient of %.2f, for the usual subject on a diffusion enlarger (--target)", p.Target.AverageGradient))
		case film.AssumedTemperature:
			lines = append(lines, "the developer's temperature today: "+Temperature(p.Target.Temperature, h)+" (--temp)")
		case film.AssumedGrowth:
			lines = append(lines, "the growth: common practice, no source, until a test is read")
		case film.AssumedCoefficient:
			lines = append(lines, "the temperature coefficient: common practice, no source, until tests at two temperatures are read")
		case film.AssumedAlso:
			lines = append(lines, "that another developer's tests say something of this one: they count "+Percent(film.AlsoWeight))
		}
	}
	return lines
}

// FilmInList is a film in the list of all: what is known of it in numbers.
func FilmInList(k *film.Known) string {
	return fmt.Sprintf("%s: %s, %s", FilmHandling(k.Handling), Count(len(k.Tests), "test"), Count(len(k.Sessions), "session"))
}

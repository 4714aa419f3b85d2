package say

// A plan's answer: how long to develop, and whether the film stands being wet so long.

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/film"
	"example.org/wetside/sequence/planning"
)

// Sheets counts them.
func Sheets(n int) string { return Count(n, "sheet") }

// Vessel is where film is, in a word or two for lists.
func Vessel(v sequence.Vessel) string { return cmp.Or(vessels[v], string(v)) }

var vessels = map[sequence.Vessel]string{
	sequence.Tray: "trays", sequence.SingleTrays: "single trays", sequence.DaylightTank: "daylight tank",
}

// Develop is how long to develop, and at what temperature: "5:28", and for what the recipe
// says "recipe 7:30 at 20 °C", its temperature alone where the time is the same; of a film test the shortest and the longest time. Empty where nothing is developed.
func Develop(p *sequence.Plan, u sequence.Units) (today, recipe string) {
	for i := range p.Steps {
		st := &p.Steps[i]
		if st.Kind != sequence.Develop {
			continue
		}
		if times := p.Pulls(i); len(times) > 0 {
			today = sequence.FormatElapsed(slices.Min(times)) + "–" + sequence.FormatElapsed(slices.Max(times))
			return today, "a time for each of " + Sheets(len(times))
		}
		if st.Given != st.Base {
			recipe = "recipe " + sequence.FormatElapsed(st.Base) + " "
		}
		if t := st.Step.Temperature; t != nil {
			recipe += "at " + Temperature(t.At, u)
		}
		return sequence.FormatElapsed(st.Given), strings.TrimSpace(recipe + assumed(st) + reusedBehind(st))
	}
	return "", ""
}

// Wet is the wet time, and what of the limit it is: "24:18", "76% of limit, 4:54 in hand".
func Wet(p *sequence.Plan) (total, limit string) {
	w := p.Wet
	total = sequence.FormatElapsed(w.Total)
	if w.Margin == nil || w.Used == nil || w.Limit == nil {
		return total, "no limit known"
	}
	return total, limitUsed(*w.Used, *w.Limit, *w.Margin, p.Vessel)
}

// OverLimit reports whether the film would be wet for longer than it stands.
func OverLimit(p *sequence.Plan) bool { return p.Wet.Margin != nil && *p.Wet.Margin < 0 }

// Sentence is a text with a capital and a full stop.
func Sentence(s string) string {
	if s == "" {
		return ""
	}
	r := []rune(s)
	s = strings.ToUpper(string(r[:1])) + string(r[1:])
	if !strings.ContainsAny(s[len(s)-1:], ".!?") {
		s += "."
	}
	return s
}

// ErrorShare is what one error does.
type ErrorShare struct{ Error, Percent string }

// ErrorBudget is what half a degree, ten seconds and a twentieth of the agitation do to a
// developing step, and all of them together.
func ErrorBudget(e planning.ErrorBudget, u sequence.Units) []ErrorShare {
	degrees := "0.5 °C"
	if u.Fahrenheit {
		degrees = "0.9 °F"
	}
	list := []ErrorShare{{degrees, percent(e.HalfDegree)}, {"10 s", percent(e.TenSeconds)}, {AgitationError(e), percent(e.Agitation)}}
	if name, share := CoefficientError(e); share != "" {
		list = append(list, ErrorShare{name, share})
	}
	if e.Temperature > 0 {
		list = append(list, ErrorShare{"today's readings", percent(e.Temperature)})
	}
	if e.Reuse > 0 {
		list = append(list, ErrorShare{"reuse", percent(e.Reuse)})
	}
	list = append(list, ErrorShare{"together", percent(e.Together)})
	if e.Gradient != nil {
		list = append(list, ErrorShare{"of gradient", fmt.Sprintf("%.2f", *e.Gradient)})
	}
	return list
}

// Thermometers are how far the person's are off: "hand within 0.5 °C, −0.3 °C added; sensor taken
// as exact"; "none" where nothing is said.
func Thermometers(t *sequence.Thermometers, u sequence.Units) string {
	if t == nil {
		return "taken as exact"
	}
	one := func(name string, t sequence.Thermometer) string {
		text := name + " taken as exact"
		if t.Within > 0 {
			text = name + " within " + Difference(t.Within, u)
		}
		switch {
		case t.Shift > 0:
			text += ", " + Difference(t.Shift, u) + " added"
		case t.Shift < 0:
			text += ", " + Difference(-t.Shift, u) + " taken off"
		}
		return text
	}
	return one("hand", t.Hand) + "; " + one("sensor", t.Sensor)
}

// AgitationError is what the share of agitation is from.
func AgitationError(e planning.ErrorBudget) string {
	if e.Sessions > 0 {
		return fmt.Sprintf("%d of your sessions", e.Sessions)
	}
	return "agitation"
}

func percent(x float64) string { return fmt.Sprintf("%.1f%%", 100*x) }

// CoefficientError is what the temperature coefficient's own uncertainty does: "coefficient" or "coefficient
// (assumed)", "−7.1/+8.7%"; "" where it does nothing.
func CoefficientError(e planning.ErrorBudget) (name, share string) {
	const least = 0.0005 // reads 0.0%
	if max(-e.CoefficientLow, e.CoefficientHigh) < least {
		return "", ""
	}
	if name = "coefficient"; e.Assumed {
		name += " (assumed)"
	}
	return name, fmt.Sprintf("−%.1f/+%s", -100*e.CoefficientLow, percent(e.CoefficientHigh))
}

// ContrastGain says by how much a long exposure raises contrast, and that development makes up for it.
func ContrastGain(gain float64) string {
	return fmt.Sprintf("less by its long exposure, which gains %.0f%% of contrast", 100*(gain-1))
}

// FilmTime is the film's own time beside a plan's, and what that rests on: "Film's time at 20 °C: 7:05, 6:45–7:25
// (90%); recipe 7:30.", "For a gradient of 0.58, from 2 tests, 5 sessions."
func FilmTime(o *film.Offer, h sequence.Units) (text, from string) {
	name := "Film's time"
	if o.Development != "N" {
		name += " for " + Minus(o.Development)
	}
	text = fmt.Sprintf("%s at %s: %s, %s (90%%); recipe %s.", name, Temperature(o.Temperature, h), minutesOf(o.Time), between(o.Low, o.High), minutesOf(&o.Recipe))
	var list []string
	for _, part := range []struct {
		n    int
		what string
	}{{o.Tests, "test"}, {o.Looks, "session"}, {o.Borrowed, "borrowed time"}} {
		if part.n > 0 {
			list = append(list, Count(part.n, part.what))
		}
	}
	from = fmt.Sprintf("For a gradient of %.2f, from %s.", o.AverageGradient, strings.Join(list, ", "))
	if !o.Fits() {
		from += " The recipe's time lies outside."
	}
	return text, from
}

// Factor is a factor of developing time as it is typed.
func Factor(x float64) string { return fmt.Sprintf("%.2f", x) }

// SheetPrint is the print, the exposure it needs and its chance: "for a print of 5.0 stops on paper 1.05, +0.4 stops over N,
// 62% on the grade, 93% within half a grade".
func SheetPrint(p *planning.PrintWanted) string {
	return fmt.Sprintf("for a print of %.1f stops on paper %.2f%s, %.0f%% on the grade, %.0f%% within half a grade",
		p.Subject/math.Log10(2), p.Paper, moreExposure(p, ", %s over N"), 100*p.Chance, 100*p.Near)
}

// moreExposure is the exposure over N's; "" where that is not known, or nothing.
func moreExposure(p *planning.PrintWanted, format string) string {
	if p.More == nil || math.Abs(*p.More) < 0.05 {
		return ""
	}
	return fmt.Sprintf(format, fmt.Sprintf("%+.1f stops", *p.More))
}

// longestNote is the most that a recipe's note may hold.
const longestNote = 500

// WithPrints is a session's recipe whose developing step has a note of what each sheet's print asks for, sheets with like
// prints together: plan, wall sheet and screens show it.
func WithPrints(r sequence.Recipe, sheets []planning.DevelopmentWanted) sequence.Recipe {
	i := slices.IndexFunc(r.Steps, func(st sequence.Step) bool { return st.Kind == sequence.Develop })
	if i < 0 {
		return r
	}
	for _, format := range []string{"a print of %.1f stops", "%.1f stops"} { // the second where the first is too long
		note := prints(sheets, format)
		if own := r.Steps[i].Note; own != "" && note != "" {
			note = own + "; " + note
		}
		if note != "" && utf8.RuneCountInString(note) <= longestNote {
			r.Steps = slices.Clone(r.Steps)
			r.Steps[i].Note = note
			break
		}
	}
	return r
}

func prints(sheets []planning.DevelopmentWanted, format string) string {
	var texts []string
	names := map[string][]string{}
	for _, w := range sheets {
		if w.Print == nil {
			continue
		}
		text := fmt.Sprintf(format, w.Print.Subject/math.Log10(2)) + moreExposure(w.Print, ", exposed %s over N")
		if names[text] == nil {
			texts = append(texts, text)
		}
		names[text] = append(names[text], w.Name)
	}
	for k, text := range texts {
		texts[k] = strings.Join(names[text], ", ") + ": " + text
	}
	return strings.Join(texts, "; ")
}

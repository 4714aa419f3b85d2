package plan

// Today's conditions: what each is called, means, and is where nothing is typed.

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/tui/say"
)

// field is one condition.
type field struct {
	label   string
	means   string // and how it is typed
	of      func(*sequence.RawConditions) *string
	usual   func(*sequence.Plan, sequence.Units) string // what holds where nothing is typed
	shown   func(string, sequence.Units) string         // what is typed, as it is read; nil for as it stands
	choices func(draft) []string                        // nil where it is typed
	step    float64                                     // what left and right add; 0 for nothing
	planned bool                                        // what holds follows from the plan, not from the recipe alone
}

var fields = []field{
	{label: "developer temp.", means: "The thermometer's reading: 24, 75F, or 24@5m when read 5 min before start.",
		of: func(w *sequence.RawConditions) *string { return &w.Temp }, usual: usualTemperature, shown: readingShown, step: 0.5},
	{label: "drifts towards", means: "Where it settles as you work: near the room, hands in a tray more: 18.",
		of: func(w *sequence.RawConditions) *string { return &w.SettlesAt }, usual: same("steady"), shown: temperatureShown, step: 0.5},
	{label: "time constant", means: "How long it drifts for 63% of the way: 40m. Usual: 20 min to 2 h.",
		of: func(w *sequence.RawConditions) *string { return &w.TimeConstant }, usual: same("none"), shown: timeShown},
	{label: "sheets", means: "How many go in together; with total sheets, the most in one round.",
		of: func(w *sequence.RawConditions) *string { return &w.Sheets }, usual: usualSheets, step: 1, planned: true},
	{label: "total sheets", means: "All that are to be developed, in as many rounds as it takes.",
		of: func(w *sequence.RawConditions) *string { return &w.TotalSheets }, usual: same("one round"), step: 1},
	{label: "vessel", means: "What the film is processed in.",
		of: func(w *sequence.RawConditions) *string { return &w.Vessel }, usual: usualVessel, shown: vesselShown, choices: vessels},
	{label: "development", means: "Which of the recipe's developments.",
		of: func(w *sequence.RawConditions) *string { return &w.Development }, usual: same("N"), choices: developments},
	{label: "factor", means: "Developing time × this: above 1 pushes, below 1 pulls.",
		of: func(w *sequence.RawConditions) *string { return &w.Factor }, usual: same("1.00"), step: 0.05},
	{label: "wet limit", means: "The longest this film may be wet: 20m or 20:00. Best from your own notes.",
		of: func(w *sequence.RawConditions) *string { return &w.WetLimit }, usual: usualLimit, planned: true},
	{label: "clearing time", means: "How fast a scrap clears in today's fixer: 1:10, 70s; 70s,tabular if so.",
		of: func(w *sequence.RawConditions) *string { return &w.Clearing }, usual: same("not measured"), shown: timeShown},
	{label: "baths", means: "From open bottles, or mixed fresh.",
		of: func(w *sequence.RawConditions) *string { return &w.Bottles }, usual: usualBaths, shown: bathsShown, choices: drawnOn, planned: true},
}

// fieldOf is which field has a label.
func fieldOf(label string) int {
	return slices.IndexFunc(fields, func(f field) bool { return f.label == label })
}

func same(s string) func(*sequence.Plan, sequence.Units) string {
	return func(*sequence.Plan, sequence.Units) string { return s }
}

func usualTemperature(p *sequence.Plan, u sequence.Units) string {
	for i := range p.Steps {
		if w := p.Steps[i].TimeByTemperature; w != nil {
			return say.Temperature(w.At, u)
		}
	}
	return "not used"
}

func usualSheets(p *sequence.Plan, _ sequence.Units) string { return strconv.Itoa(p.Sheets) }

func usualVessel(p *sequence.Plan, _ sequence.Units) string { return say.Vessel(p.Recipe.Load.Vessel) }

// usualLimit is the limit that holds, also where it is typed: for the vessels of the plan.
func usualLimit(p *sequence.Plan, _ sequence.Units) string {
	text := say.Limits(p)
	if text == "" {
		return "not known"
	}
	if p.Recipe.Film.WetLimit.Unstated() && p.Conditions.WetLimit == 0 {
		text += ", your own"
	}
	return text
}

// usualBaths are the bottles that the plan draws on.
func usualBaths(p *sequence.Plan, _ sequence.Units) string {
	var names []string
	for _, k := range p.Conditions.OpenBottles {
		names = append(names, k.Bottle)
	}
	if len(names) == 0 {
		return "mixed fresh"
	}
	return "from " + strings.Join(names, ", ")
}

func readingShown(s string, u sequence.Units) string {
	r, err := u.ParseReading(s)
	if err != nil {
		return s
	}
	if r.Ago > 0 {
		return say.Temperature(r.T, u) + ", " + say.Short(r.Ago) + " before"
	}
	return say.Temperature(r.T, u)
}

func temperatureShown(s string, u sequence.Units) string {
	t, err := u.ParseTemperature(s)
	if err != nil {
		return s
	}
	return say.Temperature(t, u)
}

func timeShown(s string, _ sequence.Units) string {
	word, emulsion, _ := strings.Cut(s, ",")
	d, err := chem.ParseDuration(strings.TrimSpace(word))
	if err != nil {
		return s
	}
	if emulsion != "" {
		emulsion = ", " + strings.TrimSpace(emulsion)
	}
	return sequence.FormatElapsed(d) + emulsion
}

func vesselShown(s string, _ sequence.Units) string { return say.Vessel(sequence.Vessel(s)) }

func bathsShown(s string, _ sequence.Units) string {
	if s == sequence.FreshBathsWord {
		return "mixed fresh"
	}
	return "from " + s
}

// drawnOn are the choices of baths: the newest of each, older ones that could serve by their
// names, none. There is no choice where no bottle stands open.
func drawnOn(d draft) []string {
	list := []string{""}
	if len(d.bottles) == 0 {
		return list
	}
	newest := map[string]bool{}
	for _, k := range d.bottles {
		if newest[k.Bath] {
			list = append(list, k.Bottle)
		}
		newest[k.Bath] = true
	}
	return append(list, sequence.FreshBathsWord)
}

func vessels(draft) []string {
	list := []string{""}
	for _, v := range sequence.Vessels {
		list = append(list, string(v))
	}
	return list
}

// developments are the recipe's, "" for the usual one.
func developments(d draft) []string {
	list := []string{""}
	for _, st := range d.recipe.Steps {
		for _, t := range st.Times {
			if !slices.Contains(list, t.Name) {
				list = append(list, t.Name)
			}
		}
	}
	return list
}

// stepped is a number as typed, or the usual one where none is, changed by a step. Its unit
// stays, and when it was read; what is no number stays as it is.
func stepped(typed, usual string, by float64) string {
	number, _, _ := strings.Cut(cmp.Or(typed, usual), "@")
	number = strings.TrimRight(number, "°CFcf ")
	x, err := strconv.ParseFloat(number, 64)
	if err != nil {
		return typed
	}
	const fine = 1e6 // steps add up without a tail of digits
	changed := strconv.FormatFloat(math.Round((x+by)*fine)/fine, 'f', -1, 64)
	if typed == "" {
		return changed
	}
	return changed + typed[len(number):]
}

package say

// What to know before film is wet, a sentence for each code of a caution.

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
)

// Caution is a caution in a sentence. One that came without its values, from an old
// journal, is told as it was written then; so is one whose code is not known here.
func Caution(c sequence.Caution, p *sequence.Plan, h sequence.Units) string {
	if text, ok := workplace[c.Code]; ok {
		return text
	}
	v := c.Values
	if v.Empty() {
		return c.Text
	}
	v.Step, v.Bath = StepName(v.Step), StepName(v.Bath)
	text := cautions[c.Code]
	if v.Bottle != "" {
		text = cmp.Or(bottleCautions[c.Code], text)
	}
	if text == "" {
		return c.Text
	}
	load := p.Recipe.Load
	return sentence(filledIn(text, v, h, "{film}", p.Recipe.Film.Name, "{size}", load.Size.Name, "{sheet's name}", load.SheetName(v.Sheet),
		"{its own}", cautionsOwn(c.Code, v, p, h)))
}

// Cautions are a plan's cautions with their sentences in them, for what keeps or writes
// them: the plan itself has codes and values alone.
func Cautions(p *sequence.Plan, h sequence.Units) []sequence.Caution {
	list := make([]sequence.Caution, len(p.Cautions))
	for i, c := range p.Cautions {
		c.Text = Caution(c, p, h)
		list[i] = c
	}
	return list
}

// Level is how serious a caution is, as the head of its line.
func Level(l sequence.Level) string {
	switch l {
	case sequence.Danger:
		return "DANGER"
	case sequence.Care:
		return "Care"
	}
	return "Note"
}

// cautions are the sentences of codes; {its own} is what cautionsOwn says.
var cautions = map[string]string{
	"limit-unknown": "The wet limit of {film} {in} is not known: note how the emulsion takes it, or give a limit",
	"own-limit":     "The recipe states no wet limit for {film}; your own, {of} {in}, is used",
	"wet-limit":     "Wet time {time}: {its own}",
	"wet-warning":   "Wet time {time}: {its own}",

	"light":           "{step}: room light on before the film is fixed fogs it",
	"stack-at-rest":   "{step}: sheets that lie on each other without a shuffle stick together and develop in patches; shuffle them",
	"short-develop":   "{step}: {time} is short; under {of} uneven development is likely (common advice)",
	"uncorrected":     "{step}: the recipe gives no temperature, so its time is not corrected",
	"coefficient":     "{step}: the recipe gives no coefficient; {factor} is assumed (common practice: 1.9 to 2.6)",
	"curve-elsewhere": "{step}: its growth curve was measured elsewhere ({its own}), so its gradient is not known; test again",
	"start-at":        "{step}: the bath drifts; for the recipe's time let it read {read} then, {its own}",
	"to-read":         "{step}: make the developer so that it reads {read} {its own}",
	"read-by":         "{step}: {its own}",
	"other-vessel":    "{step}: the time was found {found in}, not {in}, where agitation is different; develop a test sheet first",
	"lengthened":      "{step}: {time} instead of {of}, so that there are {span each} for each sheet of a shuffle",
	"rounds":          "{step}: shuffle a sheet every {span each} instead of {span of}, so that it goes whole times through the stack",
	"load-dark":       "Load the film {in} in darkness: a changing bag or a dark room, room light on only once it is closed",

	"temperature-range": "{step}: {read} is outside {range}, which the recipe is meant for",
	"warm-gelatin":      "{step}: {read} softens gelatin; handle the film by its edges",
	"bath-spread":       "Baths are up to {difference} apart; keep them within {its own}",
	"cold-developer":    "{step}: warm the developer first: below {low} hydroquinone nearly stops (Neblette 1927), and more time does not make up for it",
	"cool-developer":    "{step}: below {low read} development may stay incomplete, however long (US Army SS0509 p. 13)",
	"cold-fix":          "{step}: at {read} it takes {factor} times as long (US Army TM 11-2323 para 33c)",
	"cold-wash":         "{step}: at {read} it takes {factor} times as long (T.O. 33B-1-1 6.7.10.1)",

	"stock-short":  "{bath}: {volume} of {part} for {sheets}{its own}; at least {need} is needed",
	"capacity":     "{bath}: {volume} can do {room sheets} of {size}; this session has {n}",
	"stale":        "{bath}: used until {time}; its working life is {span of} once mixed",
	"not-covered":  "{bath}: {volume} may not cover the film {in}, which takes about {need} for {sheets} (our own rule): measure the vessel, and mix more",
	"chemistry":    "{bath}: {words}",
	"mixing-order": "{bath}: {its own}",

	"test-limit":   "{step}: the film test alone is over the wet limit: {its own}",
	"test-share":   "{step}: one hand transfers one sheet after the other, so not all have just their own time: {its own}",
	"clip-corners": "{step}: {its own}",
	"water-wait": "{step}: sheets pulled early are set aside in water, where development creeps on: {sheet's name} waits {time} and may gain about {share} " +
		"(our own rule: it goes on for {its own} ml of developer a sheet is carried into 1 L of water). An acid stop bath ends it, and with " +
		"straight_on = true each sheet goes on from there to the fixer; leave_together = true avoids the wait",
}

// bottleCautions are those of a bath that comes from its bottle.
var bottleCautions = map[string]string{
	"spent":            "{bath} ({bottle}): {its own}",
	"reused":           "{bath} ({bottle}): has done {done} without replenisher: {step} takes {longer}, {its own} with what is not known of it",
	"reuse-end":        "{bath} ({bottle}): has done {done}: how much longer it takes after so many is not known; mix it fresh",
	"replenish":        "{bath} ({bottle}): add {volume} of replenisher for {done}, as much poured off, and note it: wetside bottles replenish",
	"silver-left":      "{bath} ({bottle}): film fixed in it failed the test for residual silver: fix again in a fresh fixer, and test before it serves more",
	"half-spent":       "{bath} ({bottle}): half spent: has done {done} of the {serves} that it can do",
	"capacity-unknown": "{bath} ({bottle}): has done {done}; capacity not given",
	"capacity":         "{bath} ({bottle}): has done {done} and can do {serves}; this session counts as {count}",
	"volume-short":     "{bath} ({bottle}): the bottle holds {volume}, and the recipe fills {need}",
	"stale":            "{bath} ({bottle}): stale: mixed {age} ago and used until {time}; its working life is {span of}",
	"clock":            "{bath} ({bottle}): mixed {span to come} from now by this clock; its age is not known",
	"short-fix":        "{step}: {time} in {bath} ({bottle}), which clears in {each}: that takes {of} (NAVEDTRA 14209 p. 249)",
	"stock-lacking":    "{bath}: short by {need} of {part}; {bottle} has {volume} left",
}

// cautionsOwn is what one code alone has to say.
func cautionsOwn(code string, v sequence.Values, p *sequence.Plan, h sequence.Units) string {
	switch code {
	case "wet-limit", "wet-warning":
		return limitUsed(v.Share, v.Of, v.Margin, v.Vessel)
	case "curve-elsewhere":
		return differences(v.Differs)
	case "start-at":
		if v.Change < 0 {
			return Difference(-v.Change, h) + " cooler"
		}
		return Difference(v.Change, h) + " warmer"
	case "to-read":
		if v.Ago > 0 {
			return Elapsed(v.Ago) + " before the first sheet goes in"
		}
		return "when the first sheet goes in"
	case "read-by":
		return ReadBy(v.Time, v.Share, v.Factor)
	case "bath-spread":
		if v.Change > planning.Reticulation {
			return Difference(planning.BathSpread, h) + ", or the emulsion may reticulate"
		}
		return Difference(planning.BathSpread, h)
	case "water-wait":
		return fmt.Sprintf("%.0f s in all, and %.0f", planning.WaterRuns, planning.CarriedOver)
	case "clip-corners":
		return HowToClip(v.Sheets)
	case "test-limit":
		if v.Vessel == sequence.Hangers {
			return "hang the sheets in hangers, or leave out the longest time"
		}
		return "leave out the longest time"
	case "test-share":
		var list []string
		for _, s := range v.Shares {
			list = append(list, p.Recipe.Load.SheetName(s.Sheet)+" "+PercentChange(s.Share))
		}
		return strings.Join(list, ", ")
	}
	return bathsOwn(code, v, p)
}

// bathsOwn is cautionsOwn of a bath.
func bathsOwn(code string, v sequence.Values, p *sequence.Plan) string {
	switch {
	case code == "spent" && v.Serves > 0:
		return fmt.Sprintf("spent: has done %s of the %d that it can do", SheetsDone(v.Done), wholeDown(v.Serves))
	case code == "spent" && v.Time > 0:
		return fmt.Sprintf("spent: clears in %s (%s when fresh; NAVEDTRA 14209 p. 249)", Elapsed(v.Time), Elapsed(v.Of))
	case code == "spent":
		return "meant for one session, and has had it"
	case code == "reused": // what it adds may be off by a share of itself
		return Percent((v.Factor-1)*(1-planning.ReuseDoubt)) + " to " + Percent((v.Factor-1)*(1+planning.ReuseDoubt))
	case code == "stock-short" && v.Done > 0:
		return ", with those that it has done"
	case code == "mixing-order":
		return orderOf(p, v.Bath)
	}
	return ""
}

// differences are what a plan has otherwise than the test: "vessel tray instead of hangers".
func differences(list []sequence.Differing) string {
	var parts []string
	for _, d := range list {
		here, there := d.Here, d.There
		if d.Moved != nil && d.Then != nil {
			here, there = Agitation(*d.Moved), Agitation(*d.Then)
		}
		parts = append(parts, fmt.Sprintf("%s %s instead of %s", d.What, here, there))
	}
	return strings.Join(parts, ", ")
}

// orderOf is the order in which the dry agents of a plan's bath are dissolved.
func orderOf(p *sequence.Plan, bath string) string {
	for _, b := range p.Recipe.Baths {
		if StepName(b.ID) == bath {
			return MixingOrder(b.Parts)
		}
	}
	return ""
}

// ForMixing reports whether a note is read where baths are mixed, and of no use before.
func ForMixing(c sequence.Caution) bool {
	return c.Level == sequence.Note && slices.Contains([]string{"chemistry", "mixing-order", "eye-rinse", "labels", "no-food"}, c.Code)
}

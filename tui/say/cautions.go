package say

// What to know before film is wet, a sentence for each code of a caution.

import (
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
	for _, topic := range []func(string, sequence.Values, *sequence.Plan, sequence.Units) string{
		wetCaution, developCaution, temperatureCaution, bottleCaution, bathCaution, testCaution} {
		if text := topic(c.Code, v, p, h); text != "" {
			return sentence(text)
		}
	}
	return c.Text
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

func wetCaution(code string, v sequence.Values, p *sequence.Plan, _ sequence.Units) string {
	film := p.Recipe.Film.Name
	switch code {
	case "limit-unknown":
		return fmt.Sprintf("The wet limit of %s %s is not known: note how the emulsion takes it, or give a limit", film, v.Vessel.In())
	case "own-limit":
		return fmt.Sprintf("The recipe states no wet limit for %s; your own, %s %s, is used", film, Elapsed(v.Of), v.Vessel.In())
	case "wet-limit", "wet-warning":
		return "Wet time " + Elapsed(v.Time) + ": " + limitUsed(v.Share, v.Of, v.Margin, v.Vessel)
	}
	return ""
}

func developCaution(code string, v sequence.Values, _ *sequence.Plan, h sequence.Units) string {
	head := v.Step + ": "
	switch code {
	case "light":
		return head + "room light on before the film is fixed fogs it"
	case "stack-at-rest":
		return head + "sheets that lie on each other without a shuffle stick together and develop in patches; shuffle them"
	case "short-develop":
		return head + fmt.Sprintf("%s is short; under %s uneven development is likely (common advice)", Elapsed(v.Time), Elapsed(v.Of))
	case "uncorrected":
		return head + "the recipe gives no temperature, so its time is not corrected"
	case "coefficient":
		return head + fmt.Sprintf("the recipe gives no coefficient; %.1f is assumed (common practice: 1.9 to 2.6)", v.Factor)
	case "curve-elsewhere":
		return head + fmt.Sprintf("its growth curve was measured elsewhere (%s), so its gradient is not known; test again", differences(v.Differs))
	case "start-at":
		warmer, by := "warmer", v.Change
		if by < 0 {
			warmer, by = "cooler", -by
		}
		return head + fmt.Sprintf("the bath drifts; for the recipe's time let it read %s then, %s %s", Reading(v.Temperature, h), Difference(by, h), warmer)
	case "to-read":
		when := "when the first sheet goes in"
		if v.Ago > 0 {
			when = Elapsed(v.Ago) + " before the first sheet goes in"
		}
		return head + fmt.Sprintf("make the developer so that it reads %s %s", Reading(v.Temperature, h), when)
	case "read-by":
		return head + ReadBy(v.Time, v.Share, v.Factor)
	case "other-vessel":
		return head + fmt.Sprintf("the time was found %s, not %s, where agitation is different; develop a test sheet first", v.FoundIn.In(), v.Vessel.In())
	case "lengthened":
		return head + fmt.Sprintf("%s instead of %s, so that there are %s for each sheet of a shuffle", Elapsed(v.Time), Elapsed(v.Of), Span(v.Each))
	case "rounds":
		return head + fmt.Sprintf("shuffle a sheet every %s instead of %s, so that it goes whole times through the stack", Span(v.Each), Span(v.Of))
	case "load-dark":
		return fmt.Sprintf("Load the film %s in darkness: a changing bag or a dark room, room light on only once it is closed", v.Vessel.In())
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

func temperatureCaution(code string, v sequence.Values, _ *sequence.Plan, h sequence.Units) string {
	head := v.Step + ": "
	switch code {
	case "temperature-range":
		return head + fmt.Sprintf("%s is outside %s, which the recipe is meant for", Reading(v.Temperature, h), TemperatureRange(v.Low, v.High, h))
	case "warm-gelatin":
		return head + Reading(v.Temperature, h) + " softens gelatin; handle the film by its edges"
	case "bath-spread":
		text := fmt.Sprintf("Baths are up to %s apart; keep them within %s", Difference(v.Change, h), Difference(planning.BathSpread, h))
		if v.Change > planning.Reticulation {
			text += ", or the emulsion may reticulate"
		}
		return text
	case "cold-developer":
		return head + fmt.Sprintf("warm the developer first: below %s hydroquinone nearly stops (Neblette 1927), and more time does not make up for it", Temperature(v.Low, h))
	case "cool-developer":
		return head + fmt.Sprintf("below %s development may stay incomplete, however long (US Army SS0509 p. 13)", Reading(v.Low, h))
	case "cold-fix":
		return head + slower(v, h) + " (US Army TM 11-2323 para 33c)"
	case "cold-wash":
		return head + slower(v, h) + " (T.O. 33B-1-1 6.7.10.1)"
	}
	return ""
}

func slower(v sequence.Values, h sequence.Units) string {
	return fmt.Sprintf("at %s it takes %.1f times as long", Reading(v.Temperature, h), v.Factor)
}

// bottleCaution is about a bath that comes from its bottle.
func bottleCaution(code string, v sequence.Values, _ *sequence.Plan, h sequence.Units) string {
	if v.Bottle == "" {
		return ""
	}
	head := fmt.Sprintf("%s (%s): ", v.Bath, v.Bottle)
	done := "has done " + SheetsDone(v.Done)
	switch code {
	case "spent":
		switch {
		case v.Serves > 0:
			return head + fmt.Sprintf("spent: %s of the %d that it can do", done, wholeDown(v.Serves))
		case v.Time > 0:
			return head + fmt.Sprintf("spent: clears in %s (%s when fresh; NAVEDTRA 14209 p. 249)", Elapsed(v.Time), Elapsed(v.Of))
		}
		return head + "meant for one session, and has had it"
	case "reused":
		// what it adds may be off by a share of itself
		return head + fmt.Sprintf("%s without replenisher: %s takes %s, %s to %s with what is not known of it", done, v.Step, longer(v.Factor),
			Percent((v.Factor-1)*(1-planning.ReuseDoubt)), Percent((v.Factor-1)*(1+planning.ReuseDoubt)))
	case "reuse-end":
		return head + done + ": how much longer it takes after so many is not known; mix it fresh"
	case "replenish":
		return head + fmt.Sprintf("add %s of replenisher for %s, as much poured off, and note it: wetside bottles replenish", Volume(v.Volume, h), SheetsDone(v.Done))
	case "silver-left":
		return head + "film fixed in it failed the test for residual silver: fix again in a fresh fixer, and test before it serves more"
	case "half-spent":
		return head + fmt.Sprintf("half spent: %s of the %d that it can do", done, wholeDown(v.Serves))
	case "capacity-unknown":
		return head + done + "; capacity not given"
	case "capacity":
		return head + fmt.Sprintf("%s and can do %d; this session counts as %d", done, wholeDown(v.Serves), wholeUp(v.Count))
	case "volume-short":
		return head + fmt.Sprintf("the bottle holds %s, and the recipe fills %s", Volume(v.Volume, h), Volume(v.Need, h))
	case "stale":
		return head + fmt.Sprintf("stale: mixed %s ago and used until %s; its working life is %s", Age(v.Ago), Elapsed(v.Time), Span(v.Of))
	case "clock":
		return head + fmt.Sprintf("mixed %s from now by this clock; its age is not known", Span(-v.Ago))
	case "short-fix":
		return fmt.Sprintf("%s: %s in %s (%s), which clears in %s: that takes %s (NAVEDTRA 14209 p. 249)",
			v.Step, Elapsed(v.Time), v.Bath, v.Bottle, Elapsed(v.Each), Elapsed(v.Of))
	case "stock-lacking":
		return fmt.Sprintf("%s: short by %s of %s; %s has %s left", v.Bath, Volume(v.Need, h), v.Part, v.Bottle, Volume(v.Volume, h))
	}
	return ""
}

// bathCaution is about a bath that is mixed fresh, and about any bath.
func bathCaution(code string, v sequence.Values, p *sequence.Plan, h sequence.Units) string {
	head := v.Bath + ": "
	switch code {
	case "stock-short":
		served := ""
		if v.Done > 0 {
			served = ", with those that it has done"
		}
		return head + fmt.Sprintf("%s of %s for %s%s; at least %s is needed", Volume(v.Volume, h), v.Part, Count(v.Sheets, "sheet"), served, Volume(v.Need, h))
	case "capacity":
		return head + fmt.Sprintf("%s can do %s of %s; this session has %d", Volume(v.Volume, h), Count(v.Room, "sheet"), p.Recipe.Load.Size.Name, v.Sheets)
	case "stale":
		return head + fmt.Sprintf("used until %s; its working life is %s once mixed", Elapsed(v.Time), Span(v.Of))
	case "not-covered":
		return head + fmt.Sprintf("%s may not cover the film %s, which takes about %s for %s (our own rule): measure the vessel, and mix more",
			Volume(v.Volume, h), v.Vessel.In(), Volume(v.Need, h), Count(v.Sheets, "sheet"))
	case "chemistry":
		return head + v.Words
	case "mixing-order":
		return head + orderOf(p, v.Bath)
	}
	return ""
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

// testCaution is about a film test.
func testCaution(code string, v sequence.Values, p *sequence.Plan, _ sequence.Units) string {
	head := v.Step + ": "
	switch code {
	case "test-limit":
		way := "leave out the longest time"
		if v.Vessel == sequence.Hangers {
			way = "hang the sheets in hangers, or " + way
		}
		return head + "the film test alone is over the wet limit: " + way
	case "test-share":
		var list []string
		for _, s := range v.Shares {
			list = append(list, p.Recipe.Load.SheetName(s.Sheet)+" "+PercentChange(s.Share))
		}
		return head + "one hand transfers one sheet after the other, so not all have just their own time: " + strings.Join(list, ", ")
	case "clip-corners":
		return head + HowToClip(v.Sheets)
	case "water-wait":
		return head + fmt.Sprintf("sheets pulled early are set aside in water, where development creeps on: %s waits %s and may gain about %s (our own rule: it goes on for %.0f s in all, and %.0f ml of developer a sheet is carried into 1 L of water). An acid stop bath ends it, and with straight_on = true each sheet goes on from there to the fixer; leave_together = true avoids the wait",
			p.Recipe.Load.SheetName(v.Sheet), Elapsed(v.Time), Percent(v.Share), planning.WaterRuns, planning.CarriedOver)
	}
	return ""
}

// ForMixing reports whether a note is read where baths are mixed, and of no use before.
func ForMixing(c sequence.Caution) bool {
	return c.Level == sequence.Note && slices.Contains([]string{"chemistry", "mixing-order", "eye-rinse", "labels", "no-food"}, c.Code)
}

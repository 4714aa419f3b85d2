package say

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/recipetest"
)

func TestCautions(t *testing.T) {
	p := planOf(t, recipetest.SixInTray(), sequence.Conditions{})
	p.Recipe.Film.Name = "Plover 80"
	for _, c := range []struct {
		code string
		v    sequence.Values
		want string
	}{
		{"limit-unknown", sequence.Values{Vessel: sequence.Hangers}, "The wet limit of Plover 80 in hangers is not known: note how the emulsion takes it, or give a limit."},
		{"wet-limit", sequence.Values{Time: 18*mins + 52*time.Second, Of: 18 * mins, Margin: -52 * time.Second, Share: 1132. / 1080, Vessel: sequence.Tray},
			"Wet time 18:52: 105% of limit (18:00 in trays), 0:52 too long."},
		{"wet-warning", sequence.Values{Time: 24*mins + 18*time.Second, Of: 32 * mins, Margin: 4*mins + 54*time.Second, Share: 0.755, Vessel: sequence.Tray}, "Wet time 24:18: 76% of limit, 4:54 in hand."},
		{"short-develop", sequence.Values{Step: "develop", Time: 4 * mins, Of: 5 * mins}, "Develop: 4:00 is short; under 5:00 uneven development is likely (common advice)."},
		{"temperature-range", sequence.Values{Step: "develop", Temperature: 25, Low: 18, High: 24}, "Develop: 25.0 °C is outside 18–24 °C, which the recipe is meant for."},
		{"bath-spread", sequence.Values{Change: 9}, "Baths are up to 9 °C apart; keep them within 2.8 °C, or the emulsion may reticulate."},
		{"start-at", sequence.Values{Step: "develop", Temperature: 21.25, Change: -1.25}, "Develop: the bath drifts; for the recipe's time let it read 21.3 °C then, 1.2 °C cooler."},
		{"stock-short", sequence.Values{Bath: "developer", Part: "A", Volume: 10, Need: 12, Sheets: 6}, "Developer: 10 ml of A for 6 sheets; at least 12 ml is needed."},
		{"stock-lacking", sequence.Values{Bath: "developer", Part: "B", Bottle: "b-2026", Need: 7.62, Volume: 4}, "Developer: short by 7.6 ml of B; b-2026 has 4 ml left."},
		{"capacity-unknown", sequence.Values{Bath: "fixer", Bottle: "fix-1", Done: 37.5}, "Fixer (fix-1): has done 38 sheets of 4x5in; capacity not given."},
		{"spent", sequence.Values{Bath: "fixer", Bottle: "fix-1", Time: 80 * time.Second, Of: mins}, "Fixer (fix-1): spent: clears in 1:20 (1:00 when fresh; NAVEDTRA 14209 p. 249)."},
		{"spent", sequence.Values{Bath: "developer", Bottle: "d-1"}, "Developer (d-1): meant for one session, and has had it."},
		{"stale", sequence.Values{Bath: "developer", Bottle: "d-1", Ago: 5 * day, Time: 12 * mins, Of: 3 * day}, "Developer (d-1): stale: mixed 5 days ago and used until 12:00; its working life is 3 days."},
		{"stale", sequence.Values{Bath: "developer", Time: 70 * mins, Of: 60 * mins}, "Developer: used until 1:10:00; its working life is 1 h once mixed."},
		{"test-share", sequence.Values{Step: "develop", Shares: []sequence.SheetShare{{Sheet: 2, Share: -1. / 30}}},
			"Develop: one hand transfers one sheet after the other, so not all have just their own time: sheet 2 −3.3%."},
		{"water-wait", sequence.Values{Step: "develop", Sheet: 1, Time: 320 * time.Second, Share: 0.104}, "Develop: sheets pulled early are set aside in water, where development creeps on: sheet 1 waits 5:20 and may gain about 10% (our own rule: it goes on for 22 s in all, and 10 ml of developer a sheet is carried into 1 L of water). An acid stop bath ends it, and with straight_on = true each sheet goes on from there to the fixer; leave_together = true avoids the wait."},
		{"curve-elsewhere", sequence.Values{Step: "develop", Differs: []sequence.Differing{{What: "vessel", Here: "drum", There: "hangers"}}},
			"Develop: its growth curve was measured elsewhere (vessel drum instead of hangers), so its gradient is not known; test again."},
		{"labels", sequence.Values{}, "Label every bottle: what is in it and when it was mixed; never one that food or drink came in."},
	} {
		same(t, Caution(sequence.Caution{Code: c.code, Values: c.v}, p, celsius), c.want)
	}
	same(t, Caution(sequence.Caution{Code: "warm-gelatin", Values: sequence.Values{Step: "fix", Temperature: 25}}, p, fahrenheit),
		"Fix: 77.0 °F softens gelatin; handle the film by its edges.")
}

// A journal of an earlier version has the sentence alone, and shows it.
func TestFrozenSentences(t *testing.T) {
	p := planOf(t, recipetest.SixInTray(), sequence.Conditions{})
	same(t, Caution(sequence.Caution{Code: "wet-limit", Text: "wet for 20:00"}, p, celsius), "wet for 20:00")
	same(t, Caution(sequence.Caution{Code: "of-another-version", Text: "As written.", Values: sequence.Values{Step: "fix"}}, p, celsius), "As written.")
	old := sequence.Shortening{Code: "warmer", Step: "develop", Text: "develop at 22 C: shorter", Price: "softer gelatin"}
	same(t, Shortening(old, celsius).Text, old.Text)
}

// Whatever planning cautions about has its sentence: each code in its source is made into
// one with a capital, an end, and nothing left open. A plan written down reads back the same.
func TestEveryCodeHasASentence(t *testing.T) {
	files, err := filepath.Glob("../../sequence/planning/*.go")
	if err != nil || len(files) == 0 {
		t.Fatal(err)
	}
	added := regexp.MustCompile(`w\.add\(sequence\.\w+, "([a-z-]+)"`)
	p, n := planOf(t, recipetest.SixInTray(), sequence.Conditions{}), 0
	p.Recipe.Baths = []sequence.Bath{{ID: "developer", Parts: []chem.Part{{Name: "metol", Parts: 1}, {Name: "sulphite", Parts: 1}}}}
	for _, file := range files {
		source, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range added.FindAllStringSubmatch(string(source), -1) {
			n++
			text := ""
			for _, bottle := range []string{"", "d-1"} {
				v := sequence.Values{Step: "develop", Bath: "developer", Bottle: bottle, Words: "Wear gloves", Vessel: sequence.Tray, FoundIn: sequence.Hangers, Sheet: 1, Sheets: 2}
				text += Caution(sequence.Caution{Code: m[1], Values: v}, p, celsius)
			}
			if text == "" || text != Capital(text) || !strings.HasSuffix(text, ".") || strings.Contains(text, "%!") || strings.Contains(text, "..") {
				t.Errorf("%s: %q", m[1], text)
			}
		}
	}
	if n < 35 {
		t.Errorf("%d codes found", n)
	}
}

func TestPlansAreWrittenWithTheirSentences(t *testing.T) {
	p := InWords(*planOf(t, recipetest.SixInTray(), sequence.Conditions{BathTemperature: at(chem.Celsius(24))}))
	text, err := sequence.Marshal(p)
	if err != nil {
		t.Fatal(err)
	}
	var back sequence.Plan
	if err := sequence.Unmarshal(text, &back); err != nil || len(back.Cautions) == 0 {
		t.Fatal(err, len(back.Cautions))
	}
	for i, c := range back.Cautions {
		same(t, Caution(c, &back, celsius), p.Cautions[i].Text)
		if strings.Contains(Caution(c, &back, fahrenheit), "°C") || c.Text == "" {
			t.Errorf("in Fahrenheit: %s", Caution(c, &back, fahrenheit))
		}
	}
}

// A caution names steps and baths in the trade's words, not as the recipe's file spells their kind.
func TestCautionsNameStepsInWords(t *testing.T) {
	p := &sequence.Plan{}
	same(t, Caution(sequence.Caution{Code: "chemistry", Values: sequence.Values{Bath: "stop", Words: "gloves stay on"}}, p, celsius), "Stop bath: gloves stay on.")
	same(t, Caution(sequence.Caution{Code: "uncorrected", Values: sequence.Values{Step: "wash-aid"}}, p, celsius),
		"Washing aid: the recipe gives no temperature, so its time is not corrected.")
}

func TestProposals(t *testing.T) {
	change := func(code, step string, v sequence.ShorteningValues) sequence.Shortening {
		return sequence.Shortening{Code: code, Step: step, ShorteningValues: v}
	}
	for _, c := range []struct {
		s    sequence.Shortening
		want Proposal
	}{
		{change("warmer", "develop", sequence.ShorteningValues{To: 22}), Proposal{"develop at 22 °C", "develop at 22 °C: shorter", "softer gelatin", "all baths as warm, within 2.8 °C (NAVEDTRA 14262 p. 7-11)"}},
		{change("at-least", "fix", sequence.ShorteningValues{Kind: sequence.Fix, Time: 3 * mins, Was: 5 * mins}),
			Proposal{"fix 3:00 instead of 5:00", "fix for 3:00 instead of 5:00, the recipe's minimum", "nothing in reserve", "twice the clearing time is needed: measure it in this fixer (NAVEDTRA 14209 p. 249)"}},
		{change("fewer", "", sequence.ShorteningValues{Sheets: 3, Were: 6}), Proposal{"3 sheets instead of 6", "3 sheets instead of 6: less to load, shuffle and transfer", "another round for the rest", ""}},
		{change("vessel", "wash", sequence.ShorteningValues{Vessel: sequence.SingleTrays}), Proposal{"wash in single trays", "wash: into single trays once the room light is on", "a tray for each sheet, and more handling once", heldByRim}},
		{sequence.Shortening{Code: "hardener", Step: "fix"}, Proposal{"a hardening bath", "a hardening bath before fix, or a hardening fixer: firmer gelatin from there on", "a longer wash, and less stain where the developer stains",
			"hardeners made with formaldehyde are poisonous: the maker's safety data sheet comes first"}},
	} {
		if got := Shortening(c.s, celsius); got != c.want {
			t.Errorf("%q; want %q", got, c.want)
		}
	}
	same(t, Shortening(change("warmer", "develop", sequence.ShorteningValues{To: 22}), fahrenheit).Text, "develop at 71.6 °F: shorter")
	both := sequence.Shortening{Code: "together", Parts: []sequence.ShorteningPart{change("leave-out", "rinse", sequence.ShorteningValues{Kind: sequence.Rinse}).Part(),
		change("fewer", "", sequence.ShorteningValues{Sheets: 3, Were: 6}).Part()}}
	same(t, Shortening(both, celsius).Name, "leave out rinse; 3 sheets instead of 6")
	same(t, Shortening(both, celsius).Text, "leave out rinse; 3 sheets instead of 6: less to load, shuffle and transfer")
}

package say

import (
	"strings"
	"testing"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/notebook"
)

// Each finding in its sentence, with the temperatures on the person's scale.
func TestFindings(t *testing.T) {
	used := 1.25
	wet := notebook.SheetWetTime{Sheet: 1, Total: 25 * time.Minute, Used: &used, Vessels: []notebook.VesselWetTime{{Vessel: sequence.Tray}, {Vessel: sequence.Hangers}}}
	unlimited := wet
	unlimited.Used = nil
	warm := &notebook.BathOffPlan{AtEnd: 25, Planned: 20}
	plan := &sequence.Plan{}
	for _, c := range []struct {
		f    notebook.Finding
		want string
	}{
		{notebook.Finding{Code: notebook.BathOff, Step: "develop", Bath: warm, Low: 1.195, High: 1.195}, "develop: 25.0 °C at the end, 20.0 °C planned: developed 120% (100% is right)."},
		{notebook.Finding{Code: notebook.BathOff, Step: "develop", Bath: warm, Low: 1.1, High: 1.2, Sheets: []int{2, 3}}, "develop: 25.0 °C at the end, 20.0 °C planned: developed 110–120% (100% is right), sheet 2, 3."},
		{notebook.Finding{Code: notebook.TimeFollowed, Step: "develop", Bath: warm, Given: 212 * time.Second, Planned: 5 * time.Minute},
			"develop: 25.0 °C at the end, 20.0 °C planned; the time followed, 3:32 instead of 5:00. Read the bath shortly before the first sheet goes in and plan with that."},
		{notebook.Finding{Code: notebook.OutsideTable, Step: "develop", Low: 0.9, High: 0.9}, "develop: the bath was outside the recipe's table, and that is uncertain: developed 90% (100% is right)."},
		{notebook.Finding{Code: notebook.TimeOff, Step: "develop", Sheet: 1, Given: 390 * time.Second, Planned: 5 * time.Minute, Low: 1.3, High: 1.3},
			"develop: sheet 1 was in for 6:30, planned 5:00: developed 130% (100% is right)."},
		{notebook.Finding{Code: notebook.CuesMissed, Count: 5, Missed: map[sequence.CueKind]int{sequence.CueStand: 2, sequence.CueAgitate: 2, sequence.CueReady: 1}},
			"Gaps: 5 cues were not given (ready 1, agitate 2, rest 2)."},
		{notebook.Finding{Code: notebook.CutShort, Step: "fix", Kind: sequence.Fix, Sheet: 1, Given: time.Minute, Planned: 2 * time.Minute},
			"fix: sheet 1 had 1:00 of at least 2:00: fix and wash it again before it is kept."},
		{notebook.Finding{Code: notebook.CutShort, Step: "wash", Kind: sequence.Wash, Sheet: 1, Given: time.Minute, Planned: 2 * time.Minute},
			"wash: sheet 1 had 1:00 of at least 2:00: wash it again before it is kept."},
		{notebook.Finding{Code: notebook.WetUnlooked, Wet: wet}, "Wet time: sheet 1 was wet for 25:00 in tray, then hangers, 125% of its limit: look at the emulsion when it is dry, and note how it came through."},
		{notebook.Finding{Code: notebook.WetSoundBeyond, Wet: wet}, "Wet time: sheet 1 was wet for 25:00 in tray, then hangers, 125% of its limit, and the emulsion is sound: handled in this way the film stands that."},
		{notebook.Finding{Code: notebook.WetSoundNoLimit, Wet: unlimited}, "Wet time: sheet 1 was wet for 25:00 in tray, then hangers, and the emulsion is sound: a wet limit of that is on the safe side."},
		{notebook.Finding{Code: notebook.WetDamaged, Wet: wet, Emulsion: notebook.EmulsionTorn},
			"Wet time: sheet 1 was wet for 25:00 in tray, then hangers, 125% of its limit, and the emulsion is damaged (frayed): set the wet limit below that, or handle it less."},
		{notebook.Finding{Code: notebook.DevelopedOff, Look: notebook.Thin, Bath: warm, High: 0.8}, "Negatives thin: 25.0 °C at the end, 20.0 °C planned: the record has 80% of the planned development (100% is right)."},
		{notebook.Finding{Code: notebook.DevelopedFar, Look: notebook.Fogged, High: 1.2}, "Negatives fogged: the record has 120% of the planned development (100% is right), and fog grows with it."},
		{notebook.Finding{Code: notebook.PlanWarned, Look: notebook.Fogged, Caution: sequence.Caution{Code: "from-long-ago", Text: "the tide was in"}}, "Negatives fogged: the plan warned: the tide was in."},
		{notebook.Finding{Code: notebook.AgitationMissed, Look: notebook.Uneven, Count: 3}, "Negatives uneven: 3 calls to agitate or turn fell into a gap."},
		{notebook.Finding{Code: notebook.DryIntoDeveloper, Look: notebook.Uneven}, "Negatives uneven: the sheets went into the developer dry, one on the other."},
		{notebook.Finding{Code: notebook.WetBeyond, Look: notebook.Scratched, Used: 1.25}, "Negatives scratched: wet for 125% of what the film stands in this vessel."},
		{notebook.Finding{Code: notebook.LargeStack, Look: notebook.Scratched, Count: 6}, "Negatives scratched: 6 sheets were shuffled in one tray; up to 4 are easier on soft gelatin (common practice)."},
	} {
		same(t, finding(&c.f, plan, sequence.Units{}), c.want)
	}
	fahrenheit := sequence.Units{Fahrenheit: true}
	same(t, developingFinding(&notebook.Finding{Code: notebook.BathOff, Bath: warm, Low: 1.2, High: 1.2}, fahrenheit), "77.0 °F at the end, 68.0 °F planned: developed 120% (100% is right)")
}

// Every look that can be noted, but for good, has a usual cause to name.
func TestEveryLookHasAUsualCause(t *testing.T) {
	for _, look := range notebook.Appearances {
		text := finding(&notebook.Finding{Code: notebook.NoCause, Look: look}, nil, sequence.Units{})
		if look != notebook.Good && (!strings.HasPrefix(text, "Negatives "+string(look)+": the record shows no cause; ") || usualCause[look] == "") {
			t.Errorf("%s: %q", look, text)
		}
	}
}

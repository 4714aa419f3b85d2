package main

// What is shown is one value: whatever recipe, conditions and moment, every surface says the
// same of the limit, of each sheet's time, of the wet time and of what the hands do. Compared
// are the figures that a person reads (see the readers). What a surface writes in whole seconds
// is rounded from the one value that plan --json has to the nanosecond, and so is equal; the
// voice rounds down, and from ten minutes on to minutes. Shares of the limit are whole per
// cent, rounded up everywhere: what is over the limit never reads 100%.

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/sequence/recipetest"
	"example.org/wetside/tui/page"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/widget"
)

// teller is a test, drawn or not.
type teller interface {
	Helper()
	Errorf(string, ...any)
	Fatalf(string, ...any)
}

// wetJSON is the wet time of plan --json and of notebook --json.
type wetJSON struct {
	Total     float64  `json:"total_s"`
	Used      *float64 `json:"used"`
	Margin    *float64 `json:"margin_s"`
	WarningAt *float64 `json:"warning_at_s"`
	LimitAt   *float64 `json:"limit_at_s"`
	Sheets    []struct {
		Sheet int
		Total float64 `json:"total_s"`
		Used  *float64
	}
}

// planJSON is what the comparison needs of plan --json.
type planJSON struct {
	Steps []struct {
		Start float64   `json:"start_s"`
		Time  float64   `json:"time_s"`
		Pull  []float64 `json:"pull_s"`
	}
	Cues []struct {
		At  float64 `json:"at_s"`
		Cue string
	}
	Wet wetJSON
}

// ofSeconds is a time from JSON.
func ofSeconds(s float64) sequence.Elapsed { return sequence.Elapsed(math.Round(s * 1e9)) }

// shown is what a time from JSON looks like to the second: half a second up, as it is written
// everywhere.
func shown(s float64) sequence.Elapsed {
	return sequence.Elapsed(math.Floor(ofSeconds(s).Seconds()+0.5)) * time.Second
}

// wholePercent is a share of the limit in per cent, rounded to the careful side; what
// adding shares up is off by is not a per cent more.
func wholePercent(used float64) int { return int(math.Ceil(100*used - 1e-9)) }

// asJSON is what a command writes for scripts, read back.
func asJSON[T any](t teller, v any) (got T) {
	t.Helper()
	var out bytes.Buffer
	if err := (&app.Env{Out: &out}).WriteJSON(v); err != nil {
		t.Fatalf("%v", err)
	}
	if err := json.Unmarshal(out.Bytes(), &got); err != nil {
		t.Fatalf("%v", err)
	}
	return got
}

// drawnPlan is a plan of any kind: vessels, limits that add up, film tests, drift.
func drawnPlan(t *rapid.T) *sequence.Plan {
	var r sequence.Recipe
	var c sequence.Conditions
	if rapid.Bool().Draw(t, "any recipe") {
		r, c = recipetest.AnyRecipe(t), recipetest.RandomConditions(t)
	} else {
		r, c = recipetest.RandomStack(t)
	}
	p, err := planning.Resolve(r, c)
	if err != nil {
		t.Skip(err)
	}
	return &p
}

func TestEverySurfaceOfAPlanAgrees(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) { planAgrees(t, drawnPlan(t)) })
}

// planAgrees compares plan --json with the page, both wall sheets, and what the screens show.
func planAgrees(t teller, p *sequence.Plan) {
	t.Helper()
	var u sequence.Units
	want := asJSON[planJSON](t, planning.Summarise(p))
	text, wall, wallHTML := page.Plan(p, u, 100), page.WallSheet(p, u), page.WallSheetHTML(p, u)
	strip := widget.PlanStrip(p, 300, widget.StripRows)
	total, limit := say.Wet(p)
	screens := strings.ReplaceAll(ansi.Strip(strip.View()), "limit ", "limit at ") + " Wet " + total + " " + limit
	for name, got := range map[string]string{"page": flat(text), "wall sheet": flat(wall), "wall sheet in HTML": flat(wallHTML), "plan screen": flat(screens)} {
		limitAgrees(t, name, got, want.Wet.LimitAt)
		wetAgrees(t, name, got, want.Wet)
	}
	planCuesAgree(t, want)
	var start []row
	for _, st := range want.Steps {
		start = append(start, row{shown(st.Start), shown(st.Time)})
	}
	for name, got := range map[string][]row{"page": rows(text), "wall sheet": rows(wall), "wall sheet in HTML": wallRows(wallHTML), "plan screen": screenRows(p)} {
		if !slices.Equal(got, start) {
			t.Fatalf("%s: steps begin and last %v; plan --json %v", name, got, start)
		}
	}
	var own [][]sequence.Elapsed
	for _, st := range want.Steps {
		if st.Pull != nil {
			own = append(own, nil)
		}
		for _, s := range st.Pull {
			own[len(own)-1] = append(own[len(own)-1], shown(s))
		}
	}
	for name, got := range map[string]string{"page": text, "wall sheet": wall, "wall sheet in HTML": wallHTML} {
		if got := pulls(flat(got)); !slices.EqualFunc(got, own, slices.Equal) {
			t.Fatalf("%s: the sheets' own times are %v; plan --json %v", name, got, own)
		}
	}
	markStands(t, strip, want.Wet.LimitAt)
}

// limitAgrees looks for the moment of the limit in a text: wherever it is said it is that of
// JSON, and it is said at least once where JSON has one.
func limitAgrees(t teller, name, text string, at *float64) {
	t.Helper()
	got := clocksAfter(text, "limit at ")
	if at == nil && len(got) > 0 || at != nil && len(got) == 0 {
		t.Fatalf("%s: limit at %v; JSON %s", name, got, orNull(at))
	}
	for _, g := range got {
		if g != shown(*at) {
			t.Fatalf("%s: limit at %v; JSON %s", name, g, orNull(at))
		}
	}
}

func orNull(at *float64) string {
	if at == nil {
		return "null"
	}
	return fmt.Sprint(ofSeconds(*at))
}

// wetAgrees compares the wet time, its share of the limit, what is in hand and the warning.
func wetAgrees(t teller, name, text string, want wetJSON) {
	t.Helper()
	totals := clocksAfter(text, `Wet (?:for |time )?`) // once, and again in a caution
	if len(totals) == 0 {
		t.Fatalf("%s: wet time is not said", name)
	}
	for _, got := range totals {
		if got != shown(want.Total) {
			t.Fatalf("%s: wet for %v; JSON %v", name, got, ofSeconds(want.Total))
		}
	}
	for _, got := range percents(text) {
		if want.Used == nil || got != wholePercent(*want.Used) {
			t.Fatalf("%s: %d%% of the limit; JSON %v", name, got, *want.Used)
		}
	}
	if got, ok := leftOver(text); ok != (want.Margin != nil) || ok && got != shown(math.Abs(*want.Margin))*sign(*want.Margin) {
		t.Fatalf("%s: %v in hand (%v); JSON %s", name, got, ok, orNull(want.Margin))
	}
	for _, m := range overLimit.FindAllStringSubmatch(text, -1) {
		if readClock(m[1]) != -shown(math.Abs(*want.Margin))*sign(*want.Margin) {
			t.Fatalf("%s: a caution of %s over the limit; JSON %s", name, m[1], orNull(want.Margin))
		}
	}
	for _, got := range clocksAfter(text, "warning at ") {
		if want.WarningAt == nil || got != shown(*want.WarningAt) {
			t.Fatalf("%s: warning at %v; JSON %s", name, got, orNull(want.WarningAt))
		}
	}
}

// overLimit is how a caution says by how much the limit is passed.
var overLimit = regexp.MustCompile(clockText + ` more than`)

func sign(x float64) sequence.Elapsed {
	if x < 0 {
		return -1
	}
	return 1
}

// planCuesAgree compares the alarms with the moments: a limit within the plan has its alarm
// then, one beyond it none.
func planCuesAgree(t teller, want planJSON) {
	t.Helper()
	for _, c := range want.Cues {
		at := want.Wet.LimitAt
		if c.Cue == string(sequence.CueWetWarning) {
			at = want.Wet.WarningAt
		} else if c.Cue != string(sequence.CueWetLimit) {
			continue
		}
		if at == nil || !recipetest.Near(ofSeconds(c.At), ofSeconds(*at)) {
			t.Fatalf("%s is heard at %v; JSON %s", c.Cue, ofSeconds(c.At), orNull(at))
		}
	}
	heard := slices.ContainsFunc(want.Cues, func(c struct {
		At  float64 `json:"at_s"`
		Cue string
	}) bool {
		return c.Cue == string(sequence.CueWetLimit)
	})
	if over := want.Wet.Used != nil && *want.Wet.Used > 1+1e-9; over && !heard {
		t.Fatalf("%v of the limit is used, and no alarm", *want.Wet.Used)
	}
}

// markStands looks where the mark stands on the strip: where the moment is of its width, which
// is to the limit, or to the end where that comes later.
func markStands(t teller, s widget.Strip, at *float64) {
	t.Helper()
	drawn := []rune(ansi.Strip(s.View()))
	mark, span := slices.Index(drawn, '┃'), s.End()
	if at == nil || mark < 0 {
		if at == nil && mark >= 0 {
			t.Fatalf("a mark where no limit is known:\n%s", string(drawn))
		}
		return
	}
	column := mark - 1 - lastIndex(drawn[:mark], '\n')
	span = max(span, ofSeconds(*at))
	want := float64(ofSeconds(*at)) / float64(span) * float64(s.Width)
	if math.Abs(float64(column)-want) > 1 {
		t.Fatalf("the mark stands in column %d of %d; expected %.1f:\n%s", column, s.Width, want, string(drawn))
	}
}

func lastIndex(list []rune, r rune) int {
	for i := len(list) - 1; i >= 0; i-- {
		if list[i] == r {
			return i
		}
	}
	return -1
}

// wallRows are the steps of the wall sheet in HTML; the tray of water has no time of its own.
func wallRows(text string) (list []row) {
	for _, c := range cells(text) {
		if len(c) > 3 && c[3] != "" {
			list = append(list, row{readClock(c[0]), readClock(c[3])})
		}
	}
	return list
}

// screenRows are the steps as the plan screen has them: name, start, time.
func screenRows(p *sequence.Plan) (list []row) {
	for _, r := range widget.PlanSteps(p, 200).Rows {
		if r[1] != "" {
			list = append(list, row{readClock(ansi.Strip(r[1])), readClock(ansi.Strip(r[2]))})
		}
	}
	return list
}

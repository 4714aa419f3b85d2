package planning

// Proposals to shorten, on random recipes: what each says that it saves is what the
// second account of account_test.go finds; and the laws of what is never proposed.

import (
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/recipetest"
)

// longWet draws a stack that is wet for about as long as it may be, or longer, with
// something to be saved at every step.
func longWet(t *rapid.T) (sequence.Recipe, sequence.Conditions) {
	r, c := recipetest.RandomStack(t)
	r.Steps = slices.Clone(r.Steps)
	r.Steps = append(r.Steps, recipetest.Shuffled(recipetest.Bath(sequence.Fix, recipetest.Seconds(t, 120, 400, "fix"))), recipetest.Lit(recipetest.Bath(sequence.Wash, recipetest.Seconds(t, 120, 2400, "wash")), sequence.White))
	for i := range r.Steps {
		st := &r.Steps[i]
		st.Name = string(rune('a' + i))
		if rapid.Bool().Draw(t, "at least") && st.Kind != sequence.Develop {
			st.LeastTime = max(st.Time/sequence.Elapsed(rapid.IntRange(2, 4).Draw(t, "part")), st.Drain+recipetest.Second, recipetest.Second)
		}
		st.Optional = st.Kind != sequence.Develop && rapid.IntRange(0, 3).Draw(t, "optional") == 0
	}
	r.Film.WetLimit = sequence.WetLimit{All: recipetest.Seconds(t, 400, 2400, "limit of all")}
	return r, c
}

// totalWet is the longest wet time of a recipe by the second account.
func totalWet(r sequence.Recipe, c sequence.Conditions) sequence.Elapsed {
	if c.Vessel != "" {
		r.Load.Vessel = c.Vessel
	}
	if c.Sheets != 0 {
		r.Load.Sheets = c.Sheets
	}
	a, longest := accountOf(r, c), 0.0
	for k := range a.n {
		w, _ := a.wet(k, sequence.Never.Seconds())
		longest = max(longest, w)
	}
	return sequence.Elapsed(longest * 1e9)
}

// Rounds of drawing go on until each kind of change has been proposed.
func TestShortenOnRandomRecipes(t *testing.T) {
	proposed := map[string]int{}
	never := func() string {
		for _, code := range []string{"vessel", "wash-aid", "at-least", "cradle", "fewer", "leave-out", "warmer", "together"} {
			if proposed[code] == 0 {
				return code
			}
		}
		return ""
	}
	const most = 20
	for round := 0; round == 0 || round < most && never() != ""; round++ {
		rapid.Check(t, func(t *rapid.T) { asProposed(t, proposed) })
	}
	if code := never(); code != "" {
		t.Errorf("%s was never proposed: the recipes drawn test nothing of it", code)
	}
}

// asProposed holds the proposals for one drawn recipe against the second account, and
// counts them.
func asProposed(t *rapid.T, proposed map[string]int) {
	r, c := longWet(t)
	p, err := Resolve(r, c)
	if err != nil {
		return
	}
	before := totalWet(r, c)
	hurried(t, &p)
	for _, s := range p.Shorten {
		proposed[s.Code]++
		changed, cond, ok := ApplyShortening(&p, s)
		if !ok {
			t.Fatalf("%s %s %v cannot be carried out", s.Code, s.Step, s.Parts)
		}
		if saved := before - totalWet(changed, cond); (saved - s.Saves).Abs() > 10*time.Microsecond {
			t.Errorf("%s %s says that it saves %v; by the account %v", s.Code, s.Step, s.Saves, saved)
		}
		lawful(t, r, changed, c, cond)
		if s.Code == "together" {
			smallest(t, &p, s)
		}
	}
}

// lawful holds a changed recipe against what is never proposed: less than at_least,
// a stack without its presoak, a developer warmed above 22 C.
func lawful(t *rapid.T, r, changed sequence.Recipe, was, c sequence.Conditions) {
	least := map[string]sequence.Elapsed{}
	for _, st := range r.Steps {
		least[st.Name] = st.LeastTime
	}
	for _, st := range changed.Steps {
		if st.Time > 0 && st.Time < least[st.Name] {
			t.Errorf("%s for %v; at least %v", st.Name, st.Time, least[st.Name])
		}
	}
	if c.BathTemperature != nil && (was.BathTemperature == nil || *c.BathTemperature != *was.BathTemperature) && *c.BathTemperature > 22 {
		t.Errorf("warmed to %v", *c.BathTemperature)
	}
	v := r.Load.Vessel
	if c.Vessel != "" {
		v = c.Vessel
	}
	if r.Steps[0].Kind == sequence.Presoak && v == sequence.Tray && changed.Steps[0].Kind != sequence.Presoak {
		t.Error("the presoak of a stack is left out")
	}
}

// hurried holds that developing under five minutes is proposed only where nothing
// else keeps the limit.
func hurried(t *rapid.T, p *sequence.Plan) {
	hasty, otherwise := false, keepsMargin(p, 0)
	for _, s := range p.Shorten {
		r, c, _ := ApplyShortening(p, s)
		q, err := Resolve(r, c)
		if err != nil {
			t.Fatal(err)
		}
		warmed := s.Code == "warmer" || slices.ContainsFunc(s.Parts, func(x sequence.ShorteningPart) bool { return x.Code == "warmer" })
		short := slices.ContainsFunc(q.Steps, func(st sequence.PlanStep) bool { return st.Kind == sequence.Develop && st.Given < 5*time.Minute })
		hasty = hasty || warmed && short
		otherwise = otherwise || !(warmed && short) && keepsMargin(&q, 0)
	}
	if hasty && otherwise {
		t.Errorf("developing under five minutes is proposed beside what keeps the limit without: %v", p.Shorten)
	}
}

// smallest holds that no smaller part of a combination would do, and that none is
// shown that misses the limit.
func smallest(t *rapid.T, p *sequence.Plan, s sequence.Shortening) {
	after := func(parts []sequence.ShorteningPart) *sequence.Plan {
		r, c, ok := ApplyShortening(p, sequence.Shortening{Parts: parts})
		if !ok {
			return nil
		}
		q, err := Resolve(r, c)
		if err != nil {
			t.Fatal(err)
		}
		return &q
	}
	all := after(s.Parts)
	if !keepsMargin(all, 0) {
		t.Errorf("the combination %v leaves %v", s.Parts, all.Wet.Margin)
	}
	margin := p.Recipe.Film.WetWarning
	if !keepsMargin(all, margin) {
		margin = 0 // none leaves the warning's time: the limit alone counts
	}
	for i := range s.Parts {
		if less := after(slices.Delete(slices.Clone(s.Parts), i, i+1)); less != nil && keepsMargin(less, margin) {
			t.Errorf("%v would do without its part %d", s.Parts, i)
		}
	}
}

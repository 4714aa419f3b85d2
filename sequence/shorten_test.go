package sequence

// Proposals to shorten, on random recipes: what each says that it saves is what the
// second account of account_test.go finds; and the laws of what is never proposed.

import (
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// longWet draws a stack that is wet for about as long as it may be, or longer, with
// something to be saved at every step.
func longWet(t *rapid.T) (Recipe, Conditions) {
	r, c := randomStack(t)
	r.Steps = slices.Clone(r.Steps)
	r.Steps = append(r.Steps, bathFor(Fix, seconds(t, 120, 400, "fix")).shuffled(), bathFor(Wash, seconds(t, 120, 2400, "wash")).lit(White))
	for i := range r.Steps {
		st := &r.Steps[i]
		st.Name = string(rune('a' + i))
		if rapid.Bool().Draw(t, "at least") && st.Kind != Develop {
			st.AtLeast = max(st.Time/Elapsed(rapid.IntRange(2, 4).Draw(t, "part")), st.Drain+sec, sec)
		}
		st.Optional = st.Kind != Develop && rapid.IntRange(0, 3).Draw(t, "optional") == 0
	}
	r.Film.WetLimit = WetLimit{All: seconds(t, 400, 2400, "limit of all")}
	return r, c
}

// totalWet is the longest wet time of a recipe by the second account.
func totalWet(r Recipe, c Conditions) Elapsed {
	if c.Vessel != "" {
		r.Load.Vessel = c.Vessel
	}
	if c.Sheets != 0 {
		r.Load.Sheets = c.Sheets
	}
	a, longest := accountOf(r, c), 0.0
	for k := range a.n {
		w, _ := a.wet(k, Never.Seconds())
		longest = max(longest, w)
	}
	return Elapsed(longest * 1e9)
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
		changed, cond, ok := p.Shortened(s)
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
		if s.Price == "" {
			t.Errorf("%s %s has no price", s.Code, s.Step)
		}
	}
}

// lawful holds a changed recipe against what is never proposed: less than at_least,
// a stack without its presoak, a developer warmed above 22 C.
func lawful(t *rapid.T, r, changed Recipe, was, c Conditions) {
	least := map[string]Elapsed{}
	for _, st := range r.Steps {
		least[st.Name] = st.AtLeast
	}
	for _, st := range changed.Steps {
		if st.Time > 0 && st.Time < least[st.Name] {
			t.Errorf("%s for %v; at least %v", st.Name, st.Time, least[st.Name])
		}
	}
	if c.Temp != nil && (was.Temp == nil || *c.Temp != *was.Temp) && *c.Temp > 22 {
		t.Errorf("warmed to %v", *c.Temp)
	}
	v := r.Load.Vessel
	if c.Vessel != "" {
		v = c.Vessel
	}
	if r.Steps[0].Kind == Presoak && v == Tray && changed.Steps[0].Kind != Presoak {
		t.Error("the presoak of a stack is left out")
	}
}

// hurried holds that developing under five minutes is proposed only where nothing
// else keeps the limit.
func hurried(t *rapid.T, p *Plan) {
	hasty, otherwise := false, keeps(p, 0)
	for _, s := range p.Shorten {
		r, c, _ := p.Shortened(s)
		q, err := Resolve(r, c)
		if err != nil {
			t.Fatal(err)
		}
		warmed := s.Code == "warmer" || slices.ContainsFunc(s.Parts, func(x ShorteningPart) bool { return x.Code == "warmer" })
		short := slices.ContainsFunc(q.Steps, func(st PlanStep) bool { return st.Kind == Develop && st.Given < 5*time.Minute })
		hasty = hasty || warmed && short
		otherwise = otherwise || !(warmed && short) && keeps(&q, 0)
	}
	if hasty && otherwise {
		t.Errorf("developing under five minutes is proposed beside what keeps the limit without: %v", p.Shorten)
	}
}

// smallest holds that no smaller part of a combination would do, and that none is
// shown that misses the limit.
func smallest(t *rapid.T, p *Plan, s Shortening) {
	after := func(parts []ShorteningPart) *Plan {
		r, c, ok := p.Shortened(Shortening{Parts: parts})
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
	if !keeps(all, 0) {
		t.Errorf("the combination %v leaves %v", s.Parts, all.Wet.Margin)
	}
	margin := p.Recipe.Film.WetWarning
	if !keeps(all, margin) {
		margin = 0 // none leaves the warning's time: the limit alone counts
	}
	for i := range s.Parts {
		if less := after(slices.Delete(slices.Clone(s.Parts), i, i+1)); less != nil && keeps(less, margin) {
			t.Errorf("%v would do without its part %d", s.Parts, i)
		}
	}
}

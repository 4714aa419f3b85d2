package sequence

// Today's conditions, what is refused, what is cautioned against and what would
// shorten the wet time: both sides of each limit that the contract names.

import (
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"example.org/wetside/chem"
)

// code returns the level of a caution, "" where it is not given.
func code(p *Plan, code string) Level {
	for _, c := range p.Cautions {
		if c.Code == code {
			return c.Level
		}
	}
	return ""
}

// alone is one developing step of ten minutes in hangers, at 20 C.
func alone(k float64) Recipe {
	return recipeOf(Hangers, 2, bathFor(Develop, 10*mins).at(20, k))
}

// Drifting baths against scipy's quadrature (sources.md: derived): 10 min at 20 C,
// coefficient 1.9; within 0.001 min.
func TestDriftAgainstScipy(t *testing.T) {
	for _, c := range []struct {
		temp, towards float64
		drift         Elapsed
		minutes       float64
	}{{24, 18, 60 * mins, 7.92562}, {20, 16, 45 * mins, 10.27457}} {
		p := resolved(t, alone(1.9), Conditions{Temp: degrees(c.temp), Towards: degrees(c.towards), Drift: c.drift})
		if got := p.Steps[0].Given.Minutes(); math.Abs(got-c.minutes) > 0.001 {
			t.Errorf("from %v to %v: %.5f min; expected %.5f", c.temp, c.towards, got, c.minutes)
		}
	}
}

// A reading D before the first dip is where the bath was then: it has drifted since.
func TestReadBeforeTheFirstDip(t *testing.T) {
	late := Conditions{Temp: degrees(24), ReadBefore: 10 * mins, Towards: degrees(18), Drift: 60 * mins}
	at := 18 + 6*math.Exp(-1./6)
	same := Conditions{Temp: degrees(at), Towards: degrees(18), Drift: 60 * mins}
	a, b := resolved(t, alone(1.9), late), resolved(t, alone(1.9), same)
	if d := a.Steps[0].Given - b.Steps[0].Given; d.Abs() > time.Millisecond {
		t.Errorf("%v and %v; expected the same", a.Steps[0].Given, b.Steps[0].Given)
	}
	if got := float64(*a.Steps[0].Temperature); math.Abs(got-at) > 1e-9 {
		t.Errorf("starts at %.6f C; expected %.6f", got, at)
	}
	still := resolved(t, alone(2.2), Conditions{Temp: degrees(24), ReadBefore: time.Hour})
	if *still.Steps[0].Temperature != 24 {
		t.Errorf("without drift it stays at 24 C; got %v", *still.Steps[0].Temperature)
	}
}

// The factor multiplies developing time and nothing else.
func TestFactor(t *testing.T) {
	p := resolved(t, hung(), Conditions{Factor: 1.2})
	if got := p.Steps[1].Given; got != 612*sec {
		t.Errorf("develop %v; expected 510 x 1.2 = 612 s", got)
	}
	if p.Steps[0].Given != 2*mins || p.Steps[3].Given != 5*mins || p.Steps[1].Base != 510*sec {
		t.Error("the factor changed more than the developing time")
	}
	test := recipeOf(Hangers, 2, bathFor(Develop, 0).taking(5*mins, 10*mins), bathFor(StopBath, 30*sec))
	expectInstants(t, "taken out", of(resolved(t, test, Conditions{Factor: 0.5}).Cues, CueTakeOut, ""), 150, 300)
}

// The development is the entry N, else the first, else the one asked for.
func TestDevelopment(t *testing.T) {
	named := func(list ...NamedTime) Recipe {
		st := bathFor(Develop, 0)
		st.Times = list
		return recipeOf(Hangers, 2, st)
	}
	three := named(NamedTime{"N-1", 400 * sec}, NamedTime{"N", 510 * sec}, NamedTime{"N+1", 660 * sec})
	noN := named(NamedTime{"soft", 400 * sec}, NamedTime{"hard", 510 * sec})
	for _, c := range []struct {
		r    Recipe
		ask  string
		want Elapsed
	}{{three, "", 510 * sec}, {three, "N-1", 400 * sec}, {three, "N+1", 660 * sec}, {noN, "", 400 * sec}, {noN, "hard", 510 * sec}} {
		if got := resolved(t, c.r, Conditions{Development: c.ask}).Steps[0].Base; got != c.want {
			t.Errorf("%q: %v; expected %v", c.ask, got, c.want)
		}
	}
	if _, err := Resolve(three, Conditions{Development: "n"}); err == nil || !strings.Contains(err.Error(), `"n"`) {
		t.Errorf("development n: %v; expected a refusal that quotes it", err)
	}
	if _, err := Resolve(hung(), Conditions{Development: "N"}); err == nil {
		t.Error("a development of a recipe with one time; expected a refusal")
	}
}

// One fixing bath gets twice the clearing time, each of several in a row once
// (NAVEDTRA 14209 p. 249).
func TestClearing(t *testing.T) {
	fix := func() Step { return bathFor(Fix, 10*mins).offering(5 * mins) }
	rinse := bathFor(Rinse, mins)
	for _, c := range []struct {
		name  string
		steps []Step
		want  []Elapsed // of the fix steps
	}{
		{"one", []Step{bathFor(Develop, 8*mins), fix()}, []Elapsed{180 * sec}},
		{"two", []Step{bathFor(Develop, 8*mins), fix(), fix()}, []Elapsed{90 * sec, 90 * sec}},
		{"three", []Step{bathFor(Develop, 8*mins), fix(), fix(), fix()}, []Elapsed{90 * sec, 90 * sec, 90 * sec}},
		{"apart", []Step{bathFor(Develop, 8*mins), fix(), rinse, fix()}, []Elapsed{180 * sec, 180 * sec}},
	} {
		p := resolved(t, recipeOf(Hangers, 2, c.steps...), Conditions{Clearing: 90 * sec})
		var got []Elapsed
		for i := range p.Steps {
			if st := &p.Steps[i]; st.Kind == Fix {
				got = append(got, st.End-st.Start)
				if st.LightsOnAfter > st.Given {
					t.Errorf("%s: light after %v of %v", c.name, st.LightsOnAfter, st.Given)
				}
			}
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: fixed for %v; expected %v", c.name, got, c.want)
		}
	}
}

// A recipe's own time-temperature pairs hold at their entries, and 1 K beyond.
func TestTimeTable(t *testing.T) {
	r := alone(2.2)
	r.Steps[0].Time = 510 * sec
	r.Steps[0].Temperature = &Temperature{At: 20, Table: []chem.Pair{{T: 18, Seconds: 600}, {T: 20, Seconds: 510}, {T: 24, Seconds: 372}}}
	for _, c := range []struct{ temp, seconds float64 }{{18, 600}, {20, 510}, {24, 372},
		{22, math.Sqrt(510 * 372)}} { // ln(time) is linear in the temperature
		p := resolved(t, r, Conditions{Temp: degrees(c.temp)})
		if got := p.Steps[0].Given.Seconds(); math.Abs(got-c.seconds) > 1e-3 {
			t.Errorf("at %v C: %.4f s; expected %.4f", c.temp, got, c.seconds)
		}
	}
	for _, c := range []struct {
		temp    float64
		refused bool
	}{{17, false}, {16.99, true}, {25, false}, {25.01, true}} {
		if _, err := Resolve(r, Conditions{Temp: degrees(c.temp)}); (err != nil) != c.refused {
			t.Errorf("at %v C: %v; expected refused %v", c.temp, err, c.refused)
		}
	}
}

// Conditions at both sides of their bounds.
func TestConditionsRefused(t *testing.T) {
	for _, c := range []struct {
		name    string
		c       Conditions
		refused bool
	}{
		{"nothing", Conditions{}, false},
		{"0 C", Conditions{Temp: degrees(0)}, false},
		{"60 C", Conditions{Temp: degrees(60)}, false},
		{"below 0 C", Conditions{Temp: degrees(-0.1)}, true},
		{"above 60 C", Conditions{Temp: degrees(60.1)}, true},
		{"no number", Conditions{Temp: degrees(math.NaN())}, true},
		{"towards without drift", Conditions{Towards: degrees(18)}, true},
		{"drift without towards", Conditions{Drift: time.Hour}, true},
		{"both", Conditions{Towards: degrees(18), Drift: time.Hour}, false},
		{"towards no number", Conditions{Towards: degrees(math.NaN()), Drift: time.Hour}, true},
		{"drift backwards", Conditions{Towards: degrees(18), Drift: -time.Hour}, true},
		{"read after the first dip", Conditions{Temp: degrees(20), ReadBefore: -sec}, true},
		{"1 sheet", Conditions{Sheets: 1}, false},
		{"200 sheets", Conditions{Sheets: 200}, false},
		{"201 sheets", Conditions{Sheets: 201}, true},
		{"less than none", Conditions{Sheets: -1}, true},
		{"a vessel", Conditions{Vessel: Drum}, false},
		{"no vessel", Conditions{Vessel: "bucket"}, true},
		{"factor no number", Conditions{Factor: math.NaN()}, true},
		{"factor backwards", Conditions{Factor: -1}, true},
		{"clearing", Conditions{Clearing: mins}, false},
		{"clearing backwards", Conditions{Clearing: -mins}, true},
		{"wet limit", Conditions{WetLimit: mins}, false},
		{"wet limit backwards", Conditions{WetLimit: -mins}, true},
	} {
		if _, err := Resolve(hung(), c.c); (err != nil) != c.refused {
			t.Errorf("%s: %v; expected refused %v", c.name, err, c.refused)
		}
	}
	_, err := Resolve(hung(), Conditions{Sheets: 201, Vessel: "bucket", Factor: -1})
	for _, part := range []string{"201", `"bucket"`, "-1"} {
		if err == nil || !strings.Contains(err.Error(), part) {
			t.Errorf("%v; expected everything in one go, %s too", err, part)
		}
	}
	if _, err := Resolve(alone(2.2), Conditions{Clearing: mins}); err == nil {
		t.Error("a clearing time without a fixer; expected a refusal")
	}
}

// A recipe that no file could say is refused too, not walked into.
func TestEmptyRecipesRefused(t *testing.T) {
	for name, r := range map[string]Recipe{
		"no step":   recipeOf(Tray, 2),
		"no sheets": recipeOf(Tray, 0, bathFor(Develop, 8*mins)),
		"too many":  recipeOf(Tray, 201, bathFor(Presoak, 8*mins)),
		"no time":   recipeOf(Hangers, 2, bathFor(Develop, 0)),
	} {
		if _, err := Resolve(r, Conditions{}); err == nil {
			t.Errorf("%s: planned; expected a refusal", name)
		}
	}
}

// No light before a pan film is fixed, outside a closed vessel; the fix itself is
// before its end.
func TestLightBeforeFixing(t *testing.T) {
	for _, c := range []struct {
		v       Vessel
		film    Sensitivity
		light   Light
		at      int // develop, fix, second fix
		refused bool
		danger  bool
	}{
		{Tray, Pan, White, 0, true, false}, {Tray, Pan, Safelight, 0, true, false}, {Tray, Pan, White, 1, true, false},
		{Tray, Pan, White, 2, false, false}, {Drum, Pan, White, 0, false, false}, {DaylightTank, Pan, White, 0, false, false},
		{Tube, Pan, White, 1, false, false}, {Hangers, Pan, Safelight, 1, true, false}, {Cradle, Pan, White, 0, true, false},
		{Single, Pan, White, 0, true, false}, {Tray, Ortho, Safelight, 0, false, false}, {Tray, Blue, Safelight, 1, false, false},
		{Tray, Ortho, White, 0, false, true}, {Drum, Ortho, White, 0, false, false},
	} {
		r := recipeOf(c.v, 1, bathFor(Develop, 8*mins), bathFor(Fix, 5*mins), bathFor(Fix, 5*mins))
		r.Film.Sensitivity = c.film
		r.Steps[c.at].RoomLight = c.light
		p, err := Resolve(r, Conditions{})
		if (err != nil) != c.refused {
			t.Errorf("%+v: %v", c, err)
		}
		if err == nil && (code(&p, "light") == Danger) != c.danger {
			t.Errorf("%+v: light %q", c, code(&p, "light"))
		}
	}
}

// Drains are inside the time, so shorter than it.
func TestDrainRefused(t *testing.T) {
	for _, c := range []struct {
		drain   Elapsed
		refused bool
	}{{30*sec - 1, false}, {30 * sec, true}} {
		r := recipeOf(Hangers, 2, bathFor(StopBath, 30*sec).drained(c.drain))
		if _, err := Resolve(r, Conditions{}); (err != nil) != c.refused {
			t.Errorf("drain %v of 30 s: %v; expected refused %v", c.drain, err, c.refused)
		}
	}
}

// Each caution at both sides of its limit, with its level and code.
func TestCautions(t *testing.T) {
	type change func(*Recipe, *Conditions)
	bath := func(b Bath) change {
		return func(r *Recipe, _ *Conditions) {
			b.ID = "developer"
			r.Baths, r.Steps[1].Bath = []Bath{b}, "developer"
		}
	}
	limit := func(d, warning Elapsed) change {
		return func(r *Recipe, _ *Conditions) { r.Film.WetLimit.All, r.Film.WetWarning = d, warning }
	}
	temp := func(c float64) change { return func(_ *Recipe, co *Conditions) { co.Temp = degrees(c) } }
	fixAt := func(c float64) change {
		return func(r *Recipe, _ *Conditions) { r.Steps[3].Temperature = &Temperature{At: chem.Celsius(c)} }
	}
	ranged := func(c float64) change {
		return func(r *Recipe, co *Conditions) {
			co.Temp, r.Steps[1].Temperature.Range = degrees(c), []chem.Celsius{18, 24}
		}
	}
	develops := func(d Elapsed) change { return func(r *Recipe, _ *Conditions) { r.Steps[1].Time = d } }
	parts := []chem.Part{{Name: "A", Parts: 1}, {Name: "water", Parts: 9}}
	for _, c := range []struct {
		name   string
		change change
		code   string
		level  Level
	}{ // hung(): 960 s wet, 4 sheets of 4x5in, developer until 630 s
		{"wet limit reached", limit(960*sec, mins), "wet-limit", ""},
		{"wet limit passed", limit(960*sec-1e6, mins), "wet-limit", Danger},
		{"as much left as the warning", limit(1020*sec, mins), "wet-warning", ""},
		{"less left than the warning", limit(1020*sec-1e6, mins), "wet-warning", Care},
		{"five minutes", develops(5 * mins), "short-develop", ""},
		{"less than five minutes", develops(5*mins - 1e6), "short-develop", Care},
		{"24 C", temp(24), "warm-gelatin", ""},
		{"over 24 C", temp(24.01), "warm-gelatin", Care},
		{"at the range's end", ranged(24), "temperature-range", ""},
		{"outside the range", ranged(24.01), "temperature-range", Care},
		{"at the range's beginning", ranged(18), "temperature-range", ""},
		{"there in Fahrenheit", ranged((64.4 - 32) / 1.8), "temperature-range", ""},
		{"at its end in Fahrenheit", ranged((75.2 - 32) / 1.8), "temperature-range", ""},
		{"24 C in Fahrenheit", temp((75.2 - 32) / 1.8), "warm-gelatin", ""},
		{"under the range", ranged(17.99), "temperature-range", Care},
		{"baths 2.8 K apart", fixAt(22.8), "bath-spread", ""},
		{"baths over 2.8 K apart", fixAt(22.81), "bath-spread", Care},
		{"baths 2.8 K apart, colder", fixAt(17.2), "bath-spread", ""},
		{"enough stock", bath(Bath{Parts: parts, Volume: 80, StockPerSheet: 2}), "stock-short", ""},
		{"too little stock", bath(Bath{Parts: parts, Volume: 79.9, StockPerSheet: 2}), "stock-short", Danger},
		{"enough capacity", bath(Bath{Volume: 1000, SheetsPerLitre: 4}), "capacity", ""},
		{"over capacity", bath(Bath{Volume: 999, SheetsPerLitre: 4}), "capacity", Care},
		{"fresh", bath(Bath{TrayLife: 630 * sec}), "stale", ""},
		{"stale", bath(Bath{TrayLife: 630*sec - 1e6}), "stale", Danger},
		{"limit known", limit(time.Hour, mins), "limit-unknown", ""},
		{"limit not known", func(*Recipe, *Conditions) {}, "limit-unknown", Care},
		{"in the recipe's vessel", func(_ *Recipe, c *Conditions) { c.Vessel = Hangers }, "other-vessel", ""},
		{"in another vessel", func(_ *Recipe, c *Conditions) { c.Vessel = Cradle }, "other-vessel", Care},
		{"in the vessel of the film test", func(r *Recipe, c *Conditions) {
			r.Steps[1].Growth, c.Vessel = &Growth{Limit: 1, K: 0.1, Film: r.Film.Name, Vessel: Cradle}, Cradle
		}, "other-vessel", ""},
		{"not in that of the film test", func(r *Recipe, _ *Conditions) {
			r.Steps[1].Growth = &Growth{Limit: 1, K: 0.1, Film: r.Film.Name, Vessel: Cradle}
		}, "other-vessel", Care},
		{"open vessel", func(*Recipe, *Conditions) {}, "load-dark", ""},
		{"closed vessel", func(_ *Recipe, c *Conditions) { c.Vessel = DaylightTank }, "load-dark", Note},
		{"developer at 13 C", temp(13), "cold-developer", ""},
		{"developer under 13 C", temp(12.9), "cold-developer", Danger},
		{"chemistry", bath(Bath{Cautions: []string{"Wear gloves."}}), "chemistry", Note},
	} {
		r, co := hung(), Conditions{}
		c.change(&r, &co)
		if got := code(resolved(t, r, co), c.code); got != c.level {
			t.Errorf("%s: %s is %q; expected %q", c.name, c.code, got, c.level)
		}
	}
	whole := hung()
	whole.Film.WetLimit.All = time.Hour
	if p := resolved(t, whole, Conditions{}); len(p.Cautions) > 0 {
		t.Errorf("nothing is wrong, and yet: %v", p.Cautions)
	}
}

// Bigger sheets count by their area: 8x10in is four of 4x5in.
func TestCapacityByArea(t *testing.T) {
	r := hung()
	r.Baths = []Bath{{ID: "developer", Volume: 4000, SheetsPerLitre: 4}}
	r.Load.Size = Size{Name: "8x10in", Width: 8, Height: 10}
	if got := code(resolved(t, r, Conditions{}), "capacity"); got != "" {
		t.Errorf("4 sheets of 8x10in in 4 l at 4 a litre: %q; expected just enough", got)
	}
	if got := code(resolved(t, r, Conditions{Sheets: 5}), "capacity"); got != Care {
		t.Errorf("5 sheets of 8x10in: %q; expected care", got)
	}
}

// Whole rounds: told where the interval had to change by more than a quarter.
func TestRoundsCaution(t *testing.T) {
	for _, c := range []struct {
		window Elapsed // 2 sheets, a turn each 10 s
		level  Level
	}{{16 * sec, ""}, {25 * sec, ""}, {25100 * time.Millisecond, Note},
		{29900 * time.Millisecond, Note}, {30 * sec, ""}, {40 * sec, ""}} {
		p := resolved(t, recipeOf(Tray, 2, bathFor(Presoak, c.window).shuffled()), Conditions{})
		if got := code(p, "rounds"); got != c.level {
			t.Errorf("window of %v: %q; expected %q", c.window, got, c.level)
		}
	}
}

// Limits by vessel: shares add up; a vessel without a limit counts nothing; where
// the load's vessel has none, nothing is said.
func TestLimitsByVessel(t *testing.T) {
	r := recipeOf(Tray, 1, bathFor(Develop, 8*mins), bathFor(Fix, 4*mins), bathFor(Wash, 20*mins).into(Hangers))
	r.Film.WetLimit.ByVessel = map[Vessel]Elapsed{Tray: 18 * mins, Hangers: 75 * mins}
	w := resolved(t, r, Conditions{}).Wet
	used := 12./18 + 20./75
	if math.Abs(*w.Used-used) > 1e-9 || math.Abs(w.Margin.Seconds()-(1-used)*18*60) > 1e-3 || *w.Limit != 18*mins {
		t.Errorf("used %v margin %v limit %v; expected %v, %v, 18 min", *w.Used, *w.Margin, *w.Limit, used, (1-used)*18*60)
	}
	delete(r.Film.WetLimit.ByVessel, Hangers)
	if w := resolved(t, r, Conditions{}).Wet; math.Abs(*w.Used-12./18) > 1e-9 {
		t.Errorf("used %v; expected 12/18, the hangers count nothing", *w.Used)
	}
	r.Film.WetLimit.ByVessel = map[Vessel]Elapsed{Hangers: 75 * mins}
	p := resolved(t, r, Conditions{})
	if w := p.Wet; w.Limit != nil || w.Used != nil || w.Margin != nil || w.WarningAt != nil || w.Total != 32*mins {
		t.Errorf("%+v; expected no limit, used, margin or warning, 32 min in all", w)
	}
	if w := resolved(t, r, Conditions{WetLimit: 40 * mins}).Wet; w.Limit == nil || *w.Limit != 40*mins {
		t.Errorf("%+v; expected the limit given, 40 min", w)
	}
}

// wet = false is outside the wet time.
func TestDryStep(t *testing.T) {
	p := resolved(t, recipeOf(Hangers, 1, bathFor(Develop, 8*mins), bathFor(Wash, 10*mins), bathFor(Other, 30*mins).outsideWet()), Conditions{})
	if p.Wet.Total != 18*mins || p.Wet.Session != 18*mins {
		t.Errorf("wet %v, session %v; expected 18 min twice", p.Wet.Total, p.Wet.Session)
	}
}

// slow is a stack that stays wet too long and offers every way of shortening.
func slow() Recipe {
	r := recipeOf(Tray, 6,
		bathFor(Presoak, 2*mins).shuffled().optionally(),
		bathFor(Develop, 9*mins).at(20, 2.2).shuffled(),
		bathFor(StopBath, mins).shuffled().optionally(),
		bathFor(Fix, 7*mins).shuffled().sparing(4*mins),
		bathFor(Wash, 30*mins).shuffled().lit(White).sparing(6*mins))
	r.Film.WetLimit.ByVessel = map[Vessel]Elapsed{Tray: 20 * mins, Hangers: 75 * mins}
	return r
}

// What each proposal says that it saves is what it saves, planned again by hand.
func TestShortenSavesWhatItSays(t *testing.T) {
	edits := map[string]func(*Recipe, *Conditions){
		"vessel wash":      func(r *Recipe, _ *Conditions) { r.Steps[4].Vessel = Hangers },
		"at-least fix":     func(r *Recipe, _ *Conditions) { r.Steps[3].Time = 5 * mins }, // never less without a clearing time
		"at-least wash":    func(r *Recipe, _ *Conditions) { r.Steps[4].Time = 6 * mins },
		"cradle ":          func(_ *Recipe, c *Conditions) { c.Vessel = Cradle },
		"fewer ":           func(_ *Recipe, c *Conditions) { c.Sheets = 3 },
		"leave-out stop":   func(r *Recipe, _ *Conditions) { r.Steps = slices.Delete(slices.Clone(r.Steps), 2, 3) },
		"warmer develop":   func(_ *Recipe, c *Conditions) { c.Temp = degrees(22) },
		"wash-aid wash":    func(r *Recipe, _ *Conditions) { r.Steps = aided(r.Steps, 6*mins) },
		"leave-out absent": nil,
	}
	p := resolved(t, slow(), Conditions{})
	seen := map[string]bool{}
	for _, s := range p.Shorten {
		if s.Code == "together" {
			continue
		}
		key := s.Code + " " + s.Step
		edit := edits[key]
		if edit == nil {
			t.Errorf("proposed: %s (%s); expected none such", key, s.Text)
			continue
		}
		r, c := slow(), Conditions{}
		edit(&r, &c)
		if got, want := s.Saves, p.Wet.Total-resolved(t, r, c).Wet.Total; !near(got, want) {
			t.Errorf("%s saves %v; planned again %v", key, got, want)
		}
		seen[key] = true
	}
	for key := range edits {
		if edits[key] != nil && !seen[key] {
			t.Errorf("%s is not proposed: %v", key, p.Shorten)
		}
	}
}

// aided puts 30 s of rinse and 2 min of clearing aid before a shorter wash
// (US Army SS0509 pp. 18, 24), in the vessel and the light of the wash.
func aided(steps []Step, wash Elapsed) []Step {
	last := len(steps) - 1
	rinse, aid, short := steps[last], steps[last], steps[last]
	rinse.Name, rinse.Kind, rinse.Time, rinse.AtLeast = "rinse", Rinse, 30*sec, 0
	aid.Name, aid.Kind, aid.Time, aid.AtLeast = "aid", WashAid, 2*mins, 0
	short.Time = wash
	return append(slices.Clone(steps[:last]), rinse, aid, short)
}

// Kindest first; single changes before a combination, which keeps the limit.
func TestShortenInOrder(t *testing.T) {
	order := []string{"vessel", "wash-aid", "at-least", "cradle", "fewer", "hardener", "cooler", "leave-out", "warmer", "together"}
	p := resolved(t, slow(), Conditions{})
	last := -1
	for _, s := range p.Shorten {
		i := slices.Index(order, s.Code)
		if i < last {
			t.Errorf("%s comes after %s", s.Code, order[last])
		}
		last = i
	}
	r := slow()
	r.Film.WetLimit = WetLimit{All: 22 * mins}
	p = resolved(t, r, Conditions{})
	i := slices.IndexFunc(p.Shorten, func(s Shortening) bool { return s.Code == "together" })
	if i < 0 {
		t.Fatalf("no combination: %v", p.Shorten)
	}
	changed, c, ok := p.Shortened(p.Shorten[i])
	if !ok {
		t.Fatal("the combination cannot be carried out")
	}
	q := resolved(t, changed, c)
	if *q.Wet.Used > 1 || !near(p.Wet.Total-q.Wet.Total, p.Shorten[i].Saves) {
		t.Errorf("together: used %v, saves %v; said %v", *q.Wet.Used, p.Wet.Total-q.Wet.Total, p.Shorten[i].Saves)
	}
}

// Never warmer above 22 C, nor past the recipe's own range.
func TestNeverWarmerAbove22(t *testing.T) {
	has := func(p *Plan, code string) bool {
		return slices.ContainsFunc(p.Shorten, func(s Shortening) bool { return s.Code == code })
	}
	for _, temp := range []float64{22, 23} {
		if has(resolved(t, slow(), Conditions{Temp: degrees(temp)}), "warmer") {
			t.Errorf("warmer is proposed at %v C", temp)
		}
	}
	r := slow()
	r.Steps[1].Temperature.Range = []chem.Celsius{18, 20}
	if has(resolved(t, r, Conditions{}), "warmer") {
		t.Error("warmer than the recipe's range is proposed")
	}
}

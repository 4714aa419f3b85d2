package planning

// Today's conditions, what is refused, what is cautioned against and what would
// shorten the wet time: both sides of each limit that the contract names.

import (
	"fmt"
	"math"
	"slices"
	"testing"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/recipetest"
)

// code returns the level of a caution, "" where it is not given.
func code(p *sequence.Plan, code string) sequence.Level {
	for _, c := range p.Cautions {
		if c.Code == code {
			return c.Level
		}
	}
	return ""
}

// alone is one developing step of ten minutes in hangers, at 20 C.
func alone(k float64) sequence.Recipe {
	return recipetest.Recipe(sequence.Hangers, 2, recipetest.At(recipetest.Bath(sequence.Develop, 10*recipetest.Minute), 20, k))
}

// Drifting baths against scipy's quadrature (sources.md: derived): 10 min at 20 C,
// coefficient 1.9; within 0.001 min.
func TestDriftAgainstScipy(t *testing.T) {
	for _, c := range []struct {
		temp, towards float64
		drift         sequence.Elapsed
		minutes       float64
	}{{24, 18, 60 * recipetest.Minute, 7.92562}, {20, 16, 45 * recipetest.Minute, 10.27457}} {
		p := Resolved(t, alone(1.9), sequence.Conditions{BathTemperature: recipetest.Degrees(c.temp), SettlesAt: recipetest.Degrees(c.towards), TimeConstant: c.drift})
		if got := p.Steps[0].Given.Minutes(); math.Abs(got-c.minutes) > 0.001 {
			t.Errorf("from %v to %v: %.5f min; expected %.5f", c.temp, c.towards, got, c.minutes)
		}
	}
}

// A reading D before the first sheet goes in is where the bath was then: it has drifted since.
func TestReadBeforeTheFirstDip(t *testing.T) {
	late := sequence.Conditions{BathTemperature: recipetest.Degrees(24), ReadBefore: 10 * recipetest.Minute, SettlesAt: recipetest.Degrees(18), TimeConstant: 60 * recipetest.Minute}
	at := 18 + 6*math.Exp(-1./6)
	same := sequence.Conditions{BathTemperature: recipetest.Degrees(at), SettlesAt: recipetest.Degrees(18), TimeConstant: 60 * recipetest.Minute}
	a, b := Resolved(t, alone(1.9), late), Resolved(t, alone(1.9), same)
	if d := a.Steps[0].Given - b.Steps[0].Given; d.Abs() > time.Millisecond {
		t.Errorf("%v and %v; expected the same", a.Steps[0].Given, b.Steps[0].Given)
	}
	if got := float64(*a.Steps[0].Temperature); math.Abs(got-at) > 1e-9 {
		t.Errorf("starts at %.6f C; expected %.6f", got, at)
	}
	still := Resolved(t, alone(2.2), sequence.Conditions{BathTemperature: recipetest.Degrees(24), ReadBefore: time.Hour})
	if *still.Steps[0].Temperature != 24 {
		t.Errorf("without drift it stays at 24 C; got %v", *still.Steps[0].Temperature)
	}
}

// The factor multiplies developing time and nothing else.
func TestFactor(t *testing.T) {
	p := Resolved(t, recipetest.FourInHangers(), sequence.Conditions{Factor: 1.2})
	if got := p.Steps[1].Given; got != 612*recipetest.Second {
		t.Errorf("develop %v; expected 510 x 1.2 = 612 s", got)
	}
	if p.Steps[0].Given != 2*recipetest.Minute || p.Steps[3].Given != 5*recipetest.Minute || p.Steps[1].Base != 510*recipetest.Second {
		t.Error("the factor changed more than the developing time")
	}
	test := recipetest.Recipe(sequence.Hangers, 2, recipetest.Pulled(recipetest.Bath(sequence.Develop, 0), 5*recipetest.Minute, 10*recipetest.Minute), recipetest.Bath(sequence.StopBath, 30*recipetest.Second))
	recipetest.ExpectInstants(t, "pulled", recipetest.CuesOf(Resolved(t, test, sequence.Conditions{Factor: 0.5}).Cues, sequence.CuePull, ""), 150, 300)
}

// The development is the entry N, else the first, else the one asked for.
func TestDevelopment(t *testing.T) {
	named := func(list ...sequence.NamedTime) sequence.Recipe {
		st := recipetest.Bath(sequence.Develop, 0)
		st.Times = list
		return recipetest.Recipe(sequence.Hangers, 2, st)
	}
	three := named(sequence.NamedTime{Name: "N-1", Time: 400 * recipetest.Second}, sequence.NamedTime{Name: "N", Time: 510 * recipetest.Second}, sequence.NamedTime{Name: "N+1", Time: 660 * recipetest.Second})
	noN := named(sequence.NamedTime{Name: "soft", Time: 400 * recipetest.Second}, sequence.NamedTime{Name: "hard", Time: 510 * recipetest.Second})
	for _, c := range []struct {
		r    sequence.Recipe
		ask  string
		want sequence.Elapsed
	}{{three, "", 510 * recipetest.Second}, {three, "N-1", 400 * recipetest.Second}, {three, "N+1", 660 * recipetest.Second}, {noN, "", 400 * recipetest.Second}, {noN, "hard", 510 * recipetest.Second}} {
		if got := Resolved(t, c.r, sequence.Conditions{Development: c.ask}).Steps[0].Base; got != c.want {
			t.Errorf("%q: %v; expected %v", c.ask, got, c.want)
		}
	}
	_, err := Resolve(three, sequence.Conditions{Development: "n"})
	refusedAs(t, "development n", err, "development")
	if why := err.(sequence.RefusedError)[0]; why.Words != "n" || !slices.Equal(why.Names, []string{"N-1", "N", "N+1"}) {
		t.Errorf("%+v; expected what was asked for and what there is", why)
	}
	_, err = Resolve(recipetest.FourInHangers(), sequence.Conditions{Development: "N"})
	refusedAs(t, "a development of a recipe with one time", err, "development")
}

// One fixing bath gets twice the clearing time, each of several in a row once
// (NAVEDTRA 14209 p. 249).
func TestClearing(t *testing.T) {
	fix := func() sequence.Step {
		return recipetest.LightsOnAfter(recipetest.Bath(sequence.Fix, 10*recipetest.Minute), 5*recipetest.Minute)
	}
	rinse := recipetest.Bath(sequence.Rinse, recipetest.Minute)
	for _, c := range []struct {
		name  string
		steps []sequence.Step
		want  []sequence.Elapsed // of the fix steps
	}{
		{"one", []sequence.Step{recipetest.Bath(sequence.Develop, 8*recipetest.Minute), fix()}, []sequence.Elapsed{180 * recipetest.Second}},
		{"two", []sequence.Step{recipetest.Bath(sequence.Develop, 8*recipetest.Minute), fix(), fix()}, []sequence.Elapsed{90 * recipetest.Second, 90 * recipetest.Second}},
		{"three", []sequence.Step{recipetest.Bath(sequence.Develop, 8*recipetest.Minute), fix(), fix(), fix()}, []sequence.Elapsed{90 * recipetest.Second, 90 * recipetest.Second, 90 * recipetest.Second}},
		{"apart", []sequence.Step{recipetest.Bath(sequence.Develop, 8*recipetest.Minute), fix(), rinse, fix()}, []sequence.Elapsed{180 * recipetest.Second, 180 * recipetest.Second}},
	} {
		p := Resolved(t, recipetest.Recipe(sequence.Hangers, 2, c.steps...), sequence.Conditions{Clearing: 90 * recipetest.Second})
		var got []sequence.Elapsed
		for i := range p.Steps {
			if st := &p.Steps[i]; st.Kind == sequence.Fix {
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
	r.Steps[0].Time = 510 * recipetest.Second
	r.Steps[0].Temperature = &sequence.Temperature{At: 20, Table: []chem.Pair{{T: 18, Seconds: 600}, {T: 20, Seconds: 510}, {T: 24, Seconds: 372}}}
	for _, c := range []struct{ temp, seconds float64 }{{18, 600}, {20, 510}, {24, 372},
		{22, math.Sqrt(510 * 372)}} { // ln(time) is linear in the temperature
		p := Resolved(t, r, sequence.Conditions{BathTemperature: recipetest.Degrees(c.temp)})
		if got := p.Steps[0].Given.Seconds(); math.Abs(got-c.seconds) > 1e-3 {
			t.Errorf("at %v C: %.4f s; expected %.4f", c.temp, got, c.seconds)
		}
	}
	for _, c := range []struct {
		temp    float64
		refused bool
	}{{17, false}, {16.99, true}, {25, false}, {25.01, true}} {
		if _, err := Resolve(r, sequence.Conditions{BathTemperature: recipetest.Degrees(c.temp)}); (err != nil) != c.refused {
			t.Errorf("at %v C: %v; expected refused %v", c.temp, err, c.refused)
		}
	}
}

// Conditions at both sides of their bounds.
func TestConditionsRefused(t *testing.T) {
	for _, c := range []struct {
		name    string
		c       sequence.Conditions
		refused string // "" for a plan
	}{
		{"nothing", sequence.Conditions{}, ""},
		{"0 C", sequence.Conditions{BathTemperature: recipetest.Degrees(0)}, ""},
		{"60 C", sequence.Conditions{BathTemperature: recipetest.Degrees(60)}, ""},
		{"below 0 C", sequence.Conditions{BathTemperature: recipetest.Degrees(-0.1)}, "temperature"},
		{"above 60 C", sequence.Conditions{BathTemperature: recipetest.Degrees(60.1)}, "temperature"},
		{"no number", sequence.Conditions{BathTemperature: recipetest.Degrees(math.NaN())}, "temperature"},
		{"towards without drift", sequence.Conditions{SettlesAt: recipetest.Degrees(18)}, "drift-half"},
		{"drift without towards", sequence.Conditions{TimeConstant: time.Hour}, "drift-half"},
		{"both", sequence.Conditions{SettlesAt: recipetest.Degrees(18), TimeConstant: time.Hour}, ""},
		{"towards no number", sequence.Conditions{SettlesAt: recipetest.Degrees(math.NaN()), TimeConstant: time.Hour}, "settles-at"},
		{"drift backwards", sequence.Conditions{SettlesAt: recipetest.Degrees(18), TimeConstant: -time.Hour}, "drift-negative"},
		{"read after the first sheet goes in", sequence.Conditions{BathTemperature: recipetest.Degrees(20), ReadBefore: -recipetest.Second}, "drift-negative"},
		{"1 sheet", sequence.Conditions{Sheets: 1}, ""},
		{"200 sheets", sequence.Conditions{Sheets: 200}, ""},
		{"201 sheets", sequence.Conditions{Sheets: 201}, "sheets"},
		{"less than none", sequence.Conditions{Sheets: -1}, "sheets"},
		{"a vessel", sequence.Conditions{Vessel: sequence.Drum}, ""},
		{"no vessel", sequence.Conditions{Vessel: "bucket"}, "vessel"},
		{"factor no number", sequence.Conditions{Factor: math.NaN()}, "factor"},
		{"factor backwards", sequence.Conditions{Factor: -1}, "factor"},
		{"clearing", sequence.Conditions{Clearing: recipetest.Minute}, ""},
		{"clearing backwards", sequence.Conditions{Clearing: -recipetest.Minute}, "clearing-time"},
		{"wet limit", sequence.Conditions{WetLimit: recipetest.Minute}, ""},
		{"wet limit backwards", sequence.Conditions{WetLimit: -recipetest.Minute}, "wet-limit"},
	} {
		_, err := Resolve(recipetest.FourInHangers(), c.c)
		if c.refused == "" {
			refusedAs(t, c.name, err)
			continue
		}
		refusedAs(t, c.name, err, c.refused)
	}
	_, err := Resolve(recipetest.FourInHangers(), sequence.Conditions{Sheets: 201, Vessel: "bucket", Factor: -1})
	refusedAs(t, "everything in one go", err, "sheets", "vessel", "factor")
	_, err = Resolve(alone(2.2), sequence.Conditions{Clearing: recipetest.Minute})
	refusedAs(t, "a clearing time without a fixer", err, "nothing-to-clear")
	_, err = Resolve(recipetest.Recipe(sequence.Hangers, 1, recipetest.Bath(sequence.Fix, recipetest.Minute)), sequence.Conditions{Factor: 1.2})
	refusedAs(t, "a factor of nothing", err, "nothing-to-multiply")
}

// A recipe that no file could say is refused too, not walked into.
func TestEmptyRecipesRefused(t *testing.T) {
	names := recipetest.Recipe(sequence.Hangers, 2, recipetest.Bath(sequence.Develop, 8*recipetest.Minute))
	names.Load.Names = []string{"1A"}
	for code, r := range map[string]sequence.Recipe{
		"no-step":        recipetest.Recipe(sequence.Tray, 2),
		"sheets":         recipetest.Recipe(sequence.Tray, 0, recipetest.Bath(sequence.Develop, 8*recipetest.Minute)),
		"sheets-named":   names,
		"drain-too-long": recipetest.Recipe(sequence.Hangers, 2, recipetest.Bath(sequence.Develop, 0)),
	} {
		_, err := Resolve(r, sequence.Conditions{})
		refusedAs(t, code, err, code)
	}
	_, err := Resolve(recipetest.Recipe(sequence.Tray, 201, recipetest.Bath(sequence.Presoak, 8*recipetest.Minute)), sequence.Conditions{})
	refusedAs(t, "too many", err, "sheets")
}

// No light before a pan film is fixed, outside a closed vessel; the fix itself is
// before its end.
func TestLightBeforeFixing(t *testing.T) {
	for _, c := range []struct {
		v       sequence.Vessel
		Stays   sequence.Sensitivity
		light   sequence.Light
		at      int // develop, fix, second fix
		refused bool
		danger  bool
	}{
		{sequence.Tray, sequence.Pan, sequence.White, 0, true, false}, {sequence.Tray, sequence.Pan, sequence.Safelight, 0, true, false}, {sequence.Tray, sequence.Pan, sequence.White, 1, true, false},
		{sequence.Tray, sequence.Pan, sequence.White, 2, false, false}, {sequence.Drum, sequence.Pan, sequence.White, 0, false, false}, {sequence.DaylightTank, sequence.Pan, sequence.White, 0, false, false},
		{sequence.Tube, sequence.Pan, sequence.White, 1, false, false}, {sequence.Hangers, sequence.Pan, sequence.Safelight, 1, true, false}, {sequence.Cradle, sequence.Pan, sequence.White, 0, true, false},
		{sequence.SingleTrays, sequence.Pan, sequence.White, 0, true, false}, {sequence.Tray, sequence.Ortho, sequence.Safelight, 0, false, false}, {sequence.Tray, sequence.Blue, sequence.Safelight, 1, false, false},
		{sequence.Tray, sequence.Ortho, sequence.White, 0, false, true}, {sequence.Drum, sequence.Ortho, sequence.White, 0, false, false},
	} {
		r := recipetest.Recipe(c.v, 1, recipetest.Bath(sequence.Develop, 8*recipetest.Minute), recipetest.Bath(sequence.Fix, 5*recipetest.Minute), recipetest.Bath(sequence.Fix, 5*recipetest.Minute))
		r.Film.Sensitivity = c.Stays
		r.Steps[c.at].RoomLight = c.light
		p, err := Resolve(r, sequence.Conditions{})
		if c.refused {
			refusedAs(t, fmt.Sprintf("%+v", c), err, "light-fogs")
		} else if err != nil {
			t.Errorf("%+v: %v", c, err)
		}
		if err == nil && (code(&p, "light") == sequence.Danger) != c.danger {
			t.Errorf("%+v: light %q", c, code(&p, "light"))
		}
	}
}

// Drains are inside the time, so shorter than it.
func TestDrainRefused(t *testing.T) {
	for _, c := range []struct {
		drain   sequence.Elapsed
		refused bool
	}{{30*recipetest.Second - 1, false}, {30 * recipetest.Second, true}} {
		r := recipetest.Recipe(sequence.Hangers, 2, recipetest.Drained(recipetest.Bath(sequence.StopBath, 30*recipetest.Second), c.drain))
		if _, err := Resolve(r, sequence.Conditions{}); (err != nil) != c.refused {
			t.Errorf("drain %v of 30 s: %v; expected refused %v", c.drain, err, c.refused)
		}
	}
}

// Each caution at both sides of its limit, with its level and code.
func TestCautions(t *testing.T) {
	type change func(*sequence.Recipe, *sequence.Conditions)
	bath := func(b sequence.Bath) change {
		return func(r *sequence.Recipe, _ *sequence.Conditions) {
			b.ID = "developer"
			r.Baths, r.Steps[1].Bath = []sequence.Bath{b}, "developer"
		}
	}
	limit := func(d, warning sequence.Elapsed) change {
		return func(r *sequence.Recipe, _ *sequence.Conditions) { r.Film.WetLimit.All, r.Film.WetWarning = d, warning }
	}
	temp := func(c float64) change {
		return func(_ *sequence.Recipe, co *sequence.Conditions) { co.BathTemperature = recipetest.Degrees(c) }
	}
	fixAt := func(c float64) change {
		return func(r *sequence.Recipe, _ *sequence.Conditions) {
			r.Steps[3].Temperature = &sequence.Temperature{At: chem.Celsius(c)}
		}
	}
	ranged := func(c float64) change {
		return func(r *sequence.Recipe, co *sequence.Conditions) {
			co.BathTemperature, r.Steps[1].Temperature.Range = recipetest.Degrees(c), []chem.Celsius{18, 24}
		}
	}
	develops := func(d sequence.Elapsed) change {
		return func(r *sequence.Recipe, _ *sequence.Conditions) { r.Steps[1].Time = d }
	}
	parts := []chem.Part{{Name: "A", Parts: 1}, {Name: "water", Parts: 9}}
	for _, c := range []struct {
		name   string
		change change
		code   string
		level  sequence.Level
	}{ // hung(): 960 s wet, 4 sheets of 4x5in, developer until 630 s
		{"wet limit reached", limit(960*recipetest.Second, recipetest.Minute), "wet-limit", ""},
		{"wet limit passed", limit(960*recipetest.Second-1e6, recipetest.Minute), "wet-limit", sequence.Danger},
		{"as much left as the warning", limit(1020*recipetest.Second, recipetest.Minute), "wet-warning", ""},
		{"less left than the warning", limit(1020*recipetest.Second-1e6, recipetest.Minute), "wet-warning", sequence.Care},
		{"five minutes", develops(5 * recipetest.Minute), "short-develop", ""},
		{"less than five minutes", develops(5*recipetest.Minute - 1e6), "short-develop", sequence.Care},
		{"24 C", temp(24), "warm-gelatin", ""},
		{"over 24 C", temp(24.01), "warm-gelatin", sequence.Care},
		{"at the range's end", ranged(24), "temperature-range", ""},
		{"outside the range", ranged(24.01), "temperature-range", sequence.Care},
		{"at the range's beginning", ranged(18), "temperature-range", ""},
		{"there in Fahrenheit", ranged((64.4 - 32) / 1.8), "temperature-range", ""},
		{"at its end in Fahrenheit", ranged((75.2 - 32) / 1.8), "temperature-range", ""},
		{"24 C in Fahrenheit", temp((75.2 - 32) / 1.8), "warm-gelatin", ""},
		{"under the range", ranged(17.99), "temperature-range", sequence.Care},
		{"baths 2.8 K apart", fixAt(22.8), "bath-spread", ""},
		{"baths over 2.8 K apart", fixAt(22.81), "bath-spread", sequence.Care},
		{"baths 2.8 K apart, colder", fixAt(17.2), "bath-spread", ""},
		{"enough stock", bath(sequence.Bath{Parts: parts, Volume: 80, StockPerSheet: 2}), "stock-short", ""},
		{"too little stock", bath(sequence.Bath{Parts: parts, Volume: 79.9, StockPerSheet: 2}), "stock-short", sequence.Danger},
		{"enough capacity", bath(sequence.Bath{Volume: 1000, SheetsPerLitre: 4}), "capacity", ""},
		{"over capacity", bath(sequence.Bath{Volume: 999, SheetsPerLitre: 4}), "capacity", sequence.Care},
		{"fresh", bath(sequence.Bath{WorkingLife: 630 * recipetest.Second}), "stale", ""},
		{"stale", bath(sequence.Bath{WorkingLife: 630*recipetest.Second - 1e6}), "stale", sequence.Danger},
		{"limit known", limit(time.Hour, recipetest.Minute), "limit-unknown", ""},
		{"limit not known", func(*sequence.Recipe, *sequence.Conditions) {}, "limit-unknown", sequence.Care},
		{"in the recipe's vessel", func(_ *sequence.Recipe, c *sequence.Conditions) { c.Vessel = sequence.Hangers }, "other-vessel", ""},
		{"in another vessel", func(_ *sequence.Recipe, c *sequence.Conditions) { c.Vessel = sequence.Cradle }, "other-vessel", sequence.Care},
		{"in the vessel of the film test", func(r *sequence.Recipe, c *sequence.Conditions) {
			r.Steps[1].Growth, c.Vessel = &sequence.Growth{Limit: 1, K: 0.1, Film: r.Film.Name, Vessel: sequence.Cradle}, sequence.Cradle
		}, "other-vessel", ""},
		{"not in that of the film test", func(r *sequence.Recipe, _ *sequence.Conditions) {
			r.Steps[1].Growth = &sequence.Growth{Limit: 1, K: 0.1, Film: r.Film.Name, Vessel: sequence.Cradle}
		}, "other-vessel", sequence.Care},
		{"open vessel", func(*sequence.Recipe, *sequence.Conditions) {}, "load-dark", ""},
		{"closed vessel", func(_ *sequence.Recipe, c *sequence.Conditions) { c.Vessel = sequence.DaylightTank }, "load-dark", sequence.Note},
		{"developer at 13 C", temp(13), "cold-developer", ""},
		{"developer under 13 C", temp(12.9), "cold-developer", sequence.Danger},
		{"chemistry", bath(sequence.Bath{Cautions: []string{"Wear gloves."}}), "chemistry", sequence.Note},
	} {
		r, co := recipetest.FourInHangers(), sequence.Conditions{}
		c.change(&r, &co)
		if got := code(Resolved(t, r, co), c.code); got != c.level {
			t.Errorf("%s: %s is %q; expected %q", c.name, c.code, got, c.level)
		}
	}
	whole := recipetest.FourInHangers()
	whole.Film.WetLimit.All = time.Hour
	if p := Resolved(t, whole, sequence.Conditions{}); len(p.Cautions) > 0 {
		t.Errorf("nothing is wrong, and yet: %v", p.Cautions)
	}
}

// Bigger sheets count by their area: 8x10in is four of 4x5in.
func TestCapacityByArea(t *testing.T) {
	r := recipetest.FourInHangers()
	r.Baths = []sequence.Bath{{ID: "developer", Volume: 4000, SheetsPerLitre: 4}}
	r.Load.Size = sequence.Size{Name: "8x10in", Width: 8, Height: 10}
	if got := code(Resolved(t, r, sequence.Conditions{}), "capacity"); got != "" {
		t.Errorf("4 sheets of 8x10in in 4 l at 4 a litre: %q; expected just enough", got)
	}
	if got := code(Resolved(t, r, sequence.Conditions{Sheets: 5}), "capacity"); got != sequence.Care {
		t.Errorf("5 sheets of 8x10in: %q; expected care", got)
	}
}

// Whole rounds: told where the interval had to change by more than a quarter.
func TestRoundsCaution(t *testing.T) {
	for _, c := range []struct {
		window sequence.Elapsed // 2 sheets, a turn each 10 s
		level  sequence.Level
	}{{16 * recipetest.Second, ""}, {25 * recipetest.Second, ""}, {25100 * time.Millisecond, sequence.Note},
		{29900 * time.Millisecond, sequence.Note}, {30 * recipetest.Second, ""}, {40 * recipetest.Second, ""}} {
		p := Resolved(t, recipetest.Recipe(sequence.Tray, 2, recipetest.Shuffled(recipetest.Bath(sequence.Presoak, c.window))), sequence.Conditions{})
		if got := code(p, "rounds"); got != c.level {
			t.Errorf("window of %v: %q; expected %q", c.window, got, c.level)
		}
	}
}

// Limits by vessel: shares add up; a vessel without a limit counts nothing; where
// the load's vessel has none, nothing is said.
func TestLimitsByVessel(t *testing.T) {
	r := recipetest.Recipe(sequence.Tray, 1, recipetest.Bath(sequence.Develop, 8*recipetest.Minute), recipetest.Bath(sequence.Fix, 4*recipetest.Minute), recipetest.Into(recipetest.Bath(sequence.Wash, 20*recipetest.Minute), sequence.Hangers))
	r.Film.WetLimit.ByVessel = map[sequence.Vessel]sequence.Elapsed{sequence.Tray: 18 * recipetest.Minute, sequence.Hangers: 75 * recipetest.Minute}
	w := Resolved(t, r, sequence.Conditions{}).Wet
	used := 12./18 + 20./75
	if math.Abs(*w.Used-used) > 1e-9 || math.Abs(w.Margin.Seconds()-(1-used)*18*60) > 1e-3 || *w.Limit != 18*recipetest.Minute {
		t.Errorf("used %v margin %v limit %v; expected %v, %v, 18 min", *w.Used, *w.Margin, *w.Limit, used, (1-used)*18*60)
	}
	delete(r.Film.WetLimit.ByVessel, sequence.Hangers)
	if w := Resolved(t, r, sequence.Conditions{}).Wet; math.Abs(*w.Used-12./18) > 1e-9 {
		t.Errorf("used %v; expected 12/18, the hangers count nothing", *w.Used)
	}
	r.Film.WetLimit.ByVessel = map[sequence.Vessel]sequence.Elapsed{sequence.Hangers: 75 * recipetest.Minute}
	p := Resolved(t, r, sequence.Conditions{})
	if w := p.Wet; w.Limit != nil || w.Used != nil || w.Margin != nil || w.WarningAt != nil || w.Total != 32*recipetest.Minute {
		t.Errorf("%+v; expected no limit, used, margin or warning, 32 min in all", w)
	}
	if w := Resolved(t, r, sequence.Conditions{WetLimit: 40 * recipetest.Minute}).Wet; w.Limit == nil || *w.Limit != 40*recipetest.Minute {
		t.Errorf("%+v; expected the limit given, 40 min", w)
	}
}

// wet = false is outside the wet time.
func TestDryStep(t *testing.T) {
	p := Resolved(t, recipetest.Recipe(sequence.Hangers, 1, recipetest.Bath(sequence.Develop, 8*recipetest.Minute), recipetest.Bath(sequence.Wash, 10*recipetest.Minute), recipetest.OutsideWetTime(recipetest.Bath(sequence.Other, 30*recipetest.Minute))), sequence.Conditions{})
	if p.Wet.Total != 18*recipetest.Minute || p.Wet.Session != 18*recipetest.Minute {
		t.Errorf("wet %v, session %v; expected 18 min twice", p.Wet.Total, p.Wet.Session)
	}
}

// What each proposal says that it saves is what it saves, planned again by hand.
func TestShortenSavesWhatItSays(t *testing.T) {
	edits := map[string]func(*sequence.Recipe, *sequence.Conditions){
		"vessel wash":      func(r *sequence.Recipe, _ *sequence.Conditions) { r.Steps[4].Vessel = sequence.Hangers },
		"at-least fix":     func(r *sequence.Recipe, _ *sequence.Conditions) { r.Steps[3].Time = 5 * recipetest.Minute }, // never less without a clearing time
		"at-least wash":    func(r *sequence.Recipe, _ *sequence.Conditions) { r.Steps[4].Time = 6 * recipetest.Minute },
		"cradle ":          func(_ *sequence.Recipe, c *sequence.Conditions) { c.Vessel = sequence.Cradle },
		"fewer ":           func(_ *sequence.Recipe, c *sequence.Conditions) { c.Sheets = 3 },
		"leave-out stop":   func(r *sequence.Recipe, _ *sequence.Conditions) { r.Steps = slices.Delete(slices.Clone(r.Steps), 2, 3) },
		"warmer develop":   func(_ *sequence.Recipe, c *sequence.Conditions) { c.BathTemperature = recipetest.Degrees(22) },
		"wash-aid wash":    func(r *sequence.Recipe, _ *sequence.Conditions) { r.Steps = aided(r.Steps, 6*recipetest.Minute) },
		"leave-out absent": nil,
	}
	p := Resolved(t, recipetest.SixInTray(), sequence.Conditions{})
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
		r, c := recipetest.SixInTray(), sequence.Conditions{}
		edit(&r, &c)
		if got, want := s.Saves, p.Wet.Total-Resolved(t, r, c).Wet.Total; !recipetest.Near(got, want) {
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
func aided(steps []sequence.Step, wash sequence.Elapsed) []sequence.Step {
	last := len(steps) - 1
	rinse, aid, short := steps[last], steps[last], steps[last]
	rinse.Name, rinse.Kind, rinse.Time, rinse.LeastTime = "rinse", sequence.Rinse, 30*recipetest.Second, 0
	aid.Name, aid.Kind, aid.Time, aid.LeastTime = "aid", sequence.WashingAid, 2*recipetest.Minute, 0
	short.Time = wash
	return append(slices.Clone(steps[:last]), rinse, aid, short)
}

// Kindest first; single changes before a combination, which keeps the limit.
func TestShortenInOrder(t *testing.T) {
	order := []string{"vessel", "wash-aid", "at-least", "cradle", "fewer", "hardener", "cooler", "leave-out", "warmer", "together"}
	p := Resolved(t, recipetest.SixInTray(), sequence.Conditions{})
	last := -1
	for _, s := range p.Shorten {
		i := slices.Index(order, s.Code)
		if i < last {
			t.Errorf("%s comes after %s", s.Code, order[last])
		}
		last = i
	}
	r := recipetest.SixInTray()
	r.Film.WetLimit = sequence.WetLimit{All: 22 * recipetest.Minute}
	p = Resolved(t, r, sequence.Conditions{})
	i := slices.IndexFunc(p.Shorten, func(s sequence.Shortening) bool { return s.Code == "together" })
	if i < 0 {
		t.Fatalf("no combination: %v", p.Shorten)
	}
	changed, c, ok := ApplyShortening(p, p.Shorten[i])
	if !ok {
		t.Fatal("the combination cannot be carried out")
	}
	q := Resolved(t, changed, c)
	if *q.Wet.Used > 1 || !recipetest.Near(p.Wet.Total-q.Wet.Total, p.Shorten[i].Saves) {
		t.Errorf("together: used %v, saves %v; said %v", *q.Wet.Used, p.Wet.Total-q.Wet.Total, p.Shorten[i].Saves)
	}
}

// Never warmer above 22 C, nor past the recipe's own range.
func TestNeverWarmerAbove22(t *testing.T) {
	has := func(p *sequence.Plan, code string) bool {
		return slices.ContainsFunc(p.Shorten, func(s sequence.Shortening) bool { return s.Code == code })
	}
	for _, temp := range []float64{22, 23} {
		if has(Resolved(t, recipetest.SixInTray(), sequence.Conditions{BathTemperature: recipetest.Degrees(temp)}), "warmer") {
			t.Errorf("warmer is proposed at %v C", temp)
		}
	}
	r := recipetest.SixInTray()
	r.Steps[1].Temperature.Range = []chem.Celsius{18, 20}
	if has(Resolved(t, r, sequence.Conditions{}), "warmer") {
		t.Error("warmer than the recipe's range is proposed")
	}
}

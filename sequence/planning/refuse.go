package planning

// What a plan is refused for, once sheets and vessel are known.

import (
	"cmp"
	"slices"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/schedule"
)

// checkSteps refuses what the vessel or the number of sheets makes impossible.
func checkSteps(p *sequence.Plan) error {
	var why sequence.RefusedError
	fixed := false
	for i := range p.Steps {
		st := &p.Steps[i]
		about := sequence.Values{Step: st.Name, Vessel: st.Vessel}
		if n := len(st.Doses); n > 0 && n != p.Sheets {
			why.Add("pull-count", sequence.Values{Step: st.Name, Count: float64(n), Sheets: p.Sheets})
		}
		if st.StaggeredEntry() && i == 0 {
			why.Add("nothing-to-join-from", about)
		}
		if st.IsFilmTest() && st.Vessel.Closed() {
			why.Add("pull-from-closed", about)
		}
		if st.PullsSheets() && i+1 == len(p.Steps) {
			why.Add("pulls-last", about)
		}
		if st.PullsSheets() && st.StraightOn {
			if code, stop := refuseStraightOn(p, i); code != "" {
				why.Add(code, sequence.Values{Step: st.Name, Words: stop})
			}
		}
		if !fixed && st.RoomLight != sequence.Dark && !st.Vessel.Closed() && p.Recipe.Film.Sensitivity == sequence.Pan {
			why.Add("light-fogs", sequence.Values{Step: st.Name, Vessel: st.Vessel, Words: string(st.RoomLight)})
		}
		if shortest := slices.Min(append(slices.Clone(st.Doses), st.Dose)); st.Drain >= shortest {
			why.Add("drain-too-long", sequence.Values{Step: st.Name, Time: st.Drain, Of: shortest})
		}
		fixed = fixed || st.Kind == sequence.Fix
	}
	return why.OrNil()
}

// refuseStraightOn is why sheets pulled out of step i cannot go straight on to the fixer, with the name of
// the step after it; "" where they can: an acid stop bath ends their development, and moves nobody who
// waits for a press.
func refuseStraightOn(p *sequence.Plan, i int) (code, stop string) {
	after := p.Steps[i+1:]
	switch {
	case len(after) < 2 || after[0].Kind != sequence.StopBath || after[1].Kind != sequence.Fix:
		return "straight-on-baths", ""
	case !acid(p, after[0].Bath):
		return "straight-on-acid", after[0].Name
	case after[0].WaitForPerson:
		return "straight-on-waits", after[0].Name
	}
	return "", ""
}

// checkStacks refuses a stack that no hand could serve.
func checkStacks(p *sequence.Plan, f schedule.Stays) error {
	var why sequence.RefusedError
	move := p.Recipe.Load.TransferEvery
	for i := range p.Steps {
		st := &p.Steps[i]
		if !st.Stack || p.TakesPulled(i) {
			continue
		}
		if st.Drain >= move {
			why.Add("drain-between-moves", sequence.Values{Step: st.Name, Time: st.Drain, Of: move})
		}
		_, last, moves, _ := schedule.Bounds(f.Row(p, i))
		if window, least := moves-st.Drain-last, sequence.Elapsed(p.Sheets)*schedule.ShortestShuffle; st.Kind == sequence.Develop && window < least {
			why.Add("no-time-to-shuffle", sequence.Values{Step: st.Name, Time: max(0, window), Sheets: p.Sheets, Of: least})
		}
	}
	return why.OrNil()
}

// checkConditions refuses what no plan can be made of.
func checkConditions(r sequence.Recipe, c sequence.Conditions) error {
	var why sequence.RefusedError
	must := func(ok bool, code string, v sequence.Values) {
		if !ok {
			why.Add(code, v)
		}
	}
	believable := func(t *chem.Celsius, code string) {
		if low, high := sequence.LowestBath, sequence.HighestBath; t != nil && !(*t >= low && *t <= high) {
			why.Add(code, sequence.Values{Temperature: *t, Low: low, High: high})
		}
	}
	none := sequence.Values{}
	has := func(k sequence.Kind) bool {
		return slices.ContainsFunc(r.Steps, func(s sequence.Step) bool { return s.Kind == k })
	}
	believable(c.BathTemperature, "temperature")
	believable(c.SettlesAt, "settles-at")
	must((c.SettlesAt == nil) == (c.TimeConstant == 0), "drift-half", none)
	must(c.TimeConstant >= 0 && c.ReadBefore >= 0, "drift-negative", none)
	n := cmp.Or(c.Sheets, r.Load.Sheets)
	must(n >= 1 && n <= 200, "sheets", sequence.Values{Sheets: n})
	must(len(r.Load.Names) == 0 || n <= len(r.Load.Names), "sheets-named", sequence.Values{Sheets: n, Room: len(r.Load.Names)})
	must(len(r.Steps) > 0, "no-step", none)
	must(c.Vessel == "" || slices.Contains(sequence.Vessels, c.Vessel), "vessel", sequence.Values{Vessel: c.Vessel})
	must(c.Factor == 0 || c.Factor >= 0.1 && c.Factor <= 10, "factor", sequence.Values{Factor: c.Factor})
	must(c.WetLimit == 0 || c.WetLimit >= time.Second && c.WetLimit <= 24*time.Hour, "wet-limit", none)
	must(c.Clearing == 0 || c.Clearing >= time.Second && c.Clearing <= time.Hour, "clearing-time", none)
	must(c.Clearing == 0 || has(sequence.Fix), "nothing-to-clear", none)
	must(c.Factor == 0 || has(sequence.Develop), "nothing-to-multiply", none)
	known := developments(r)
	must(c.Development == "" || slices.Contains(known, c.Development), "development", sequence.Values{Words: c.Development, Names: known})
	return why.OrNil()
}

// developments are the names of the recipe's, where it has several.
func developments(r sequence.Recipe) (names []string) {
	for _, st := range r.Steps {
		for _, t := range st.Times {
			names = append(names, t.Name)
		}
	}
	return names
}

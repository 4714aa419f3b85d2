package cue

// The rules of speech, by property: sessions of any kind are lived through in
// half seconds; what was planned and not yet begun is planned anew each time, as
// the ear does it.

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/engine"
	"example.org/wetside/sequence/planning"
)

const minute = time.Minute

// recipeFor is a recipe with the contract's defaults and these steps.
func recipeFor(v sequence.Vessel, sheets int, steps ...sequence.Step) sequence.Recipe {
	for i := range steps {
		s := &steps[i]
		if s.Name == "" {
			s.Name = fmt.Sprintf("%s %d", s.Kind, i+1)
		}
		if s.RoomLight == "" {
			s.RoomLight = sequence.Dark
		}
		if s.Agitate.Mode == "" {
			s.Agitate.Mode = sequence.Still
		}
	}
	return sequence.Recipe{Title: "Curlew 100", Film: sequence.Film{Name: "Curlew 100", Sensitivity: sequence.Pan, WetWarning: 4 * minute},
		Load: sequence.Load{Vessel: v, Sheets: sheets, Size: sequence.Size{Name: "4x5in", Width: 4, Height: 5},
			LoadEvery: 15 * second, ShuffleEvery: 10 * second, TransferEvery: 10 * second}, Steps: steps}
}

func planOf(t testing.TB, r sequence.Recipe) *sequence.Plan {
	t.Helper()
	p, err := planning.Resolve(r, sequence.Conditions{})
	if err != nil {
		t.Fatal(err)
	}
	return &p
}

// sixInTrays is a whole session of a stack.
func sixInTrays(t testing.TB) *sequence.Plan {
	shuffle := sequence.Agitation{Mode: sequence.Shuffle}
	r := recipeFor(sequence.Tray, 6,
		sequence.Step{Kind: sequence.Presoak, Time: 2 * minute, Agitate: shuffle},
		sequence.Step{Kind: sequence.Develop, Time: 8*minute + 30*second, Agitate: shuffle, Drain: 8 * second},
		sequence.Step{Kind: sequence.StopBath, Time: 30 * second, Agitate: shuffle},
		sequence.Step{Kind: sequence.Fix, Time: 5 * minute, Agitate: shuffle, LightsOnAfter: 2 * minute},
		sequence.Step{Kind: sequence.Wash, Time: 10 * minute, RoomLight: sequence.White, Vessel: sequence.Hangers})
	r.Film.WetLimit.ByVessel = map[sequence.Vessel]time.Duration{sequence.Tray: 18 * minute, sequence.Hangers: 75 * minute}
	return planOf(t, r)
}

// anyPlan draws a session that leaves room for words: moves 10 s apart and more.
func anyPlan(t *rapid.T) *sequence.Plan {
	secs := func(lo, hi int, label string) time.Duration {
		return time.Duration(rapid.IntRange(lo, hi).Draw(t, label)) * second
	}
	agitation := func() sequence.Agitation {
		switch rapid.IntRange(0, 3).Draw(t, "agitation") {
		case 0:
			return sequence.Agitation{Mode: sequence.Still}
		case 1:
			return sequence.Agitation{Mode: sequence.Continuous}
		case 2:
			return sequence.Agitation{Mode: sequence.Pattern, Initial: secs(0, 60, "initial"), For: secs(2, 15, "for"), Every: secs(30, 90, "every")}
		}
		return sequence.Agitation{Mode: sequence.Shuffle}
	}
	kinds := []sequence.Kind{sequence.Presoak, sequence.Develop, sequence.StopBath, sequence.Fix, sequence.Wash}
	var steps []sequence.Step
	for _, k := range kinds {
		s := sequence.Step{Kind: k, Time: secs(60, 400, string(k)), Agitate: agitation()}
		s.WaitForPerson = rapid.IntRange(0, 5).Draw(t, "waits") == 0
		if rapid.Bool().Draw(t, "drains") {
			s.Drain = secs(6, 8, "drain")
		}
		steps = append(steps, s)
	}
	steps[3].LightsOnAfter = 60 * second
	v := rapid.SampledFrom([]sequence.Vessel{sequence.Tray, sequence.Tray, sequence.Hangers, sequence.Drum, sequence.DaylightTank}).Draw(t, "vessel")
	r := recipeFor(v, rapid.IntRange(1, 8).Draw(t, "sheets"), steps...)
	r.Load.TransferEvery, r.Load.LoadEvery = secs(10, 20, "move"), secs(10, 25, "load")
	var today sequence.Conditions
	if v.Closed() && rapid.Bool().Draw(t, "by light, with a thermometer that is off") {
		for i := range r.Steps {
			r.Steps[i].RoomLight = sequence.White
		}
		r.Steps[1].Temperature, today.Thermometers = &sequence.Temperature{At: 20, Coefficient: 2.2}, &sequence.Thermometers{Hand: sequence.Thermometer{Within: 0.1}}
	}
	if rapid.Bool().Draw(t, "limited") {
		r.Film.WetLimit.All = secs(300, 2000, "limit")
	}
	p, err := planning.Resolve(r, today)
	if err != nil {
		t.Skip(err)
	}
	return &p
}

// lived is a session with what was heard and said in it.
type lived struct {
	plan  *sequence.Plan
	state engine.State
	now   time.Duration
	level Level
	speed float64
	voice voice
	cues  []sequence.Cue
	said  []uttered

	byHand []sequence.Cue  // given at once, because the person acted
	acted  []time.Duration // when
}

// uttered is words said, until when, and which tones were foreseen then.
type uttered struct {
	Spoken
	end      time.Duration
	foreseen []sequence.Cue
}

func begin(t testing.TB, p *sequence.Plan, level Level) *lived {
	t.Helper()
	st, err := engine.NewState(p)
	if err != nil {
		t.Fatal(err)
	}
	n := &lived{plan: p, state: st, now: -10 * second, level: level, speed: 1}
	n.do(sequence.Begin{ID: "a", Version: "1"})
	return n
}

func (n *lived) do(c sequence.Command) {
	for _, e := range engine.Decide(n.state, c, n.now) {
		n.state = engine.Apply(n.state, e)
		if e.Kind == sequence.CueGiven {
			n.cues = append(n.cues, sequence.Cue{At: e.At, Kind: e.Cue, For: e.For, Step: e.Step, Sheet: e.Sheet})
			n.interrupt(n.cues[len(n.cues)-1])
		}
	}
}

// interrupt is what a tone does: words that are being said are cut off, and what
// was to begin after a tone that nobody foresaw is reckoned anew.
func (n *lived) interrupt(c sequence.Cue) {
	for k := len(n.said) - 1; k >= 0 && n.said[k].end > c.At; k-- {
		s := n.said[k]
		if s.At < c.At {
			n.said[k].end = c.At
		} else if !containsCue(s.foreseen, c) {
			n.said = slices.Delete(n.said, k, k+1)
			n.voice.said = slices.DeleteFunc(n.voice.said, func(o Spoken) bool { return o.At == s.At })
		}
	}
}

// situation is what the ear would reckon with.
func (n *lived) situation() Situation {
	far := time.Duration(float64(speechHorizon) * n.speed)
	s := Situation{Plan: n.plan, Look: n.state.Snapshot(n.now), Cues: n.state.Ahead(n.now-far, n.now+far), From: n.now, Busy: n.now, Until: n.now + far,
		Level: n.level, Speed: n.speed}
	n.voice.remember(s)
	s.Unexplained, s.News, s.Asked, s.Said = n.voice.unexplained, n.voice.news, n.voice.asked, n.voice.said
	scaled := func(d time.Duration) time.Duration { return time.Duration(float64(d) * n.speed) }
	if k := len(n.said); k > 0 {
		s.Busy = max(s.Busy, n.said[k-1].end+scaled(betweenLines))
	}
	for _, c := range n.cues[max(0, len(n.cues)-20):] {
		s.Busy = max(s.Busy, c.At+scaled(Length(c.Kind)+afterTone))
	}
	return s
}

// pass lets half a second go by: what is planned for it is said.
func (n *lived) pass() {
	s := n.situation()
	next := n.now + time.Duration(float64(second/2)*n.speed)
	for _, spoken := range s.Spoken() {
		if spoken.At >= next {
			continue
		}
		if spoken.About.Kind == aboutAsked {
			n.voice.asked = spoken.remainder
		} else {
			n.voice.said = append(n.voice.said, spoken)
		}
		end := spoken.At + time.Duration(float64(spoken.Says.Length())*n.speed)
		n.said = append(n.said, uttered{spoken, end, s.Cues})
	}
	n.now = next
	n.do(sequence.Wake{})
}

// number says whether words are a sheet's number alone.
func isNumber(p Phrase) bool { return len(p) == 1 && len(p[0]) > 1 && p[0][0] == "sheet" }

// lawful fails where words come across a tone, across each other, or as anything
// but numbers into a row of moves. Tones and rows are taken from what was given,
// not from what was planned. The 50 ms are the rule's own margin.
func (n *lived) lawful(t rapid.TB) {
	t.Helper()
	for i, s := range n.said {
		if i > 0 && s.At < n.said[i-1].end {
			t.Fatalf("%v at %v begins before %v has ended", s.Says, s.At, n.said[i-1].Says)
		}
		for _, c := range n.cues {
			ends := c.At + time.Duration(float64(Length(c.Kind))*n.speed)
			quiet := time.Duration(float64(second) * n.speed)
			if !containsCue(s.foreseen, c) {
				quiet = 0
			}
			if s.At < ends && s.end > c.At-quiet {
				t.Fatalf("%v from %v to %v comes across %s at %v", s.Says, s.At, s.end, c.Kind, c.At)
			}
		}
		asked := s.About.Kind == aboutAsked
		if row := n.rowAround(s.At, s.end); row && !asked && !isNumber(s.Says) {
			t.Fatalf("%v at %v is said among moves", s.Says, s.At)
		}
	}
}

// rowAround says whether a time lies between two moves of sheets into one bath.
func (n *lived) rowAround(from, to time.Duration) bool {
	last := map[string]sequence.Cue{}
	for _, c := range n.cues {
		if c.Sheet == 0 || c.Kind != sequence.CueTransfer && c.Kind != sequence.CueLoad {
			continue
		}
		key := string(c.Kind) + c.Step
		if p, found := last[key]; found && c.At-p.At <= 20*second && from < c.At && to > p.At {
			return true
		}
		last[key] = c
	}
	return false
}

// about are the words that belong to a cue.
func (n *lived) about(c sequence.Cue) []uttered {
	var list []uttered
	for _, s := range n.said {
		if s.About.Kind == c.Kind && s.About.Sheet == c.Sheet && (s.About.At-c.At).Abs() < second {
			list = append(list, s)
		}
	}
	return list
}

// complete fails where something that must be said was not. The first cue of a
// lead of ten seconds may find no room before it.
func (n *lived) complete(t rapid.TB) {
	t.Helper()
	for _, c := range n.cues {
		must := false
		switch c.Kind {
		case sequence.CueReady, sequence.CueWetWarning, sequence.CueWetLimit, sequence.CueLightsOffer:
			must = n.roomAfter(c)
		case sequence.CueLoad, sequence.CueTransfer, sequence.CuePull:
			must = !slices.Contains(n.byHand, c) && !n.askedAround(c) && !n.alarmedBefore(c)
		case sequence.CueOverdue:
			ended := func(at time.Duration) bool { return at >= c.At && at < c.At+10*second }
			must = !slices.ContainsFunc(n.acted, ended) && n.roomAfter(c)
		}
		if must && len(n.about(c)) == 0 {
			t.Fatalf("nothing was said of %s %d of %s at %v; cues %v; said: %v", c.Kind, c.Sheet, c.Step, c.At, n.near(c.At), n.account())
		}
	}
}

// roomAfter says whether seven seconds after a cue are free of tones, of moves
// and of other words, which asks for more than is needed.
func (n *lived) roomAfter(c sequence.Cue) bool {
	from, to := c.At+Length(c.Kind), c.At+Length(c.Kind)+7*second
	tone := func(o sequence.Cue) bool { return o != c && o.At+Length(o.Kind) > from-second/2 && o.At < to }
	words := func(s uttered) bool { return s.end > from-second && s.At < to }
	return !n.rowAround(from, to) && !slices.ContainsFunc(n.cues, tone) && !slices.ContainsFunc(n.said, words)
}

// askedAround says whether an answer was being given near a cue.
func (n *lived) askedAround(c sequence.Cue) bool {
	return slices.ContainsFunc(n.said, func(s uttered) bool {
		return s.About.Kind == aboutAsked && s.end > c.At-saidAhead && s.At < c.At+saidAfter
	})
}

// alarmedBefore says whether the alarm of the wet limit sounds where the words would be of a move that
// the person has just pressed for: the alarm is said then, and not the bath.
func (n *lived) alarmedBefore(c sequence.Cue) bool {
	alarm := func(o sequence.Cue) bool {
		return o.Kind == sequence.CueWetLimit && o.At <= c.At && o.At+Length(o.Kind) > c.At-saidAhead
	}
	pressed := func(at time.Duration) bool { return at <= c.At && c.At < at+10*second }
	return slices.ContainsFunc(n.cues, alarm) && slices.ContainsFunc(n.acted, pressed)
}

func (n *lived) account() string {
	var b strings.Builder
	for _, s := range n.said {
		fmt.Fprintf(&b, "\n%8.2f %v", s.At.Seconds(), s.Says)
	}
	return b.String()
}

// touch is the person: asks from time to time how it stands, and lets a step that
// waits be overdue for a minute.
func (n *lived) touch(every int) {
	if int(n.now/(second/2))%every == 0 {
		n.voice.asked = StatePhrase(n.plan, n.state.Snapshot(n.now))
		n.cutOff()
	}
	if n.state.Snapshot(n.now).Overdue > minute {
		before := len(n.cues)
		n.acted = append(n.acted, n.now)
		n.do(sequence.MoveOn{})
		n.byHand = append(n.byHand, n.cues[before:]...)
	}
}

// cutOff is what an answer does to words that are being said.
func (n *lived) cutOff() {
	if k := len(n.said); k > 0 {
		n.said[k-1].end = min(n.said[k-1].end, max(n.now, n.said[k-1].At))
	}
}

func TestWordsKeepTheRulesInAnySession(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		presses := rapid.IntRange(15, 120).Draw(r, "presses every")
		n := begin(t, anyPlan(r), rapid.SampledFrom([]Level{Sparse, Full}).Draw(r, "level"))
		n.speed = rapid.SampledFrom([]float64{1, 1, 1, 20}).Draw(r, "speed") // 20: a rehearsal
		for n.state.Over() == "" && n.now < time.Hour {
			n.pass()
			n.touch(presses)
		}
		for range 60 { // an answer that was being given is given to its end
			n.pass()
		}
		n.lawful(r)
		if n.speed > 1 {
			return // there may be no room for anything
		}
		n.complete(r)
		if k := len(n.said); n.state.Over() != "" && !slices.ContainsFunc(n.said[max(0, k-2):], func(s uttered) bool { return s.About.Kind == aboutOver }) {
			r.Fatalf("the end was not said: %v", n.account())
		}
	})
}

// near are the cues about an instant.
func (n *lived) near(at time.Duration) []sequence.Cue {
	return slices.DeleteFunc(slices.Clone(n.cues), func(c sequence.Cue) bool { return (c.At - at).Abs() > 15*second })
}

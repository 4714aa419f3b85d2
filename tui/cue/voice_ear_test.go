package cue

// The voice in the ear, in virtual time: answers at once, words cut by tones that
// nobody foresaw, and a whole session in a WAV file, tones and words in place.

import (
	"math"
	"path/filepath"
	"slices"
	"sync/atomic"
	"testing"
	"testing/synctest"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/sequence/engine"
	"example.org/wetside/tui/cue/sink"
)

// driven carries a session out as package live does: it decides each 100 ms and
// tells the ear each half second, or when something has happened.
type driven struct {
	ear   *Ear
	clock clock.Clock
	state atomic.Pointer[engine.State]
	told  time.Duration
	cues  []sequence.Cue
}

func newEngine(t testing.TB, ear *Ear, c clock.Clock, p *sequence.Plan) *driven {
	t.Helper()
	st, err := engine.NewState(p)
	if err != nil {
		t.Fatal(err)
	}
	n := &driven{ear: ear, clock: c, told: -time.Hour}
	n.state.Store(&st)
	n.do(sequence.Begin{ID: "a", Version: "1"})
	return n
}

func (n *driven) now() engine.State { return *n.state.Load() }

func (n *driven) do(c sequence.Command) {
	now, st := n.clock.Mark().Elapsed, n.now()
	events := engine.Decide(st, c, now)
	for _, e := range events {
		st = engine.Apply(st, e)
		if e.Kind == sequence.CueGiven {
			n.cues = append(n.cues, sequence.Cue{At: e.At, Kind: e.Cue, For: e.For, Step: e.Step, Sheet: e.Sheet})
		}
	}
	n.state.Store(&st)
	if len(events) > 0 || now-n.told >= second/2 {
		n.told = now
		n.ear.Schedule(st.Ahead(now-3*second, now+3*second))
	}
	for _, e := range events {
		n.ear.HandleEvent(e)
	}
}

// run goes on for so long, or until the session is over.
func (n *driven) run(d time.Duration) {
	for end := n.clock.Mark().Elapsed + d; n.clock.Mark().Elapsed < end && n.now().Over() == ""; {
		time.Sleep(100 * time.Millisecond)
		n.do(sequence.Wake{})
	}
}

// inSession runs a test with a player, an engine and a voice in virtual time.
func inSession(t *testing.T, level Level, p *sequence.Plan, test func(*testing.T, *player, *driven)) {
	synctest.Test(t, func(t *testing.T) {
		c := clock.Virtual(-10*second, 1)
		o := &player{ear: NewEar(c), latency: 100 * time.Millisecond}
		n := newEngine(t, o.ear, c, p)
		o.ear.SetVoice(level, n.now)
		test(t, o, n)
	})
}

// play pulls while the engine runs.
func (n *driven) play(p *player, d time.Duration) {
	for ; d > 0; d -= 100 * time.Millisecond {
		n.do(sequence.Wake{})
		p.play(100 * time.Millisecond)
	}
}

// quietHours is a session with a long rest in it.
func quietHours(t testing.TB) *sequence.Plan {
	return planOf(t, recipeFor(sequence.Hangers, 4, sequence.Step{Kind: sequence.Develop, Time: 3 * minute},
		sequence.Step{Kind: sequence.Fix, Time: 5 * minute}))
}

// spokenOnset is the first onset heard after an instant since the player began.
func spokenOnset(p *player, since time.Duration) time.Duration {
	for _, o := range onsets(p.heard) {
		if at := time.Duration(o)*time.Second/44100 + p.latency; at >= since {
			return at - since
		}
	}
	return time.Hour
}

func TestAnswerIsHeardWithin250Milliseconds(t *testing.T) {
	for _, offset := range []time.Duration{0, 130 * time.Millisecond, 260 * time.Millisecond, 390 * time.Millisecond} {
		inSession(t, Full, quietHours(t), func(t *testing.T, p *player, n *driven) {
			n.play(p, 76*second) // 66 s into the step: between two ticks
			p.play(offset / (10 * time.Millisecond) * (10 * time.Millisecond))
			pressed := time.Since(p.from) + p.latency
			p.ear.SpeakState()
			n.play(p, 3*second)
			if took := spokenOnset(p, pressed); took > 250*time.Millisecond {
				t.Errorf("pressed at %v: heard after %v, want 250 ms at most", pressed, took)
			}
		})
	}
}

func TestAnswerReplacesWhatIsBeingSaid(t *testing.T) {
	inSession(t, Full, quietHours(t), func(t *testing.T, p *player, n *driven) {
		n.play(p, 76*second)
		p.ear.Say(Phrase{{"time-up"}, {"time-up"}})
		n.play(p, second)
		was := p.ear.voice.playing
		p.ear.Say(Phrase{{"not-possible"}})
		n.play(p, second)
		if was == nil || was.words.left != 0 {
			t.Errorf("the words before the answer were not broken off: %+v", was)
		}
		n.play(p, 6*second)
		begun := p.ear.voice.playing
		if begun == nil || begun.Says.String() != "[not-possible]" {
			t.Errorf("said last: %v, want [not-possible]", begun)
		}
	})
}

// The second of two presses moves on: its tone is there at once, and the answer
// to the first does not go on across it.
func TestToneThatNobodyForesawCutsWords(t *testing.T) {
	inSession(t, Full, quietHours(t), func(t *testing.T, p *player, n *driven) {
		n.play(p, 76*second)
		p.ear.SpeakState()
		n.play(p, 700*time.Millisecond)
		was, pulled := p.ear.voice.playing, len(p.heard)
		n.do(sequence.MoveOn{})
		n.play(p, 5*second)
		if was == nil || was.words.left != 0 {
			t.Fatalf("the answer went on: %+v", was)
		}
		after := p.heard[pulled:]
		move := alone(sequence.CueTransfer)[4410:]
		// from 10 ms on, while the words die away, there is the tone alone
		begins := slices.IndexFunc(after[700:], func(s [2]float64) bool { return math.Abs(s[0]) > threshold })
		if begins < 0 {
			t.Fatal("no tone")
		}
		peak, want := 0.0, 0.0
		for _, s := range after[:40000] {
			peak = max(peak, math.Abs(s[0]))
		}
		for _, s := range move {
			want = max(want, math.Abs(s[0]))
		}
		if peak > want*1.3 {
			t.Errorf("peak %.2f over the tone, the tone alone has %.2f", peak, want)
		}
	})
}

func TestAnswerWaitsForAToneThatIsNear(t *testing.T) {
	inSession(t, Full, quietHours(t), func(t *testing.T, p *player, n *driven) {
		n.play(p, 169*second+second/2) // the tone of ready comes at 160
		p.ear.SpeakState()
		n.play(p, 8*second)
		said := p.ear.voice
		for _, s := range said.said {
			if s.At < 160*second && s.At+s.Says.Length() > 159*second {
				t.Errorf("%v at %v runs into the tone", s.Says, s.At)
			}
		}
		if len(said.asked) > 0 {
			t.Errorf("not said: %v", said.asked)
		}
	})
}

func TestWithoutVoiceAnswerTicksAndNothingIsSaid(t *testing.T) {
	inSession(t, Off, quietHours(t), func(t *testing.T, p *player, n *driven) {
		n.play(p, 76*second)
		before := len(p.heard)
		p.ear.Say(Phrase{{"not-possible"}})
		p.ear.SpeakState()
		n.play(p, second)
		tick := alone(sequence.CueTick)[4410:]
		heard := p.heard[before:]
		for i := range min(len(tick), 5000) {
			if math.Abs(heard[i][0]-tick[i][0]) > 1e-9 {
				t.Fatalf("frame %d is %v, want the tick's %v", i, heard[i][0], tick[i][0])
			}
		}
	})
}

func TestNewsWaitForRoom(t *testing.T) {
	inSession(t, Sparse, sixInTrays(t), func(t *testing.T, p *player, n *driven) {
		n.play(p, 30*second) // sheets are being loaded until 75 s
		n.do(sequence.Report{Kind: sequence.SoundBack})
		n.play(p, 70*second)
		var told []Spoken
		for _, s := range p.ear.voice.said {
			if s.About.Kind == sequence.CueKind(sequence.SoundBack) {
				told = append(told, s)
			}
		}
		if len(told) != 1 || told[0].At < 75*second {
			t.Errorf("sound is back: %v, want once, after the loading", told)
		}
	})
}

// That the forecast goes over the limit is said at once and only once: here by a hold
// in the fixer of a session that would have kept it.
func TestTheForecastWarnsEarly(t *testing.T) {
	p := planOf(t, recipeFor(sequence.Hangers, 1,
		sequence.Step{Kind: sequence.Develop, Time: 5 * minute},
		sequence.Step{Kind: sequence.Fix, Time: 2 * minute},
		sequence.Step{Kind: sequence.Wash, Time: 10 * minute, RoomLight: sequence.White}))
	p.Limits.All = 18 * minute
	inSession(t, Sparse, p, func(t *testing.T, play *player, n *driven) {
		early := func() (list []Spoken) {
			for _, s := range play.ear.voice.said {
				if s.About.Kind == aboutForecast {
					list = append(list, s)
				}
			}
			return list
		}
		n.play(play, 6*minute)
		n.do(sequence.Hold{})
		n.play(play, 110*second) // overdue from 7:00; a minute of it can be spared
		if list := early(); len(list) != 0 {
			t.Errorf("at 7:50 it was said already: %v", list)
		}
		n.play(play, 4*minute)
		list := early()
		if len(list) != 1 || list[0].At < 8*minute || list[0].At > 8*minute+30*second || list[0].Says[0][0] != "wet-time" {
			t.Errorf("said %v; expected once, soon after 8:00", list)
		}
	})
}

func TestTheLeadIsAnnounced(t *testing.T) {
	inSession(t, Sparse, quietHours(t), func(t *testing.T, p *player, n *driven) {
		n.play(p, 10*second)
		said := p.ear.voice.said
		if len(said) == 0 || said[0].Says.String() != "[ready] [load]" || said[0].At > -7*second {
			t.Errorf("said before the first sheet goes in: %v", said)
		}
	})
}

// The warning comes at 212 s, while sheets go into the developer, from 195 s to 245 s.
func TestWarningAmongMovesIsSaidAfterThem(t *testing.T) {
	r := sixInTrays(t).Recipe
	r.Film.WetLimit = sequence.WetLimit{All: 212*second + r.Film.WetWarning}
	inSession(t, Sparse, planOf(t, r), func(t *testing.T, p *player, n *driven) {
		n.play(p, 270*second)
		at := slices.IndexFunc(p.ear.voice.said, func(s Spoken) bool { return s.About.Kind == sequence.CueWetWarning })
		if at < 0 || p.ear.voice.said[at].At < 245*second {
			t.Errorf("said: %v", p.ear.voice.said)
		}
	})
}

func TestLeftCountsWords(t *testing.T) {
	inSession(t, Full, quietHours(t), func(t *testing.T, p *player, n *driven) {
		n.play(p, 76*second)
		says := Phrase{{"session-over"}}
		p.ear.Schedule(nil)
		p.ear.Say(says)
		if left := p.ear.Remaining(); (left - says.Length()).Abs() > 300*time.Millisecond {
			t.Errorf("%v left, want %v", left, says.Length())
		}
	})
}

// heardWords is what was said, and when.
type heardWords struct {
	at   time.Duration
	says Phrase
}

// longSession is about an hour.
func longSession(t testing.TB) *sequence.Plan {
	p := sixInTrays(t)
	r := p.Recipe
	r.Steps[4].Time = 38 * minute
	return planOf(t, r)
}

func TestAnHourWithVoiceIsOnTime(t *testing.T) {
	if testing.Short() {
		t.Skip("an hour of frames")
	}
	path := filepath.Join(t.TempDir(), "hour.wav")
	var words []heardWords
	var cues []sequence.Cue
	synctest.Test(t, func(t *testing.T) {
		c := clock.Virtual(-10*second, 1)
		ear := NewEar(c)
		out, err := sink.Open("wav:"+path, ear)
		if err != nil {
			t.Fatal(err)
		}
		n := newEngine(t, ear, c, longSession(t))
		ear.SetVoice(Full, n.now)
		for end := false; !end; {
			n.run(minute)
			words = append(words, newIn(words, ear)...)
			end = n.now().Over() != "" || c.Mark().Elapsed > session
		}
		time.Sleep(ear.Remaining() + second)
		words = append(words, newIn(words, ear)...)
		if err := out.Close(); err != nil {
			t.Error(err)
		}
		if _, late, dropped := ear.Counts(); late != 0 || dropped != 0 {
			t.Errorf("%d late, %d dropped", late, dropped)
		}
		cues = n.cues
	})
	inPlace(t, hearFile(t, path).onsets, cues, words)
}

// newIn are words that have begun since those known.
func newIn(known []heardWords, e *Ear) []heardWords {
	var list []heardWords
	e.mu.Lock()
	defer e.mu.Unlock()
	for _, s := range e.voice.said {
		if len(known) == 0 || s.At > known[len(known)-1].at {
			list = append(list, heardWords{s.At, s.Says})
		}
	}
	return list
}

// inPlace fails where a tone is not within 44 frames of its instant, or a word
// not within 60 ms of its own: a recording may begin with so much breath.
func inPlace(t *testing.T, heard []int64, cues []sequence.Cue, words []heardWords) {
	t.Helper()
	frame := func(at time.Duration) int64 { return int64(math.Round((at + 10*second).Seconds() * 44100)) }
	worst := int64(0)
	for _, c := range cues {
		if isMergedRest(cues, c) {
			continue
		}
		off := nearest(heard, frame(c.At))
		worst = max(worst, off)
		if off > 44 {
			t.Errorf("%s at %v is %d frames from its place", c.Kind, c.At, off)
		}
	}
	for _, w := range words {
		at := frame(w.at)
		i, _ := slices.BinarySearch(heard, at-44)
		if i == len(heard) || heard[i] > at+2646 {
			t.Errorf("%v is not heard at %v", w.says, w.at)
		}
	}
	if len(cues) < 30 || len(words) < 12 {
		t.Errorf("%d cues and %d words: no session", len(cues), len(words))
	}
	t.Logf("%d cues, worst %d frames; %d times words", len(cues), worst, len(words))
}

func BenchmarkPlanningWords(b *testing.B) {
	n := begin(b, sixInTrays(b), Full)
	for n.now < 12*minute {
		n.pass()
	}
	for b.Loop() {
		n.situation().Spoken()
	}
}

func BenchmarkPlanningWordsFor200Sheets(b *testing.B) {
	p := planOf(b, recipeFor(sequence.Tray, 200, sequence.Step{Kind: sequence.Presoak, Time: 2 * minute},
		sequence.Step{Kind: sequence.Develop, Time: 60 * minute}, sequence.Step{Kind: sequence.Fix, Time: 5 * minute}))
	n := begin(b, p, Full)
	for n.now < 2*minute {
		n.pass()
	}
	for b.Loop() {
		n.situation().Spoken()
	}
}

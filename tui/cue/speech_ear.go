package cue

// The ear's voice: what is to be said is reckoned anew at each Schedule and
// placed on the timeline like the cues. Words that have begun are cut off only
// by a tone that nobody could foresee, and by an answer to the person.

import (
	"slices"
	"time"

	"github.com/faiface/beep"

	"example.org/wetside/sequence"
)

// voice is what the ear keeps of its speech; the ear's mutex guards it.
type voice struct {
	level    Level
	state    func() sequence.State
	pending  []*line
	sounding *line
	until    time.Time // when what is sounding has been heard to its end
	asked    Phrase
	owed     []sequence.Cue
	news     []News
	said     []Spoken
}

// line is spoken words on their way.
type line struct {
	Spoken
	words   *cuttable
	placing Placing
}

func newLine(s Spoken) *line {
	words := &cuttable{Streamer: s.Says.Streamer(), left: -1}
	return &line{Spoken: s, words: words, placing: Placing{Sound: words}}
}

// How much later than reckoned words may begin: less than their distance from
// the next tone by far. A device's jitter must not put off an answer.
const (
	maxLate       = 40 * time.Millisecond
	maxLateAnswer = 250 * time.Millisecond
)

// maxLate is the same in frames.
func (l *line) maxLate() int64 {
	if l.About.Kind == aboutAsked {
		return inFrames(maxLateAnswer)
	}
	return inFrames(maxLate)
}

// cuttable is words that can be broken off without a click.
type cuttable struct {
	beep.Streamer
	left int // frames until silence; negative while not cut off
}

const cutting = 10 // ms

func (c *cuttable) cut() {
	if c.left < 0 {
		c.left = frames(cutting)
	}
}

func (c *cuttable) Stream(samples [][2]float64) (int, bool) {
	if c.left == 0 {
		return 0, false
	}
	if c.left < 0 {
		return c.Streamer.Stream(samples)
	}
	n, ok := c.Streamer.Stream(samples[:min(len(samples), c.left)])
	for i := range samples[:n] {
		fade := float64(c.left-i) / float64(frames(cutting))
		samples[i] = [2]float64{fade * samples[i][0], fade * samples[i][1]}
	}
	c.left -= n
	return n, ok
}

// Speak gives the ear a voice for a session whose state it can ask for at any
// time, from the engine's goroutine too. Level Off takes it away again.
func (e *Ear) Speak(level Level, state func() sequence.State) {
	e.mu.Lock()
	defer e.mu.Unlock()
	e.hush()
	e.voice = voice{level: level, state: state}
}

// On sets the scale on which temperatures are said.
func (e *Ear) On(h sequence.Habits) {
	e.mu.Lock()
	defer e.mu.Unlock()
	e.habits = h
}

// speaks says whether there is a voice.
func (v *voice) speaks() bool { return v.state != nil && v.level != Off && v.level != "" }

// Say answers the person: at once, unless a tone is near, in place of all that is
// being said or was going to be.
func (e *Ear) Say(p Phrase) {
	if scene, ok := e.scene(); ok {
		e.mu.Lock()
		defer e.mu.Unlock()
		e.hush()
		e.voice.asked = p
		e.plan(scene)
	}
}

// Answer says how the session stands; without a voice it only ticks.
func (e *Ear) Answer() {
	scene, ok := e.scene()
	if !ok {
		e.Play(sequence.CueTick)
		return
	}
	e.Say(Standing(scene.Plan, scene.Look))
}

// Advise says the one thing that can still be done about the wet time.
func (e *Ear) Advise() {
	e.mu.Lock()
	state := e.voice.state
	e.mu.Unlock()
	if scene, ok := e.scene(); ok {
		a, found := state().Advise(scene.Look.Now)
		e.Say(Advised(scene.Plan, scene.Look, a, found))
	}
}

// Told takes in an event of the session, in the order of the log, and says what
// it tells: an answer at once, other news where there is room.
func (e *Ear) Told(ev sequence.Event) {
	scene, ok := e.scene()
	if !ok {
		return
	}
	says, asked := Told(scene.Plan, scene.Look, ev)
	switch {
	case says == nil:
	case asked:
		e.Say(says)
	default:
		e.mu.Lock()
		defer e.mu.Unlock()
		about := sequence.Cue{At: ev.At, Kind: sequence.CueKind(ev.Kind)}
		e.voice.news = append(e.voice.news, News{About: about, Says: says})
	}
}

// hush breaks off what is being said and forgets what was going to be.
func (e *Ear) hush() {
	v := &e.voice
	if v.sounding != nil {
		v.sounding.words.cut()
		v.sounding, v.until = nil, time.Time{}
	}
	v.pending, v.asked = nil, nil
}

// horizon is how far ahead words are reckoned, in real time.
const horizon = time.Minute

// scene looks at the session, without holding anybody up. False: no voice.
func (e *Ear) scene() (Situation, bool) {
	e.mu.Lock()
	speaks, level, state, habits := e.voice.speaks(), e.voice.level, e.voice.state, e.habits
	e.mu.Unlock()
	if !speaks {
		return Situation{}, false
	}
	now := e.clock.Mark().Elapsed
	const span = time.Hour
	speed := float64(span) / float64(max(1, e.clock.Until(now+span)))
	far := sequence.Elapsed(float64(horizon) * speed)
	st := state()
	return Situation{Plan: st.Plan(), Look: st.Look(now), Cues: st.Ahead(now-far, now+far), Until: now + far,
		Level: level, Speed: speed, Habits: habits}, true
}

// plan reckons anew what is to be said, from the earliest moment that the next
// pull can reach; what has begun is left alone.
func (e *Ear) plan(s Situation) {
	v := &e.voice
	s.From = s.Look.Now + sequence.Elapsed(float64(max(0, time.Until(e.open)))*s.Speed)
	v.remember(s)
	s.Owed, s.News, s.Asked, s.Said = v.owed, v.news, v.asked, v.said
	free := later(v.until.Add(betweenLines), e.silent.Add(afterTone))
	s.Busy = s.Look.Now + sequence.Elapsed(float64(max(0, time.Until(free)))*s.Speed)
	v.pending = nil
	for _, spoken := range s.Spoken() {
		v.pending = append(v.pending, newLine(spoken))
	}
}

// remember keeps what must be explained until it is, or is stale.
func (v *voice) remember(s Situation) {
	stale := s.Look.Now - sequence.Elapsed(float64(2*owedFor)*s.Speed)
	v.said = slices.DeleteFunc(v.said, func(o Spoken) bool { return o.At < stale && o.About.Kind != aboutOver && o.About.Kind != aboutEarly })
	v.owed = slices.DeleteFunc(v.owed, func(c sequence.Cue) bool { return c.At < stale })
	v.news = slices.DeleteFunc(v.news, func(n News) bool { return n.About.At < stale })
	for _, c := range s.Cues {
		if c.At <= s.Look.Now && after(s.Plan, s.Look, c, s.Habits) != nil && !contains(v.owed, c) {
			v.owed = append(v.owed, c)
		}
	}
}

// lines are where the words are to be placed. Words that would come late are
// left out: they might run into a tone.
func (e *Ear) lines(first int64, heard time.Time, dial dial) []*Placing {
	v := &e.voice
	var list []*Placing
	v.pending = slices.DeleteFunc(v.pending, func(l *line) bool {
		l.placing.Frame = first + inFrames(dial.due(l.At).Sub(heard))
		if l.placing.Frame < first-l.maxLate() {
			return true
		}
		l.placing.Frame = max(first, l.placing.Frame)
		list = append(list, &l.placing)
		return false
	})
	return list
}

// makeWay cuts off what is being said where a tone begins before a frame.
func (e *Ear) makeWay(before int64) {
	for _, w := range e.pending {
		if w.placing.Frame < before && e.voice.sounding != nil {
			e.voice.sounding.words.cut()
			e.voice.sounding, e.voice.until = nil, time.Time{}
		}
	}
}

// spoken notes which words have begun. First is the frame that is heard at the
// given time.
func (e *Ear) spoken(first int64, heard time.Time) {
	v := &e.voice
	v.pending = slices.DeleteFunc(v.pending, func(l *line) bool {
		if l.placing.fate != began {
			return false
		}
		v.sounding = l
		v.until = heard.Add(inTime(max(0, l.placing.Frame-first)) + l.Says.Length())
		if l.About.Kind == aboutAsked {
			v.asked = l.rest
		} else {
			v.said = append(v.said, l.Spoken)
		}
		return true
	})
}

package cue

// The ear's voice: what is to be said is reckoned anew at each Schedule and
// placed on the timeline like the cues. Words that have begun are cut off only
// by a tone that nobody could foresee, and by an answer to the person.

import (
	"slices"
	"time"

	"github.com/faiface/beep"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/engine"
)

// voice is what the ear keeps of its speech; the ear's mutex guards it.
type voice struct {
	level        Level
	state        func() engine.State
	pending      []*spokenLine
	playing      *spokenLine
	playingUntil time.Time // when what is sounding has been heard to its end
	asked        Phrase
	unexplained  []sequence.Cue
	news         []News
	said         []Spoken
}

// spokenLine is spoken words on their way.
type spokenLine struct {
	Spoken
	words   *fadeable
	placing Placing
}

func newSpokenLine(s Spoken) *spokenLine {
	words := &fadeable{Streamer: s.Says.Streamer(), left: -1}
	return &spokenLine{Spoken: s, words: words, placing: Placing{Sound: words}}
}

// How much later than reckoned words may begin: less than their distance from
// the next tone by far. A device's jitter must not put off an answer.
const (
	maxLate       = 40 * time.Millisecond
	maxLateAnswer = 250 * time.Millisecond
)

// maxLate is the same in frames.
func (l *spokenLine) maxLate() int64 {
	if l.About.Kind == aboutAsked {
		return inFrames(maxLateAnswer)
	}
	return inFrames(maxLate)
}

// fadeable is words that can be broken off without a click.
type fadeable struct {
	beep.Streamer
	left int // frames until silence; negative while not cut off
}

const fadeMilliseconds = 10 // ms

func (c *fadeable) fadeOut() {
	if c.left < 0 {
		c.left = frames(fadeMilliseconds)
	}
}

func (c *fadeable) Stream(samples [][2]float64) (int, bool) {
	if c.left == 0 {
		return 0, false
	}
	if c.left < 0 {
		return c.Streamer.Stream(samples)
	}
	n, ok := c.Streamer.Stream(samples[:min(len(samples), c.left)])
	for i := range samples[:n] {
		fade := float64(c.left-i) / float64(frames(fadeMilliseconds))
		samples[i] = [2]float64{fade * samples[i][0], fade * samples[i][1]}
	}
	c.left -= n
	return n, ok
}

// SetVoice gives the ear a voice for a session whose state it can ask for at any
// time, from the engine's goroutine too. Level Off takes it away again.
func (e *Ear) SetVoice(level Level, state func() engine.State) {
	e.mu.Lock()
	defer e.mu.Unlock()
	e.cutSpeech()
	e.voice = voice{level: level, state: state}
}

// SetUnits sets the scale on which temperatures are said.
func (e *Ear) SetUnits(h sequence.Units) {
	e.mu.Lock()
	defer e.mu.Unlock()
	e.units = h
}

// enabled says whether there is a voice.
func (v *voice) enabled() bool { return v.state != nil && v.level != Off && v.level != "" }

// Say answers the person: at once, unless a tone is near, in place of all that is
// being said or was going to be.
func (e *Ear) Say(p Phrase) {
	if scene, ok := e.situation(); ok {
		e.mu.Lock()
		defer e.mu.Unlock()
		e.cutSpeech()
		e.voice.asked = p
		e.replan(scene)
	}
}

// SpeakState says how the session stands; without a voice it only ticks.
func (e *Ear) SpeakState() {
	scene, ok := e.situation()
	if !ok {
		e.Play(sequence.CueTick)
		return
	}
	e.Say(StatePhrase(scene.Plan, scene.Look))
}

// Advise says the one thing that can still be done about the wet time.
func (e *Ear) Advise() {
	e.mu.Lock()
	state := e.voice.state
	e.mu.Unlock()
	if scene, ok := e.situation(); ok {
		a, found := state().Advise(scene.Look.Now)
		e.Say(AdvicePhrase(scene.Plan, scene.Look, a, found))
	}
}

// HandleEvent takes in an event of the session, in the order of the log, and says what
// it tells: an answer at once, other news where there is room.
func (e *Ear) HandleEvent(ev sequence.Event) {
	scene, ok := e.situation()
	if !ok {
		return
	}
	says, asked := EventPhrase(scene.Plan, scene.Look, ev)
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

// breakOff breaks off what is being said.
func (v *voice) breakOff() {
	if v.playing != nil {
		v.playing.words.fadeOut()
		v.playing, v.playingUntil = nil, time.Time{}
	}
}

// cutSpeech breaks off what is being said and forgets what was going to be.
func (e *Ear) cutSpeech() {
	e.voice.breakOff()
	e.voice.pending, e.voice.asked = nil, nil
}

// speechHorizon is how far ahead words are reckoned, in real time.
const speechHorizon = time.Minute

// situation looks at the session, without holding anybody up. False: no voice.
func (e *Ear) situation() (Situation, bool) {
	e.mu.Lock()
	speaks, level, state, habits := e.voice.enabled(), e.voice.level, e.voice.state, e.units
	e.mu.Unlock()
	if !speaks {
		return Situation{}, false
	}
	now := e.clock.Mark().Elapsed
	const span = time.Hour
	speed := float64(span) / float64(max(1, e.clock.Until(now+span)))
	far := sequence.Elapsed(float64(speechHorizon) * speed)
	st := state()
	return Situation{Plan: st.Plan(), Look: st.Snapshot(now), Cues: st.Ahead(now-far, now+far), Until: now + far,
		Level: level, Speed: speed, Units: habits}, true
}

// replan reckons anew what is to be said, from the earliest moment that the next
// pull can reach; what has begun is left alone.
func (e *Ear) replan(s Situation) {
	v := &e.voice
	s.From = s.Look.Now + sequence.Elapsed(float64(max(0, time.Until(e.pulledUntil)))*s.Speed)
	v.remember(s)
	s.Unexplained, s.News, s.Asked, s.Said = v.unexplained, v.news, v.asked, v.said
	free := laterOf(v.playingUntil.Add(betweenLines), e.silent.Add(afterTone))
	s.Busy = s.Look.Now + sequence.Elapsed(float64(max(0, time.Until(free)))*s.Speed)
	v.pending = nil
	for _, spoken := range s.Spoken() {
		v.pending = append(v.pending, newSpokenLine(spoken))
	}
}

// remember keeps what must be explained until it is, or is stale.
func (v *voice) remember(s Situation) {
	stale := s.Look.Now - sequence.Elapsed(float64(2*explainWithin)*s.Speed)
	once := []sequence.CueKind{aboutOver, aboutForecast, aboutReading}
	v.said = slices.DeleteFunc(v.said, func(o Spoken) bool { return o.At < stale && !slices.Contains(once, o.About.Kind) })
	v.unexplained = slices.DeleteFunc(v.unexplained, func(c sequence.Cue) bool { return c.At < stale })
	v.news = slices.DeleteFunc(v.news, func(n News) bool { return n.About.At < stale })
	for _, c := range s.Cues {
		if c.At <= s.Look.Now && explanation(s.Plan, s.Look, c, s.Units) != nil && !containsCue(v.unexplained, c) {
			v.unexplained = append(v.unexplained, c)
		}
	}
}

// lines are where the words are to be placed. Words that would come late are
// left out: they might run into a tone.
func (e *Ear) lines(first int64, heard time.Time, dial clockReading) []*Placing {
	v := &e.voice
	var list []*Placing
	v.pending = slices.DeleteFunc(v.pending, func(l *spokenLine) bool {
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

// cutForTones cuts off what is being said where a tone begins before a frame.
func (e *Ear) cutForTones(before int64) {
	for _, w := range e.pending {
		if w.placing.Frame < before {
			e.voice.breakOff()
		}
	}
}

// noteSpoken notes which words have begun. First is the frame that is heard at the
// given time.
func (e *Ear) noteSpoken(first int64, heard time.Time) {
	v := &e.voice
	v.pending = slices.DeleteFunc(v.pending, func(l *spokenLine) bool {
		if l.placing.state != stateBegun {
			return false
		}
		v.playing = l
		v.playingUntil = heard.Add(inTime(max(0, l.placing.Frame-first)) + l.Says.Length())
		if l.About.Kind == aboutAsked {
			v.asked = l.remainder
		} else {
			v.said = append(v.said, l.Spoken)
		}
		return true
	})
}

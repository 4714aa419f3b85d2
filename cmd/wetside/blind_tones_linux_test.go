package main

// A session carried out blind by tones alone: each key has an answer of its own, and
// nothing else is heard; no words at all.

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/tui/cue"
	"example.org/wetside/tui/cue/sink/pulsetest"
)

// answered is a sound that answered a key, and when it was pressed, on the boot clock.
type answered struct {
	kind    sequence.CueKind
	pressed float64
	cutOff  bool // the next one came in its place
}

// following is the quiet that belongs to a sound: longer than any gap in one, so that
// none is taken for the beginning of another.
const following = 450 * time.Millisecond

// wholeSounds are kept: rendering one takes longer than looking for it.
var wholeSounds sync.Map

// wholeOf is a sound with the quiet behind it, from one of its first frames on.
func wholeOf(kind sequence.CueKind, frame int) []float64 {
	name := fmt.Sprint(kind, " ", frame)
	if sound, known := wholeSounds.Load(name); known {
		return sound.([]float64)
	}
	var samples []float64
	for _, f := range cue.Render([]sequence.Cue{{Kind: kind}}, cue.Length(kind)+following) {
		samples = append(samples, f[0])
	}
	sound := thinned(samples[pulsetest.Onsets(samples)[0]+frame:])
	wholeSounds.Store(name, sound)
	return sound
}

// whole is find for a sound with the quiet behind it.
func (h recording) whole(kind sequence.CueKind, from, to float64) (at, likeness float64) {
	const near = 0.0002
	at, likeness = h.find(wholeOf(kind, 0), from, to)
	for frame := 1; frame < coarse; frame++ {
		if when, like := h.find(wholeOf(kind, frame), at-near, at+near); like > likeness {
			likeness, at = like, when
		}
	}
	return at, likeness
}

// every are all sounds that could be meant.
func every() []sequence.CueKind {
	return append(cue.Kinds(), cue.SignalSheet(1), cue.SignalSheet(2), cue.SignalSheet(3))
}

// answers wants each sound soon after its key, more like itself than like any other, and
// gives the stretches of the tape that they take.
func (h recording) answers(list []answered) (stretches [][2]float64) {
	h.t.Helper()
	for i, a := range list {
		from := a.pressed + h.zero
		at, like := h.whole(a.kind, from-0.1, from+1)
		if a.cutOff {
			at, like = h.closest(cue.Sound(a.kind), from-0.1, from+1)
		} else if best := h.best(at); best != a.kind {
			h.t.Errorf("%d: %s is heard as %q", i, a.kind, best)
		}
		h.t.Logf("%s after %.0f ms, likeness %.3f", a.kind, 1000*(at-from), like)
		if like < 0.9 {
			h.t.Errorf("%d: %s is not heard: likeness %.2f at best", i, a.kind, like)
			at = from
		}
		stretches = append(stretches, [2]float64{at, at + cue.Length(a.kind).Seconds()})
	}
	return stretches
}

// best is what the sound that begins at a place is most like.
func (h recording) best(at float64) (best sequence.CueKind) {
	most := 0.0
	for _, kind := range every() {
		if _, like := h.whole(kind, at-0.0005, at+0.0005); like > most {
			best, most = kind, like
		}
	}
	return best
}

// given wants the session's own cues where the journal has them, but those that an
// answer sounds over, and gives their stretches too.
func (h recording) given(b blindRun, answers [][2]float64) (stretches [][2]float64) {
	h.t.Helper()
	cues, zero := b.marked(sequence.CueGiven)
	for _, c := range cues {
		at := c.At.Seconds() + zero + h.zero
		end := at + cue.Length(c.Cue).Seconds()
		if c.Cue == sequence.CueReady && c.At < 0 { // as the loudspeaker is opened: as soon as can be
			end += 2.5
		}
		stretches = append(stretches, [2]float64{at, end})
		meets := func(s [2]float64) bool { return s[0] < end+following.Seconds() && at < s[1] }
		if c.Cue == sequence.CueTransfer || c.At < 0 || slices.ContainsFunc(answers, meets) {
			continue
		}
		if got, like := h.whole(c.Cue, at-0.05, at+0.05); like < alike || math.Abs(got-at) > 0.01 {
			h.t.Errorf("%s at %v is not heard in its place: likeness %.2f", c.Cue, c.At, like)
		}
	}
	return stretches
}

// silentBut errs where anything is heard outside all stretches.
func (h recording) silentBut(stretches [][2]float64) error {
	const perSecond, margin = pulsetest.Rate / coarse, 0.06
	for i, x := range h.samples {
		at := float64(i) / perSecond
		inside := func(s [2]float64) bool { return at > s[0]-margin && at < s[1]+margin }
		if math.Abs(x) > 0.01 && !slices.ContainsFunc(stretches, inside) {
			return fmt.Errorf("something is heard at %.2f s that nothing explains", at)
		}
	}
	return nil
}

// What the test looks for it finds: no two sounds are taken for each other, and words are
// heard to be there.
func TestTonesAreToldApart(t *testing.T) {
	t.Parallel()
	around := make([]float64, pulsetest.Rate/coarse/5)
	for _, kind := range every() {
		tape := recording{t: t, samples: slices.Concat(around, wholeOf(kind, 0), around, around)}
		if best := tape.best(0.2); best != kind {
			t.Errorf("%s is heard as %s", kind, best)
		}
		here := [2]float64{0.2, 0.2 + cue.Length(kind).Seconds()}
		if err := tape.silentBut([][2]float64{here}); err != nil {
			t.Errorf("%s: %v", kind, err)
		}
	}
	tape := recording{t: t, samples: slices.Concat(around, headOf(spoken("held")), around)}
	if tape.silentBut(nil) == nil {
		t.Error("words are not heard")
	}
}

func TestBlindByTonesAlone(t *testing.T) {
	server := soundServer(t)
	withRetries(t, func(a *retry) { blindByTonesAlone(a, server) })
}

func blindByTonesAlone(t *retry, server *pulsetest.Server) {
	stop := server.Record(pulsetest.Sinks[0])
	b := blindlyWith(t.T, server, strings.Replace(blindRecipe, "1m10s", "5m", 1), cue.Off)
	var list []answered
	touch := func(key string, kind sequence.CueKind) {
		list = append(list, answered{kind: kind, pressed: b.press(key)})
		b.rest((cue.Length(kind) + following + 400*time.Millisecond).Seconds())
	}
	twice := func(first, second sequence.CueKind) {
		list = append(list, answered{kind: first, pressed: b.press(" "), cutOff: cue.Length(first) > 700*time.Millisecond})
		b.rest(0.7)
		touch(" ", second)
	}
	b.rest(2)
	touch(" ", sequence.CueTick) // nothing has begun; the key was felt
	b.rest(2)
	list = append(list, answered{kind: sequence.CueTick, pressed: b.press(" ")})
	b.rest(1.2)
	b.press(" ")
	b.awaits(t, `"session-began"`)
	b.rest(7) // the lead and the first sheet in
	touch(" ", sequence.CueTick)
	b.rest(2)
	touch("m", cue.SignalHold)
	touch(" ", cue.SignalDone)
	touch("m", cue.SignalUndo)
	touch("m", cue.SignalGo)
	touch("m", cue.SignalLate)
	touch("m", cue.SignalSetAside)
	touch(" ", cue.SignalSheet(1))
	touch("m", cue.SignalSheet(2))
	twice(cue.SignalSheet(2), cue.SignalDone)
	b.rest(3)
	touch("m", cue.SignalUndo)
	b.rest(6) // too late by now
	touch(" ", cue.SignalRefused)
	touch("m", cue.SignalGo)
	touch(" ", cue.SignalDone)
	b.rest(2)
	twice(sequence.CueTick, sequence.CueTransfer)
	touch("m", cue.SignalUndo)
	touch("m", cue.SignalHold)
	touch("m", cue.SignalLate)
	touch("m", cue.SignalStop)
	b.press(" ") // the second is awaited
	b.rest(0.7)
	touch(" ", cue.SignalDone)
	b.awaits(t, `"session-stopped"`)
	b.holds()
	b.rest(1) // two touches are heard 0.5 s after the second: the tape has all of their answer
	samples := stop()
	tape := recording{t: t, samples: thinned(samples)}
	cues, zero := b.marked(sequence.CueGiven)
	dip := slices.IndexFunc(cues, func(e sequence.Event) bool { return e.Cue == sequence.CueLoad })
	at, like := tape.find(wholeOf(sequence.CueLoad, 0), 0, float64(len(tape.samples))*coarse/pulsetest.Rate)
	if dip < 0 || like < alike {
		t.Fatalf("the first sheet in is not heard: likeness %.2f", like)
	}
	tape.zero = at - cues[dip].At.Seconds() - zero
	stretches := tape.answers(list)
	if err := tape.silentBut(slices.Concat(stretches, tape.given(b, stretches))); err != nil {
		t.Errorf("%s", err.Error())
	}
}

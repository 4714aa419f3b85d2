package main

// A session carried out blind: keys in, sound out, nothing on the screen. The program
// runs on a pty whose every cell is looked at, and plays to a sound server of the
// test's own that is recorded. In the recording each tone and each word that should
// be there is looked for by its likeness to what it should sound like; the tones, whose
// instants the journal holds, tie the recording to the clock by which keys are pressed.

import (
	"encoding/json"
	"fmt"
	"math"
	"math/bits"
	"math/cmplx"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/faiface/beep"
	"gonum.org/v1/gonum/dsp/fourier"

	"example.org/wetside/sequence"
	"example.org/wetside/tui/cue"
	"example.org/wetside/tui/cue/sink/pulsetest"
	"example.org/wetside/tui/press"
)

// blindRecipe has two baths, at rest and in the dark.
const blindRecipe = `title = "Dunlin 25, blind"
film = { name = "Dunlin 25", wet_limit = "10m" }
load = { vessel = "hangers", sheets = 2, size = "4x5in" }
[[step]]
kind = "presoak"
time = "1m10s"
[[step]]
kind = "fix"
time = "2m"
lights_on_after = "12s"
`

// coarse is how many frames are taken as one where sounds are looked for.
const coarse = 4

// thinned is a recording, or a sound, with fewer frames.
func thinned(samples []float64) []float64 {
	list := make([]float64, len(samples)/coarse)
	for i := range list {
		for _, x := range samples[coarse*i : coarse*(i+1)] {
			list[i] += x / coarse
		}
	}
	return list
}

// headOf is the first 450 ms of a sound from where it is first heard.
func headOf(s beep.Streamer) []float64 { return thinned(rawHead(s)) }

func rawHead(s beep.Streamer) []float64 {
	frames := make([][2]float64, pulsetest.Rate)
	n, _ := s.Stream(frames)
	var samples []float64
	for _, f := range frames[:n] {
		if len(samples) > 0 || math.Abs(f[0]) > 0.01 {
			samples = append(samples, f[0])
		}
	}
	return samples[:min(len(samples), pulsetest.Rate*45/100)]
}

// recording is what was recorded, thinned.
type recording struct {
	t       testing.TB
	samples []float64
	zero    float64 // seconds on the tape at which the boot clock stood at 0
}

// find is where on the tape, in seconds, a sound begins between two instants, and how
// like it is: 1 for the sound itself. The products at many places come of one Fourier transform
// (correlation theorem); the power at each is a difference of running sums.
func (h recording) find(sound []float64, from, to float64) (at, likeness float64) {
	const rate = pulsetest.Rate / coarse
	first, last := max(0, int(from*rate)), min(int(to*rate), len(h.samples)-len(sound))
	if first >= last {
		return 0, 0
	}
	tape := h.samples[first : last+len(sound)]
	products := make([]float64, last-first)
	if len(products) > 100 {
		copy(products, correlated(tape, sound))
	} else {
		for k := range products {
			for i, x := range sound {
				products[k] += x * tape[k+i]
			}
		}
	}
	power, here := 0.0, 0.0
	for i, x := range sound {
		power, here = power+x*x, here+tape[i]*tape[i]
	}
	for k := range products {
		if like := products[k] / math.Sqrt(power*max(here, 0)+1e-9); like > likeness {
			at, likeness = float64(first+k)/rate, like
		}
		here += tape[k+len(sound)]*tape[k+len(sound)] - tape[k]*tape[k]
	}
	return at, likeness
}

// correlated is the sum of products of a tape and a sound that begins at each of its places.
func correlated(tape, sound []float64) []float64 {
	size := 1 << bits.Len(uint(len(tape))) // longer than the tape: nothing wraps onto a place that is looked at
	fft := fourier.NewFFT(size)
	padded := func(x []float64) []complex128 {
		return fft.Coefficients(nil, append(slices.Clone(x), make([]float64, size-len(x))...))
	}
	a, b := padded(tape), padded(sound)
	for i := range a {
		a[i] *= cmplx.Conj(b[i])
	}
	products := fft.Sequence(nil, a)
	for i := range products {
		products[i] /= float64(size)
	}
	return products
}

// closest is find for a sound that begins on any frame, not only on one that was kept.
func (h recording) closest(s beep.Streamer, from, to float64) (at, likeness float64) {
	head := rawHead(s)
	for frame := range coarse {
		if when, like := h.find(thinned(head[frame:]), from, to); like > likeness {
			at, likeness = when, like
		}
	}
	return at, likeness
}

// alike is the least likeness that counts; held and hold, the most alike, reach 0.91.
const alike = 0.95

// What is looked for is told from all else that could be heard in its place.
func TestSoundsAreToldApart(t *testing.T) {
	t.Parallel()
	sounds := map[string]func() beep.Streamer{
		"load":  func() beep.Streamer { return cue.Sound(sequence.CueLoad) },
		"move":  func() beep.Streamer { return cue.Sound(sequence.CueTransfer) },
		"offer": func() beep.Streamer { return cue.Sound(sequence.CueLightsOffer) }}
	for _, w := range []cue.Word{"presoak", "held", "undone", "fixer", "undo-ten", "light-safe", "stopped", "session-over",
		"hold", "undo", "stop", "before-first"} {
		sounds[string(w)] = func() beep.Streamer { return spoken(w) }
	}
	heads := map[string][]float64{}
	for name, s := range sounds {
		heads[name] = headOf(s())
	}
	around := make([]float64, pulsetest.Rate/coarse/5)
	for name, head := range heads {
		tape := recording{t: t, samples: slices.Concat(around, head, around, around)}
		for other, o := range heads {
			at, like := tape.find(o, 0, 0.6)
			if other == name && (like < 0.99 || math.Abs(at-0.2) > 0.001) || other != name && like > alike-0.03 {
				t.Errorf("%s is looked for where %s is heard: likeness %.2f at %.3f s", other, name, like, at)
			}
		}
	}
}

// has wants a sound between two instants of the boot clock, and tells when it began.
func (h recording) has(what string, s beep.Streamer, from, to float64) float64 {
	h.t.Helper()
	at, like := h.closest(s, from+h.zero, to+h.zero)
	if like < alike {
		h.t.Errorf("%s is not heard: likeness %.2f at best, %.2f s after %.2f", what, like, at-h.zero-from, from)
	}
	return at - h.zero
}

// blindRun is somebody without a screen.
type blindRun struct{ *terminal }

// press types a key and tells when, on the boot clock.
func (b blindRun) press(key string) float64 {
	b.holds()
	at := boottime().Seconds()
	b.types(key)
	return at
}

// rest lets seconds go by.
func (b blindRun) rest(seconds float64) { time.Sleep(time.Duration(seconds * float64(time.Second))) }

// twice is two touches of the big key; the moment at which the second counts, silence behind it.
func (b blindRun) twice() float64 {
	b.press(" ")
	b.rest(0.7)
	return b.press(" ") + press.Silence.Seconds()
}

// awaits wants something in the record soon; hands that a stall held up did not do what
// they were to do.
func (b blindRun) awaits(a *retry, text string) {
	a.Helper()
	for until := time.Now().Add(20 * time.Second); !strings.Contains(b.record(), text); time.Sleep(5 * time.Millisecond) {
		if time.Now().After(until) {
			a.Fatalf("%s never came", text)
		}
	}
}

// marked are the session's records of one kind, with the boot clock's time at which
// elapsed time was 0.
func (b blindRun) marked(kind sequence.EventKind) (list []sequence.Event, zero float64) {
	b.t.Helper()
	for line := range strings.Lines(b.record()) {
		var r struct {
			Event    string  `json:"event"`
			At       float64 `json:"at_s"`
			Cue      string  `json:"cue"`
			Boottime float64 `json:"boottime_s"`
			Elapsed  float64 `json:"elapsed_s"`
		}
		if err := json.Unmarshal([]byte(line), &r); err != nil {
			b.t.Fatal(err)
		}
		zero = r.Boottime - r.Elapsed
		if r.Event == string(kind) {
			list = append(list, sequence.Event{At: time.Duration(r.At * float64(time.Second)), Cue: sequence.CueKind(r.Cue)})
		}
	}
	return list, zero
}

// written is how much the terminal has been given.
func (b blindRun) written() int {
	b.mu.Lock()
	defer b.mu.Unlock()
	return len(b.raw)
}

// busy is what the screens' process has used of the processor, by the kernel's count
// of hundredths of a second.
func (b blindRun) busy() time.Duration {
	b.t.Helper()
	text, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", b.screensOf()))
	if err != nil {
		b.t.Fatal(err)
	}
	var user, system time.Duration
	fields := strings.Fields(string(text[strings.LastIndexByte(string(text), ')')+2:]))
	fmt.Sscan(fields[11]+" "+fields[12], &user, &system)
	return (user + system) * 10 * time.Millisecond
}

// blindSession sits down in the dark, with film to be loaded.
func blindSession(t *testing.T, server *pulsetest.Server) blindRun {
	t.Helper()
	return blindlyWith(t, server, blindRecipe, cue.Full)
}

func blindlyWith(t *testing.T, server *pulsetest.Server, text string, voice cue.Level) blindRun {
	t.Helper()
	recipe := filepath.Join(t.TempDir(), "dunlin.toml")
	if err := os.WriteFile(recipe, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	s := wetsideWith(t, modernTerminal, []string{"PULSE_SERVER=" + server.Getenv("PULSE_SERVER")},
		"run", recipe, "--sound", "pulse", "--voice", string(voice), "--countdown", "4s")
	s.prepared()
	s.darkens()
	return blindRun{s}
}

// spoken is a phrase's streamer, for one clause of words.
func spoken(words ...cue.Word) beep.Streamer { return cue.Phrase{words}.Streamer() }

// With all words, and by hand with few of them: what answers the person is the same.
func TestBlindSession(t *testing.T) {
	t.Parallel()
	for _, voice := range []cue.Level{cue.Full, cue.Sparse} {
		if voice == cue.Sparse && !full {
			continue
		}
		t.Run(string(voice), func(t *testing.T) { carriedOutBlind(t, voice) })
	}
}

func carriedOutBlind(t *testing.T, voice cue.Level) {
	server := soundServer(t)
	withRetries(t, func(a *retry) { blindSessionIsHeard(a, server, voice) })
}

func blindSessionIsHeard(t *retry, server *pulsetest.Server, voice cue.Level) {
	stop := server.Record(pulsetest.Sinks[0])
	b := blindlyWith(t.T, server, blindRecipe, voice)

	b.rest(2)
	loading := b.press(" ") // how to begin
	b.rest(4)
	began := b.twice()
	b.awaits(t, `"session-began"`)
	b.rest(8) // the lead, the first sheet in and its word
	before, busy, since := b.written(), b.busy(), time.Now()
	presses := map[string]float64{}
	touch := func(what, key string, rest float64) {
		presses[what] = b.press(key)
		b.rest(rest)
	}
	touch("state", " ", 5.5)
	touch("hold?", "m", 2.5)
	touch("held", " ", 4.5) // a tick after 15 s
	touch("undo?", "m", 2.5)
	touch("undone", " ", 8)
	moved := b.twice()
	b.rest(19) // light is offered meanwhile
	touch("hold again?", "m", 2.5)
	touch("late?", "m", 2.5)
	touch("lost?", "m", 3.4) // a tick 15 s after light's tone, and again
	touch("sheet 1?", " ", 2.5)
	touch("sheet 2?", "m", 2.5)
	lost := b.twice()
	b.rest(5)
	touch("undo again?", "m", 1)
	b.press("m") // on to hold: what was asked for is said in place of what is being said
	b.rest(1)
	b.press("m") // to what is late; none can be lost any more
	b.rest(2.7)
	touch("advice?", "m", 2.5)
	touch("stop?", "m", 2.5)
	stopped := b.twice()
	b.awaits(t, `"session-stopped"`)
	b.rest(5)
	b.holds() // nothing was lit in all that time
	if more := b.written() - before; more != 0 {
		t.Errorf("%d bytes were written to a dark screen", more)
	}
	t.Logf("with sound and voice %.2f %% of a core", 100*(b.busy()-busy).Seconds()/time.Since(since).Seconds())
	samples := stop()
	b.lights()
	b.twoTouches("light", func() bool {
		b.mu.Lock()
		defer b.mu.Unlock()
		return b.front.LitCell() != ""
	})
	b.holds()

	tape := recording{t: t, samples: thinned(samples)}
	tape.tie(b)
	tape.has("how to begin", cue.Loading().Streamer(), loading, loading+1.5)
	tape.has("the first sheet in", cue.Sound(sequence.CueLoad), began+3.5, began+6)
	var late []float64
	for what, phrase := range map[string]beep.Streamer{
		"state": spoken("presoak"), "hold?": cue.ChoiceHold.Offer().Streamer(), "held": spoken("held"),
		"undo?": cue.ChoiceUndo.Offer().Streamer(), "undone": spoken("undone"), "hold again?": cue.ChoiceHold.Offer().Streamer(),
		"late?": cue.ChoiceFilm.Offer().Streamer(), "lost?": cue.ChoiceSetAside.Offer().Streamer(),
		"sheet 1?": cue.ChoiceSetAside.Sheet(1).Streamer(), "sheet 2?": cue.ChoiceSetAside.Sheet(2).Streamer(),
		"undo again?": cue.ChoiceUndo.Offer().Streamer(), "advice?": cue.ChoiceAdvice.Offer().Streamer(), "stop?": cue.ChoiceStop.Offer().Streamer()} {
		at := tape.has(what, phrase, presses[what]-0.2, presses[what]+2.2)
		late = append(late, at-presses[what])
		t.Logf("%s after %.0f ms", what, 1000*(at-presses[what]))
	}
	slices.Sort(late)
	t.Logf("from a key to its words: median %.0f ms, at most %.0f ms", 1000*late[len(late)/2], 1000*late[len(late)-1])
	if full && late[len(late)/2] > 0.25 || late[0] < 0 {
		t.Errorf("from a key to its words: %.3f s; expected a median under 0.25", late)
	}
	tape.has("the move", cue.Sound(sequence.CueTransfer), moved-0.1, moved+0.6)
	tape.has("what was done", spoken("fixer"), moved+0.5, moved+3)
	tape.has("that it can be taken back", spoken("undo-ten"), moved+1, moved+4)
	tape.has("which sheet is lost", spoken("sheet", "2", "aside-in-water"), lost-0.1, lost+2)
	tape.has("light's tone", cue.Sound(sequence.CueLightsOffer), moved+11, moved+14)
	tape.has("light's words", spoken("light-safe"), moved+12, moved+18)
	tape.has("the end", spoken("stopped"), stopped-0.1, stopped+2)
	tape.has("that it is over", spoken("session-over"), stopped+0.3, stopped+4)
}

// tie finds the tape's place on the boot clock by the first sheet's tone, and wants all
// later tones that the journal holds where they should be.
func (h *recording) tie(b blindRun) {
	h.t.Helper()
	cues, zero := b.marked(sequence.CueGiven)
	cues = cues[max(0, slices.IndexFunc(cues, func(e sequence.Event) bool { return e.Cue == sequence.CueLoad })):]
	if len(cues) < 4 {
		h.t.Fatalf("%d cues", len(cues))
	}
	at, like := h.find(headOf(cue.Sound(sequence.CueLoad)), 0, float64(len(h.samples))*coarse/pulsetest.Rate)
	if like < alike {
		h.t.Fatalf("the first sheet in is not heard: likeness %.2f", like)
	}
	h.zero = at - cues[0].At.Seconds() - zero
	for i, c := range cues[1:] {
		if c.Cue == sequence.CueTransfer {
			continue // by hand: as soon as it can be heard
		}
		due := c.At.Seconds() + zero
		name := fmt.Sprintf("cue %d, %s,", i+1, c.Cue)
		if got := h.has(name, cue.Sound(c.Cue), due-0.3, due+0.3); math.Abs(got-due) > 0.01 {
			h.t.Errorf("%s is heard %.0f ms off its place", name, 1000*(got-due))
		}
	}
}

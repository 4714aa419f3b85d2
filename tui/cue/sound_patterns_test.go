package cue

import (
	"math"
	"strings"
	"testing"
	"time"

	"example.org/wetside/sequence"
)

// heardAs states every sound apart from the code that makes it: when its notes
// begin, in ms, and their fundamentals, in Hz.
var heardAs = map[sequence.CueKind]struct{ begins, pitches []float64 }{
	"ready":        {[]float64{0, 300, 600}, []float64{440, 440, 440}},
	"load":         {[]float64{0, 220}, []float64{523, 523}},
	"move":         {[]float64{0, 560, 780}, []float64{523, 659, 659}},
	"take-out":     {[]float64{0, 220, 440}, []float64{659, 659, 523}},
	"turn":         {[]float64{0}, []float64{494}},
	"agitate":      {[]float64{0, 220}, []float64{392, 587}},
	"rest":         {[]float64{0}, []float64{196}},
	"reverse":      {[]float64{0, 460}, []float64{440, 370}},
	"drain":        {[]float64{0, 480, 960}, []float64{494, 392, 311}},
	"tick":         {[]float64{0}, []float64{330}},
	"overdue":      {[]float64{0, 250, 500, 750, 1000, 1660, 1910, 2160, 2410, 2660}, []float64{349, 349, 349, 349, 349, 349, 349, 349, 349, 349}},
	"wet-warning":  {[]float64{0, 220, 680}, []float64{587, 587, 587}},
	"wet-limit":    {[]float64{0, 200, 400, 780, 980, 1800, 2000, 2200, 2580, 2780}, []float64{659, 659, 659, 554, 554, 659, 659, 659, 554, 554}},
	"lights-out":   {[]float64{0, 460, 680}, []float64{349, 349, 262}},
	"lights-offer": {[]float64{0, 560}, []float64{294, 440}},
	"reading":      {[]float64{0, 560}, []float64{330, 330}},
	"done":         {[]float64{0, 370, 890}, []float64{392, 494, 587}},

	"menu-hold":  {[]float64{0}, []float64{392}},
	"menu-undo":  {[]float64{0, 700}, []float64{392, 392}},
	"menu-stop":  {[]float64{0, 700, 1400}, []float64{392, 392, 392}},
	"menu-go-on": {[]float64{0}, []float64{392}},

	"menu-late":      {[]float64{0, 700, 1400, 2100}, []float64{392, 392, 392, 392}},
	"menu-set-aside": {[]float64{0, 700, 1400, 2100, 2800}, []float64{392, 392, 392, 392, 392}},
	"menu-sheet-12":  {[]float64{0, 800, 1550, 1890}, []float64{220, 494, 494, 494}},

	"chosen":  {[]float64{0, 460}, []float64{494, 330}},
	"refused": {[]float64{0, 730}, []float64{220, 165}},
}

// urgency of each kind, as a number of notes: low 1 or 2, medium 3, high 10
// (IEC 60601-1-8 through secondary texts).
var urgent = map[string][]sequence.CueKind{
	"low":    {"load", "turn", "agitate", "rest", "reverse", "tick", "lights-offer", "reading"},
	"medium": {"ready", "move", "take-out", "drain", "wet-warning", "lights-out", "done"},
	"high":   {"overdue", "wet-limit"},
}

// alone is one cue a tenth of a second into silence.
func alone(kind sequence.CueKind) [][2]float64 {
	return Render([]sequence.Cue{{At: 100 * time.Millisecond, Kind: kind}}, Length(kind)+300*time.Millisecond)
}

func TestEveryKindSoundsAsStated(t *testing.T) {
	worstFrames, worstHz := 0.0, 0.0
	for _, kind := range Kinds() {
		want, ok := heardAs[kind]
		if !ok {
			t.Errorf("%s: no statement of what it should sound like", kind)
			continue
		}
		samples := alone(kind)
		got := onsets(samples)
		if len(got) != len(want.begins) {
			t.Errorf("%s: %d notes at %v, want %d", kind, len(got), got, len(want.begins))
			continue
		}
		for i, frame := range got {
			off := float64(frame) - (100+want.begins[i])*44.1
			hz := fundamental(samples[frame+600:]) - want.pitches[i]
			if math.Abs(off) > 44 {
				t.Errorf("%s: note %d is %.0f frames from its place", kind, i+1, off)
			}
			if math.Abs(hz) > 1 {
				t.Errorf("%s: note %d is %.2f Hz from %v", kind, i+1, hz, want.pitches[i])
			}
			worstFrames, worstHz = max(worstFrames, math.Abs(off)), max(worstHz, math.Abs(hz))
		}
	}
	t.Logf("worst: %.0f frames, %.2f Hz", worstFrames, worstHz)
}

func TestRhythmTellsPriority(t *testing.T) {
	notes := map[string][]int{"low": {1, 2}, "medium": {3}, "high": {10}}
	told := 0
	for level, kinds := range urgent {
		for _, kind := range kinds {
			told++
			n := len(onsets(alone(kind)))
			if want := notes[level]; n != want[0] && n != want[len(want)-1] {
				t.Errorf("%s: %d notes, want one of %v for %s priority", kind, n, want, level)
			}
		}
	}
	if told != len(sequence.CueKinds) {
		t.Errorf("priorities are stated for %d kinds of %d", told, len(sequence.CueKinds))
	}
}

// rhythm is the audible stretches and the gaps between them, in tens of ms.
func rhythm(samples [][2]float64) []int {
	var edges []int
	silent, last := quiet, 0
	for i, s := range samples {
		if math.Abs(s[0]) > threshold {
			if silent >= quiet {
				if len(edges) > 0 {
					edges = append(edges, last)
				}
				edges = append(edges, i)
			}
			silent, last = 0, i
		} else {
			silent++
		}
	}
	edges = append(edges, last)
	spans := make([]int, 0, len(edges))
	for i := 1; i < len(edges); i++ {
		spans = append(spans, (edges[i]-edges[i-1]+220)/441)
	}
	return spans
}

// Two cues are told apart without their pitch: another number of notes, or a
// note or gap that differs by at least 40 ms and a third of the longer.
func TestNoTwoKindsShareARhythm(t *testing.T) {
	rhythms := map[sequence.CueKind][]int{}
	for i, a := range Kinds() {
		rhythms[a] = rhythm(alone(a))
		for _, b := range Kinds()[:i] {
			x, y := rhythms[a], rhythms[b]
			differ := len(x) != len(y)
			for k := 0; !differ && k < len(x); k++ {
				far := math.Abs(float64(x[k] - y[k]))
				differ = far >= 4 && far >= float64(max(x[k], y[k]))/3
			}
			if !differ {
				t.Errorf("%s and %s have one rhythm: %v, %v", a, b, x, y)
			}
		}
	}
}

func TestNotesHaveHarmonicsAndNothingAbove3kHz(t *testing.T) {
	for kind, said := range heardAs {
		samples := alone(kind)
		for i, frame := range onsets(samples) {
			s := spectrum(samples[frame+600:])
			total, above, heard := 0.0, 0.0, 0
			for k, m := range s {
				total += m * m
				if float64(k)*44100/window > 3050 {
					above += m * m
				}
			}
			for h := 1; float64(h)*said.pitches[i] <= 4000; h++ {
				f := float64(h) * said.pitches[i]
				k := int(math.Round(f * window / 44100))
				if f >= 300 && max(s[k-1], s[k], s[k+1]) > math.Sqrt(total)/20 {
					heard++
				}
			}
			if heard < 4 {
				t.Errorf("%s: note %d has %d harmonics from 300 to 4000 Hz, want 4", kind, i+1, heard)
			}
			if above > total/1e5 {
				t.Errorf("%s: note %d has %.1f dB of its power above 3 kHz", kind, i+1, 10*math.Log10(above/total))
			}
		}
	}
}

func TestSoundsStayBelowTheBend(t *testing.T) {
	for _, kind := range Kinds() {
		peak := 0.0
		for _, s := range alone(kind) {
			peak = max(peak, math.Abs(s[0]))
		}
		if peak > 0.8 || peak < 0.1 {
			t.Errorf("%s: greatest sample %.2f, want 0.1 to 0.8", kind, peak)
		}
	}
}

// The slope of a note's outline is measured over each millisecond: it must
// reach half its height within the 20 ms and not at once, which would click.
func TestNotesRiseIn20Milliseconds(t *testing.T) {
	samples := alone(sequence.CueStand)
	loudest := func(from, to int) float64 {
		peak := 0.0
		for _, s := range samples[from:to] {
			peak = max(peak, math.Abs(s[0]))
		}
		return peak
	}
	steady := loudest(4410+2000, 4410+10000)
	if first := loudest(4410, 4410+44); first > 0.15*steady {
		t.Errorf("%.2f of the steady height within the first millisecond: a click", first/steady)
	}
	if risen := loudest(4410+882, 4410+1323); risen < 0.9*steady {
		t.Errorf("%.2f of the steady height after 20 ms", risen/steady)
	}
}

// The table of IEC 61672-1, nominal values in dB (from memory, rounded to 0.1).
func TestAWeightAgainstItsTable(t *testing.T) {
	for f, want := range map[float64]float64{63.096: -26.2, 125.89: -16.1, 251.19: -8.6, 501.19: -3.2,
		1000: 0, 1995.3: 1.2, 3981.1: 1.0, 7943.3: -1.1} {
		if got := 20 * math.Log10(aWeight(f)); math.Abs(got-want) > 0.06 {
			t.Errorf("A(%.0f Hz) = %.2f dB, want %.1f", f, got, want)
		}
	}
}

func TestDescribeTellsEveryKindApart(t *testing.T) {
	seen := map[string]sequence.CueKind{}
	for _, kind := range Kinds() {
		says := Describe(kind)
		if !strings.Contains(says, ": ") {
			t.Errorf("%s: %q does not say what it sounds like and what it asks for", kind, says)
		}
		if other, taken := seen[says]; taken {
			t.Errorf("%s and %s are described alike", kind, other)
		}
		seen[says] = kind
	}
}

package main

// Whole sessions of the program as it is built, through a real sound server: what
// the server's loudspeaker played is recorded and held against the plan, cue by cue,
// in samples. WETSIDE_E2E=1.

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/tui/cue"
	"example.org/wetside/tui/cue/sink/pulsetest"
)

// speed is how many times as fast the session is rehearsed: slow enough for every
// sound to end before the next, where they do not begin together.
const speed = 3

// before is the session with its server: where the program finds both.
func before(t *testing.T, s *pulsetest.Server) machine {
	t.Helper()
	l := newLaptop(t, "10s", "10s", "10s")
	recipe, err := os.ReadFile(filepath.Join("testdata", "heard", "short.toml"))
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(l.path("short.toml"), recipe, 0o600); err != nil {
		t.Fatal(err)
	}
	l.env = append(l.env, "PULSE_SERVER="+s.Getenv("PULSE_SERVER"))
	return l
}

// A machine that is busy with other things cuts sounds in two, now here and now there:
// there are three attempts.
func TestAWholeSessionIsHeardThroughTheServer(t *testing.T) {
	t.Parallel()
	s := pulsetest.PulseAudio(t).Start()
	l := before(t, s)
	plan := l.planned("short.toml")
	withRetries(t, func(a *retry) {
		err := l.rehearseAloud(s, plan)
		if err == nil {
			return
		}
		for line := range strings.Lines(err.Error()) {
			a.Errorf("%s", line)
		}
	})
}

// rehearseAloud carries the plan out, without words between its sounds, and errs where
// what was heard is not the plan.
func (l machine) rehearseAloud(s *pulsetest.Server, plan planning.Summary) error {
	l.t.Helper()
	stop := s.Record(pulsetest.Sinks[0])
	run := l.command(nil, "run", "short.toml", "--plain", "--json", "--countdown", "24s", "--rehearse", fmt.Sprint(speed), "--sound", "pulse", "--voice", "off")
	var said bytes.Buffer
	run.Stdout = &said
	err := pulsetest.Ahead(run.Start)
	if err == nil {
		err = run.Wait()
	}
	out, samples := said.Bytes(), stop()
	if err != nil {
		l.t.Fatalf("%v: %s", err, out)
	}
	events := eventsOf(l.t, out)
	if last := events[len(events)-1]; last.Kind != sequence.SessionDone {
		l.t.Errorf("the last event is %s", last.Kind)
	}
	// A plan begins with the first sheet in; before it, one is told to be ready, and a tick
	// says that all is well.
	ready := sequence.Cue{At: -20 * time.Second, Kind: sequence.CueReady, Step: plan.Steps[0].Name}
	tick := sequence.Cue{At: -5 * time.Second, Kind: sequence.CueTick}
	given := append([]sequence.Cue{ready, tick}, pause{}.cues(plan)...)
	sameCues(l.t, cuesOf(events), given)
	for i := range given {
		given[i].At = (given[i].At - ready.At) / speed
	}
	return matched(l.t, samples, given)
}

// matched errs where a recording does not hold the cues: each instant within a
// millisecond of its place after the first, nothing between them, and each sound
// more like its own kind than like any other.
func matched(t *testing.T, samples []float64, cues []sequence.Cue) error {
	t.Helper()
	heard := pulsetest.Onsets(samples)
	if len(heard) == 0 {
		return errors.New("nothing was heard")
	}
	zero := heard[0] // the first cue is at 0
	want := instants(cues)
	var faults []error
	worst := int64(0)
	for i, w := range want {
		at := nearestTo(heard, zero+int(w.at))
		off := int64(at-zero) - w.at
		if max(off, -off) > near {
			faults = append(faults, fmt.Errorf("no onset within %d frames of %.3f s", near, float64(w.at)/rate))
			continue
		}
		worst = max(worst, off, -off)
		end := len(samples)
		if i+1 < len(want) {
			end = zero + int(want[i+1].at) - near
		}
		own := together(cues, w.at)
		if like := mostLike(samples[at:end], own); !slices.Equal(like, own) {
			faults = append(faults, fmt.Errorf("at %.3f s %v is heard as %v", float64(w.at)/rate, own, like))
		}
	}
	for _, f := range heard {
		if !want.covers(int64(f - zero)) {
			at := math.Round(2*float64(f-zero)/rate) / 2 // roughly, to be known again
			faults = append(faults, fmt.Errorf("an onset near %.1f s that no cue explains", at))
		}
	}
	t.Logf("%d cues at %d instants: at most %d frames off", len(cues), len(want), worst)
	return errors.Join(faults...)
}

// nearestTo is the onset nearest to a frame.
func nearestTo(onsets []int, frame int) int {
	return slices.MinFunc(onsets, func(a, b int) int { return max(a-frame, frame-a) - max(b-frame, frame-b) })
}

// together are the kinds that begin at one frame.
func together(cues []sequence.Cue, frame int64) []sequence.CueKind {
	var kinds []sequence.CueKind
	for _, c := range cues {
		if int64(math.Round(c.At.Seconds()*rate)) == frame {
			kinds = append(kinds, c.Kind)
		}
	}
	return kinds
}

// mostLike is which of all kinds, or of the kinds that are expected together, a
// stretch of a recording that begins with an onset correlates with most; nil where it
// is none of them.
func mostLike(sound []float64, own []sequence.CueKind) []sequence.CueKind {
	candidates := [][]sequence.CueKind{own}
	for _, kind := range sequence.CueKinds {
		candidates = append(candidates, []sequence.CueKind{kind})
	}
	var best []sequence.CueKind
	most := 0.95
	for _, kinds := range candidates {
		if r := likeness(sound, kinds); r > most {
			best, most = kinds, r
		}
	}
	return best
}

// likeness is the correlation of a recording with these kinds begun together, from
// the onset of each on.
func likeness(sound []float64, kinds []sequence.CueKind) float64 {
	var cues []sequence.Cue
	length := time.Duration(0)
	for _, kind := range kinds {
		cues = append(cues, sequence.Cue{Kind: kind})
		length = max(length, cue.Length(kind))
	}
	var model []float64
	for _, f := range cue.Render(cues, length+100*time.Millisecond) {
		model = append(model, f[0])
	}
	model = model[pulsetest.Onsets(model)[0]:]
	cross, power, of := 0.0, 0.0, 0.0
	for i := range min(len(sound), len(model)) {
		cross += sound[i] * model[i]
		power += sound[i] * sound[i]
		of += model[i] * model[i]
	}
	return cross / math.Sqrt(power*of)
}

// What the comparison is for, it finds.
func TestARecordingThatIsNotThePlanIsFound(t *testing.T) {
	t.Parallel()
	cues := []sequence.Cue{{Kind: sequence.CueReady}, {At: 2 * time.Second, Kind: sequence.CueTransfer},
		{At: 4 * time.Second, Kind: sequence.CueShuffle}, {At: 5 * time.Second, Kind: sequence.CueDrain}}
	changed := func(change func([]sequence.Cue) []sequence.Cue) []sequence.Cue { return change(slices.Clone(cues)) }
	for want, heard := range map[string][]sequence.Cue{
		"":                cues,
		"no onset within": changed(func(c []sequence.Cue) []sequence.Cue { return c[:3] }),
		"that no cue explains": changed(func(c []sequence.Cue) []sequence.Cue {
			return append(c, sequence.Cue{At: 8 * time.Second, Kind: sequence.CueTick})
		}),
		"within 44 frames":       changed(func(c []sequence.Cue) []sequence.Cue { c[2].At += 2 * time.Millisecond; return c }),
		"is heard as [take-out]": changed(func(c []sequence.Cue) []sequence.Cue { c[1].Kind = sequence.CuePull; return c }),
		"is heard as []": changed(func(c []sequence.Cue) []sequence.Cue {
			return append(c, sequence.Cue{At: 2100 * time.Millisecond, Kind: sequence.CueOverdue})
		}),
	} {
		samples := make([]float64, rate/3)
		for _, f := range cue.Render(heard, 10*time.Second) {
			samples = append(samples, f[0])
		}
		err := matched(t, samples, cues)
		if want == "" && err != nil || want != "" && (err == nil || !strings.Contains(err.Error(), want)) {
			t.Errorf("%v; want %q", err, want)
		}
	}
}

// A session begun without a sound server says so, finds the server that appears
// later, loses it and finds it again; its cues are heard whenever they can be.
func TestASessionFindsItsSoundAgain(t *testing.T) {
	t.Parallel()
	s := pulsetest.PulseAudio(t)
	l := before(t, s)
	r := l.start(nil, "run", "short.toml", "--plain", "--json", "--rehearse", "3", "--sound", "auto")
	if e := r.until(kind(sequence.SoundLost)); !strings.HasPrefix(e.Text, "NO SOUND: pulse: no sound server: ") {
		t.Errorf("lost as %q", e.Text)
	}
	for range 2 {
		s.Start()
		began := time.Now()
		if e := r.until(kind(sequence.SoundBack)); !strings.HasPrefix(e.Text, "sound: pulse, ") {
			t.Errorf("back as %q", e.Text)
		}
		t.Logf("told %v after the server's return", time.Since(began))
		stop := s.Record(pulsetest.Sinks[0])
		r.until(kind(sequence.CueGiven))
		r.until(kind(sequence.CueGiven))
		time.Sleep(time.Second)
		if len(pulsetest.Onsets(stop())) == 0 {
			t.Error("nothing is heard though sound is said to be back")
		}
		s.Kill()
		if e := r.until(kind(sequence.SoundLost)); e.Text != "NO SOUND: the sound server has gone" && !strings.HasPrefix(e.Text, "NO SOUND: no sound server: ") {
			t.Errorf("lost as %q", e.Text)
		}
	}
	fmt.Fprintln(r.in, "stop")
	r.finish(app.ExitOK)
}

package sink

import (
	"errors"
	"strings"
	"testing"
	"testing/synctest"
	"time"
)

// standing is a way out that pulls when it is told to.
type standing struct {
	status
	source Source
	closed int
}

func (s *standing) Close() error { s.closed++; return nil }

func (s *standing) pull(frames int) [][2]float64 {
	block := make([][2]float64, frames)
	block[0][0] = 9 // what was there before must not be heard
	s.source.Pull(block, time.Now())
	return block
}

func unplugged(Source) (Sink, error) { return nil, errors.New("unplugged") }

func plugged(name string, opened **standing) func(Source) (Sink, error) {
	return func(source Source) (Sink, error) {
		*opened = &standing{status: status{name: name, latency: 40 * time.Millisecond}, source: source}
		return *opened, nil
	}
}

func TestAutoTakesTheFirstWayThatWorksAndSaysWhy(t *testing.T) {
	var s *standing
	for _, c := range []struct {
		outputs []output
		want    string
	}{
		{[]output{{"first", plugged("first", &s)}, {"second", unplugged}}, "sound: first, 40 ms"},
		{[]output{{"first", unplugged}, {"second", plugged("second", &s)}}, "sound: second, 40 ms (first: unplugged)"},
		{[]output{{"first", unplugged}, {"third", unplugged}}, "NO SOUND: first: unplugged; third: unplugged"},
	} {
		s := openAuto(c.outputs, &silence{})
		if got := s.State(); got != c.want {
			t.Errorf("state %q, want %q", got, c.want)
		}
		s.Close()
	}
}

// ones is a source that is heard in every frame.
type ones struct {
	frames int
}

func (o *ones) Pull(frames [][2]float64, _ time.Time) {
	for i := range frames {
		frames[i] = [2]float64{1, 1}
	}
	o.frames += len(frames)
}

// A server that appears in mid-session is found within a second, and no frame is
// pulled by two sinks. Ways that cost something are asked for ever less often.
func TestAutoLooksAgainUntilThereIsSound(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var found *standing
		began, costly := time.Now(), 0
		pulse := func(source Source) (Sink, error) {
			switch since := time.Since(began); {
			case since < 30*time.Second:
				return nil, errors.New("unplugged")
			case since < 60*time.Second:
				return nil, errors.New("refused")
			}
			return plugged("pulse", &found)(source)
		}
		exec := func(Source) (Sink, error) { costly++; return nil, errors.New("not installed") }
		source := &ones{}
		out := openAuto([]output{{"pulse", pulse}, {"exec", exec}}, source)
		time.Sleep(59900 * time.Millisecond)
		synctest.Wait()
		if got := out.State(); out.Sounding() || got != "NO SOUND: pulse: refused; exec: not installed" {
			t.Errorf("before: state %q", got)
		}
		if _, off := out.(*reconnector).present().(*silentSink); !off || costly < 10 || costly > 18 {
			t.Errorf("before: silent %v; the costly way asked for %d times in a minute", off, costly)
		}
		time.Sleep(time.Second)
		synctest.Wait()
		if got := out.State(); !out.Sounding() || got != "sound: pulse, 40 ms" {
			t.Errorf("after: state %q", got)
		}
		before := source.frames
		time.Sleep(time.Second)
		if source.frames != before {
			t.Errorf("%d frames were pulled by a sink that has gone", source.frames-before)
		}
		if heard := found.pull(100); heard[0] != [2]float64{1, 1} || source.frames != before+100 {
			t.Errorf("the sink that was found hears %v", heard[0])
		}
		out.Close()
		if found.closed != 1 {
			t.Errorf("what was found is closed %d times", found.closed)
		}
	})
}

// Before its turn a sink that was just opened plays nothing, and takes nothing.
func TestASinkWaitsForItsTurn(t *testing.T) {
	source := &ones{}
	g := &sourceGate{source: source}
	g.owner = &gatedSource{g}
	early := &standing{source: &gatedSource{g}}
	if heard := early.pull(10); heard[0] != [2]float64{} || source.frames != 0 {
		t.Errorf("heard %v, %d frames taken", heard[0], source.frames)
	}
}

func TestAutoCanBeClosedWhileItLooks(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		slow := func(Source) (Sink, error) { time.Sleep(time.Second); return nil, errors.New("slow") }
		out := openAuto([]output{{"slow", slow}}, &silence{})
		time.Sleep(1200 * time.Millisecond)
		began := time.Now()
		out.Close()
		out.Close()
		if took := time.Since(began); took > 2*time.Second {
			t.Errorf("closing took %v", took)
		}
		if !strings.HasPrefix(out.State(), "NO SOUND: slow") {
			t.Errorf("state %q", out.State())
		}
	})
}

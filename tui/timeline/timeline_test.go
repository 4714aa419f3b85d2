package timeline

import (
	"testing"
	"time"

	"pgregory.net/rapid"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/sessiontest"
)

// any session: steps one after another, a moment and a limit or none.
func session(t *rapid.T) Timeline {
	var l Timeline
	at := time.Duration(0)
	for i := range rapid.IntRange(1, 9).Draw(t, "steps") {
		from := at + rapid.SampledFrom([]time.Duration{0, 10 * time.Second, time.Minute}).Draw(t, "gap")
		at = from + time.Duration(rapid.IntRange(1, 3600).Draw(t, "time"))*time.Second
		l.Segments = append(l.Segments, Segment{Name: "step"[:1+i%4], From: from, To: at, Light: []sequence.Light{sequence.Dark, sequence.White}[i%2], Dry: i == 8})
	}
	moment := func(name string) *time.Duration {
		if rapid.Bool().Draw(t, "no "+name) {
			return nil
		}
		d := time.Duration(rapid.IntRange(0, 2*int(at/time.Second)).Draw(t, name)) * time.Second
		return &d
	}
	l.Now, l.Limit = moment("now"), moment("limit")
	return l
}

// The wet line has no hole and no stretch twice, and ends where the film is lifted or at the
// limit, whichever is later and on the line.
func TestWetLineIsWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := session(t)
		at := time.Duration(0)
		for _, s := range l.Wet() {
			if s.From != at || s.To <= s.From {
				t.Fatalf("a stretch %v to %v after %v", s.From, s.To, at)
			}
			at = s.To
			over := l.Limit != nil && s.From >= *l.Limit
			if over != (s.Kind == Over) && s.To > 0 && s.From < l.WetEnd() {
				t.Fatalf("%v to %v is of kind %d, limit %v", s.From, s.To, s.Kind, *l.Limit)
			}
		}
		span, beyond := l.Span()
		if at < l.WetEnd() {
			t.Fatalf("ends at %v before the last sheet out at %v", at, l.WetEnd())
		}
		if l.Limit != nil && !beyond && *l.Limit > l.WetEnd() && at != min(span, *l.Limit) {
			t.Fatalf("ends at %v, limit %v", at, *l.Limit)
		}
	})
}

func TestBandIsEachStepOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := session(t)
		sum := make([]time.Duration, len(l.Segments))
		for _, s := range l.Band() {
			sum[s.Segment] += s.To - s.From
			if l.Now != nil && (s.Kind == Past || s.Kind == Elapsed) != (s.To <= *l.Now) {
				t.Fatalf("%v to %v is of kind %d at %v", s.From, s.To, s.Kind, *l.Now)
			}
		}
		for i, s := range l.Segments {
			if sum[i] != s.To-s.From {
				t.Fatalf("step %d has %v on the band, want %v", i, sum[i], s.To-s.From)
			}
		}
	})
}

func TestLabelsNeverTouch(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := session(t)
		width := rapid.Float64Range(1, 300).Draw(t, "width")
		size := func(s Segment) float64 { return float64(3 + len(s.Name)) }
		end := -2.0
		for _, at := range l.Labels(width, 2, size) {
			if at.X < end+2-1e-9 || at.X < 0 || at.X+size(l.Segments[at.Segment]) > width+1e-9 {
				t.Fatalf("a label at %v, the last ended at %v, width %v", at.X, end, width)
			}
			end = at.X + size(l.Segments[at.Segment])
		}
		if p := l.Present(); p >= 0 && width >= size(l.Segments[p]) {
			for _, at := range l.Labels(width, 2, size) {
				if at.Segment == p {
					return
				}
			}
			t.Fatal("the present step has no label")
		}
	})
}

// Without a limit there is nothing in hand and nothing over; a limit a quarter of the session
// behind its end is still on the line, one further away is not.
func TestLimits(t *testing.T) {
	l := Timeline{Segments: []Segment{{To: 20 * time.Minute}}}
	if got := l.Wet(); len(got) != 1 || got[0] != (Stretch{-1, 0, 20 * time.Minute, Planned}) {
		t.Errorf("no limit: %v", got)
	}
	for minutes, want := range map[int]bool{10: false, 20: false, 25: false, 26: true, 90: true} {
		limit := time.Duration(minutes) * time.Minute
		l.Limit = &limit
		span, beyond := l.Span()
		if on := max(20*time.Minute, limit); beyond != want || !beyond && span != on || beyond && span != 20*time.Minute {
			t.Errorf("limit %v: the line spans %v, beyond %v", limit, span, beyond)
		}
	}
}

// The mark on the line is the moment of the alarm, also where shares of two vessels' limits add
// up and the time in hand is that of one of them.
func TestTheLimitIsTheAlarms(t *testing.T) {
	for _, name := range []string{"plover-tray", "plover-warm-water", "tern-hangers"} {
		p := sessiontest.StarterPlan(t, name, sequence.Conditions{})
		if l := OfPlan(p); l.Limit == nil || *l.Limit != *p.Wet.LimitAt {
			t.Errorf("%s: limit %v, the alarm is at %v", name, l.Limit, *p.Wet.LimitAt)
		}
	}
}

// Drying goes on for hours after the last sheet out of a bath, and is left out; the limit is
// the moment of the alarm: all go in at once, and the recipe's limit is 50 min.
func TestOfPlanEndsWithTheLastBath(t *testing.T) {
	p := sessiontest.StarterPlan(t, "plover-cradle", sequence.Conditions{})
	l := OfPlan(p)
	last := l.Segments[len(l.Segments)-1]
	if last.Name != "wash" || !last.Lit() || l.Segments[0].Lit() || l.End() != p.Wet.Total || *l.Limit != 50*time.Minute {
		t.Errorf("%+v, limit %v", l.Segments, l.Limit)
	}
}

package press

import (
	"slices"
	"testing"
	"time"
)

const ms = time.Millisecond

// heard is what a row of presses comes to, each the given time after the last; silence is told
// wherever it was.
func heard(gaps ...time.Duration) (kinds []Kind) {
	var d Detector
	now := time.Unix(1000, 0)
	for _, gap := range gaps {
		var k Kind
		if gap >= Silence {
			if d, k = d.Quiet(); k != Same {
				kinds = append(kinds, k)
			}
		}
		now = now.Add(gap)
		if d, k = d.Press(now); k != Same {
			kinds = append(kinds, k)
		}
	}
	if _, k := d.Quiet(); k != Same {
		kinds = append(kinds, k)
	}
	return kinds
}

func TestTouches(t *testing.T) {
	for name, c := range map[string]struct {
		gaps []time.Duration
		want []Kind
	}{
		"one":                        {[]time.Duration{0}, []Kind{One}},
		"two, as near as they may":   {[]time.Duration{0, 400 * ms}, []Kind{One, Two}},
		"a bounce":                   {[]time.Duration{0, 399 * ms}, []Kind{One}},
		"a bounce pushes on":         {[]time.Duration{0, 300 * ms, 300 * ms, 300 * ms}, []Kind{One}},
		"a bounce, then a touch":     {[]time.Duration{0, 100 * ms, 700 * ms}, []Kind{One, Two}},
		"two, as far as they may":    {[]time.Duration{0, 2000 * ms}, []Kind{One, Two}},
		"too far":                    {[]time.Duration{0, 2001 * ms}, []Kind{One, One}},
		"slow, then right":           {[]time.Duration{0, 3000 * ms, 2000 * ms}, []Kind{One, One, Two}},
		"three":                      {[]time.Duration{0, 700 * ms, 700 * ms}, []Kind{One, Two, One}},
		"no silence behind":          {[]time.Duration{0, 700 * ms, 199 * ms}, []Kind{One}},
		"the second held":            {[]time.Duration{0, 700 * ms, 250 * ms, 92 * ms, 92 * ms}, []Kind{One, One}},
		"the second held, at best":   {[]time.Duration{0, 700 * ms, 200 * ms}, []Kind{One, One}},
		"held is a first from there": {[]time.Duration{0, 700 * ms, 250 * ms, 1700 * ms}, []Kind{One, One, Two}},
		"silence behind":             {[]time.Duration{0, 700 * ms, 300 * ms}, []Kind{One, Two}},
		"held, then held":            {[]time.Duration{0, 250 * ms, 92 * ms, 92 * ms, 700 * ms, 250 * ms, 92 * ms}, []Kind{One, One}},
		"held, then a touch":         {[]time.Duration{0, 500 * ms, 30 * ms, 30 * ms, 600 * ms}, []Kind{One, Two}},
		"held too long, then one":    {append([]time.Duration{0, 500 * ms}, append(many(100, 30*ms), 600*ms)...), []Kind{One, One}},
		"a stuttering terminal":      {[]time.Duration{0, 500 * ms, 30 * ms, 450 * ms, 0, 0, 30 * ms}, []Kind{One}},
		"held as late as any repeat": {append([]time.Duration{0, 1100 * ms}, many(100, 92*ms)...), []Kind{One}},
	} {
		if got := heard(c.gaps...); !slices.Equal(got, c.want) {
			t.Errorf("%s: %v; want %v", name, got, c.want)
		}
	}
}

func many(n int, gap time.Duration) (list []time.Duration) {
	for range n {
		list = append(list, gap)
	}
	return list
}

// Of a touch that has done its work a key still held is no new one.
func TestResetKeepsTheHand(t *testing.T) {
	now := time.Unix(1000, 0)
	d, _ := Detector{}.Press(now)
	d = d.Reset()
	for range 50 {
		now = now.Add(30 * ms)
		var k Kind
		if d, k = d.Press(now); k != Same {
			t.Fatal("a held key counts again")
		}
	}
	d, k := d.Press(now.Add(600 * ms))
	if k != Same {
		t.Error("what may be a repeat counts before silence")
	}
	if _, k = d.Other().Quiet(); k != Same {
		t.Error("it counts although another key came")
	}
	if _, k = d.Quiet(); k != One {
		t.Errorf("%v; want a first touch", k)
	}
}

// A touch of another act counts at once where no keyboard would repeat so late.
func TestALateTouchCountsAtOnce(t *testing.T) {
	now := time.Unix(1000, 0)
	d, _ := Detector{}.Press(now)
	if _, k := d.Reset().Press(now.Add(1100 * ms)); k != Same {
		t.Errorf("%v after 1.1 s; want silence to be waited for", k)
	}
	if _, k := d.Reset().Press(now.Add(1101 * ms)); k != One {
		t.Errorf("%v after more than 1.1 s; want a touch at once", k)
	}
	if _, k := d.Release().Reset().Press(now.Add(500 * ms)); k != One {
		t.Errorf("%v after a release; want a touch at once", k)
	}
}

// A terminal that tells releases is believed: no silence is waited for, and what was not let
// go is no touch.
func TestReleases(t *testing.T) {
	now := time.Unix(1000, 0)
	d, _ := Detector{}.Press(now)
	d = d.Release()
	d, k := d.Press(now.Add(500 * ms))
	if k != Two {
		t.Errorf("%v; want a second touch at once", k)
	}
	if d, k = d.Press(now.Add(1100 * ms)); k != Same {
		t.Errorf("%v without a release between", k)
	}
	if _, k = d.Release().Press(now.Add(1200 * ms)); k != Same {
		t.Errorf("%v; a bounce is one also where it is told", k)
	}
}

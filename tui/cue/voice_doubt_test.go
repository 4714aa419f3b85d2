package cue

// What is said of a developer that was used before, of how well its temperature is known, and of when to read it.

import (
	"strings"
	"testing"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/engine"
	"example.org/wetside/sequence/planning"
)

// tankOf is ten minutes at 20 °C in a closed tank by a light, 2.2 times as fast for ten degrees, with a thermometer of
// a class.
func tankOf(t testing.TB, light sequence.Light, within chem.Celsius, bottles ...sequence.OpenBottle) *sequence.Plan {
	t.Helper()
	r := recipeFor(sequence.DaylightTank, 1,
		sequence.Step{Kind: sequence.Presoak, Time: 2 * minute, RoomLight: light},
		sequence.Step{Kind: sequence.Develop, Bath: "developer", Time: 10 * minute, RoomLight: light, Temperature: &sequence.Temperature{At: 20, Coefficient: 2.2}},
		sequence.Step{Kind: sequence.StopBath, Time: minute, RoomLight: light})
	r.Baths = []sequence.Bath{{ID: "developer", Volume: 1000, SheetsPerLitre: 20, Reuse: &chem.Reuse{Longer: 0.02}}}
	p, err := planning.Resolve(r, sequence.Conditions{Thermometers: &sequence.Thermometers{Hand: sequence.Thermometer{Within: within}}, OpenBottles: bottles})
	if err != nil {
		t.Fatal(err)
	}
	return &p
}

// Five sheets in a litre at 2% each are 10% longer: said once, before the developer, and of no other bath.
func TestAUsedBathIsSaidWhenReady(t *testing.T) {
	p := tankOf(t, sequence.White, 0, sequence.OpenBottle{Bath: "developer", Bottle: "dev-1", Volume: 1000, SheetsDone: 5})
	ready := func(at sequence.Elapsed, step string) Phrase {
		return readyPhrase(p, sequence.Cue{At: at, Kind: sequence.CueReady, Step: step})
	}
	says(t, "into a used developer", ready(minute, "presoak 1"), "[ready] [pour developer] [used-bath] [10 per-cent longer]")
	says(t, "out of it", ready(13*minute, "develop 2"), "[ready] [pour stop-bath]")
	says(t, "the first bath", ready(-10*second, "presoak 1"), "[ready] [pour presoak]")
	n := begin(t, p, Sparse)
	for n.state.Over() == "" && n.now < 20*minute {
		n.pass()
	}
	n.lawful(t)
	if got := n.account(); strings.Count(got, "[used-bath]") != 1 {
		t.Errorf("said: %s", got)
	}
	p.Steps = p.Steps[1:]
	says(t, "into it first", ready(-10*second, "develop 2"), "[ready] [pour developer] [used-bath] [10 per-cent longer]")
	says(t, "a fresh one", readyPhrase(tankOf(t, sequence.White, 0), sequence.Cue{At: minute, Kind: sequence.CueReady, Step: "presoak 1"}), "[ready] [pour developer]")
}

// A thermometer within 0.5 °C, anywhere alike, read to 0.1: a variance of 0.25/3 + 0.01 = 0.0933; a bath wanders by 0.01 a
// minute, and its mean by a third of that. 1.645 deviations, at ln(2.2)/10 = 7.88% a degree: two minutes unread ±4.37%,
// five more ±4.68%, eleven ±5.02%; told to the careful side.
func TestDoubtOfDevelopmentIsSaidWhenAsked(t *testing.T) {
	at := func(p *sequence.Plan, d sequence.Elapsed) (*lived, Phrase) {
		n := begin(t, p, Sparse)
		n.now = d
		n.do(sequence.Wake{})
		return n, doubtPhrase(n.state.Snapshot(d))
	}
	_, got := at(tankOf(t, sequence.Dark, 0.5), 2*minute)
	says(t, "as film comes in", got, "[developed 0 per-cent] [plus-minus 5 per-cent]")
	_, got = at(tankOf(t, sequence.Dark, 0), 7*minute)
	says(t, "an exact thermometer", got, "")
	_, got = at(tankOf(t, sequence.White, 0.5), minute)
	says(t, "in the presoak", got, "")
	n, _ := at(tankOf(t, sequence.Dark, 0.5), 7*minute)
	says(t, "all of it", StatePhrase(n.plan, n.state.Snapshot(n.now)), "[developer] [stand] [5 minutes left] [developed 50 per-cent] [plus-minus 5 per-cent] [wet-time 7 minutes]")
	n.do(sequence.Hold{})
	n.now = 13 * minute
	n.do(sequence.Wake{})
	says(t, "overdue", StatePhrase(n.plan, n.state.Snapshot(n.now)), "[developer] [stand] [time-up] [1 minute overdue] [developed 1 hundred 10 per-cent] [plus-minus 6 per-cent] [wet-time 13 minutes]")
}

// Read by a better thermometer the bath's wandering is most of the error: another reading helps. Asked for, it is said
// with the time that is left for it; unasked once, as long before as hands need. In the dark nobody can read one.
func TestAReadingIsAskedForByLight(t *testing.T) {
	for _, c := range []struct {
		what  string
		light sequence.Light
		lit   bool // the person has brought the light back
		read  bool // and has read the developer, at six minutes
		want  int
	}{{"white", sequence.White, false, false, 1}, {"dark", sequence.Dark, false, false, 0}, {"dark, lit", sequence.Dark, true, false, 1}, {"read before", sequence.White, false, true, 0}} {
		n := begin(t, tankOf(t, c.light, 0.1), Sparse)
		var by sequence.Elapsed
		for n.state.Over() == "" && n.now < 20*minute {
			n.pass()
			if n.now == 3*minute && c.lit {
				n.do(sequence.Report{Kind: sequence.LightChanged, Text: "on"})
			}
			if n.now == 6*minute && c.read {
				n.do(sequence.TakeReading{T: 20, Source: sequence.ByHand})
			}
			l := n.state.Snapshot(n.now)
			if n.now == 4*minute && l.Develop.ReadBy == nil {
				t.Fatalf("%s: no reading is worth it", c.what)
			} else if n.now == 4*minute {
				by = *l.Develop.ReadBy
				want := "[developed 20 per-cent] [plus-minus 3 per-cent]" // a variance of 0.0133 + 0.02 + 0.02/3: ±2.59%
				if c.light != sequence.Dark || c.lit {
					want += " " + Phrase{append(Clause{"read-developer", "within"}, durationWords(by-n.now)...)}.String()
				}
				says(t, c.what, doubtPhrase(l), want)
			}
		}
		n.lawful(t)
		var told []uttered
		for _, s := range n.said {
			if s.About.Kind == aboutReading {
				told = append(told, s)
			}
		}
		if len(told) != c.want {
			t.Errorf("%s: said %d times; expected %d: %s", c.what, len(told), c.want, n.account())
		} else if c.want > 0 && (told[0].At < by-readingTakes-15*second || told[0].At > by-readingTakes+15*second) {
			t.Errorf("%s: said at %v; it helps most at %v", c.what, told[0].At, by)
		}
	}
}

// The band of a reading is said where it matters to development, on the person's scale and to the careful side.
func TestTheBandOfAReadingIsSaid(t *testing.T) {
	warm := chem.Celsius(22.5)
	l := engine.Snapshot{Develop: &engine.DevelopmentProgress{Temperature: &warm, Band: 0.41, Error: 0.019, AtEnd: 0.021}}
	c := sequence.Cue{Kind: sequence.CueReading, For: 190 * second}
	says(t, "Celsius", explanation(nil, l, c, sequence.Units{}), "[3 minutes 10 seconds left] [20 2 point 5 degrees] [plus-minus 0 point 5]")
	says(t, "Fahrenheit", explanation(nil, l, c, sequence.Units{Fahrenheit: true}), "[3 minutes 10 seconds left] [70 2 point 5 degrees] [plus-minus 0 point 8]")
	l.Develop.AtEnd = 0.02
	says(t, "little", explanation(nil, l, c, sequence.Units{}), "[3 minutes 10 seconds left] [20 2 point 5 degrees]")
}

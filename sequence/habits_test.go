package sequence

// Units as people write them, against the definitions: 0 C is 32 F, 100 C is 212 F;
// a US fluid ounce is 29.5735295625 ml (NIST Handbook 44, appendix C).

import (
	"strings"
	"testing"
	"time"

	"example.org/wetside/chem"
)

var (
	metric = Habits{}
	ounces = Habits{Fahrenheit: true, FluidOunces: true, TwelveHours: true}
)

func TestTemperaturesAsWritten(t *testing.T) {
	for _, c := range []struct {
		t      chem.Celsius
		c, f   string
		number string // on the Fahrenheit scale
	}{{20, "20 C", "68 F", "68"}, {22.5, "22.5 C", "72.5 F", "72.5"}, {24.04, "24 C", "75.3 F", "75.3"}, {0, "0 C", "32 F", "32"},
		{100, "100 C", "212 F", "212"}, {-0.01, "0 C", "32 F", "32"}} {
		if got := metric.Temperature(c.t); got != c.c {
			t.Errorf("%v: %q; expected %q", c.t, got, c.c)
		}
		if got := ounces.Temperature(c.t); got != c.f {
			t.Errorf("%v: %q; expected %q", c.t, got, c.f)
		}
		if got := ounces.Degrees(c.t); got != c.number {
			t.Errorf("%v: %q; expected %q", c.t, got, c.number)
		}
	}
	if got := metric.Tenths(20) + ounces.Tenths(20); got != "20.0 C68.0 F" {
		t.Errorf("20 C with its tenth: %q", got)
	}
	if got := ounces.Difference(2.5); got != "4.5 F" { // 1 K is 1.8 F
		t.Errorf("2.5 K: %q", got)
	}
	if got := metric.Difference(2.84); got != "2.8 K" {
		t.Errorf("2.84 K: %q", got)
	}
}

func TestVolumesAsWritten(t *testing.T) {
	const oz = 29.5735295625
	for _, c := range []struct{ got, want string }{
		{metric.Volume(1500), "1500 ml"}, {metric.Volume(24.19), "24.2 ml"}, {metric.Volume(5), "5.00 ml"},
		{ounces.Volume(32 * oz), "32.0 fl oz"}, {ounces.Volume(oz / 4), "0.25 fl oz"}, {ounces.Volume(1280 * oz), "1280 fl oz"},
		{metric.Amount(24.19), "24.2 ml"}, {ounces.Amount(8 * oz), "8.00 fl oz"},
		{metric.Mark(24), "24 ml"}, {ounces.Mark(oz / 2), "0.5 fl oz"},
		{metric.Short(1500), "1.5l"}, {ounces.Short(8 * oz), "8floz"},
	} {
		if c.got != c.want {
			t.Errorf("%q; expected %q", c.got, c.want)
		}
	}
}

func TestTheTimeOfDay(t *testing.T) {
	noon := time.Date(2026, 11, 25, 12, 5, 0, 0, time.UTC)
	for _, c := range []struct{ got, want string }{
		{metric.TimeOfDay(noon.Add(7 * time.Hour)), "19:05"}, {ounces.TimeOfDay(noon.Add(7 * time.Hour)), "7:05 pm"},
		{ounces.TimeOfDay(noon), "12:05 pm"}, {ounces.TimeOfDay(noon.Add(-12 * time.Hour)), "12:05 am"},
		{metric.Moment(noon), "25 Nov 12:05"}, {ounces.Date(noon), "25 November 2026 12:05 pm"},
	} {
		if c.got != c.want {
			t.Errorf("%q; expected %q", c.got, c.want)
		}
	}
}

// A number without a letter is on the person's scale, with one on that of its letter.
func TestTemperaturesAsTyped(t *testing.T) {
	for text, want := range map[string]chem.Celsius{"68": 20, "20C": 20, "68F": 20, "77": 25} {
		got, err := ounces.ParseTemperature(text)
		if err != nil || got < want-1e-9 || got > want+1e-9 {
			t.Errorf("%q: %v, %v; expected %v", text, got, err, want)
		}
	}
	r, err := ounces.ParseReading("77@3m sure")
	if err != nil || r.T < 25-1e-9 || r.T > 25+1e-9 || r.Ago != 3*time.Minute || !r.Sure {
		t.Errorf("%+v, %v", r, err)
	}
	c, err := Words{Temp: "77@2m", Towards: "68", Drift: "45m", Habits: ounces}.Conditions()
	if err != nil || *c.Temp < 25-1e-9 || *c.Temp > 25+1e-9 || *c.Towards < 20-1e-9 || *c.Towards > 20+1e-9 {
		t.Errorf("%v %v, %v", c.Temp, c.Towards, err)
	}
}

// In Fahrenheit no caution and no proposal speaks in Celsius, and nothing else of
// them changes.
func TestCautionsInFahrenheit(t *testing.T) {
	cold, warm := chem.Celsius(10), chem.Celsius(27)
	for _, at := range []*chem.Celsius{&cold, &warm} {
		r := recipeOf(Tray, 1, Step{Kind: Develop, Time: 8 * time.Minute, Temperature: &Temperature{At: 20, Coefficient: 2, Range: []chem.Celsius{18, 24}}})
		p, err := Resolve(r, Conditions{Temp: at})
		if err != nil {
			t.Fatal(err)
		}
		told := p.CautionsFor(Habits{Fahrenheit: true})
		if len(told) != len(p.Cautions) || len(told) == 0 {
			t.Fatalf("%d cautions, %d in Fahrenheit", len(p.Cautions), len(told))
		}
		for i, c := range told {
			if c.Code != p.Cautions[i].Code || c.Level != p.Cautions[i].Level || strings.Contains(c.Text, " C") {
				t.Errorf("%+v where Celsius says %+v", c, p.Cautions[i])
			}
		}
	}
	s := Shortening{Text: "develop at 22 C: shorter", To: new(chem.Celsius)}
	*s.To = 22
	if got := s.TextFor(Habits{Fahrenheit: true}); got != "develop at 71.6 F: shorter" {
		t.Errorf("%q", got)
	}
}

// A refusal speaks on the scale on which the reading was typed.
func TestRefusalsInFahrenheit(t *testing.T) {
	if got := (State{}).refuseReading(Read{T: 80, Habits: Habits{Fahrenheit: true}}, 0); got != "176 F is no temperature of a bath; expected 32 to 140 F" {
		t.Errorf("%q", got)
	}
}

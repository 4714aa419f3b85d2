package sequence

// Units as people write them, against the definitions: 0 C is 32 F, 100 C is 212 F;
// a US fluid ounce is 29.5735295625 ml (NIST Handbook 44, appendix C).

import (
	"testing"
	"time"

	"example.org/wetside/chem"
)

var (
	metric = Units{}
	ounces = Units{Fahrenheit: true, FluidOunces: true, TwelveHours: true}
)

func TestTemperaturesAsWritten(t *testing.T) {
	for _, c := range []struct {
		t      chem.Celsius
		c, f   string
		number string // on the Fahrenheit scale
	}{{20, "20 °C", "68 °F", "68"}, {22.5, "22.5 °C", "72.5 °F", "72.5"}, {24.04, "24 °C", "75.3 °F", "75.3"}, {0, "0 °C", "32 °F", "32"},
		{100, "100 °C", "212 °F", "212"}, {-0.01, "0 °C", "32 °F", "32"}} {
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
	if got := metric.ToTenth(20) + ounces.ToTenth(20); got != "20.0 °C68.0 °F" {
		t.Errorf("20 C with its tenth: %q", got)
	}
	if got := ounces.Difference(2.5); got != "4.5 °F" { // 1 K is 1.8 F
		t.Errorf("2.5 K: %q", got)
	}
	if got := metric.Difference(2.84); got != "2.8 °C" {
		t.Errorf("2.84 K: %q", got)
	}
}

func TestVolumesAsWritten(t *testing.T) {
	const oz = 29.5735295625
	for _, c := range []struct{ got, want string }{
		{metric.Volume(1500), "1.5 L"}, {metric.Volume(24.19), "24.2 ml"}, {metric.Volume(5), "5 ml"},
		{ounces.Volume(32 * oz), "32 fl oz"}, {ounces.Volume(oz / 4), "0.25 fl oz"}, {ounces.Volume(1280 * oz), "1280 fl oz"},
		{metric.VolumeInColumn(24.19), "24.2 ml"}, {ounces.VolumeInColumn(8 * oz), "8.00 fl oz"},
		{metric.GraduateMark(24), "24 ml"}, {ounces.GraduateMark(oz / 2), "0.5 fl oz"},
		{metric.VolumeAsTyped(1500), "1.5l"}, {ounces.VolumeAsTyped(8 * oz), "8floz"},
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
		{metric.DayAndTime(noon), "25 Nov 12:05"}, {ounces.DateAndTime(noon), "25 November 2026 12:05 pm"},
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
	if err != nil || r.T < 25-1e-9 || r.T > 25+1e-9 || r.Ago != 3*time.Minute || !r.Confirmed {
		t.Errorf("%+v, %v", r, err)
	}
	c, err := RawConditions{Temp: "77@2m", SettlesAt: "68", TimeConstant: "45m", Units: ounces}.Conditions()
	if err != nil || *c.BathTemperature < 25-1e-9 || *c.BathTemperature > 25+1e-9 || *c.SettlesAt < 20-1e-9 || *c.SettlesAt > 20+1e-9 {
		t.Errorf("%v %v, %v", c.BathTemperature, c.SettlesAt, err)
	}
}

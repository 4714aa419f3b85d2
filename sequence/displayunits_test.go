package sequence

// Units as people write them, against the definitions: 0 C is 32 F, 100 C is 212 F;
// a US fluid ounce is 29.5735295625 ml (NIST Handbook 44, appendix C).

import (
	"testing"
	"time"

	"example.org/wetside/chem"
)

var ounces = Units{Fahrenheit: true, FluidOunces: true, TwelveHours: true}

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

package planning

import (
	"strings"
	"testing"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/recipetest"
)

// In Fahrenheit no caution and no proposal speaks in Celsius, and nothing else of
// them changes.
func TestCautionsInFahrenheit(t *testing.T) {
	cold, warm := chem.Celsius(10), chem.Celsius(27)
	for _, at := range []*chem.Celsius{&cold, &warm} {
		r := recipetest.Recipe(sequence.Tray, 1, sequence.Step{Kind: sequence.Develop, Time: 8 * time.Minute, Temperature: &sequence.Temperature{At: 20, Coefficient: 2, Range: []chem.Celsius{18, 24}}})
		p, err := Resolve(r, sequence.Conditions{BathTemperature: at})
		if err != nil {
			t.Fatal(err)
		}
		told := CautionsFor(&p, sequence.Units{Fahrenheit: true})
		if len(told) != len(p.Cautions) || len(told) == 0 {
			t.Fatalf("%d cautions, %d in Fahrenheit", len(p.Cautions), len(told))
		}
		for i, c := range told {
			if c.Code != p.Cautions[i].Code || c.Level != p.Cautions[i].Level || strings.Contains(c.Text, "°C") {
				t.Errorf("%+v where Celsius says %+v", c, p.Cautions[i])
			}
		}
	}
	s := sequence.Shortening{Text: "develop at 22 °C: shorter", WarmTo: new(chem.Celsius)}
	*s.WarmTo = 22
	if got := s.TextFor(sequence.Units{Fahrenheit: true}); got != "develop at 71.6 °F: shorter" {
		t.Errorf("%q", got)
	}
}

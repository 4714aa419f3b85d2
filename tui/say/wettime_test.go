package say

import (
	"testing"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
)

const mins = time.Minute

func at[T any](v T) *T { return &v }

// The language page's own lines.
func TestWetTime(t *testing.T) {
	wet := func(total, limit, margin time.Duration, used float64) *sequence.Plan {
		return &sequence.Plan{Vessel: sequence.Tray, Wet: sequence.Wet{Total: total, Limit: &limit, Margin: &margin, Used: &used}}
	}
	inHand := wet(24*mins+18*time.Second, 20*mins, 4*mins+54*time.Second, 0.755)
	same(t, WetTime(inHand), "Wet time 24:18: 76% of limit, 4:54 in hand")
	same(t, WetTime(wet(18*mins+52*time.Second, 18*mins, -52*time.Second, 1+52./1080)), "Wet time 18:52: 105% of limit (18:00 in trays), 0:52 too long")
	same(t, WetTime(&sequence.Plan{Vessel: sequence.Hangers, Wet: sequence.Wet{Total: mins}}), "Wet time 1:00: no limit known in hangers")
	inHand.Wet.WarningAt, inHand.Wet.LimitAt = at(17*mins), at(29*mins)
	same(t, WetTimeInFull(inHand), "Wet time 24:18: 76% of limit, 4:54 in hand (20:00 in trays), warning at 17:00, wet limit at 29:00.")
	same(t, SheetWet("sheet 1", 30*mins, "hangers", at(0.75), true), "Sheet 1: 30:00 in hangers, 75% of limit, set aside in water")
}

func TestDevelopment(t *testing.T) {
	st := &sequence.PlanStep{Given: 328 * time.Second, Base: 450 * time.Second,
		Step:              sequence.Step{Name: "develop"},
		TimeByTemperature: &sequence.Temperature{At: 20}}
	same(t, RecipeTime(st, celsius), "recipe 7:30 at 20 °C")
	same(t, RecipeTime(st, fahrenheit), "recipe 7:30 at 68 °F")
	// a coefficient that the recipe does not state is marked, where today's time rests on it
	st.Step.Temperature = &sequence.Temperature{At: 20}
	st.Dose, st.TimeByTemperature.Coefficient = st.Base, 2.2
	same(t, RecipeTime(st, celsius), "recipe 7:30 at 20 °C, coefficient 2.2 assumed")
	today, recipe := Develop(&sequence.Plan{Steps: []sequence.PlanStep{{Step: sequence.Step{Kind: sequence.Develop, Temperature: st.Step.Temperature},
		Given: st.Given, Base: st.Base, Dose: st.Dose, TimeByTemperature: st.TimeByTemperature}}}, celsius)
	same(t, today+"; "+recipe, "5:28; recipe 7:30 at 20 °C, coefficient 2.2 assumed")
	st.Step.Temperature.Coefficient = 2.2
	same(t, RecipeTime(st, celsius), "recipe 7:30 at 20 °C")
	st.Given = st.Base
	same(t, RecipeTime(st, celsius), "")
	name, share := CoefficientError(planning.ErrorBudget{CoefficientLow: -0.0707, CoefficientHigh: 0.0871, Assumed: true})
	same(t, name+" "+share, "coefficient (assumed) −7.1/+8.7%")
	name, share = CoefficientError(planning.ErrorBudget{})
	same(t, name+share, "")
}

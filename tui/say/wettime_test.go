package say

import (
	"strings"
	"testing"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/engine"
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

// Where the limits of two vessels add up, the figures of a plan can be added up by the reader: worked by
// hand, of 20:00 in trays a quarter is 5:00, of 1:30:00 in hangers a quarter is 22:30.
func TestWetTimeInTwoVessels(t *testing.T) {
	steps := []sequence.PlanStep{{Vessel: sequence.Tray}, {Vessel: sequence.Hangers}, {Vessel: sequence.Drum, Step: sequence.Step{OutsideWetTime: true}}}
	p := &sequence.Plan{Vessel: sequence.Tray, Steps: steps, Limits: sequence.WetLimit{ByVessel: map[sequence.Vessel]time.Duration{sequence.Tray: 20 * mins, sequence.Hangers: 90 * mins}},
		Wet: sequence.Wet{Total: 26 * mins, Limit: at(20 * mins), Margin: at(5 * mins), Used: at(0.75)}}
	same(t, Limits(p), "20:00 in trays, 1:30:00 in hangers")
	same(t, WetByVessel(p), "75% of limit, 5:00 in hand in trays, 22:30 in hangers")
	same(t, WetTimeInFull(p), "Wet time 26:00: 75% of limit, 5:00 in hand in trays, 22:30 in hangers.")
	same(t, LimitIn(p), "in hangers")
	p.Wet.Margin, p.Wet.Used = at(-5*mins), at(1.25)
	same(t, WetByVessel(p), "")
	p.Wet.Margin, p.Wet.Used = at(5*mins), at(0.75)
	p.Limits = sequence.WetLimit{All: 20 * mins}
	same(t, WetByVessel(p)+LimitIn(p), "")
	p.Limits, p.Steps = sequence.WetLimit{ByVessel: map[sequence.Vessel]time.Duration{sequence.Tray: 20 * mins}}, steps[:1]
	same(t, WetByVessel(p)+LimitIn(p), "")
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
	d := &engine.DevelopmentProgress{Done: 124 * time.Second, Of: 9 * mins, At: at(chem.Celsius(20)), Temperature: at(chem.Celsius(22.5))}
	same(t, DevelopedNow(d, "", celsius)[0], "23%: 2:04 of 9:00 (20 °C equivalent)")
	same(t, BathNow(d, celsius), "22.5 °C")
	d.Band, d.Error, d.AtEnd, d.AtEndIf, d.ReadBy = 0.41, 0.043, 0.051, 0.03, at(4*mins)
	same(t, DevelopedNow(d, "", celsius)[0], "23% ±5%: 2:04 of 9:00 (20 °C equivalent)")
	same(t, BathNow(d, celsius), "22.5 °C ±0.5")
	same(t, BathNow(d, sequence.Units{Fahrenheit: true}), "72.5 °F ±0.8")
	same(t, ReadNext(d)[0], "by 4:00: at the end ±6% without that, ±3% with it")
	same(t, ReadBy(*d.ReadBy, d.AtEnd, d.AtEndIf), "read the developer by 4:00: at the end development is ±6% without that, ±3% with it")
	d.Error, d.ReadBy = 0.02, nil // not over 2%
	same(t, DevelopedNow(d, "", celsius)[1], "23%")
	same(t, strings.Join(ReadNext(d), ""), "")
	same(t, Thermometers(&sequence.Thermometers{Hand: sequence.Thermometer{Within: 0.5, Shift: -0.3}}, celsius), "hand within 0.5 °C, 0.3 °C taken off; sensor taken as exact")
	used := &sequence.PlanStep{Step: sequence.Step{Name: "develop"}, Given: 11 * mins, Base: 10 * mins, Reused: &sequence.ReusedBath{Bottle: "dev-1", Sheets: 5, Factor: 1.1}}
	same(t, RecipeTime(used, celsius), "recipe 10:00; 10% longer after 5 sheets in dev-1")
}

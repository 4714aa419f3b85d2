package say

import (
	"testing"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
)

var (
	celsius    = sequence.Units{}
	fahrenheit = sequence.Units{Fahrenheit: true, FluidOunces: true, TwelveHours: true}
)

// same fails where a text is not what the language page has.
func same(t *testing.T, got, want string) {
	t.Helper()
	if got != want {
		t.Errorf("%q; want %q", got, want)
	}
}

// The page's own examples: 45 s, 20 min, 1 h 30 min, 5 days; seconds whole above 10 s, one
// decimal below.
func TestSpan(t *testing.T) {
	for d, want := range map[time.Duration]string{
		45 * time.Second: "45 s", 20 * time.Minute: "20 min", 90 * time.Minute: "1 h 30 min", 5 * day: "5 days",
		7500 * time.Millisecond: "7.5 s", 10400 * time.Millisecond: "10 s", 0: "0 s", 90 * time.Second: "90 s", 150 * time.Second: "2 min 30 s",
		27*time.Minute + 46487608142: "27 min 46 s", time.Hour + 59*time.Minute + 40*time.Second: "2 h",
		day: "24 h", 2*day - time.Minute: "47 h 59 min", 3*day - time.Second: "2 days", -20 * time.Minute: "−20 min",
	} {
		same(t, Span(d), want)
	}
}

// An exposure is rounded to less than a tenth of a stop, 7%, and never by more.
func TestShutter(t *testing.T) {
	for s, want := range map[float64]string{0.5: "1/2 s", 0.7: "0.7 s", 1.0 / 125: "1/125 s", 1.4: "1.4 s", 9.96: "10 s", 40: "40 s", 110.2: "110 s", 119.9: "120 s",
		337: "5 min 40 s", 1030: "17 min", 3149: "52 min", 9626: "2 h 40 min"} {
		if got := Shutter(time.Duration(s * float64(time.Second))); got != want {
			t.Errorf("%g s: %q; expected %q", s, got, want)
		}
	}
}

func TestElapsed(t *testing.T) {
	same(t, Elapsed(8*time.Minute+30*time.Second), "8:30")
	same(t, Elapsed(time.Hour+2*time.Minute+3*time.Second), "1:02:03")
}

func TestTemperatures(t *testing.T) {
	same(t, Reading(24, celsius), "24.0 °C")
	same(t, Temperature(20, celsius), "20 °C")
	same(t, Temperature(22.5, celsius), "22.5 °C")
	same(t, Temperature(20, fahrenheit), "68 °F")
	same(t, Reading(-0.04, celsius), "0.0 °C")
	same(t, TemperatureRange(18, 24, celsius), "18–24 °C")
	same(t, Difference(2.8, celsius), "2.8 °C")
	same(t, Difference(chem.Celsius(25./9), fahrenheit), "5 °F") // of 9/5
	same(t, TypedTemperature(chem.FromFahrenheit(71.6), fahrenheit), "71.6")
}

// 3 L, not 3000 ml; short by 7.6 ml.
func TestVolumes(t *testing.T) {
	for v, want := range map[chem.Millilitres]string{3000: "3 L", 1500: "1.5 L", 1250: "1.25 L", 999.6: "1 L", 250: "250 ml", 7.62: "7.6 ml",
		24.2: "24.2 ml", 5: "5 ml", 0.25: "0.25 ml"} {
		same(t, Volume(v, celsius), want)
	}
	same(t, Volume(29.5735295625, fahrenheit), "1 fl oz") // the US fluid ounce, NIST Handbook 44
}

func TestShares(t *testing.T) {
	same(t, Percent(0.76), "76%")
	same(t, Percent(0.04), "4%")
	same(t, Percent(0.043), "4.3%")
	same(t, Share(0.755), "76%")
	same(t, Share(1.001), "101%")
	same(t, Share(1), "100%")
	same(t, PercentChange(-0.013), "−1.3%")
}

// What is counted in whole things is rounded to the careful side: never 37.5 sheets.
func TestCounts(t *testing.T) {
	same(t, Count(1, "sheet"), "1 sheet")
	same(t, Count(6, "sheet"), "6 sheets")
	same(t, SheetsDone(37.5), "38 sheets of 4x5in")
	same(t, SheetsLeft(37.5), "37 sheets of 4x5in")
	same(t, SheetsDone(3.0000000001), "3 sheets of 4x5in")
}

func TestTimesOfDay(t *testing.T) {
	at := time.Date(2026, 1, 2, 15, 4, 0, 0, time.UTC)
	same(t, DateAndTime(at, celsius), "2 January 2026 15:04")
	same(t, DayAndTime(at, fahrenheit), "2 Jan 3:04 pm")
}

func TestSentence(t *testing.T) {
	same(t, sentence("élan of a bath"), "Élan of a bath.")
	same(t, sentence("is it 21.5 °C?"), "Is it 21.5 °C?")
}

func TestSheetNames(t *testing.T) {
	named := &sequence.Load{Names: []string{"3A", "3B"}}
	for _, c := range []struct {
		load *sequence.Load
		list []int
		want string
	}{
		{&sequence.Load{}, []int{3}, "sheet 3"}, {&sequence.Load{}, []int{1, 2, 3, 4}, "sheets 1–4"}, {&sequence.Load{}, []int{1, 3, 4, 6}, "sheets 1, 3–4, 6"},
		{named, []int{2}, "sheet 2 (3B)"}, {named, []int{1, 2}, "sheets 1 (3A), 2 (3B)"},
	} {
		if got := SheetNames(c.load, c.list); got != c.want {
			t.Errorf("%v: %q; expected %q", c.list, got, c.want)
		}
	}
}

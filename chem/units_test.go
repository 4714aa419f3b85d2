package chem

// What people write is read exactly or refused; conversions against GNU units.

import (
	"errors"
	"fmt"
	"math"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"
)

func TestParseDuration(t *testing.T) {
	for text, want := range map[string]time.Duration{
		"8m30s": 510 * time.Second, "8:30": 510 * time.Second, "90s": 90 * time.Second,
		"1h10m": 70 * time.Minute, "1:02:03": 3723 * time.Second, "0s": 0, "0:00": 0,
		"1.4s": 1400 * time.Millisecond, "1.5m": 90 * time.Second, "8m0.25s": 480250 * time.Millisecond,
		" 8m30s ": 510 * time.Second, "90:00": 90 * time.Minute, "8:30.5": 510500 * time.Millisecond,
		"1h5s": 3605 * time.Second, "1000h": MaxDuration, "90m90s": 91*time.Minute + 30*time.Second,
	} {
		if got, err := ParseDuration(text); err != nil || got != want {
			t.Errorf("%q: %v, %v; expected %v", text, got, err, want)
		}
	}
	for _, text := range []string{
		"", " ", "s", "m30s", "8", "8.5", "-8m", "+8m", "8m-30s", "8m 30s", "30s8m", "8s8s", "1.5m30s", "1e3s",
		"NaN", "nans", "Infs", "0x10s", "1_0s", "8:60", "8:5", "8:005", ":30", "8:", "1:60:00", "1.5:30",
		"1:2:3:4", "8:30s", "500ms", "5µs", "8,5m", "1..5s", "8m30", "٣s", "8M",
	} {
		if got, err := ParseDuration(text); err == nil || got != 0 || !strings.Contains(err.Error(), strconv.Quote(text)) {
			t.Errorf("%q was read as %v, %v; expected an error that quotes it", text, got, err)
		}
	}
	for _, text := range []string{"1001h", "1000h0.1s", "99999999999999999999h"} {
		if got, err := ParseDuration(text); !errors.Is(err, ErrTooLong) {
			t.Errorf("%q: %v, %v; expected ErrTooLong", text, got, err)
		}
	}
}

func TestFormatDuration(t *testing.T) {
	for d, want := range map[time.Duration]string{
		0: "0:00", 510 * time.Second: "8:30", 50 * time.Minute: "50:00", 3723 * time.Second: "1:02:03", 3600 * time.Second: "1:00:00",
		59*time.Minute + 59*time.Second + 500*time.Millisecond: "1:00:00", 499 * time.Millisecond: "0:00",
		500 * time.Millisecond: "0:01", -10 * time.Second: "-0:10", -300 * time.Millisecond: "0:00",
		-10*time.Second - 600*time.Millisecond: "-0:11", 100 * time.Hour: "100:00:00",
	} {
		if got := FormatDuration(d); got != want {
			t.Errorf("%v: %q; expected %q", d, got, want)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		d := time.Duration(rapid.Int64Range(0, 3600*1000).Draw(t, "s")) * time.Second
		if back, err := ParseDuration(FormatDuration(d)); err != nil || back != d {
			t.Errorf("%v written and read: %v, %v", d, back, err)
		}
		if back, err := ParseDuration(d.String()); err != nil || back != d { // Go's own form: 1h2m3s
			t.Errorf("%v read: %v, %v", d.String(), back, err)
		}
	})
}

func TestParseCelsius(t *testing.T) {
	for text, want := range map[string]Celsius{
		"20": 20, "20C": 20, "20.5c": 20.5, "20 C": 20, "20°C": 20, "20 °C": 20, "68F": 20, "32f": 0, "0": 0, ".5": 0.5, " 212F ": 100,
	} {
		if got, err := ParseCelsius(text); err != nil || got != want {
			t.Errorf("%q: %v, %v; expected %v", text, got, err, want)
		}
	}
	if got, err := ParseTemperature("68", ScaleF); err != nil || got != 20 {
		t.Errorf("68 where plain numbers are Fahrenheit: %v, %v; expected 20", got, err)
	}
	if got, err := ParseTemperature("20C", ScaleF); err != nil || got != 20 {
		t.Errorf("20C where plain numbers are Fahrenheit: %v, %v; expected 20", got, err)
	}
	for _, text := range []string{
		"", "C", "-1", "-5C", "31F", "+20", "20K", "20CC", "1e1", "NaN", "InfC", "20,5", "20°", "20 °", "20 ° °C", "0x14", "1.2.3", ".",
		strings.Repeat("9", 40),
	} {
		if got, err := ParseCelsius(text); err == nil || !strings.Contains(err.Error(), strconv.Quote(text)) {
			t.Errorf("%q was read as %v, %v; expected an error that quotes it", text, got, err)
		}
	}
	if got, err := ParseCelsius("900"); err == nil {
		t.Errorf("900 C was read as %v", got)
	}
}

func TestParseMillilitres(t *testing.T) {
	for text, want := range map[string]Millilitres{
		"1l": 1000, "250ml": 250, "1.5L": 1500, "0.5ml": 0.5, "8floz": 236.5882365, "0ml": 0,
	} {
		if got, err := ParseMillilitres(text); err != nil || math.Abs(float64(got-want)) > 1e-9 {
			t.Errorf("%q: %v, %v; expected %v", text, got, err, want)
		}
	}
	for _, text := range []string{
		"", "l", "ml", "5", "-1l", "+1l", "1 l", "1oz", "1cl", "1gal", "NaNml", "Infl", "1e3ml", "1,5l", "1ll", "1mll", "floz",
	} {
		if got, err := ParseMillilitres(text); err == nil || !strings.Contains(err.Error(), strconv.Quote(text)) {
			t.Errorf("%q was read as %v, %v; expected an error that quotes it", text, got, err)
		}
	}
}

func TestFormats(t *testing.T) {
	for got, want := range map[string]string{
		FormatMillilitres(7.5): "7.5ml", FormatMillilitres(7.96): "8ml",
		FormatMillilitres(9.97): "10ml", FormatMillilitres(999.6): "1l", FormatMillilitres(1234.4): "1.234l",
		Celsius(20).InBoth(): "20 °C (68 °F)", Celsius(48.889).InBoth(): "48.89 °C (120 °F)",
		FormatMillilitres(250): "250ml", FormatFluidOunces(236.5882365): "8floz",
	} {
		if got != want {
			t.Errorf("%q; expected %q", got, want)
		}
	}
}

// FuzzParse: whatever is typed, nothing panics and what is read is in bounds.
func FuzzParse(f *testing.F) {
	for _, s := range []string{"8m30s", "1:02:03", "68F", "8floz", "-1", "1e9h", ":", "..", "NaN"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if d, err := ParseDuration(s); err == nil && (d < 0 || d > MaxDuration) {
			t.Errorf("%q: %v", s, d)
		}
		if c, err := ParseCelsius(s); err == nil && !(c >= 0 && c <= maxCelsius) {
			t.Errorf("%q: %v C", s, c)
		}
		if v, err := ParseMillilitres(s); err == nil && !(v >= 0 && v < 1e34) {
			t.Errorf("%q: %v ml", s, v)
		}
	})
}

// gnuUnits asks GNU units for a conversion. Where it is not installed the test
// is skipped, or fails if WETSIDE_E2E=1 asks for every outside reference.
func gnuUnits(t *testing.T, from, to string) float64 {
	t.Helper()
	path, err := exec.LookPath("units")
	if err != nil {
		if os.Getenv("WETSIDE_E2E") == "1" {
			t.Fatal("GNU units is not installed, and WETSIDE_E2E=1 wants it")
		}
		t.Skip("GNU units is not installed: conversions are not compared with it")
	}
	out, err := exec.Command(path, "-t", "-o", "%.15g", from, to).Output()
	if err != nil {
		t.Fatalf("units %q %q: %v", from, to, err)
	}
	v, err := strconv.ParseFloat(strings.TrimSpace(string(out)), 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func TestConversionsAgainstGNUUnits(t *testing.T) {
	for _, f := range []float64{32, 50, 68, 75.5, 212} {
		want := gnuUnits(t, fmt.Sprintf("tempF(%g)", f), "tempC")
		if got := float64(FromFahrenheit(f)); math.Abs(got-want) > 1e-11 {
			t.Errorf("%g F: %.12f C; GNU units %.12f", f, got, want)
		}
		if got := Celsius(want).Fahrenheit(); math.Abs(got-f) > 1e-11 {
			t.Errorf("%g C: %.12f F; expected %g", want, got, f)
		}
	}
	for _, oz := range []float64{1, 8, 32, 128} {
		want := gnuUnits(t, fmt.Sprintf("%g usfloz", oz), "ml")
		if got := Millilitres(want).FluidOunces(); math.Abs(got/oz-1) > 1e-12 {
			t.Errorf("%g ml: %.12f floz; expected %g", want, got, oz)
		}
	}
}

// How volumes are written at the bounds of each form, and what is said of a quantity that cannot be read.
func TestFormsOfQuantities(t *testing.T) {
	for _, c := range [][2]string{
		{FormatMillilitres(9.94), "9.9ml"}, {FormatMillilitres(9.96), "10ml"}, {FormatMillilitres(999.4), "999ml"}, {FormatMillilitres(999.5), "1l"},
		{FormatMillilitres(9.951), "10ml"}, {FormatMillilitres(2500.4), "2.5l"}, {FormatMillilitres(0.04), "0ml"}, {FormatMillilitres(-0.04), "0ml"},
		{Celsius(-0.001).InBoth(), "0 °C (32 °F)"}, {Celsius(20.126).InBoth(), "20.13 °C (68.23 °F)"},
		{FormatMillilitres(8.44), "8.4ml"}, {FormatMillilitres(11.26), "11ml"}, {FormatMillilitres(12.4), "12ml"}, {FormatFluidOunces(100), "3.4floz"},
	} {
		if c[0] != c[1] {
			t.Errorf("%q; expected %q", c[0], c[1])
		}
	}
	for text, want := range map[string]string{"8,5ml": "decimal comma", "8.5": "no unit", "8,5,5ml": "cannot read", "a lot": "cannot read"} {
		if _, err := ParseMillilitres(text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v; expected %q", text, err, want)
		}
	}
	if _, err := ParseDuration("8 min"); err == nil || !strings.Contains(err.Error(), `"8m"`) {
		t.Errorf("%v; expected how minutes are written", err)
	}
}

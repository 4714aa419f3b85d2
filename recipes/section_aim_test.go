package recipes

// What times were found for is read from a step and written back the same.

import (
	"reflect"
	"strings"
	"testing"

	"example.org/wetside/sequence"
)

func aimed(aim string) string {
	return strings.Replace(grown, "growth = {", "aim = "+aim+"\ngrowth = {", 1)
}

func TestAimIsReadAndWritten(t *testing.T) {
	for text, want := range map[string]sequence.Aim{
		`{ average = 0.58 }`:              {Average: 0.58},
		`{ ci = 0.56 }`:                   {Contrast: 0.56},
		`{ paper = 1.05, subject = 2.1 }`: {Print: &sequence.PrintAim{Paper: 1.05, Subject: 2.1, Shadow: 0.1, Placed: -10.0 / 3, Enlarger: "diffuse"}},
		`{ paper = 0.9, subject = 2.1, flare = 0.4, shadow = 0.15, placed = -3, enlarger = "condenser" }`: {
			Print: &sequence.PrintAim{Paper: 0.9, Subject: 2.1, Flare: 0.4, Shadow: 0.15, Placed: -3, Enlarger: "condenser"}},
	} {
		r, err := Read("t.toml", []byte(sound+aimed(text)))
		if err != nil {
			t.Errorf("%s: %v", text, err)
			continue
		}
		if got := r.Steps[0].Aim; !reflect.DeepEqual(got, &want) {
			t.Errorf("%s: %+v", text, got)
		}
		again, err := Read("t.toml", Write(r))
		if err != nil || !reflect.DeepEqual(again, r) {
			t.Errorf("%s: read back as %+v, %v", text, again.Steps[0].Aim, err)
		}
	}
}

func TestAimIsRefused(t *testing.T) {
	for text, want := range map[string]string{
		`{ average = 0.58, ci = 0.5 }`:    "aim: an aim of several or of none",
		`{}`:                              "aim: an aim of several or of none",
		`{ average = 0.58, flare = 0.4 }`: "aim.flare: there is no paper",
		`{ paper = 1.05 }`:                "aim.subject: missing",
		`{ paper = 10.5, subject = 2.1 }`: "aim.paper: the number 10.5",
		`{ paper = 1.05, subject = 2.1, enlarger = "candle" }`: `aim.enlarger: unknown word "candle"`,
	} {
		_, err := Read("t.toml", []byte(sound+aimed(text)))
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v; expected %q", text, err, want)
		}
	}
	_, err := Read("t.toml", []byte(sound+strings.Replace(aimed(`{ ci = 0.56 }`), `kind = "develop"`, `kind = "fix"`, 1)))
	if err == nil || !strings.Contains(err.Error(), `aim: this step is of kind "fix"`) {
		t.Errorf("in a fixer: %v", err)
	}
}

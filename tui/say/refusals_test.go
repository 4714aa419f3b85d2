package say

import (
	"errors"
	"fmt"
	"os"
	"regexp"
	"strings"
	"testing"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/engine"
	"example.org/wetside/sequence/holders"
	"example.org/wetside/sequence/recipetest"
)

func TestRefusals(t *testing.T) {
	for _, c := range []struct {
		code string
		v    sequence.Values
		h    sequence.Units
		want string
	}{
		{"", sequence.Values{}, celsius, ""},
		{"over", sequence.Values{}, celsius, "The session is over"},
		{"point-left-out", sequence.Values{Temperature: 215, Expected: 21.5}, celsius, "215 °C is no temperature of a bath: is it 21.5 °C?"},
		{"point-left-out", sequence.Values{Temperature: chem.FromFahrenheit(707), Expected: chem.FromFahrenheit(70.7)}, fahrenheit, "707 °F is no temperature of a bath: is it 70.7 °F?"},
		{"no-bath-so-warm", sequence.Values{Temperature: 80, Low: 0, High: 60}, fahrenheit, "176 °F is no temperature of a bath; expected 32–140 °F"},
		{"not-expected", sequence.Values{Temperature: 32, Expected: 22}, celsius, "32 °C where 22.0 °C was expected. If it is right, type it with sure"},
		{"reading-too-old", sequence.Values{Ago: 25 * time.Hour, Of: day}, celsius, "A reading of 25 h ago; expected up to 24 h"},
		{"no-such-sheet", sequence.Values{Sheet: 9, Sheets: 3}, celsius, "There is no sheet 9; expected 1–3"},
		{"last-sheet", sequence.Values{Sheet: 4}, celsius, "Sheet 4 is the last one; end the session instead"},
	} {
		r := sequence.Refusal{Code: c.code, Values: c.v}
		same(t, Refusal(r, c.h), c.want)
		if r.Refused() {
			same(t, Error(fmt.Errorf("asked: %w", sequence.RefusedError{r}), c.h), "asked: "+c.want)
		}
	}
	same(t, Error(errors.New("the disk is full"), celsius), "the disk is full")
}

// Each code that the engine refuses with has a sentence of its own.
func TestEveryRefusalHasASentence(t *testing.T) {
	source, err := os.ReadFile("../../sequence/engine/refuse.go")
	if err != nil {
		t.Fatal(err)
	}
	codes := regexp.MustCompile(`"([a-z]+(?:-[a-z]+)+|over)"`).FindAllStringSubmatch(string(source), -1)
	if len(codes) < 18 {
		t.Fatalf("%d codes found", len(codes))
	}
	for _, m := range codes {
		text := Refusal(sequence.Refusal{Code: m[1], Values: sequence.Values{Sheet: 1}}, celsius)
		if text == "" || strings.Contains(text, m[1]) && m[1] != "over" || text != Capital(text) || strings.Contains(text, "%!") {
			t.Errorf("%s: %q", m[1], text)
		}
	}
}

// Each code that planning refuses with has words of its own, all of a plan's one a line.
func TestEveryRefusalOfAPlanHasWords(t *testing.T) {
	codes := []string{"session-stock-short", "session-capacity", "session-stale"} // after the cautions
	for _, file := range []string{"refuse", "grouping", "rounds", "starttemperature"} {
		source, err := os.ReadFile("../../sequence/planning/" + file + ".go")
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range regexp.MustCompile(`(?:why\.Add\(|Refuse\(|\tmust\(.*, |\tbelievable\(.*, |\treturn )"([a-z-]+)"[,)]`).FindAllStringSubmatch(string(source), -1) {
			codes = append(codes, m[1])
		}
	}
	if len(codes) < 30 {
		t.Errorf("%d codes found: %q", len(codes), codes)
	}
	var all sequence.RefusedError
	for _, code := range codes {
		all.Add(code, sequence.Values{Step: "develop", Bath: "fixer", Words: "stop", Vessel: sequence.Tray})
	}
	lines := strings.Split(Error(all, celsius), "\n")
	if len(lines) != len(codes) {
		t.Fatalf("%d lines of %d codes", len(lines), len(codes))
	}
	for i, text := range lines {
		if strings.HasPrefix(text, "Not possible") || text == "" || strings.Contains(text, "%!") {
			t.Errorf("%s: %q", codes[i], text)
		}
	}
	same(t, Error(fmt.Errorf("tern: %w", sequence.Refuse("temperature", sequence.Values{Temperature: 80, Low: 0, High: 60})), fahrenheit),
		"tern: temperature: 176 °F; expected 32–140 °F")
}

func TestAdvice(t *testing.T) {
	p := planOf(t, recipetest.SixInTray(), sequence.Conditions{})
	wash := len(p.Steps) - 1
	name := p.Steps[wash].Name
	for _, c := range []struct {
		a    engine.Advice
		want string
	}{
		{engine.Advice{Action: engine.LeastTime, Step: wash, For: 6 * mins, At: 40 * mins, Margin: at(2 * mins)}, "Best now: " + name + " for 6:00 is enough: transfer at 40:00; leaves 2:00 in hand"},
		{engine.Advice{Action: engine.MoveOnNow, Step: -1, For: 12 * time.Second, Margin: at(-mins)}, "Best now: go on: loading is 0:12 over its time; still 1:00 too long"},
		{engine.Advice{Action: engine.LeaveOut, Step: wash}, "Best now: leave out " + name},
		{engine.Advice{Action: engine.IntoHangers, Step: wash, In: sequence.Hangers}, "Best now: " + name + " in hangers, once the room light is on"},
	} {
		same(t, Advice(c.a, true, p), c.want)
	}
	same(t, Advice(engine.Advice{}, false, p), "Nothing more would shorten the wet time")
}
func TestUnplaced(t *testing.T) {
	e := &holders.ExposedSheet{Holder: "1", Side: "A", Film: "Curlew 400"}
	same(t, Unplaced(holders.Unplaced{Code: holders.NoRecipe}, e, celsius), "no recipe for Curlew 400")
	same(t, Unplaced(holders.Unplaced{Code: holders.SameName}, e, celsius), "another 1A of this film, exposed before it, waits too: sessions tell sheets apart by name alone, so it goes first")
	same(t, Unplaced(holders.Unplaced{Err: errors.New("1A: it cannot be had")}, e, celsius), "1A: it cannot be had")
}

package say

import (
	"os"
	"regexp"
	"testing"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
)

func TestRounds(t *testing.T) {
	b := Rounds(planning.RoundsPlan{Limit: sequence.Reason{Code: "bath", Values: sequence.Values{Bath: "fixer", Volume: 1500}},
		Rounds: []planning.Round{{Baths: []planning.RoundBath{{ID: "fixer", Cause: sequence.Reason{Code: "capacity", Values: sequence.Values{Sheets: 10, Room: 12}}}, {ID: "stop"}}}}}, celsius)
	same(t, b.Why, "1.5 L of fixer can do no more")
	same(t, b.Rounds[0].Baths[0].Why, "it has done 10 of 12 sheets")
	same(t, b.Rounds[0].Baths[1].Why, "")
	same(t, MixedFresh(sequence.Reason{Code: "working-life", Values: sequence.Values{Of: 3 * day}}), "it would be older than 3 days")
}

// Each reason that rounds are made with has words.
func TestEveryReasonHasWords(t *testing.T) {
	n := 0
	for _, file := range []string{"rounds.go", "roundbaths.go"} {
		source, err := os.ReadFile("../../sequence/planning/" + file)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range regexp.MustCompile(`Reason\{Code: "([a-z-]+)"`).FindAllStringSubmatch(string(source), -1) {
			n++
			if r := (sequence.Reason{Code: m[1]}); RoundLimit(r, celsius)+MixedFresh(r) == "" {
				t.Errorf("%s has no words", m[1])
			}
		}
	}
	if n < 13 {
		t.Errorf("%d reasons found", n)
	}
}

package recipes

// What a film test found is read from a step and written back the same.

import (
	"reflect"
	"strings"
	"testing"
	"time"

	"example.org/wetside/sequence"
)

const grown = `
[[step]]
kind = "develop"
time = "8m"
agitate = { initial = "30s", for = "10s", every = "1m" }
growth = { gamma_infinity = 1.2, k_per_min = 0.11, induction_min = 0.5, film = "Plover 80", developer = "A 1 + B 3 + water 80", vessel = "hangers", agitate = { initial = "30s", for = "10s", every = "1m" }, from = "session x", tested = [["5m", 0.44], ["12m30s", 0.66]] }
`

func TestGrowthIsReadAndWritten(t *testing.T) {
	r, err := Read("t.toml", []byte(sound+grown))
	if err != nil {
		t.Fatal(err)
	}
	want := &sequence.Growth{Limit: 1.2, K: 0.11, Induction: 0.5, Film: "Plover 80", Developer: "A 1 + B 3 + water 80",
		Vessel: sequence.Hangers, Agitate: sequence.Agitation{Mode: sequence.Pattern, Initial: 30 * time.Second, For: 10 * time.Second, Every: time.Minute},
		From: "session x", Tested: []sequence.TestedTime{{Time: 5 * time.Minute, Gradient: 0.44}, {Time: 750 * time.Second, Gradient: 0.66}}}
	if got := r.Steps[0].Growth; !reflect.DeepEqual(got, want) {
		t.Errorf("growth %+v; expected %+v", got, want)
	}
	again, err := Read("t.toml", Write(r))
	if err != nil || !reflect.DeepEqual(again, r) {
		t.Errorf("read back as %+v, %v", again, err)
	}
}

func TestGrowthIsRefused(t *testing.T) {
	for _, tc := range []struct{ old, new, want string }{
		{"gamma_infinity = 1.2, ", "", "growth.gamma_infinity: missing"},
		{"k_per_min = 0.11", "k_per_min = 0", "growth.k_per_min: the number 0"},
		{`vessel = "hangers"`, `vessel = "bucket"`, `growth.vessel: unknown word "bucket"`},
		{`film = "Plover 80", `, "", "growth.film: missing"},
		{`developer = "A 1 + B 3 + water 80"`, `developer = " "`, "growth.developer: an empty text"},
		{`["12m30s", 0.66]`, `["4m", 0.66]`, "growth.tested 2: the times fall"},
		{`["12m30s", 0.66]`, `"12m30s"`, "growth.tested 2: the text"},
		{`kind = "develop"`, `kind = "fix"`, `growth: this step is of kind "fix"`},
	} {
		_, err := Read("t.toml", []byte(sound+strings.Replace(grown, tc.old, tc.new, 1)))
		if err == nil || !strings.Contains(err.Error(), tc.want) {
			t.Errorf("%s: %v; expected %q", tc.old, err, tc.want)
		}
	}
}

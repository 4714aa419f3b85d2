package holders

import (
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/recipetest"
	"example.org/wetside/sequence/sessiontest"
)

const sheetsTyped = `# from the salt pans
film,holder,side,range,development,exposed,note
Plover 80,3,A,7,,2026-11-20,tide going out
Plover 80,3,B,,N-1,2026-11-20,
Tern 125,10,A,,0.62,2026-11-21,"gulls, many"
`

// listed is a list of its own with sheets on it.
func listed(sheets []ExposedSheet) []byte {
	l := emptyCSV()
	return l.add(sheets...)
}

func TestReadWaiting(t *testing.T) {
	list, err := ReadCSV("typed.csv", []byte(sheetsTyped))
	if err != nil || len(list) != 3 {
		t.Fatalf("%d, %v", len(list), err)
	}
	if list[0].Name() != "3A" || list[0].Range != 7 || list[1].Development != "N-1" || list[2].Note != "gulls, many" {
		t.Errorf("%+v", list)
	}
	again, err := ReadCSV("again.csv", listed(list))
	if err != nil || !slices.EqualFunc(list, again, func(a, b ExposedSheet) bool {
		same := a.Exposed.Equal(b.Exposed)
		a.Exposed, b.Exposed = time.Time{}, time.Time{}
		return same && a == b
	}) {
		t.Errorf("%v: %+v", err, again)
	}
}

// Spreadsheets put a byte order mark before a list and end its lines with CR LF; some
// part it by semicolons and have a comma for decimals.
func TestReadWaitingFromSpreadsheets(t *testing.T) {
	for name, text := range map[string]string{
		"commas":     "\ufeffholder,side,film,range,development,note\r\n3,A,Plover 80,7.5,,\"wind, rain\"\r\n4,A,Plover 80,,0.62,\r\n",
		"semicolons": "\ufeff# from a table\r\nholder;side;film;range;development;note\r\n3;A;Plover 80;7,5;;wind, rain\r\n4;A;Plover 80;;0,62;\r\n",
		"spaces":     "holder, side, film, range, development, note\n 3 , A , Plover 80 , 7.5 , , \"wind, rain\"\n 4 , A, Plover 80 , , 0.62 ,\n",
	} {
		list, err := ReadCSV("list.csv", []byte(text))
		if err != nil || len(list) != 2 || list[0].Range != 7.5 || list[0].Note != "wind, rain" || list[0].Name() != "3A" || list[1].Development != "0.62" {
			t.Errorf("%s: %v, %+v", name, err, list)
		}
	}
}

// What would read as something else is not kept.
func TestSheetsThatWouldNotComeBack(t *testing.T) {
	for _, e := range []ExposedSheet{
		{Holder: "#3", Film: "Plover 80"},
		{Holder: "3", Film: "Plover 80", Development: "N1"},
		{Holder: "3", Film: "Plover 80", Development: "N+-1"},
	} {
		if err := e.Check(); err == nil {
			t.Errorf("%+v was taken", e)
		}
	}
}

// Every bad line is told, in one go.
func TestReadWaitingTellsEveryFault(t *testing.T) {
	_, err := ReadCSV("x.csv", []byte("holder,side,film,range,development,exposed\n"+
		"1,A,Plover 80,\"6,5\",,\n1,B,,7,,\n2,A,Plover 80,99,,\n2,B,Plover 80,7,N+9,\n3,A,Plover 80,7,,tomorrow\n3,B,Plover 80,7,,\n3,B,Plover 80,7,,\n,B,Plover 80,7,,\n"))
	if err == nil {
		t.Fatal("read")
	}
	for _, want := range []string{`x.csv:2: range "6,5"`, "x.csv:3: 1B: no film", "x.csv:4: 2A: range 99", `x.csv:5: development "N+9"`,
		`x.csv:6: exposed "tomorrow"`, "x.csv:8: 3B, Plover 80: a second line", "x.csv:9: holder"} {
		if !strings.Contains(err.Error(), want) {
			t.Errorf("%q is not among\n%v", want, err)
		}
	}
	if _, err := ReadCSV("x.csv", []byte("holder,film,colour\n")); err == nil || !strings.Contains(err.Error(), `"colour"`) {
		t.Errorf("%v", err)
	}
}

// growing is a developing step with a growth curve: 0.585 at eight minutes.
func growing() sequence.Recipe {
	r := sessiontest.SixInTray()
	r.Steps[1].Growth = &sequence.Growth{Limit: 1, K: 0.11,
		Tested: []sequence.TestedTime{{Time: 5 * recipetest.Minute, Gradient: 0.42}, {Time: 7 * recipetest.Minute, Gradient: 0.54}, {Time: 13 * recipetest.Minute, Gradient: 0.76}}}
	return r
}

// The gradient for a subject of 2.2 - flare 0.4 on a paper of 1.05 is 0.583 (Stroebel et
// al., from memory); 2.2 in stops is 7.308. By gamma = 1 - exp(-0.11 t) that takes
// -ln(1 - 0.58333)/0.11 = 7.959 min (arithmetic).
func TestWantFromTheSubject(t *testing.T) {
	r := growing()
	e := ExposedSheet{Holder: "1", Film: "Plover 80", Range: 2.2 / math.Log10(2)}
	w, err := e.DevelopmentWanted(&r, nil, PaperAndFlare{Paper: 1.05, Flare: 0.4})
	if err != nil || math.Abs(w.Gradient-0.58333) > 1e-4 || math.Abs(w.Time.Minutes()-7.959) > 0.01 {
		t.Errorf("%+v, %v", w, err)
	}
	e = ExposedSheet{Holder: "1", Film: "Plover 80", Development: "0.62"}
	if w, err = e.DevelopmentWanted(&r, nil, PaperAndFlare{}); err != nil || math.Abs(r.Steps[1].Growth.At(w.Time)-0.62) > 1e-3 {
		t.Errorf("%+v, %v", w, err)
	}
	e.Development = "1.2"
	if _, err = e.DevelopmentWanted(&r, nil, PaperAndFlare{}); err == nil || !strings.Contains(err.Error(), "cannot be had") {
		t.Errorf("beyond the limit: %v", err)
	}
	e.Development = "N"
	if w, err = e.DevelopmentWanted(&r, nil, PaperAndFlare{}); err != nil || w.Time != 8*recipetest.Minute || math.Abs(w.Gradient-0.5852) > 1e-4 {
		t.Errorf("%+v, %v", w, err)
	}
}

// Without a growth curve the recipe's own times serve; what it has no time for is said.
func TestWantFromTheRecipesTimes(t *testing.T) {
	r := sessiontest.SixInTray()
	r.Steps[1].Time, r.Steps[1].Times = 0, []sequence.NamedTime{{Name: "N-1", Time: 6 * recipetest.Minute}, {Name: "N", Time: 8 * recipetest.Minute}}
	for _, c := range []struct {
		e    ExposedSheet
		want sequence.Elapsed // 0 for refused
	}{
		{ExposedSheet{Holder: "1", Development: "N-1"}, 6 * recipetest.Minute},
		{ExposedSheet{Holder: "1"}, 8 * recipetest.Minute},
		{ExposedSheet{Holder: "1", Range: 8.3}, 6 * recipetest.Minute}, // a stop longer than the usual 7.3
		{ExposedSheet{Holder: "1", Range: 7.3}, 8 * recipetest.Minute},
		{ExposedSheet{Holder: "1", Range: 5}, 0},
		{ExposedSheet{Holder: "1", Development: "N+1"}, 0},
		{ExposedSheet{Holder: "1", Development: "0.6"}, 0},
	} {
		w, err := c.e.DevelopmentWanted(&r, nil, PaperAndFlare{})
		if (err != nil) != (c.want == 0) || w.Time != c.want && err == nil {
			t.Errorf("%+v: %v, %v; want %v", c.e, w.Time, err, c.want)
		}
	}
}

// N-1 grows no faster than N, whatever the growth.
func TestMoreIsLonger(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := growing()
		r.Steps[1].Growth.K = rapid.Float64Range(0.03, 0.3).Draw(t, "k")
		last := sequence.Elapsed(0)
		for _, d := range []string{"N-2", "N-1", "N", "N+1", "N+2"} {
			w, err := (&ExposedSheet{Holder: "1", Development: d}).DevelopmentWanted(&r, nil, PaperAndFlare{})
			if err != nil {
				return // beyond the limit
			}
			if w.Time <= last {
				t.Fatalf("%s: %v after %v", d, w.Time, last)
			}
			last = w.Time
		}
	})
}

// The usual subject is 2.2 of log range, 7.3 stops; the development nearest to it is meant:
// 5.6 stops are 1.7 short, so N+2, and 9 stops 1.7 long, so N-2 (arithmetic).
func TestTheNearestDevelopmentIsMeant(t *testing.T) {
	for stops, want := range map[float64]int{5.6: 2, 6: 1, 7.3: 0, 7.9: -1, 9: -2} {
		if got := rangeShift(stops); got != want {
			t.Errorf("%g stops: N%+d; expected N%+d", stops, got, want)
		}
	}
}

package notebook

// Tables for spreadsheets: RFC 4180, and no formula from outside. The marks that
// begin a formula are common knowledge of spreadsheets (no source).

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/recipetest"
	"example.org/wetside/sequence/sessiontest"
)

func parsed(t *testing.T, text []byte) [][]string {
	t.Helper()
	rows, err := csv.NewReader(bytes.NewReader(text)).ReadAll() // also checks that all rows are as long
	if err != nil {
		t.Fatalf("%v in %s", err, text)
	}
	return rows
}

func TestNoFormulaFromOutside(t *testing.T) {
	for _, bad := range []string{"=1+1", "+1", "-1", "@SUM(A1)", " =1", "\t=1", "\n=1", "＝1", "-"} {
		s := Summary{Head: Head{ID: "2026-11-25T1912-tern", Recipe: bad, Film: bad}}
		var b bytes.Buffer
		if err := WriteList(&b, []Summary{s}); err != nil {
			t.Fatal(err)
		}
		for _, cell := range parsed(t, b.Bytes())[1][1:3] {
			if cell[0] != '\'' {
				t.Errorf("%q is written as %q", bad, cell)
			}
		}
	}
	for _, good := range []string{"Plover 80", "N-1", "a, \"b\"\nc", "'quoted'", ""} {
		if got := text(good); got != good {
			t.Errorf("%q is written as %q", good, got)
		}
	}
	if got := text("a\x1b[2J\u202eb"); got != "a\uFFFD[2J\uFFFDb" {
		t.Errorf("control characters: %q", got)
	}
}

func TestLinesEndAsInRFC4180(t *testing.T) {
	var b bytes.Buffer
	if err := WriteList(&b, []Summary{{Head: Head{ID: "x", Film: "a, \"b\""}}}); err != nil {
		t.Fatal(err)
	}
	if got := b.String(); strings.Count(got, "\r\n") != 2 || !strings.Contains(got, `,"a, ""b""",`) {
		t.Errorf("%q", got)
	}
}

// Stopped in the fixer at 6:00: the developer's 300 s and what had been fixed, a
// reading of three seconds before, a note, a note afterwards.
func TestASessionAsATable(t *testing.T) {
	store := sessiontest.NewStore(t)
	n := sessiontest.Begin(t, store, 0, sessiontest.Recipe(sequence.Hangers, 1, sessiontest.Warmed(recipetest.Bath(sequence.Develop, 5*recipetest.Minute)), recipetest.Bath(sequence.Fix, 4*recipetest.Minute)), sequence.Conditions{})
	n.Do(sequence.Wake{}, 5*recipetest.Minute)
	n.Do(sequence.TakeReading{T: 20, Ago: 3 * recipetest.Second, Source: sequence.ByHand}, 5*recipetest.Minute+3*recipetest.Second)
	n.Do(sequence.AddNote{Text: "=A1, so"}, 5*recipetest.Minute+10*recipetest.Second)
	n.Do(sequence.EndSession{}, 6*recipetest.Minute)
	id := n.Close()
	if err := AddNote(store, id, Note{Written: sessiontest.Evening.Add(time.Hour), Text: "dry", Emulsion: EmulsionSound}); err != nil {
		t.Fatal(err)
	}
	s := opened(t, store, id)
	var b bytes.Buffer
	if err := WriteSession(&b, &s); err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, row := range parsed(t, b.Bytes())[1:] {
		got = append(got, strings.Join(row, "|"))
	}
	want := []string{
		"sheet|0|300|develop|1|hangers|0|300|100||||",
		"sheet|300||fix|1|hangers|300|540|||||",
		"reading|300||||||||20|hand||",
		"note|310|||||||||||'=A1, so",
		"session-stopped|360|||||||||||",
		fmt.Sprintf("note-later||||||||||%s||emulsion sound: dry", sessiontest.Evening.Add(time.Hour).Format(time.RFC3339)),
	}
	if !slices.Equal(got, want) {
		t.Errorf("rows:\n%s\nwant:\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

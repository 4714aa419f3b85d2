package holders

import (
	"errors"
	"strings"
	"testing"

	"example.org/wetside/sequence"
)

// twelve are invented sheets of two films.
func twelve() []ExposedSheet {
	var list []ExposedSheet
	for i, d := range []string{"N", "N", "N+1", "N", "N-1", "N", "N", "N"} {
		list = append(list, ExposedSheet{Holder: string(rune('1' + i/2)), Side: string(rune('A' + i%2)), Film: "Plover 80", Development: d})
	}
	for i := range 4 {
		list = append(list, ExposedSheet{Holder: string(rune('5' + i/2)), Side: string(rune('A' + i%2)), Film: "Tern 125", Range: 7.3})
	}
	return list
}

func sorting() Grouper {
	plover, tern := growing(), growing()
	plover.Load.Vessel, tern.Load.Vessel, tern.Load.Sheets = sequence.Hangers, sequence.Hangers, 4
	tern.Film.Name, tern.Title = "Tern 125", "Tern 125"
	return Grouper{Recipes: []sequence.Recipe{plover, tern}, Printing: PaperAndFlare{Paper: 1.05, Flare: 0.4}}
}

func TestPropose(t *testing.T) {
	sheets := append(twelve(), ExposedSheet{Holder: "9", Film: "Curlew 400"}, ExposedSheet{Holder: "9", Side: "B", Film: "Plover 80", Development: "1.5"})
	list, left := sorting().Propose(sheets)
	if len(list) != 3 {
		t.Fatalf("%d sessions", len(list))
	}
	if list[0].Plan.Recipe.Film.Name != "Plover 80" || list[0].Plan.Sheets != 6 || list[1].Plan.Sheets != 2 || list[2].Plan.Sheets != 4 {
		t.Errorf("%d, %d, %d sheets", list[0].Plan.Sheets, list[1].Plan.Sheets, list[2].Plan.Sheets)
	}
	if len(left) != 2 || left[0].Code != NoRecipe || left[1].Code != "" || !strings.Contains(left[1].Err.Error(), "cannot be had") {
		t.Errorf("left %+v", left)
	}
}

// Of two sheets of one name and film the older goes first, in whatever order their
// times would put them: its session could not tell which of them it developed.
func TestProposeOfOneName(t *testing.T) {
	sheets := append(twelve(), ExposedSheet{Holder: "1", Side: "A", Film: "Plover 80", Development: "N-1"}, ExposedSheet{Holder: "1", Side: "A", Film: "Tern 125"})
	list, left := sorting().Propose(sheets)
	if len(left) != 1 || left[0].Sheet != 12 || left[0].Code != SameName {
		t.Errorf("left %+v", left)
	}
	placed := 0
	for _, b := range list {
		placed += len(b.Sheets)
	}
	if placed != 13 {
		t.Errorf("%d sheets have a session", placed)
	}
}

// By hand a sheet goes where the limits let it, and nowhere else.
func TestMoveByHand(t *testing.T) {
	s := sorting()
	list, _ := s.Propose(twelve())
	if _, err := s.Move(list, 1, 0, 0); !errors.As(err, new(sequence.RefusedError)) || err.(sequence.RefusedError)[0].Code != "session-full" || err.(sequence.RefusedError)[0].Room != 6 {
		t.Errorf("a seventh sheet: %v", err)
	}
	if _, err := s.Move(list, 0, 0, 2); err == nil || !strings.Contains(err.Error(), "Tern 125") {
		t.Errorf("into another film's session: %v", err)
	}
	moved, err := s.Move(list, 0, 0, 1)
	if err != nil || moved[0].Plan.Sheets != 5 || moved[1].Plan.Sheets != 3 || list[0].Plan.Sheets != 6 {
		t.Fatalf("%v: %d and %d sheets, was %d", err, moved[0].Plan.Sheets, moved[1].Plan.Sheets, list[0].Plan.Sheets)
	}
	alone, err := s.Move(moved, 0, 0, len(moved))
	if err != nil || len(alone) != 4 || alone[3].Plan.Sheets != 1 {
		t.Fatalf("%v: %d sessions", err, len(alone))
	}
	back, err := s.Move(alone, 3, 0, 0)
	if err != nil || len(back) != 3 || back[0].Plan.Sheets != 5 {
		t.Errorf("%v: %d sessions", err, len(back))
	}
}

package filmtest

import (
	"errors"
	"fmt"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/film"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/screen/drive"
)

// hall takes a sheet out every three minutes; "x" is no time.
type hall struct {
	wrote *sequence.Recipe
	err   error
}

func (h *hall) FilmTest(r sequence.Recipe, o Order) (Made, error) {
	v, sheets := o.Vessel, o.Sheets
	if o.Guess == "x" {
		return Made{}, errors.New(`guess: "x" is no time; expected one such as 7m`)
	}
	if v == "" {
		v = sequence.Hangers
	}
	st := sequence.Step{Name: "develop", Kind: sequence.Develop, RoomLight: sequence.Dark, Agitate: sequence.Agitation{Mode: sequence.Continuous}}
	for k := range sheets {
		st.PullTimes = append(st.PullTimes, time.Duration(k+1)*3*time.Minute)
	}
	r.Title, r.Load.Vessel, r.Load.Sheets, r.Load.Names = "Film test: "+r.Title, v, sheets, nil
	r.Steps = []sequence.Step{st, {Name: "fix", Kind: sequence.Fix, Time: 4 * time.Minute, RoomLight: sequence.Dark, Agitate: st.Agitate}}
	how := v.In()
	if o.StraightOn {
		how += ", straight on"
	}
	if o.Proposed {
		how += ", as proposed"
	}
	next := []film.NextSheet{{Time: 270, Temperature: 20, Gain: 0.09}, {Time: 330, Temperature: 20, Gain: 0.02}}
	return Made{r, []string{fmt.Sprintf("%d sheets %s, out after %d:00", sheets, how, 3*sheets), "Expose each sheet alike, in contact.", "Mask a corner of each sheet with black tape."},
		film.Proposal{Temperature: 20, Next: next, Usual: next[:1], Enough: sheets == 12}}, nil
}

func (h *hall) Forecast(_ sequence.Recipe, sheets int, guess string) string {
	return fmt.Sprintf("Expected result of %d sheets round %q.\nA note.", sheets, guess)
}

func (h *hall) KeepRecipe(r sequence.Recipe) (string, error) {
	h.wrote = &r
	return "film-test", h.err
}

func on(t testing.TB, h *hall) *drive.Desk {
	t.Helper()
	r, err := recipes.Find("plover-tray", "")
	if err != nil {
		t.Fatal(err)
	}
	return drive.On(t, New(h, screen.Env{}, r))
}

func TestAFilmTestIsPlanned(t *testing.T) {
	h := &hall{}
	d := on(t, h).Shows("being worked out")
	late := d.Pending()[0]
	d.Press("down", "down", "down", "down", "down", "enter").Says("not worked out yet")
	d.Press("up", "up", "up", "up", "up", "right").Done()
	d.Shows("5 sheets in hangers").Shows(`Expected result of 5 sheets round ""`).Shows("Wet time")
	for _, cmd := range late().(tea.BatchMsg) {
		d.Send(cmd())
	}
	d.Shows("5 sheets in hangers").Shows("Expected result of 5 sheets")
	d.Golden("test").Fits("▌")
	d.Press("down", "right", "right").Shows("The test is being worked out").Hides("Expected result").Done().Shows("5 sheets in trays, one sheet each")
	d.Press("down", "right").Done().Shows("one sheet each, as proposed").Shows("The sheets that say most, at 20 °C: 4:30, 5:30; interval 11%").Hides("Expected result").Press("left").Done()
	d.Press("down").Type("x").Done().Shows("is no time").Golden("fault")
	d.Press("down", "down", "enter").Says(`"x" is no time`)
	if h.wrote != nil {
		t.Fatal("a test was written that there is not")
	}
	d.Press("up", "up", "backspace").Type("7m").Done().Size(130, 30).Shows(`round "7m"`).Golden("wide")
	d.Press("enter", "right").Done().Shows("in trays, one sheet each, straight on").Press("enter", "enter").Done()
	a := drive.Asked[screen.OpenPlan](d)
	if a.Name != "film-test" || h.wrote.Load.Vessel != sequence.SingleTrays || len(h.wrote.Steps[0].PullTimes) != 5 {
		t.Errorf("%+v, %+v", a, h.wrote)
	}
	h.err = errors.New("the disk is full")
	d.Press("enter").Done().Says("the disk is full")
	d.Press("esc")
	drive.Asked[screen.Back](d)
}

// From two to twelve sheets; what to know can be read on.
func TestHowManySheetsATestTakes(t *testing.T) {
	d := on(t, &hall{}).Done()
	d.Press("left", "left").Done().Shows("2 sheets in hangers")
	for range 10 {
		d.Press("right")
	}
	d.Done().Shows("12 sheets in hangers").Shows("No more tests needed").Size(40, 8)
	d.Press("pgdown").Press("pgup").Shows("12 sheets")
}

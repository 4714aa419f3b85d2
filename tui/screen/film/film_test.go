package film

import (
	"testing"
	"time"

	"example.org/wetside/chem/growthbelief"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/film"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/screen/drive"
)

// shelf has films.
type shelf []film.Known

func (s shelf) Films() []film.Known { return s }

// known are a film with a test and a session, and one with a borrowed time alone.
func known() shelf {
	day := time.Date(2026, 11, 25, 19, 0, 0, 0, time.UTC)
	test := film.Test{Readings: "2026-11-20-plover", Session: "2026-11-20T1900-plover", Day: "2026-11-20", Indexes: []film.TestedIndex{{Time: 7 * time.Minute, Index: 50}}}
	for i, g := range []float64{0.47, 0.60, 0.76} {
		test.Sheets = append(test.Sheets, growthbelief.Reading{Time: time.Duration([]int{5, 7, 10}[i]) * time.Minute, Temperature: 20, Gradient: g, Error: 0.02})
	}
	sound := notebook.WetTrial{}
	sound.Wet, sound.Temperature, sound.Handlings, sound.Limit = 17*time.Minute, 22, 80, 18*time.Minute
	session := film.Session{ID: "2026-11-25T1900-plover", Day: "2026-11-25", Time: 7 * time.Minute, Temperature: 20, Appearances: []notebook.Appearance{notebook.Good},
		Wet: map[sequence.Vessel]notebook.WetTrial{sequence.Tray: sound}}
	borrowed := film.BorrowedTime{Film: "Plover 80", Time: 11 * time.Minute, Temperature: 20, Wanted: 0.58, Within: 0.35, From: "Tern 125", Written: day}
	tray := film.Handling{Film: "Plover 80", Developer: "A 1 + B 3 + water 80", Vessel: sequence.Tray, Agitate: sequence.Agitation{Mode: sequence.Shuffle}}
	return shelf{{Handling: film.Handling{Film: "Curlew 25"}, Borrowed: []film.BorrowedTime{borrowed}},
		{Handling: tray, Tests: []film.Test{test}, Sessions: []film.Session{session}, Borrowed: []film.BorrowedTime{borrowed}}}
}

func TestFilms(t *testing.T) {
	d := drive.On(t, New(known(), screen.Env{}, "Plover 80")).Size(120, 40).Done()
	d.Shows("1 test, 1 session").Shows("Develop ").Shows("far too long").Shows("o test sheet   + session").Golden("wide")
	d.Press("right", "right").Done().Shows("at 22 °C")
	d.Press("up").Done().Shows("No test yet")
	drive.Asked[screen.Back](d.Press("esc"))
}

// In a narrow window tab shows the page in place of the picture.
func TestNarrow(t *testing.T) {
	d := drive.On(t, New(known(), screen.Env{}, "Plover 80")).Size(80, 22).Done()
	d.Hides("Developments").Press("tab").Shows("Developments").Press("pgdown").Hides("Developments").Shows("Borrowed times").Golden("narrow")
	d.Fits()
}

func TestNoFilms(t *testing.T) {
	d := drive.On(t, New(shelf{}, screen.Env{}, "")).Size(80, 22)
	d.Shows("being read").Done().Shows("No film is known yet").Press("down", "right", "pgdown", "tab")
	d.Fits()
}

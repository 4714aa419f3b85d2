package densities

import (
	"math"
	"testing"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/chem/curve"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/recipetest"
	"example.org/wetside/sequence/sessiontest"
)

// harbour keeps sessions and the densities of their negatives: straight lines, whose average
// gradient is their slope, 1.2 (1 - exp(-0.1 t)) at 20 C times what the session differs by.
type harbour struct {
	t        *testing.T
	sessions journal.Store
	store    Store
	days     int
	warm     chem.Celsius // over 20 that the recipe's own temperature is; times are made as much shorter, twice as fast for 10
}

func newHarbour(t *testing.T) *harbour {
	return &harbour{t: t, sessions: sessiontest.NewStore(t), store: Store{Folder: t.TempDir()}}
}

func (h *harbour) test(v sequence.Vessel, at chem.Celsius, off float64, minutes ...float64) (id string) {
	h.days++
	after := time.Duration(h.days) * 24 * time.Hour
	develop := sessiontest.Warmed(recipetest.Bath(sequence.Develop, 0))
	develop.Bath, develop.Temperature.At = "developer", 20+h.warm
	r := sessiontest.Recipe(v, len(minutes), develop, recipetest.Bath(sequence.Fix, 5*recipetest.Minute))
	tablet, _ := curve.NominalTablet(21, 0.15)
	read := curve.Readings{Film: "Plover 80", Tablet: tablet}
	base := curve.Density(0.1)
	for i, m := range minutes {
		t := time.Duration(m * float64(time.Minute) * math.Pow(2, -float64(h.warm)/10)).Round(time.Second)
		r.Steps[0].PullTimes = append(r.Steps[0].PullTimes, t)
		read.Add(t, i+1)
		s := &read.Sheets[i]
		s.Base = &base
		for k, d := range tablet {
			density := base + curve.Density((1+off)*gradientAfter(m)*math.Max(0, 2.4-d))
			s.Steps[k] = &density
		}
	}
	read.Session = sessiontest.Begin(h.t, h.sessions, after, r, sequence.Conditions{BathTemperature: &at}).Finish()
	if err := h.store.Save(h.store.NewName(sessiontest.Evening.Add(after), "plover"), &read); err != nil {
		h.t.Fatal(err)
	}
	return read.Session
}

func gradientAfter(minutes float64) float64 { return 1.2 * -math.Expm1(-0.1*minutes) }

// Sessions that differ are told from those that do not; one warmer developer, whose times were
// made shorter for it, is no difference; another vessel's are compared with none.
func TestOwnSessionsOfTheNotebook(t *testing.T) {
	h := newHarbour(t)
	first := h.test(sequence.Hangers, 20, 0.15, 6, 9)
	h.test(sequence.Hangers, 20, -0.15, 6, 9)
	if own := h.store.ScatterOfSessions(h.sessions); own != nil {
		t.Fatalf("of two sessions: %+v", own)
	}
	h.test(sequence.Hangers, 23, 0.15, 6, 9)
	h.test(sequence.Hangers, 20, -0.15, 6, 9)
	h.test(sequence.Tray, 20, 0, 6, 9)
	own := h.store.ScatterOfSessions(h.sessions)
	if own == nil || own.Sessions != 4 || own.Films != 1 || !(own.Low > 0.06 && own.Value > 0.1 && own.Value < 0.2) {
		t.Fatalf("four sessions, 15 %% to either side: %+v", own)
	}
	if less := h.store.ScatterOfSessions(h.sessions, first); less == nil || less.Sessions != 3 || less.Value == own.Value {
		t.Errorf("without the first: %+v", less)
	}

	alike := newHarbour(t)
	alike.test(sequence.Hangers, 20, 0, 6, 9)
	for range 4 {
		alike.test(sequence.Hangers, 24, 0, 6, 9)
	}
	alike.warm = 6
	for range 2 {
		alike.test(sequence.Hangers, 26, 0, 6, 9)
	}
	if own := alike.store.ScatterOfSessions(alike.sessions); own == nil || own.Sessions != 7 || !(own.Value < 0.03) {
		t.Errorf("seven sessions that are alike, four of them at 24 C, two by a recipe for 26: %+v; expected under the usual", own)
	}
}

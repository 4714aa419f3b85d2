package film

// What is known of a film besides its time: exposure index, wet life, what the recipe says, a borrowed time.

import (
	"math"

	"example.org/wetside/chem"
	"example.org/wetside/chem/curve"
	"example.org/wetside/chem/growthbelief"
	"example.org/wetside/chem/response"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/notebook"
	"gonum.org/v1/gonum/stat/distuv"
)

// indexOf is a test's exposure index at the time that gives a gradient: that of the sheet nearest to it.
func (a *assessment) indexOf(t *Test, gradient float64) (float64, bool) {
	want := a.belief.TimeOfFilm(gradient, growthbelief.Reference).Middle
	best, off := 0.0, math.Inf(1)
	for _, x := range t.Indexes {
		if d := math.Abs(math.Log(x.Time.Minutes() / want)); d < off {
			best, off = x.Index, d
		}
	}
	const near = 0.35 // of the logarithm of time: one step of the usual series
	return best, off < near
}

// indexAt is the middle of all tests.
func (a *assessment) indexAt(gradient float64) (float64, bool) {
	sum, n := 0.0, 0
	for i := range a.known.Tests {
		if x, ok := a.indexOf(&a.known.Tests[i], gradient); ok {
			sum, n = sum+math.Log(x), n+1
		}
	}
	return math.Exp(sum / float64(n)), n > 0
}

// index is the exposure index for the aim. Tests scatter normally in stops; before the first, by a sixth of a stop,
// believed as four tests would be (our own rule): the mean then has Student's distribution.
func (a *assessment) index() {
	const scatter, weight = 1. / 6, 4.
	var logs []float64
	mean := 0.0
	for i := range a.known.Tests {
		if x, ok := a.indexOf(&a.known.Tests[i], a.aim); ok {
			logs = append(logs, math.Log2(x))
			mean += math.Log2(x)
		}
	}
	n := float64(len(logs))
	if n == 0 {
		return
	}
	mean /= n
	squares := weight * scatter * scatter
	for _, x := range logs {
		squares += (x - mean) * (x - mean)
	}
	free := weight + n - 1
	off := distuv.StudentsT{Sigma: 1, Nu: free}.Quantile((1+growthbelief.Confidence)/2) * math.Sqrt(squares/free/n)
	a.page.ExposureIndex = &ExposureIndex{Index: math.Exp2(mean), Low: math.Exp2(mean - off), High: math.Exp2(mean + off), Tests: len(logs)}
}

// wetLife is the risk of what the longest session of each vessel was like, if it were done again.
func (a *assessment) wetLife() {
	trials := map[sequence.Vessel][]notebook.WetTrial{}
	for _, s := range a.known.Sessions {
		for v, t := range s.Wet {
			trials[v] = append(trials[v], t)
		}
	}
	for _, v := range sequence.Vessels {
		list := trials[v]
		if len(list) == 0 {
			continue
		}
		known, most := make([]chem.WetTrial, len(list)), list[0]
		for i, t := range list {
			known[i] = t.WetTrial
			if t.Wet > most.Wet {
				most = t
			}
		}
		risk, low, high := chem.EstimateWetLife(list[0].Limit, known).Risk(most.WetTrial)
		a.page.WetLife = append(a.page.WetLife, WetLife{v, most.Wet.Minutes(), most.Temperature, most.Handlings, risk, low, high, len(list)})
	}
}

// recipe is what the newest session's recipe says of today: its time, and its reciprocity.
func (a *assessment) recipe() {
	r := a.known.Recipe
	if r == nil {
		return
	}
	for i := range r.Steps {
		st := &r.Steps[i]
		base := st.TimeOf("N")
		if st.Kind != sequence.Develop || base == 0 {
			continue
		}
		t := base.Seconds()
		if by := st.Temperature; by != nil && by.Coefficient > 0 {
			t /= math.Pow(by.Coefficient, float64(a.at-by.At)/10)
		} else if by != nil && len(by.Table) > 0 && a.at != by.At {
			break // a table says nothing beside its entries that is not the plan's to say
		}
		a.page.Recipe = &RecipeTime{r.Title, t}
		break
	}
	if by := r.Film.Reciprocity; by != nil && len(by.Table) > 0 {
		a.page.Reciprocity = &Reciprocity{From: r.Title}
		for _, row := range by.Table {
			a.page.Reciprocity.Table = append(a.page.Reciprocity.Table, [2]float64{row[0].Seconds(), row[1].Seconds()})
		}
	}
}

// grade is that of the paper on which the usual subject prints with a gradient.
func grade(gradient float64) float64 {
	return response.GradeOf(float64(curve.PrintConditionsFor(gradient).Paper))
}

// borrowed confronts each borrowed time with the tests.
func (a *assessment) borrowed() {
	for _, b := range a.known.Borrowed {
		c := Confronted{BorrowedTime: b, Verdict: "untested"}
		if len(a.known.Tests) > 0 {
			g := a.untold.Gradient(b.Time, b.Temperature)
			c.Gradient = &Figure{Value: g.Middle, Low: g.Low, High: g.High}
			c.Grades = grade(b.Wanted) - grade(g.Middle)
			right := a.untold.Time(b.Wanted, b.Temperature)
			switch m := b.Time.Minutes(); {
			case m > right.High && m > farOff*right.Middle:
				c.Verdict = "far-long"
			case m > right.High:
				c.Verdict = "long"
			case m < right.Low && m < right.Middle/farOff:
				c.Verdict = "far-short"
			case m < right.Low:
				c.Verdict = "short"
			default:
				c.Verdict = "fits"
			}
		}
		a.page.Borrowed = append(a.page.Borrowed, c)
	}
}

package curvecmd

// An aim met, for people and for scripts.

import (
	"errors"
	"fmt"
	"math"
	"time"

	"github.com/spf13/cobra"

	"example.org/wetside/chem/curve"
	"example.org/wetside/chem/response"
	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli/flags"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/densities"
)

func needsAim(cmd *cobra.Command, name string) { flags.Needs(cmd, name, "aim") }

// aimMet is a contrast index or a print met.
type aimMet struct {
	Kind          string   `json:"kind"`
	ContrastIndex *float64 `json:"contrast_index"`
	timesJSON
	ExposureIndex *float64        `json:"exposure_index"`
	Print         *printJSON      `json:"print"`
	Developments  []developedJSON `json:"developments"`
}

// timesJSON is a time and where the shadow, or the speed point, lies with it.
type timesJSON struct {
	Time       float64 `json:"time_s"`
	Low        float64 `json:"low_s"`
	High       float64 `json:"high_s"`
	Confidence float64 `json:"confidence"`
	Shadow     float64 `json:"shadow_log_h"`
	ShadowLow  float64 `json:"shadow_low_log_h"`
	ShadowHigh float64 `json:"shadow_high_log_h"`
	Outside    bool    `json:"outside_tests"`
}

// printJSON is what a print asks for and what its negative has.
type printJSON struct {
	Paper            float64 `json:"paper_range"`
	Grade            float64 `json:"grade"`
	Subject          float64 `json:"subject_range"`
	OnFilm           float64 `json:"range_on_film"`
	Flare            float64 `json:"flare_at_shadow"`
	Enlarger         string  `json:"enlarger"`
	Placed           float64 `json:"placed_stops"`
	BaseFog          float64 `json:"base_fog"`
	ShadowDensity    float64 `json:"shadow_density"`    // base plus fog included
	HighlightDensity float64 `json:"highlight_density"` // likewise
	HighlightLogH    float64 `json:"highlight_log_h"`
	Range            float64 `json:"density_range"` // as the paper sees it
}

// developedJSON is one of N-2 to N+2, by the subject's range.
type developedJSON struct {
	Name    string     `json:"name"`
	Subject float64    `json:"subject_stops"`
	Target  *timesJSON `json:"target"` // nil where it cannot be had
	Index   *float64   `json:"exposure_index"`
	More    *float64   `json:"more_exposure_stops"` // than N
	Chance  *float64   `json:"chance"`
	Near    *float64   `json:"chance_half_grade"`
}

// aimResults is the results of curves with the aim met as their target.
type aimResults struct {
	curve.Results
	Target *aimTarget `json:"target"`
}

// aimTarget lifts the chances up, beside the time.
type aimTarget struct {
	aimMet
	Chance *float64 `json:"chance"`
	Near   *float64 `json:"chance_half_grade"`
}

// withAim puts an aim met in the place of the target; the results themselves where there is none.
func withAim(r curve.Results, met *aimMet) any {
	if met == nil {
		return r
	}
	out := aimTarget{aimMet: *met}
	for _, d := range met.Developments {
		if d.Name == "N" {
			out.Chance, out.Near = d.Chance, d.Near
		}
	}
	return aimResults{r, &out}
}

// meet meets the aim on the film's whole response; nil where none is given.
func (e curveFlags) meet(cmd *cobra.Command, f curve.Family, r curve.Results, q curve.Request) (*aimMet, error) {
	if !e.aim.surface() {
		return nil, nil
	}
	s, err := SurfaceOf(f, r, e.induction)
	if err != nil {
		return nil, fmt.Errorf("--aim %s: %w", e.aim.text, err)
	}
	if e.aim.kind == aimContrast {
		at, err := s.Solve(response.Contrast{Index: e.aim.index})
		if err != nil {
			return nil, fmt.Errorf("--aim %s: %w", e.aim.text, err)
		}
		met := &aimMet{Kind: aimContrast, ContrastIndex: &e.aim.index, timesJSON: timesOf(at), Developments: []developedJSON{}}
		if lux, ok := luxSeconds(f, q); ok {
			met.ExposureIndex = nominal(response.Print{}.Index(at.Shadow+lux, response.SpeedPointStops))
		}
		return met, nil
	}
	return e.meetPrint(s, f, q)
}

func (e curveFlags) meetPrint(s *response.Surface, f curve.Family, q curve.Request) (*aimMet, error) {
	p := e.aim.print
	n, err := s.Negative(p)
	if err != nil {
		return nil, givesWay(s, p, err)
	}
	lux, placed := luxSeconds(f, q)
	index := func(n response.Negative) *float64 {
		if !placed {
			return nil
		}
		return nominal(n.Print.Index(n.Lands.Shadow+lux, -e.aim.placed))
	}
	met := &aimMet{Kind: aimPrint, timesJSON: timesOf(n.Solution), ExposureIndex: index(n), Print: &printJSON{
		Paper: p.Paper, Grade: response.GradeOf(p.Paper), Subject: p.Subject, OnFilm: p.OnFilm(), Flare: p.FlareLift(),
		Enlarger: e.aim.enlarger, Placed: e.aim.placed, BaseFog: n.BaseFog,
		ShadowDensity: n.BaseFog + n.Lands.ShadowD, HighlightDensity: n.BaseFog + n.Lands.HighlightD, HighlightLogH: n.Lands.Highlight, Range: n.Lands.Range,
	}}
	for shift := -2; shift <= 2; shift++ {
		d := developedJSON{Name: "N", Subject: p.Shifted(shift).Subject / math.Log10(2)}
		if shift != 0 {
			d.Name = fmt.Sprintf("N%+d", shift)
		}
		if one, err := s.Negative(p.Shifted(shift)); err == nil && one.Print.Subject > 0 {
			t, more := timesOf(one.Solution), one.More(n)
			d.Target, d.Index, d.More, d.Chance, d.Near = &t, index(one), &more, &one.Chance, &one.Near
		}
		met.Developments = append(met.Developments, d)
	}
	return met, nil
}

// givesWay says by how much a print cannot be had, where the shadow keeps its density.
func givesWay(s *response.Surface, p response.Print, err error) error {
	t, n, ok := s.Nearest(p)
	switch {
	case errors.Is(err, response.ErrReadings) && ok:
		_, high := s.Exposures()
		return fmt.Errorf("--aim print: %w: the highlight lies at log H %.2f, the readings end at %.2f; read steps of more exposure, or give a shorter --subject",
			err, n.Highlight, high)
	case !ok:
		return fmt.Errorf("--aim print: %w: no sheet's readings pass the shadow's density, %.2f over base plus fog", err, p.Shadow)
	}
	return fmt.Errorf("--aim print: %w: the highlight gives way. With the shadow at %.2f over base plus fog, %s gives a range of %.2f, %.2f less than the paper's %.2f: as for grade %.1f",
		err, p.Shadow, sequence.FormatElapsed(t), n.Range, p.Paper-n.Range, p.Paper, response.GradeOf(n.Range))
}

func timesOf(s response.Solution) timesJSON {
	return timesJSON{s.Time.Seconds(), s.Low.Seconds(), s.High.Seconds(), response.Confidence, s.Shadow, s.ShadowLow, s.ShadowHigh, s.Outside}
}

// nominal is an index as meters have it; nil beyond all of them.
func nominal(index float64) *float64 {
	v, err := curve.NominalSpeed(index)
	if err != nil {
		return nil
	}
	return &v
}

// printAim says an aim met to people.
func printAim(p *app.Env, met *aimMet) {
	if met == nil {
		return
	}
	if met.Kind == aimContrast {
		fmt.Fprintf(p.Out, "time for a contrast index of %.2f: %s%s\n", *met.ContrastIndex, met.text(), indexText(", exposure index %s", met.ExposureIndex))
		return
	}
	x := met.Print
	fmt.Fprintf(p.Out, "\nprint: paper range %.2f (grade %.1f), %s enlarger; subject %.1f stops (%.2f), %.2f on film: flare lifts the shadow by %.2f\n",
		x.Paper, x.Grade, x.Enlarger, x.Subject/math.Log10(2), x.Subject, x.OnFilm, x.Flare)
	fmt.Fprintf(p.Out, "develop %s%s\n", met.text(), indexText(", exposure index %s", met.ExposureIndex))
	if met.ExposureIndex != nil {
		fmt.Fprintf(p.Out, "  with the shadow placed %+.1f stops on the meter's scale; by ISO arithmetic\n", x.Placed)
	} else {
		fmt.Fprintln(p.Out, "  no exposure index: nothing places the exposures (--exposed, --log-h0 or --absolute does)")
	}
	fmt.Fprintf(p.Out, "shadow at log H %.2f: density %.2f, %.2f over base plus fog; highlight at %.2f: density %.2f; the paper sees a range of %.2f\n",
		met.Shadow, x.ShadowDensity, x.ShadowDensity-x.BaseFog, x.HighlightLogH, x.HighlightDensity, x.Range)
	fmt.Fprintf(p.Out, "\n%-4s %9s  %-28s %6s %10s  %s\n", "", "subject", "develop", "EI", "exposure", "prints on the grade, within half a grade")
	for _, d := range met.Developments {
		if d.Target == nil {
			fmt.Fprintf(p.Out, "%-4s %9s  beyond what this film or this test reaches\n", d.Name, fmt.Sprintf("%.1f stops", d.Subject))
			continue
		}
		fmt.Fprintf(p.Out, "%-4s %9s  %-28s %6s %10s  %.0f%%, %.0f%%\n", d.Name, fmt.Sprintf("%.1f stops", d.Subject), d.Target.text(),
			numberOrDash(d.Index, 0), moreText(*d.More), 100**d.Chance, 100**d.Near)
	}
}

// moreText is a change of exposure; none is none, whatever its sign.
func moreText(stops float64) string {
	if math.Abs(stops) < 0.05 {
		return "as N"
	}
	return fmt.Sprintf("%+.1f stops", stops)
}

func indexText(format string, index *float64) string {
	if index == nil {
		return ""
	}
	return fmt.Sprintf(format, numberOrDash(index, 0))
}

// text is a time with its interval.
func (t timesJSON) text() string {
	at := func(s float64) string { return sequence.FormatElapsed(app.FromSeconds(s).Round(time.Second)) }
	outside := ""
	if t.Outside {
		outside = ", outside tested times"
	}
	return fmt.Sprintf("%s (%s–%s, %.0f%%%s)", at(t.Time), at(t.Low), at(t.High), 100*t.Confidence, outside)
}

// aimed is an aim met for a recipe; nil for none.
func (met *aimMet) aimed() *densities.Aimed {
	if met == nil {
		return nil
	}
	a := &densities.Aimed{Index: met.ExposureIndex}
	if met.Kind == aimContrast {
		a.What = fmt.Sprintf("a contrast index of %.2f", *met.ContrastIndex)
		a.Times = []curve.Development{{Name: "N", Target: met.timesJSON.target()}}
		return a
	}
	x := met.Print
	a.What = fmt.Sprintf("a print of a subject of %.1f stops on a paper of range %.2f, grade %.1f, %s enlarger", x.Subject/math.Log10(2), x.Paper, x.Grade, x.Enlarger)
	for _, d := range met.Developments {
		a.Times = append(a.Times, curve.Development{Name: d.Name, Target: d.Target.target()})
	}
	return a
}

func (t *timesJSON) target() *curve.Target {
	if t == nil {
		return nil
	}
	return &curve.Target{Time: t.Time, Low: &t.Low, High: &t.High, Confidence: t.Confidence}
}

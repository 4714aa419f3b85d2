package curvecmd

// An aim met, for people and for scripts.

import (
	"fmt"
	"math"
	"time"

	"example.org/wetside/chem/curve"
	"example.org/wetside/chem/response"
	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/densities"
)

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
func (e curveFlags) meet(f curve.Family, r curve.Results, q curve.Request) (*densities.Met, error) {
	if !e.aim.surface() {
		return nil, nil
	}
	s, err := densities.ResponseOf(f, r, q)
	if err != nil {
		return nil, fmt.Errorf("--aim %s: %w", e.aim.text, err)
	}
	met, err := s.Meet(e.aim.aim)
	if err != nil {
		return nil, fmt.Errorf("--aim %s: %w", e.aim.text, err)
	}
	return &met, nil
}

// asAimMet tells an aim met; nil for none.
func asAimMet(m *densities.Met) *aimMet {
	if m == nil {
		return nil
	}
	met := &aimMet{Kind: aimContrast, timesJSON: timesOf(m.Solution), ExposureIndex: m.Index, Developments: []developedJSON{}}
	p := m.Aim.Print
	if p == nil {
		met.ContrastIndex = &m.Aim.Contrast
		return met
	}
	n := &m.Negative
	met.Kind, met.Print = aimPrint, &printJSON{
		Paper: p.Paper, Grade: response.GradeOf(p.Paper), Subject: p.Subject, OnFilm: n.Print.OnFilm(), Flare: n.Print.FlareLift(),
		Enlarger: string(p.Enlarger), Placed: p.Placed, BaseFog: n.BaseFog,
		ShadowDensity: n.BaseFog + n.Lands.ShadowD, HighlightDensity: n.BaseFog + n.Lands.HighlightD, HighlightLogH: n.Lands.Highlight, Range: n.Lands.Range,
	}
	for _, one := range m.Developments {
		d := developedJSON{Name: one.Name, Subject: one.Subject / math.Log10(2)}
		if x := one.Negative; x != nil {
			t := timesOf(x.Solution)
			d.Target, d.Index, d.More, d.Chance, d.Near = &t, one.Index, &one.More, &x.Chance, &x.Near
		}
		met.Developments = append(met.Developments, d)
	}
	return met
}

func timesOf(s response.Solution) timesJSON {
	return timesJSON{s.Time.Seconds(), s.Low.Seconds(), s.High.Seconds(), response.Confidence, s.Shadow, s.ShadowLow, s.ShadowHigh, s.Outside}
}

// printAim says an aim met to people.
func printAim(p *app.Env, met *aimMet) {
	if met == nil {
		return
	}
	if met.Kind == aimContrast {
		fmt.Fprintf(p.Out, "Develop %s for a contrast index of %.2f%s.\n", met.text(), *met.ContrastIndex, indexText(met.ExposureIndex))
		return
	}
	x := met.Print
	fmt.Fprintf(p.Out, "Develop %s for the print%s.\n", met.text(), indexText(met.ExposureIndex))
	if met.ExposureIndex != nil {
		fmt.Fprintf(p.Out, "  with the shadow placed %+.1f stops on the meter's scale; by ISO arithmetic\n", x.Placed)
	} else {
		fmt.Fprintln(p.Out, "  no exposure index: nothing places the exposures (--exposed, --log-h0 or --absolute does)")
	}
	fmt.Fprintf(p.Out, "print: paper range %.2f (grade %.1f), %s enlarger; subject %.1f stops (%.2f), %.2f on film: flare lifts the shadow by %.2f\n",
		x.Paper, x.Grade, x.Enlarger, x.Subject/math.Log10(2), x.Subject, x.OnFilm, x.Flare)
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

func indexText(index *float64) string {
	if index == nil {
		return ""
	}
	return ", exposure index " + numberOrDash(index, 0)
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

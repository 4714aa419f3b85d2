package scancmd

// What was read, as JSON and as text.

import (
	"fmt"
	"slices"
	"strings"

	"example.org/wetside/chem/scan"
	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence/densities"
	"example.org/wetside/tui/say"
)

// scanJSON is what scan says to a script.
type scanJSON struct {
	Tablet   []tabletStepJSON `json:"tablet"`
	Strips   []stripJSON      `json:"strips"`
	Pictures []pictureJSON    `json:"pictures"`
}

type tabletStepJSON struct {
	Step    int     `json:"step"`
	Density float64 `json:"density"`
}

type stripJSON struct {
	Strip   int         `json:"strip"`
	At      [4]float64  `json:"at"`
	Unsure  bool        `json:"unsure"`
	Base    *patchJSON  `json:"base,omitzero"`
	Patches []patchJSON `json:"patches"`
}

type patchJSON struct {
	Step    int        `json:"step"`
	Density *float64   `json:"density"`
	Error   *float64   `json:"error"`
	Red     *float64   `json:"red"`
	Green   *float64   `json:"green"`
	Blue    *float64   `json:"blue"`
	Doubt   scan.Doubt `json:"doubt,omitzero"`
}

type pictureJSON struct {
	Name       string     `json:"name"`
	Hash       string     `json:"sha256"`
	TabletAt   [4]float64 `json:"tablet_at"`
	Tone       scan.Tone  `json:"tone"`
	Panel      scan.Panel `json:"panel"`
	Unevenness float64    `json:"unevenness"`
	Flare      float64    `json:"flare"`
	Densest    float64    `json:"densest"`
	Residual   float64    `json:"residual"`
}

func ends(s scan.Strip) [4]float64 { return [4]float64{s.X1, s.Y1, s.X2, s.Y2} }

func asJSON(all []densities.ReadPicture, tablet []float64) scanJSON {
	var out scanJSON
	for k, d := range tablet {
		out.Tablet = append(out.Tablet, tabletStepJSON{k + 1, d})
	}
	for _, t := range all {
		r := t.Result
		out.Pictures = append(out.Pictures, pictureJSON{t.Of.Name, t.Of.Hash, ends(r.TabletAt), r.Tone, r.Panel, r.Unevenness, r.Veil,
			r.Calibration[scan.Luminance].Densest, r.Calibration[scan.Luminance].Residual})
		for _, s := range r.Strips {
			one := stripJSON{Strip: len(out.Strips) + 1, At: ends(s.At), Unsure: s.At.Unsure}
			if s.Base != nil {
				base := patchAsJSON(*s.Base)
				one.Base = &base
			}
			for _, p := range s.Patches {
				one.Patches = append(one.Patches, patchAsJSON(p))
			}
			out.Strips = append(out.Strips, one)
		}
	}
	return out
}

func patchAsJSON(p scan.Patch) patchJSON {
	value := func(c scan.Channel) *float64 {
		if !p.Known(c) {
			return nil
		}
		return &p.Density[c]
	}
	out := patchJSON{Step: p.Step, Density: value(scan.Luminance), Red: value(scan.Red), Green: value(scan.Green), Blue: value(scan.Blue),
		Doubt: p.Doubt[scan.Luminance]}
	if out.Density != nil {
		out.Error = &p.Error[scan.Luminance]
	}
	return out
}

// leastError is the smallest standard error that three decimals show.
const leastError = 0.001

// print is the table of densities, then what is to be known of them.
func (e scanFlags) print(p *app.Env, all []densities.ReadPicture, tablet []float64, channel scan.Channel) error {
	var b strings.Builder
	for _, t := range all {
		r := t.Result
		fmt.Fprintf(&b, "%s: %s\n\n", safetext.Clean(t.Of.Name), say.ScanFound(len(r.Strips), len(tablet)))
		b.WriteString("step  tablet")
		for i := range r.Strips {
			fmt.Fprintf(&b, "   strip %-2d    ", i+1)
		}
		b.WriteString("\n")
		if slices.ContainsFunc(r.Strips, func(s scan.StripReading) bool { return s.Base != nil }) {
			b.WriteString("base         ")
			for _, s := range r.Strips {
				if s.Base == nil {
					s.Base = &scan.Patch{Doubt: [4]scan.Doubt{"-", "-", "-", "-"}}
				}
				b.WriteString("  " + cell(*s.Base, channel))
			}
			b.WriteString("\n")
		}
		for k := range tablet {
			fmt.Fprintf(&b, "%4d  %6.2f", k+1, tablet[k])
			for _, s := range r.Strips {
				b.WriteString("   " + cell(s.Patches[k], channel))
			}
			b.WriteString("\n")
		}
		b.WriteString("\n")
		for _, line := range say.ScanNotes(r, channel, e.flat != "") {
			b.WriteString(line + "\n")
		}
	}
	_, err := fmt.Fprint(p.Out, b.String())
	return err
}

// cell is a density with its standard error, or why there is none.
func cell(p scan.Patch, c scan.Channel) string {
	switch {
	case !p.Known(c):
		return fmt.Sprintf("%-12s", string(p.Doubt[c]))
	case p.Doubt[c] != scan.NoDoubt:
		return fmt.Sprintf("%5.2f spotted", p.Density[c])
	}
	return fmt.Sprintf("%5.3f ±%.3f", p.Density[c], max(p.Error[c], leastError))
}

package say

// What a picture of negatives tells of itself.

import (
	"fmt"
	"strings"

	"example.org/wetside/chem/scan"
)

// ScanFound is what was found on a picture.
func ScanFound(strips, steps int) string {
	return fmt.Sprintf("a tablet of %d steps and %s", steps, Count(strips, "strip"))
}

// ScanNotes is what a person should know before believing the densities, the gravest first.
func ScanNotes(r *scan.Result, c scan.Channel, flat bool) (notes []string) {
	for i, s := range r.Strips {
		if s.At.Unsure {
			notes = append(notes, fmt.Sprintf("Strip %d may be placed one step too far along: check its first step, or give its ends with --strip.", i+1))
		}
	}
	cal := r.Calibration[c]
	notes = append(notes, fmt.Sprintf("Holds from density %.2f to %.2f: %d of the tablet's steps can be told apart.", cal.Lightest, cal.Densest, cal.Steps))
	if cal.Residual > 0.02 {
		notes = append(notes, fmt.Sprintf("The tablet's steps lie off their own curve by %.3f: is it calibrated, clean, and this tablet?", cal.Residual))
	}
	switch {
	case r.Veil > 0.03:
		notes = append(notes, fmt.Sprintf("Flare lies over the picture, %s of the panel's light: mask the panel around the film.", Percent(r.Veil)))
	case r.Veil > 0.005:
		notes = append(notes, fmt.Sprintf("Flare of %.1f%% of the panel's light is taken up by the tablet.", 100*r.Veil))
	}
	switch {
	case flat:
	case r.Panel == scan.PanelHidden:
		notes = append(notes, "Nothing of the bare panel shows: its light counts as even. A picture of the panel alone (--flat) makes sure.")
	case r.Unevenness > 0.01:
		notes = append(notes, fmt.Sprintf("The panel is uneven by %.2f; what shows of it around the strips was divided out.", r.Unevenness))
	}
	return append(notes, doubtNotes(r, c)...)
}

// doubtNotes explain the words that stand in place of densities.
func doubtNotes(r *scan.Result, c scan.Channel) (notes []string) {
	words := []struct {
		doubt scan.Doubt
		text  string
	}{
		{scan.Denser, "denser: beyond the tablet's last step that can be told apart; expose the picture longer"},
		{scan.Lighter, "lighter: clearer than the tablet's first step"},
		{scan.Clipped, "clipped: at the end of the picture's scale; expose it less"},
		{scan.Veiled, "veiled: more than half of its light is flare"},
		{scan.Spotted, "spotted: dust, a scratch or an edge in the patch; clean it or leave it out"},
		{scan.TooSmall, "small: too few pixels; scan finer"},
	}
	for _, w := range words {
		if at := doubtfulSteps(r, c, w.doubt); len(at) > 0 {
			notes = append(notes, fmt.Sprintf("%s (%s)", w.text, strings.Join(at, "; ")))
		}
	}
	return notes
}

// doubtfulSteps names the steps of each strip that have a doubt: "strip 1 steps 1-4, 7".
func doubtfulSteps(r *scan.Result, c scan.Channel, doubt scan.Doubt) (list []string) {
	for i, s := range r.Strips {
		var runs []string
		for k := 0; k < len(s.Patches); k++ {
			from := k
			for k < len(s.Patches) && s.Patches[k].Doubt[c] == doubt {
				k++
			}
			switch {
			case k == from:
			case k == from+1:
				runs = append(runs, fmt.Sprint(s.Patches[from].Step))
			default:
				runs = append(runs, fmt.Sprintf("%d–%d", s.Patches[from].Step, s.Patches[k-1].Step))
			}
		}
		if len(runs) > 0 {
			list = append(list, fmt.Sprintf("strip %d, step %s", i+1, strings.Join(runs, ", ")))
		}
	}
	return list
}

package say

// The print that a waiting sheet's developing time was found for.

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
)

// SheetPrint is the print, the exposure it needs and its chance: "for a print of 5.0 stops on paper 1.05, +0.4 stops over N,
// 62% on the grade, 93% within half a grade".
func SheetPrint(p *planning.PrintWanted) string {
	return fmt.Sprintf("for a print of %.1f stops on paper %.2f%s, %.0f%% on the grade, %.0f%% within half a grade",
		p.Subject/math.Log10(2), p.Paper, moreExposure(p, ", %s over N"), 100*p.Chance, 100*p.Near)
}

// moreExposure is the exposure over N's; "" where that is not known, or nothing.
func moreExposure(p *planning.PrintWanted, format string) string {
	if p.More == nil || math.Abs(*p.More) < 0.05 {
		return ""
	}
	return fmt.Sprintf(format, fmt.Sprintf("%+.1f stops", *p.More))
}

// longestNote is the most that a recipe's note may hold.
const longestNote = 500

// WithPrints is a session's recipe whose developing step has a note of what each sheet's print asks for, sheets with like
// prints together: plan, wall sheet and screens show it.
func WithPrints(r sequence.Recipe, sheets []planning.DevelopmentWanted) sequence.Recipe {
	i := slices.IndexFunc(r.Steps, func(st sequence.Step) bool { return st.Kind == sequence.Develop })
	if i < 0 {
		return r
	}
	for _, format := range []string{"a print of %.1f stops", "%.1f stops"} { // the second where the first is too long
		note := prints(sheets, format)
		if own := r.Steps[i].Note; own != "" && note != "" {
			note = own + "; " + note
		}
		if note != "" && utf8.RuneCountInString(note) <= longestNote {
			r.Steps = slices.Clone(r.Steps)
			r.Steps[i].Note = note
			break
		}
	}
	return r
}

func prints(sheets []planning.DevelopmentWanted, format string) string {
	var texts []string
	names := map[string][]string{}
	for _, w := range sheets {
		if w.Print == nil {
			continue
		}
		text := fmt.Sprintf(format, w.Print.Subject/math.Log10(2)) + moreExposure(w.Print, ", exposed %s over N")
		if names[text] == nil {
			texts = append(texts, text)
		}
		names[text] = append(names[text], w.Name)
	}
	for k, text := range texts {
		texts[k] = strings.Join(names[text], ", ") + ": " + text
	}
	return strings.Join(texts, "; ")
}

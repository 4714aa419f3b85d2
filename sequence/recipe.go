// Package sequence is the nouns of a session: recipe, conditions, plan, command, event, cue,
// caution. All other rooms speak in them; the tags on them are the journal's and --json's keys.
//
// Start with Recipe and Plan. It is data: the rules are in schedule, planning and engine. It holds
// no clock, disk, device or goroutine.
package sequence

// The recipe: what a TOML file says, as values. Package recipes reads and
// checks the file; Resolve turns a recipe into a plan.

import (
	"fmt"
	"slices"
)

// Recipe is one way of developing one film.
type Recipe struct {
	Title string `json:"title"`
	About string `json:"about,omitzero"`
	Film  Film   `json:"film"`
	Load  Load   `json:"load"`
	Baths []Bath `json:"baths,omitzero"`
	Steps []Step `json:"steps"`
}

// Developer is the first step that develops; nil where none does.
func (r *Recipe) Developer() *Step {
	i := slices.IndexFunc(r.Steps, func(st Step) bool { return st.Kind == Develop })
	if i < 0 {
		return nil
	}
	return &r.Steps[i]
}

// BathNamed is the bath of an id; nil where there is none.
func (r *Recipe) BathNamed(id string) *Bath {
	i := slices.IndexFunc(r.Baths, func(b Bath) bool { return b.ID == id })
	if i < 0 {
		return nil
	}
	return &r.Baths[i]
}

// Film is the sheet film and what it can stand.
type Film struct {
	Name          string       `json:"name"`
	Sensitivity   Sensitivity  `json:"sensitivity"`             // pan unless the recipe says otherwise
	BoxSpeed      float64      `json:"box_speed,omitzero"`      // ISO arithmetic; 0 where not given
	ExposureIndex float64      `json:"exposure_index,omitzero"` // what the times are for; 0 where not given
	WetLimit      WetLimit     `json:"wet_limit,omitzero"`      // longest wet time, by vessel
	WetWarning    Elapsed      `json:"wet_warning_s"`           // warn this long before the limit
	Reciprocity   *Reciprocity `json:"reciprocity,omitzero"`    // nil where not given
}

// Sensitivity says to which colours of light the film is sensitive.
type Sensitivity string

// The sensitivities of a film.
const (
	Pan   Sensitivity = "pan"
	Ortho Sensitivity = "ortho"
	Blue  Sensitivity = "blue"
)

// WetLimit is the longest wet time a film stands: one value for every vessel,
// or one for each vessel named.
type WetLimit struct {
	All      Elapsed            `json:"all_s,omitzero"` // 0 where ByVessel is used
	ByVessel map[Vessel]Elapsed `json:"by_vessel,omitzero"`
}

// For returns the limit in vessel v, and false where none is known.
func (w WetLimit) For(v Vessel) (Elapsed, bool) {
	if w.All > 0 {
		return w.All, true
	}
	d, ok := w.ByVessel[v]
	return d, ok
}

// Unstated reports whether nothing is stated.
func (w WetLimit) Unstated() bool { return w.All == 0 && len(w.ByVessel) == 0 }

// Reciprocity is a table of metered against corrected exposure times.
type Reciprocity struct {
	Table   [][2]Elapsed `json:"table_s"`
	Longest Elapsed      `json:"longest_s,omitzero"` // longest sensible metered time; 0 where not given
}

// Load is the film in its vessel.
type Load struct {
	Vessel        Vessel  `json:"vessel"`
	Sheets        int     `json:"sheets"`
	Size          Size    `json:"size"`
	LoadEvery     Elapsed `json:"load_every_s"`             // between dry sheets entering the first bath (a stack only)
	ShuffleEvery  Elapsed `json:"turn_every_s"`             // one turn of the shuffle
	TransferEvery Elapsed `json:"move_every_s"`             // between sheets moving on
	ReverseEvery  Elapsed `json:"reverse_every_s,omitzero"` // drum: between reversals; 0 for none

	Names []string `json:"names,omitzero"` // of the sheets, in the order in which they go in; nil for numbers alone
}

// SheetName says which sheet: "sheet 2", or with its name "sheet 2 (3B)".
func (l *Load) SheetName(n int) string {
	if n >= 1 && n <= len(l.Names) {
		return fmt.Sprintf("sheet %d (%s)", n, l.Names[n-1])
	}
	return fmt.Sprintf("sheet %d", n)
}

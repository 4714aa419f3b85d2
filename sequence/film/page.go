package film

// What a page shows of a film in one handling, as `wetside film NAME --json` writes it.

import (
	"example.org/wetside/sequence"
)

// Page is all that is known, how sure, and what is only assumed.
type Page struct {
	Handling
	Tests         int             `json:"tests"`
	Sessions      int             `json:"sessions"`
	Target        *Target         `json:"target"`
	Recipe        *RecipeTime     `json:"recipe"`       // what the newest session's recipe gives there; null for none
	Developments  []Development   `json:"developments"` // N-2 to N+2
	Growth        *Growth         `json:"growth"`
	ExposureIndex *ExposureIndex  `json:"exposure_index"`
	Coefficient   Figure          `json:"coefficient"`
	Scatter       Figure          `json:"session_scatter"` // share of developing time by which sessions differ
	WetLife       []WetLife       `json:"wet_life"`
	Reciprocity   *Reciprocity    `json:"reciprocity"`
	Borrowed      []Confronted    `json:"borrowed"`
	Next          []NextSheet     `json:"next"`
	Usual         []NextSheet     `json:"usual"` // the series that would be exposed otherwise
	Enough        bool            `json:"enough"`
	Sources       []Source        `json:"sources"`
	Assumed       []string        `json:"assumed"` // codes
	Curve         []GrowthAt      `json:"-"`       // for a picture
	Points        []MeasuredPoint `json:"-"`
}

// Target is the developing time for the aim today.
type Target struct {
	Kind            string           `json:"kind"`
	AverageGradient float64          `json:"average_gradient"`
	Temperature     sequence.Celsius `json:"temperature_c"`
	Time            *float64         `json:"time_s"` // null where half of what is believed never reaches the aim
	Low             *float64         `json:"low_s"`  // of the next session
	High            *float64         `json:"high_s"` // null where it has no end
	FilmLow         *float64         `json:"film_low_s"`
	FilmHigh        *float64         `json:"film_high_s"` // of the film alone, without the scatter of sessions
	Confidence      float64          `json:"confidence"`
}

// RecipeTime is a recipe's own time today.
type RecipeTime struct {
	Title string  `json:"title"`
	Time  float64 `json:"time_s"`
}

// Development is a time for a subject of another range, and what it costs: by how much the time is N's.
type Development struct {
	Name            string   `json:"name"`
	AverageGradient float64  `json:"average_gradient"`
	Time            *float64 `json:"time_s"`
	Low             *float64 `json:"low_s"`
	High            *float64 `json:"high_s"`
	IndexStops      *float64 `json:"index_stops"` // exposure index beside N's; null where not measured
}

// Figure is a number with its interval.
type Figure struct {
	Value   float64 `json:"value"`
	Low     float64 `json:"low"`
	High    float64 `json:"high"`
	Assumed bool    `json:"assumed"` // no evidence has narrowed it
}

// Growth is the growth of the average gradient at 20 C.
type Growth struct {
	Limit     Figure `json:"gamma_infinity"`
	K         Figure `json:"k_per_min"`
	Induction Figure `json:"induction_min"`
}

// ExposureIndex is what the speed points of tests come to.
type ExposureIndex struct {
	Index float64 `json:"exposure_index"`
	Low   float64 `json:"low"`
	High  float64 `json:"high"`
	Tests int     `json:"tests"`
}

// WetLife is the risk to the emulsion of being wet as the recipe's newest plan had it.
type WetLife struct {
	Vessel      sequence.Vessel  `json:"vessel"`
	Minutes     float64          `json:"minutes"`
	Temperature sequence.Celsius `json:"temperature_c"`
	Handlings   int              `json:"handlings"`
	Risk        float64          `json:"risk"`
	Low         float64          `json:"low"`
	High        float64          `json:"high"`
	Sessions    int              `json:"sessions"`
}

// Reciprocity is the recipe's table.
type Reciprocity struct {
	Table [][2]float64 `json:"table_s"`
	From  string       `json:"from"`
}

// Confronted is a borrowed time beside what the tests say.
type Confronted struct {
	BorrowedTime
	Gradient *Figure `json:"would_give"`   // null before the first test
	Grades   float64 `json:"paper_grades"` // by how many its negatives would be too hard for the paper; below zero too soft
	Verdict  string  `json:"verdict"`      // untested, fits, long, far-long, short, far-short
}

// NextSheet is a test sheet and what it would gain: the share by which today's interval gets narrower.
type NextSheet struct {
	Time        float64          `json:"time_s"`
	Temperature sequence.Celsius `json:"temperature_c"`
	Gain        float64          `json:"gain"`
}

// Source is where something is known from.
type Source struct {
	Kind     string `json:"kind"` // test, session, borrowed, also
	Day      string `json:"day"`
	Session  string `json:"session"`
	Readings string `json:"readings"`
	Sheets   int    `json:"sheets"`
	Look     string `json:"look"`
	From     string `json:"from"`
}

// What is only assumed.
const (
	AssumedAim         = "aim"         // nobody said which gradient is wanted
	AssumedTemperature = "temperature" // nobody said how warm the developer is today
	AssumedGrowth      = "growth"      // no test: the prior, and what sessions and borrowed times say
	AssumedCoefficient = "coefficient"
	AssumedAlso        = "also" // another developer's tests count, at AlsoWeight
)

// GrowthAt is the gradient after a time at the temperature asked for, for a picture.
type GrowthAt struct{ Minutes, Low, Middle, High float64 }

// MeasuredPoint is a sheet of a test, or a session (Gradient as was wanted), at its time as at the temperature asked
// for.
type MeasuredPoint struct {
	Minutes, Gradient float64
	Test              bool
}

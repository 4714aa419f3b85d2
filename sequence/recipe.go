package sequence

// The recipe: what a TOML file says, as values. Package recipes reads and
// checks the file; Resolve turns a recipe into a plan.

import (
	"fmt"
	"time"

	"example.org/wetside/chem"
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

// Amounts is how much of each part makes the bath's volume; none where the recipe
// does not say.
func (b *Bath) Amounts() []chem.Amount {
	amounts, err := chem.Mix(b.Parts, b.Volume)
	if err != nil {
		return nil
	}
	return amounts
}

// none reports whether nothing is stated.
func (w WetLimit) none() bool { return w.All == 0 && len(w.ByVessel) == 0 }

// Reciprocity is a table of metered against corrected exposure times.
type Reciprocity struct {
	Table   [][2]Elapsed `json:"table_s"`
	Longest Elapsed      `json:"longest_s,omitzero"` // longest sensible metered time; 0 where not given
}

// Vessel is what the film is processed in.
type Vessel string

// The vessels.
const (
	Tray         Vessel = "tray"
	Single       Vessel = "single"
	Cradle       Vessel = "cradle"
	Hangers      Vessel = "hangers"
	DaylightTank Vessel = "daylight-tank"
	Drum         Vessel = "drum"
	Tube         Vessel = "tube"
)

// Vessels lists every vessel, in the order in which help names them.
var Vessels = []Vessel{Tray, Single, Cradle, Hangers, DaylightTank, Drum, Tube}

// Closed reports whether the vessel keeps light out while baths are changed.
func (v Vessel) Closed() bool { return v == DaylightTank || v == Drum || v == Tube }

// In says in words where film is in the vessel: "in hangers".
func (v Vessel) In() string {
	switch v {
	case Hangers:
		return "in hangers"
	case Single:
		return "in trays, one sheet each"
	case Tray:
		return "in trays"
	}
	return "in a " + string(v)
}

// Load is the film in its vessel.
type Load struct {
	Vessel       Vessel  `json:"vessel"`
	Sheets       int     `json:"sheets"`
	Size         Size    `json:"size"`
	LoadEvery    Elapsed `json:"load_every_s"`             // between dry sheets entering the first bath (a stack only)
	TurnEvery    Elapsed `json:"turn_every_s"`             // one turn of the shuffle
	MoveEvery    Elapsed `json:"move_every_s"`             // between sheets moving on
	ReverseEvery Elapsed `json:"reverse_every_s,omitzero"` // drum: between reversals; 0 for none

	Names []string `json:"names,omitzero"` // of the sheets, in the order in which they go in; nil for numbers alone
}

// Sheet says which sheet: "sheet 2", or with its name "sheet 2 (3B)".
func (l *Load) Sheet(n int) string {
	if n >= 1 && n <= len(l.Names) {
		return fmt.Sprintf("sheet %d (%s)", n, l.Names[n-1])
	}
	return fmt.Sprintf("sheet %d", n)
}

// Size is a sheet's format in inches.
type Size struct {
	Name   string  `json:"name"` // as written: "4x5in"
	Width  float64 `json:"width_in"`
	Height float64 `json:"height_in"`
}

// SquareInches is the area of one side of the sheet.
func (s Size) SquareInches() float64 { return s.Width * s.Height }

// Bath is one solution and what it is made of.
type Bath struct {
	ID             string           `json:"id"`
	Parts          []chem.Part      `json:"parts,omitzero"`
	Volume         chem.Millilitres `json:"volume_ml,omitzero"`
	StockPerSheet  chem.Millilitres `json:"stock_per_sheet_ml,omitzero"` // least of the first part for 20 square inches
	SheetsPerLitre float64          `json:"sheets_per_litre,omitzero"`   // of 20 square inches each
	TrayLife       Elapsed          `json:"tray_life_s,omitzero"`        // once mixed
	OneShot        bool             `json:"one_shot,omitzero"`           // for one session, then thrown away
	Cautions       []string         `json:"cautions,omitzero"`
}

// Kind is what a step does to the film.
type Kind string

// The kinds of step.
const (
	Presoak  Kind = "presoak"
	Develop  Kind = "develop"
	StopBath Kind = "stop"
	Fix      Kind = "fix"
	Rinse    Kind = "rinse"
	WashAid  Kind = "wash-aid"
	Wash     Kind = "wash"
	Wetting  Kind = "wetting"
	Other    Kind = "other"
)

// Kinds lists every kind of step.
var Kinds = []Kind{Presoak, Develop, StopBath, Fix, Rinse, WashAid, Wash, Wetting, Other}

// Light is what the room and the screen may do in a step.
type Light string

// The lights, darkest first.
const (
	Dark      Light = "dark"
	Safelight Light = "safelight"
	White     Light = "white"
)

// Step is one bath of the recipe, in order. Exactly one of Time, Times and
// TakeOut is set.
type Step struct {
	Name          string       `json:"name"` // unique; its kind unless given
	Kind          Kind         `json:"kind"`
	Bath          string       `json:"bath,omitzero"`
	Vessel        Vessel       `json:"vessel,omitzero"` // from this step on; empty: as before
	Time          Elapsed      `json:"time_s,omitzero"`
	Times         []NamedTime  `json:"times,omitzero"`          // developments, in the order of the file
	TakeOut       []Elapsed    `json:"take_out_s,omitzero"`     // a film test: one developing time a sheet
	Together      bool         `json:"leave_together,omitzero"` // with TakeOut: entered at their own times, the longest first, and out at one moment
	RoomLight     Light        `json:"room_light"`
	Agitate       Agitation    `json:"agitate"`
	Drain         Elapsed      `json:"drain_s,omitzero"`     // inside the time, at its end
	Wait          bool         `json:"wait,omitzero"`        // advance = "wait": moves on only when told
	Temperature   *Temperature `json:"temperature,omitzero"` // nil where not given
	LightsOnAfter Elapsed      `json:"lights_on_after_s,omitzero"`
	AtLeast       Elapsed      `json:"at_least_s,omitzero"`      // the least that still does its work
	Growth        *Growth      `json:"growth,omitzero"`          // developing steps only; nil where no test is known
	ReverseEvery  Elapsed      `json:"reverse_every_s,omitzero"` // drum: instead of the load's
	Optional      bool         `json:"optional,omitzero"`
	Dry           bool         `json:"dry,omitzero"` // wet = false: outside the wet time
	Note          string       `json:"note,omitzero"`
}

// NamedTime is one of several developments of a recipe ("N-1", "N", "N+1").
type NamedTime struct {
	Name string  `json:"name"`
	Time Elapsed `json:"time_s"`
}

// AgitationMode says how a step is agitated.
type AgitationMode string

// The modes of agitation. Pattern is the recipe's table form.
const (
	AtRest     AgitationMode = "none"
	Continuous AgitationMode = "continuous"
	Shuffle    AgitationMode = "shuffle"
	Pattern    AgitationMode = "pattern"
)

// Agitation is how a step is agitated. For a Pattern: Initial from the start,
// then For at every multiple of Every, or For at each of the fractions At of
// the step's length.
type Agitation struct {
	Mode    AgitationMode `json:"mode"`
	Initial Elapsed       `json:"initial_s,omitzero"`
	For     Elapsed       `json:"for_s,omitzero"`
	Every   Elapsed       `json:"every_s,omitzero"`
	At      []float64     `json:"at,omitzero"` // fractions, each in (0, 1)
}

// Temperature says for which temperature a step's time is meant and how it
// changes away from it. Coefficient and Table are of developing steps only; at
// most one is set.
type Temperature struct {
	At          chem.Celsius   `json:"at_c"`
	Coefficient float64        `json:"coefficient,omitzero"` // rate ratio for 10 C; 0 where not given
	Table       []chem.Pair    `json:"table,omitzero"`       // ascending temperatures
	Range       []chem.Celsius `json:"range_c,omitzero"`     // lowest and highest; nil where not given
}

// Elapsed is process time since the first dip.
type Elapsed = time.Duration

// Celsius and Millilitres are chem's, for packages that need no more of chem than that.
type (
	Celsius     = chem.Celsius
	Millilitres = chem.Millilitres
)

// Conditions are today's: what the person says that the recipe cannot know.
// The zero value means: as the recipe says.
type Conditions struct {
	Temp        *chem.Celsius `json:"temp_c,omitzero"`        // what the developer read
	Proposed    bool          `json:"-"`                      // instead: what it should read, for the recipe's time; Resolve puts it into Temp
	ToRead      bool          `json:"to_read,omitzero"`       // Temp was proposed: it is yet to be made so
	ReadBefore  Elapsed       `json:"read_before_s,omitzero"` // how long before the first dip it was read
	Towards     *chem.Celsius `json:"towards_c,omitzero"`     // where the bath settles
	Drift       Elapsed       `json:"drift_s,omitzero"`       // its time constant
	Sheets      int           `json:"sheets,omitzero"`
	Vessel      Vessel        `json:"vessel,omitzero"`
	WetLimit    Elapsed       `json:"wet_limit_s,omitzero"`
	Factor      float64       `json:"factor,omitzero"` // multiplies developing time
	Development string        `json:"development,omitzero"`
	Clearing    Elapsed       `json:"clearing_s,omitzero"` // measured clearing time of the fixer
	Tabular     bool          `json:"tabular,omitzero"`    // three times that in a fixer instead of twice
	Kept        []Kept        `json:"kept,omitzero"`       // baths that stand ready; the others are mixed fresh
	InHand      []InHand      `json:"in_hand,omitzero"`    // stock that fresh baths are mixed from, in the order of use
	OwnLimit    *WetLimit     `json:"own_limit,omitzero"`  // the person's own, for a film whose recipe states none
}

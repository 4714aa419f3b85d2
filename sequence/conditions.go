package sequence

// Today's conditions, under which a recipe becomes a plan.

import (
	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"

	"example.org/wetside/chem"
)

// The temperatures that a reading is believed to be.
const LowestBath, HighestBath chem.Celsius = 0, 60

// Conditions are today's: what the person says that the recipe cannot know.
// The zero value means: as the recipe says.
type Conditions struct {
	BathTemperature    *chem.Celsius `json:"temp_c,omitzero"`          // what the developer read
	ProposeTemperature bool          `json:"-"`                        // instead: what it should read, for the recipe's time; Resolve puts it into Temp
	ToRead             bool          `json:"to_read,omitzero"`         // Temp was proposed: it is yet to be made so
	ReadBefore         Elapsed       `json:"read_before_s,omitzero"`   // how long before the first sheet goes in it was read
	SettlesAt          *chem.Celsius `json:"settles_at_c,omitzero"`    // where the bath settles
	TimeConstant       Elapsed       `json:"time_constant_s,omitzero"` // its time constant
	Sheets             int           `json:"sheets,omitzero"`
	Vessel             Vessel        `json:"vessel,omitzero"`
	WetLimit           Elapsed       `json:"wet_limit_s,omitzero"`
	Factor             float64       `json:"factor,omitzero"` // multiplies developing time
	Development        string        `json:"development,omitzero"`
	Clearing           Elapsed       `json:"clearing_s,omitzero"`   // measured clearing time of the fixer
	Tabular            bool          `json:"tabular,omitzero"`      // three times that in a fixer instead of twice
	OpenBottles        []OpenBottle  `json:"kept,omitzero"`         // baths that stand ready; the others are mixed fresh
	Stock              []Stock       `json:"in_hand,omitzero"`      // stock that fresh baths are mixed from, in the order of use
	OwnLimit           *WetLimit     `json:"own_limit,omitzero"`    // the person's own, for a film whose recipe states none
	Thermometers       *Thermometers `json:"thermometers,omitzero"` // how far they are off; nil for not at all

	OwnSessions *SessionScatter `json:"own_sessions,omitzero"` // how the person's sessions differ; nil: not known
}

// SessionScatter is how a person's own sessions differ from each other.
type SessionScatter struct {
	Gradient float64 `json:"gradient"` // standard deviation, as a fraction of the average gradient
	Sessions int     `json:"sessions"` // that it was found from
}

// UnmarshalJSONFrom reads conditions, also from records that were written while where a bath
// settles, and how fast, had other names.
func (c *Conditions) UnmarshalJSONFrom(dec *jsontext.Decoder) error {
	type plain Conditions
	var read struct {
		Plain   plain         `json:",embed"`
		Towards *chem.Celsius `json:"towards_c"`
		Drift   Elapsed       `json:"drift_s"`
	}
	if err := json.UnmarshalDecode(dec, &read); err != nil {
		return err
	}
	*c = Conditions(read.Plain)
	if c.SettlesAt == nil {
		c.SettlesAt = read.Towards
	}
	if c.TimeConstant == 0 {
		c.TimeConstant = read.Drift
	}
	return nil
}

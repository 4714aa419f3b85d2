package recipes

// Every key that a recipe may hold, table by table. Names are compared
// exactly; the order here is the order in which errors list them.

import "slices"

var (
	topKeys  = []string{"title", "about", "film", "load", "bath", "step"}
	filmKeys = []string{"name", "sensitivity", "box_speed", "exposure_index", "wet_limit", "wet_warning", "reciprocity"}
	loadKeys = []string{"vessel", "sheets", "size", "load_every", "turn_every", "move_every", "reverse_every", "names"}
	bathKeys = []string{"id", "parts", "volume", "stock_per_sheet", "sheets_per_litre", "working_life", "one_shot", "reuse", "cautions"}
	stepKeys = []string{"kind", "name", "bath", "vessel", "time", "times", "take_out", "leave_together", "straight_on", "room_light", "agitate", "drain",
		"advance", "temperature", "growth", "aim", "lights_on_after", "at_least", "reverse_every", "optional", "wet", "note"}
	reuseKeys       = []string{"longer", "table", "replenish"}
	agitateKeys     = []string{"initial", "for", "every", "at"}
	temperatureKeys = []string{"at", "coefficient", "table", "range"}
	growthKeys      = []string{"gamma_infinity", "k_per_min", "induction_min", "film", "developer", "vessel", "agitate", "from", "tested"}
	aimKeys         = []string{"average", "ci", "paper", "subject", "flare", "shadow", "placed", "enlarger"}
	reciprocityKeys = []string{"table", "longest"}
)

// section is where some keys stand, in words.
type section struct {
	heading string
	keys    []string
}

// sections says under which heading each table's keys stand.
var sections = []section{
	{"at the top, before the first heading", []string{"title", "about"}},
	{"under [film]", filmKeys},
	{"under [load]", loadKeys},
	{"under [[bath]]", bathKeys},
	{"under [[step]]", stepKeys},
}

// oldKeys are keys of recipes and settings that have another name now.
var oldKeys = map[string]string{"tray_life": "working_life", "lead": "countdown"}

// keyHint is the hint for a key that is not in keys: its new name, the nearest
// of them, or the heading under which the key belongs.
func (r *reader) keyHint(key string, keys []string) string {
	if now := oldKeys[key]; slices.Contains(keys, now) {
		return quote(key) + " is now " + quote(now)
	}
	for _, h := range r.sections {
		if slices.Contains(h.keys, key) {
			return quote(key) + " stands " + h.heading
		}
	}
	return didYouMean(key, keys)
}

package planning

// What a recipe leaves open of the plain water, and of what is mixed beside its baths:
// how a wash is changed, how warm water is, what a wetting agent's bath holds.

import (
	"example.org/wetside/chem"
	"example.org/wetside/sequence"
)

// WaterAt is how warm the water of a step should be whose temperature the recipe does not
// say: as warm as the developer, which keeps all within the spread that gelatin bears.
// False where the recipe says it, the step is dry, or the developer's is not known.
func WaterAt(p *sequence.Plan, i int) (chem.Celsius, bool) {
	if st := &p.Steps[i]; st.Temperature != nil || st.OutsideWetTime {
		return 0, false
	}
	for j := range p.Steps {
		if st := &p.Steps[j]; st.Kind == sequence.Develop && st.Temperature != nil {
			return *st.Temperature, true
		}
	}
	return 0, false
}

// OfWater reports whether the bath of step i is plain water: by its kind, or because the recipe
// mixes it of nothing else.
func OfWater(p *sequence.Plan, i int) bool {
	st := &p.Steps[i]
	if b := p.Recipe.BathNamed(st.Bath); b != nil && len(b.Parts) > 0 {
		return OnlyWater(b)
	}
	return st.Kind == sequence.Presoak || st.Kind == sequence.Rinse || st.Kind == sequence.Wash
}

// TemperatureOf is how warm the bath of step i is at its start, or should be where it is plain
// water; nil where nothing is known of it.
func TemperatureOf(p *sequence.Plan, i int) *chem.Celsius {
	if t := p.Steps[i].Temperature; t != nil {
		return t
	}
	if t, ok := WaterAt(p, i); ok && OfWater(p, i) {
		return &t
	}
	return nil
}

// BathSpread is how far apart baths may be.
const BathSpread chem.Celsius = bathSpread

// Fill is what the vessel of step i takes: its own bath, or else as much as the largest
// of the recipe's. 0 where none is known.
func Fill(p *sequence.Plan, i int) (v chem.Millilitres) {
	for _, b := range p.Recipe.Baths {
		if b.ID == p.Steps[i].Bath && b.Volume > 0 {
			return b.Volume
		}
		v = max(v, b.Volume)
	}
	return v
}

// mixedByLabel are the kinds of step whose bath is mixed as its maker says, where the
// recipe gives no parts for it.
var mixedByLabel = map[sequence.Kind]string{sequence.WashingAid: "washing aid", sequence.WettingAgent: "wetting agent"}

// ByLabel is one bath to be mixed as its maker says.
type ByLabel struct {
	Name   string
	Volume chem.Millilitres // 0 where not known
}

// MixedByLabel lists what is mixed beside the recipe's baths.
func MixedByLabel(p *sequence.Plan) []ByLabel {
	var list []ByLabel
	for i := range p.Steps {
		if name, ok := mixedByLabel[p.Steps[i].Kind]; ok && p.Steps[i].Bath == "" {
			list = append(list, ByLabel{name, Fill(p, i)})
		}
	}
	return list
}

package say

// What to mix: how much of each part makes a bath, how finely it is measured, in which order.

import (
	"fmt"
	"strings"

	"example.org/wetside/chem"
	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
)

// VolumeInColumn is a volume with as many decimals for all, for columns: "24.2 ml",
// "0.82 fl oz".
func VolumeInColumn(v chem.Millilitres, h sequence.Units) string {
	if h.FluidOunces {
		return fmt.Sprintf("%.2f fl oz", v.FluidOunces())
	}
	return fmt.Sprintf("%.1f ml", float64(v))
}

// GraduateMark is a mark on a graduate: "24 ml", "0.8 fl oz".
func GraduateMark(v chem.Millilitres, h sequence.Units) string {
	if h.FluidOunces {
		return fmt.Sprintf("%.4g fl oz", v.FluidOunces())
	}
	return fmt.Sprintf("%.4g ml", float64(v))
}

// Amounts is what a bath is mixed from: "A 23.8 ml + B 47.6 ml + water 1429 ml", or the parts
// where its volume is not given; "as usual" where nothing is.
func Amounts(b *sequence.Bath, u sequence.Units) string {
	var parts []string
	for _, a := range b.Amounts() {
		parts = append(parts, safetext.Clean(a.Name)+" "+Volume(a.Volume, u))
	}
	if len(parts) == 0 {
		for _, p := range b.Parts {
			parts = append(parts, fmt.Sprintf("%s %g", p.Name, p.Parts))
		}
	}
	switch {
	case len(parts) > 0:
		return strings.Join(parts, " + ")
	case b.Volume > 0:
		return Volume(b.Volume, u)
	}
	return "as usual"
}

// ByLabel is how much of a bath is mixed as its maker says.
func ByLabel(b planning.ByLabel, h sequence.Units) string {
	if b.Volume == 0 {
		return "as its maker says"
	}
	return Volume(b.Volume, h) + ", as its maker says"
}

// MixingOrder says in which order parts go together (common practice, no source,
// but for acid into water).
func MixingOrder(parts []chem.Part) string {
	var others []string
	water := false
	for _, p := range parts {
		if planning.PartNamed(p, "water") {
			water = true
			continue
		}
		others = append(others, p.Name)
	}
	if order, dry := DryOrder(others); dry {
		return order
	}
	switch {
	case len(others) == 0:
		return "water alone"
	case !water:
		return strings.Join(others, ", then ") + ", stirring after each"
	}
	return "three quarters of the water, then " + strings.Join(others, ", then ") + ", stirring after each; the rest of the water to the mark"
}

// DryOrder says in which order agents are dissolved of which one is metol and one a
// sulphite (common practice, no source): metol does not dissolve in much sulphite, and
// without a little of it oxidises. False for other agents.
func DryOrder(names []string) (string, bool) {
	metol, sulphite, rest, ok := planning.DryAgents(names)
	if !ok {
		return "", false
	}
	order := []string{"a pinch of the " + sulphite, "the " + metol, "the rest of the " + sulphite}
	for _, name := range rest {
		order = append(order, "the "+name)
	}
	return "three quarters of the water, then " + strings.Join(order, ", then ") + ", the next once it has dissolved; the rest of the water to the mark", true
}

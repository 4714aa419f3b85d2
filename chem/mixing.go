package chem

// Mixing: amounts of each part, percentages, and what a graduate can measure.
//
// Assumed: volumes add up. Strong acids and alcohols shrink a little on mixing;
// filling up to the mark with water takes care of that. Acid goes into water,
// slowly, never water into acid; the maker's safety data sheet comes first.

import (
	"errors"
	"fmt"
	"math"
	"strings"
)

// Amount is how much of one component to measure out.
type Amount struct {
	Name   string      `json:"name"`
	Volume Millilitres `json:"ml"`
}

// maxParts bounds the components of a mix and each one's number of parts.
const (
	maxComponents = 20
	maxParts      = 1e6
)

// ParseParts reads a mix in parts by volume: "A 1 + B 3 + water 80", where the
// last word of each part is its number; or numbers alone: "1+49" is one part
// of stock in 49 of water, "1+1+100" one each of A and B in 100 of water. It
// errs for "1:49", which some read as one in 49 and some as one in 50.
func ParseParts(text string) ([]Part, error) {
	if strings.Contains(text, ":") {
		return nil, fmt.Errorf("mix: %q can be read in two ways; expected one such as 1+49", text)
	}
	fields := strings.Split(text, "+")
	parts := make([]Part, 0, len(fields))
	named := 0
	for _, f := range fields {
		words := strings.Fields(f)
		if len(words) == 0 {
			return nil, fmt.Errorf("mix: cannot read %q; expected one such as %q or 1+49", text, "A 1 + B 3 + water 80")
		}
		last := len(words) - 1
		n, ok := parseDecimal(words[last])
		if !ok {
			return nil, fmt.Errorf("mix: no number of parts in %q; expected one such as %q", strings.TrimSpace(f), "water 60")
		}
		if last > 0 {
			named++
		}
		parts = append(parts, Part{Name: strings.Join(words[:last], " "), Parts: n})
	}
	if named == 0 {
		names, ok := map[int][]string{2: {"stock", "water"}, 3: {"A", "B", "water"}}[len(parts)]
		if !ok {
			return nil, fmt.Errorf("mix: %d numbers in %q; expected two or three, or a name with each", len(parts), text)
		}
		for i := range parts {
			parts[i].Name = names[i]
		}
	}
	_, err := checkParts(parts)
	return parts, err
}

// checkParts returns the sum of the parts and errs where they are no mix.
func checkParts(parts []Part) (total float64, err error) {
	if len(parts) == 0 || len(parts) > maxComponents {
		return 0, fmt.Errorf("mix: %d parts; expected 1 to %d", len(parts), maxComponents)
	}
	seen := map[string]bool{}
	for _, p := range parts {
		switch {
		case p.Name == "":
			return 0, errors.New("mix: a part without a name; expected a name with each number, or numbers alone")
		case seen[p.Name]:
			return 0, fmt.Errorf("mix: %q stands there twice; expected each part once", p.Name)
		case !(p.Parts > 0 && p.Parts <= maxParts):
			return 0, fmt.Errorf("mix: %g parts of %q; expected above 0 and at most %g", p.Parts, p.Name, float64(maxParts))
		}
		seen[p.Name] = true
		total += p.Parts
	}
	return total, nil
}

// Mix returns how much of each part makes the volume. It errs where the parts
// are no mix and for a volume that is not above zero.
func Mix(parts []Part, volume Millilitres) ([]Amount, error) {
	total, err := checkParts(parts)
	if err != nil {
		return nil, err
	}
	if err := checkVolume(volume); err != nil {
		return nil, err
	}
	amounts := make([]Amount, len(parts))
	for i, p := range parts {
		// volume x part / sum of the parts
		amounts[i] = Amount{Name: p.Name, Volume: volume * Millilitres(p.Parts/total)}
	}
	return amounts, nil
}

// Dilute returns how much stock of one percentage, filled up with how much
// water, makes a volume of a lower one. It errs where the wanted percentage is
// not above zero or over the stock's.
//
// Source: the crosswise rule of US Army subcourse SS0513 p. 24.
func Dilute(stock, wanted float64, volume Millilitres) (ofStock, water Millilitres, err error) {
	if !(stock > 0 && stock <= 100) {
		return 0, 0, fmt.Errorf("stock: %g %%; expected above 0 and at most 100", stock)
	}
	if !(wanted > 0 && wanted <= stock) {
		return 0, 0, fmt.Errorf("dilution: %g %% from %g %%; expected above 0 and at most the stock's", wanted, stock)
	}
	if err := checkVolume(volume); err != nil {
		return 0, 0, err
	}
	// what is dissolved stays the same: stock x its volume = wanted x volume
	ofStock = volume * Millilitres(wanted/stock)
	return ofStock, volume - ofStock, nil
}

// Grams is how much solid makes a volume of so many grams to the litre.
func Grams(perLitre float64, volume Millilitres) (float64, error) {
	if !(perLitre > 0 && perLitre <= 10000) {
		return 0, fmt.Errorf("strength: %g g/l; expected above zero", perLitre)
	}
	if err := checkVolume(volume); err != nil {
		return 0, err
	}
	return perLitre * float64(volume) / 1000, nil
}

func checkVolume(v Millilitres) error {
	if !(v > 0) || math.IsInf(float64(v), 0) {
		return fmt.Errorf("volume: %g ml; expected above zero", float64(v))
	}
	return nil
}

// Part is one component of a bath: so many parts by volume of Name.
type Part struct {
	Name  string  `json:"name"`
	Parts float64 `json:"parts"`
}

package chem

// A mix as a person types it: in parts, in volumes, in per cent, from one
// percentage to another, or in grams to the litre. What is typed must add up:
// percentages to 100, and volumes to the volume wanted where one is given.

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// Solid is one dry component: so many grams in a litre of the finished bath.
type Solid struct {
	Name     string
	PerLitre float64 // g/l
}

// Mixture is a mix as typed: parts by volume or solids, never both.
type Mixture struct {
	Parts  []Part
	Solids []Solid     // each in its order of weighing out
	Total  Millilitres // what volumes typed add up to; 0 where none were
}

// ParseMix reads a mix: "A 1 + B 3 + water 80" and "1+49" as ParseParts does;
// "A 25ml + water 475ml"; "A 40% + water 60%"; "acid 99.5% to 28%", which is
// the crosswise rule of US Army subcourse SS0513 p. 24; "metol 2g/l + sulphite
// 100g/l". It errs where percentages do not make 100, and as ParseParts does.
func ParseMix(text string) (Mixture, error) {
	switch {
	case strings.Contains(text, "g/l"):
		solids, err := parseSolids(text)
		return Mixture{Solids: solids}, err
	case strings.Contains(text, "%") && !strings.Contains(text, "+"):
		parts, err := parseDilution(text)
		return Mixture{Parts: parts}, err
	case strings.Contains(text, "%"):
		parts, sum, err := parseAmounts(text, "a percentage such as 40%", numberWith("%"))
		if err == nil && math.Abs(sum-100) > 1e-9 {
			err = fmt.Errorf("mix: %q adds up to %.6g%%; expected 100%%", text, sum)
		}
		return Mixture{Parts: parts}, err
	case mentionsVolume(text):
		parts, sum, err := parseAmounts(text, "a volume such as 25ml", parseVolume)
		return Mixture{Parts: parts, Total: Millilitres(sum)}, err
	}
	parts, err := ParseParts(text)
	return Mixture{Parts: parts}, err
}

// CheckTotal errs where the volumes typed do not add up to the volume wanted.
func (t Mixture) CheckTotal(volume Millilitres) error {
	if t.Total > 0 && math.Abs(float64(t.Total/volume)-1) > 1e-6 {
		return fmt.Errorf("mix: the parts add up to %s; expected the %s wanted", FormatMillilitres(t.Total), FormatMillilitres(volume))
	}
	return nil
}

// numberWith reads numbers with a unit behind them.
func numberWith(unit string) func(string) (float64, bool) {
	return func(s string) (float64, bool) {
		number, found := strings.CutSuffix(s, unit)
		v, ok := parseDecimal(number)
		return v, found && ok
	}
}

func parseVolume(s string) (float64, bool) {
	v, err := ParseMillilitres(s)
	return float64(v), err == nil
}

// joinUnit is one part without the blank that may stand between number and unit.
func joinUnit(part string) string {
	part = strings.TrimSpace(part)
	for _, unit := range []string{"%", "ml", "l", "floz"} {
		if number, found := strings.CutSuffix(part, " "+unit); found {
			return strings.TrimSpace(number) + unit
		}
	}
	return part
}

// mentionsVolume reports whether some part's amount is a volume.
func mentionsVolume(text string) bool {
	return slices.ContainsFunc(strings.Split(text, "+"), func(f string) bool {
		f = joinUnit(f)
		_, ok := parseVolume(f[strings.LastIndexByte(f, ' ')+1:])
		return ok
	})
}

// parseAmounts reads "name amount + name amount", the amount being the last word.
func parseAmounts(text, expected string, read func(string) (float64, bool)) (parts []Part, sum float64, err error) {
	for _, f := range strings.Split(text, "+") {
		f = joinUnit(f)
		cut := strings.LastIndexByte(f, ' ')
		amount, ok := read(f[cut+1:])
		if !ok {
			return nil, 0, fmt.Errorf("mix: no amount in %q; expected a name and %s with each", f, expected)
		}
		parts = append(parts, Part{Name: strings.TrimSpace(f[:max(cut, 0)]), Parts: amount})
		sum += amount
	}
	_, err = checkParts(parts)
	return parts, sum, err
}

// parseDilution reads "acid 99.5% to 28%" as parts of the stock and of water.
func parseDilution(text string) ([]Part, error) {
	from, to, ok := strings.Cut(text, " to ")
	wanted, ok2 := parseDecimal(strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(to), "%")))
	if !ok || !ok2 {
		return nil, fmt.Errorf("mix: cannot read %q; expected one such as %q", text, "acid 99.5% to 28%")
	}
	parts, stock, err := parseAmounts(from, "a percentage such as 28%", numberWith("%"))
	if err != nil {
		return nil, err
	}
	of, water, err := Dilute(stock, wanted, 1)
	if err != nil {
		return nil, err
	}
	if water == 0 {
		return parts, nil
	}
	return []Part{{Name: parts[0].Name, Parts: float64(of)}, {Name: "water", Parts: float64(water)}}, nil
}

// parseSolids reads "metol 2g/l + sulphite 100 g/l".
func parseSolids(text string) ([]Solid, error) {
	spaced := strings.ReplaceAll(text, " g/l", "g/l")
	parts, _, err := parseAmounts(spaced, "grams such as 2g/l", numberWith("g/l"))
	if err != nil {
		return nil, err
	}
	solids := make([]Solid, len(parts))
	for i, p := range parts {
		solids[i] = Solid{Name: p.Name, PerLitre: p.Parts}
	}
	return solids, nil
}

// Weight is how much of a solid to weigh out.
type Weight struct {
	Name  string  `json:"name"`
	Grams float64 `json:"g"`
}

// Weigh returns the grams of each solid that make a volume. It errs as Grams.
func Weigh(solids []Solid, volume Millilitres) ([]Weight, error) {
	weights := make([]Weight, len(solids))
	for i, s := range solids {
		g, err := Grams(s.PerLitre, volume)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", s.Name, err)
		}
		weights[i] = Weight{Name: s.Name, Grams: g}
	}
	return weights, nil
}

// Stock is stock that stands ready: so much of one part.
type Stock struct {
	Name   string
	Volume Millilitres
}

// ParseStock reads "A 40ml".
func ParseStock(text string) (Stock, error) {
	parts, _, err := parseAmounts(text, "a volume such as 40ml", parseVolume)
	if err != nil || len(parts) != 1 {
		return Stock{}, fmt.Errorf("stock in hand: cannot read %q; expected one such as %q", text, "A 40ml")
	}
	return Stock{Name: parts[0].Name, Volume: Millilitres(parts[0].Parts)}, nil
}

// MaxVolume returns the largest volume of the mix that the stock in hand makes,
// where all other parts are plentiful. It errs where the mix has no such part.
func (h Stock) MaxVolume(parts []Part) (Millilitres, error) {
	total, err := checkParts(parts)
	if err != nil {
		return 0, err
	}
	for _, p := range parts {
		if p.Name == h.Name {
			return h.Volume * Millilitres(total/p.Parts), nil
		}
	}
	names := make([]string, len(parts))
	for i, p := range parts {
		names[i] = p.Name
	}
	return 0, fmt.Errorf("stock in hand: the mix has no part %q; expected one of %s", h.Name, strings.Join(names, ", "))
}

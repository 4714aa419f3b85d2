package say

// What each bath can do to the person who mixes and uses it, to be shown before
// anything is measured out. Limits are those of government health sources; the
// maker's safety data sheet and local codes come before all of it.

import (
	"slices"
	"strings"
	"unicode"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
)

// SafetyReminder ends every list of hazards.
const SafetyReminder = "The maker's safety data sheet, local codes and licensed disposal come first."

// hazardsByKind are the hazards of what a step does.
var hazardsByKind = map[sequence.Kind][]string{
	sequence.Develop: {"Nitrile gloves and goggles: developing agents pass through the skin and sensitise it.",
		"Powders: gloves and goggles, mix under extraction or with a dust respirator; do not handle if pregnant."},
	sequence.StopBath: {"Pour acid into water, slowly, never water into acid; goggles; air the room."},
	sequence.Fix: {"Gives off sulfur dioxide (limit 2 ppm, NIOSH), more with acid carried in: air the room, at least 12 air changes an hour.",
		"Never mix fixer with bleach or a strong acid: the gas is poisonous.",
		"Used fixer holds silver (waste from 5 mg/l, 40 CFR 261.24): collect it; local rules decide where it goes."},
}

// substance is what a part's name tells.
type substance struct {
	names []string // any of them in the part's name
	text  string
}

// substances in the order in which they are said. Sources: OSHA and NIOSH limits
// where a figure stands; pyrogallol from memory.
var substances = []substance{
	{[]string{"hydroquinone"}, "Hydroquinone: a danger to the eyes, sensitises; limit 2 mg/m3 (OSHA, NIOSH)."},
	{[]string{"catechol"}, "Pyrocatechol: absorbed through the skin; limit 5 ppm."},
	{[]string{"pyrogallol", "pyro developer"}, "Pyrogallol: poisonous by mouth and through the skin (from memory)."},
	{[]string{"metol"}, "Metol: allergies are frequent; gloves always."},
	{[]string{"acetic", "acid stop"}, "Acetic acid: limit 10 ppm; air the room; acid into water, slowly."},
}

// HazardsIn are the dangers of a bath: what the recipe says of it, what follows from
// the steps that use it and from its parts' names. SafetyReminder is the last.
func HazardsIn(r *sequence.Recipe, b *sequence.Bath) []string {
	var kinds []sequence.Kind
	for i := range r.Steps {
		if r.Steps[i].Bath == b.ID {
			kinds = append(kinds, r.Steps[i].Kind)
		}
	}
	return hazards(b.Cautions, kinds, b.Parts)
}

// HazardsOfParts are the dangers of parts of which no more is known than their names.
func HazardsOfParts(parts []chem.Part) []string {
	var kinds []sequence.Kind
	general := []string{"Gloves and goggles; powders under extraction or with a dust respirator; acid into water, slowly."}
	if slices.ContainsFunc(parts, func(p chem.Part) bool { return planning.PartNamed(p, "fixer", "thiosul", "hypo") }) {
		kinds = append(kinds, sequence.Fix)
	}
	return hazards(general, kinds, parts)
}

func hazards(own []string, kinds []sequence.Kind, parts []chem.Part) []string {
	list := []string{}
	add := func(text string) {
		if !slices.Contains(list, text) && !strings.Contains(text, "safety data sheet") { // SafetyReminder says it
			list = append(list, text)
		}
	}
	var general []string
	onlyWater := planning.OnlyWater(&sequence.Bath{Parts: parts})
	for _, k := range kinds {
		if !onlyWater {
			general = append(general, hazardsByKind[k]...)
		}
	}
	for _, text := range own {
		if !slices.ContainsFunc(general, func(g string) bool { return coversWords(g, text) }) {
			add(text)
		}
	}
	for _, text := range general {
		add(text)
	}
	for _, s := range substances {
		if slices.ContainsFunc(parts, func(p chem.Part) bool { return planning.PartNamed(p, s.names...) }) {
			add(s.text)
		}
	}
	return append(list, SafetyReminder)
}

// alike are words by which recipes say what the list says in others.
var alike = map[string]string{"go": "pass", "goes": "pass", "allergic": "sensitise"}

// coversWords reports whether a line says whatever another says: it has all of its words or
// ones that mean the same, but for those that carry no meaning alone.
func coversWords(line, other string) bool {
	words := func(text string) []string {
		return strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	}
	const empty = " a an and be by can contact frequent in is it its make of or staining that the this to wear when with "
	has := words(line)
	return !slices.ContainsFunc(words(other), func(w string) bool {
		if same, known := alike[w]; known && slices.Contains(has, same) {
			return false
		}
		return !strings.Contains(empty, " "+w+" ") && !slices.Contains(has, w)
	})
}

// workplace are the cautions of any place where baths are mixed and used, by their codes.
var workplace = map[string]string{
	"eye-rinse": "An eye rinse, or running water, within reach: rinse for a quarter of an hour, then see a doctor.",
	"labels":    "Label every bottle: what is in it and when it was mixed; never one that food or drink came in.",
	"no-food":   "No food, drink or smoking where baths are mixed or used; wash your hands afterwards.",
}

// Workplace are those cautions in sentences.
func Workplace() []string {
	var list []string
	for _, code := range planning.WorkplaceCodes {
		list = append(list, workplace[code])
	}
	return list
}

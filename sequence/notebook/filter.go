package notebook

// Searching the list.

import (
	"slices"
	"strings"
	"time"

	"example.org/wetside/sequence"
)

// Filter says which sessions are wanted. An empty field asks for nothing; texts
// are looked for anywhere, whatever the case.
type Filter struct {
	Film         string
	Vessel       sequence.Vessel // any that the plan uses
	Bath         string          // its id, or the name of a part
	Text         string          // title, about, steps' names and notes, notes
	Since, Until time.Time       // days, both included; as the wall clock said when the session began
}

// Select keeps the sessions that are wanted, in their order.
func (f Filter) Select(list []Summary) []Summary {
	film, bath, text := strings.ToLower(f.Film), strings.ToLower(f.Bath), strings.ToLower(f.Text)
	var kept []Summary
	for _, s := range list {
		if holds(s.Film, film) && f.inDays(s) && (f.Vessel == "" || slices.Contains(s.Vessels, f.Vessel)) &&
			(bath == "" || anyHolds(s.Baths, bath)) && (text == "" || anyHolds(s.Words, text)) {
			kept = append(kept, s)
		}
	}
	return kept
}

func (f Filter) inDays(s Summary) bool {
	if f.Since.IsZero() && f.Until.IsZero() {
		return true
	}
	day := s.Day()
	return day != "" && (f.Since.IsZero() || day >= f.Since.Format(time.DateOnly)) &&
		(f.Until.IsZero() || day <= f.Until.Format(time.DateOnly))
}

// holds reports whether text has the lower-case part in it.
func holds(text, part string) bool { return strings.Contains(strings.ToLower(text), part) }

func anyHolds(texts []string, part string) bool {
	return slices.ContainsFunc(texts, func(t string) bool { return holds(t, part) })
}

// Search keeps the sessions in which every word typed is found, whatever the case, in
// the film, the title, a vessel, a bath or a part of it, the day (2026-11), the
// status, the state of the emulsion, a sheet's name, the id, or what was noted; in
// their order. A rehearsal is found by "rehearsal".
func Search(list []Summary, typed string) []Summary {
	words := strings.Fields(strings.ToLower(typed))
	var kept []Summary
	for i := range list {
		s := &list[i]
		if !slices.ContainsFunc(words, func(w string) bool { return !s.matches(w) }) {
			kept = append(kept, *s)
		}
	}
	return kept
}

// matches reports whether a lower-case word is found in what the list knows of a session.
func (s *Summary) matches(word string) bool {
	kind := ""
	if s.Rehearsal {
		kind = "rehearsal"
	}
	return anyHolds([]string{s.Film, s.Recipe, s.Day(), string(s.Status), kind, string(s.Emulsion), s.ID}, word) ||
		slices.ContainsFunc(s.Vessels, func(v sequence.Vessel) bool { return holds(string(v), word) }) ||
		anyHolds(s.Baths, word) || anyHolds(s.Names, word) || anyHolds(s.Words, word)
}

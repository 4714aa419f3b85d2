package say

// Many sheets in rounds: what keeps a round from being larger, and why a bath is mixed
// fresh for one.

import (
	"fmt"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
)

// RoundLimit is what keeps a round from being larger, after "because".
func RoundLimit(r sequence.Reason, h sequence.Units) string {
	switch r.Code {
	case "recipe-load":
		return "the recipe loads no more at once"
	case "asked-for":
		return "no more were asked for at once"
	case "shuffle":
		return fmt.Sprintf("%d sheets are as many as a hand shuffles (NAVEDTRA 14209 pp. 258-259)", r.Sheets)
	case "all-fit":
		return "all fit into one"
	case "bath":
		return fmt.Sprintf("%s of %s can do no more", Volume(r.Volume, h), r.Bath)
	case "hand":
		return "a hand could not serve more"
	case "wet-limit":
		return "more would be wet for longer than the film's limit less its warning"
	}
	return ""
}

// MixedFresh is why a bath is mixed fresh for a round; "" where it is not.
func MixedFresh(r sequence.Reason) string {
	switch r.Code {
	case "first-round":
		return "the first round"
	case "water":
		return "water is fresh in each round"
	case "one-session":
		return "it is for one session"
	case "capacity":
		return fmt.Sprintf("it has done %d of %s", r.Sheets, Count(r.Room, "sheet"))
	case "working-life":
		return "it would be older than " + Span(r.Of)
	case "capacity-unknown":
		return "capacity not given"
	}
	return ""
}

// Rounds is a division into rounds with its reasons in words, for what writes it.
func Rounds(b planning.RoundsPlan, h sequence.Units) planning.RoundsPlan {
	b.Why = RoundLimit(b.Limit, h)
	rounds := make([]planning.Round, len(b.Rounds))
	for i, r := range b.Rounds {
		baths := make([]planning.RoundBath, len(r.Baths))
		for k, bath := range r.Baths {
			bath.Why = MixedFresh(bath.Cause)
			baths[k] = bath
		}
		r.Baths = baths
		rounds[i] = r
	}
	b.Rounds = rounds
	return b
}

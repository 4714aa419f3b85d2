package say

// Many sheets in rounds: what keeps a round from being larger, and why a bath is mixed
// fresh for one.

import (
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/planning"
)

var roundLimits = map[string]string{
	"recipe-load": "the recipe loads no more at once",
	"asked-for":   "no more were asked for at once",
	"shuffle":     "{n} sheets are as many as a hand shuffles (NAVEDTRA 14209 pp. 258-259)",
	"all-fit":     "all fit into one",
	"bath":        "{volume} of {bath} can do no more",
	"hand":        "a hand could not serve more",
	"wet-limit":   "more would be wet for longer than the film's limit less its warning",
}

var freshReasons = map[string]string{
	"first-round":      "the first round",
	"water":            "water is fresh in each round",
	"one-session":      "it is for one session",
	"capacity":         "it has done {n} of {room sheets}",
	"working-life":     "it would be older than {span of}",
	"capacity-unknown": "capacity not given",
}

// RoundLimit is what keeps a round from being larger, after "because".
func RoundLimit(r sequence.Reason, h sequence.Units) string {
	return filledIn(roundLimits[r.Code], r.Values, h)
}

// MixedFresh is why a bath is mixed fresh for a round; "" where it is not.
func MixedFresh(r sequence.Reason) string {
	return filledIn(freshReasons[r.Code], r.Values, sequence.Units{})
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

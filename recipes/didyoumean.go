package recipes

// What a mistyped word probably meant.

import "strings"

// NearestWord is the word that is closest to s, or "" where none is near: at most
// one letter in three may be added, dropped, changed or swapped with the next.
// Case costs nothing here, so NAME suggests name.
func NearestWord(s string, words []string) string {
	if len(s) > 64 {
		return ""
	}
	best, least := "", max(1, len([]rune(s))/3)+1
	for _, w := range words {
		if d := distance(strings.ToLower(s), strings.ToLower(w)); d < least {
			best, least = w, d
		}
	}
	return best
}

// didYouMean is the hint for a mistyped word, "" where nothing is near.
func didYouMean(s string, words []string) string {
	if w := NearestWord(s, words); w != "" {
		return "did you mean " + quote(w) + "?"
	}
	return ""
}

// distance counts the letters to add, drop, change or swap with the next one
// that turn a into b (optimal string alignment).
func distance(a, b string) int {
	x, y := []rune(a), []rune(b)
	var before []int
	row := make([]int, len(y)+1)
	for j := range row {
		row[j] = j
	}
	for i := range x {
		next := make([]int, len(y)+1)
		next[0] = i + 1
		for j := range y {
			cost := 1
			if x[i] == y[j] {
				cost = 0
			}
			next[j+1] = min(row[j]+cost, row[j+1]+1, next[j]+1)
			if i > 0 && j > 0 && x[i] == y[j-1] && x[i-1] == y[j] {
				next[j+1] = min(next[j+1], before[j-1]+1)
			}
		}
		before, row = row, next
	}
	return row[len(y)]
}

// oneOf is the words as a sentence lists them.
func oneOf[T ~string](words []T) string {
	return "one of " + strings.Join(asStrings(words), ", ")
}

// asStrings is the words as strings.
func asStrings[T ~string](words []T) []string {
	s := make([]string, len(words))
	for i, w := range words {
		s[i] = string(w)
	}
	return s
}

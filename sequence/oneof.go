package sequence

import "strings"

// OneOf is the words to choose from, as a sentence lists them.
func OneOf[T ~string](words []T) string {
	list := make([]string, len(words))
	for i, w := range words {
		list[i] = string(w)
	}
	return "one of " + strings.Join(list, ", ")
}

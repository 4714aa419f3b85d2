package say

// How the sheets of a film test are told apart by touch.

import (
	"fmt"
	"strings"
)

// MostClips is how many sheets can be told apart by clips.
const MostClips = 16

// ClipOf is where the n-th sheet, from 1, is clipped so that fingers know it, as on a
// sheet that lies emulsion up with its notch at the top right. The notch and the corner
// across from it, at the bottom left, where a mask keeps base plus fog, stay whole: what
// is left are two corners and the middles of the two long edges. "" from 17 on.
func ClipOf(n int) string {
	if n < 1 || n > MostClips {
		return ""
	}
	corner := []string{"", "top left", "bottom right", "both corners"}[(n-1)%4]
	edge := []string{"", "left", "right", "edges"}[(n-1)/4]
	switch {
	case corner == "" && edge == "":
		return "no clip"
	case edge == "":
		return corner
	case corner == "" && edge == "edges":
		return "both edges"
	case corner == "":
		return edge + " edge"
	}
	return edge + ", " + corner
}

// Clips are those of the first n sheets; nil where there are more than can be told apart.
func Clips(n int) []string {
	if n > MostClips {
		return nil
	}
	list := make([]string, n)
	for k := range list {
		list[k] = ClipOf(k + 1)
	}
	return list
}

// HowToClip says how sheets are told apart by touch.
func HowToClip(n int) string {
	var list []string
	for k, clip := range Clips(min(n, MostClips)) {
		list = append(list, fmt.Sprintf("sheet %d %s", k+1, clip))
	}
	text := "So that fingers know the sheets, clip a small triangle off them before loading, as they lie emulsion up with the notch at the top right: " +
		strings.Join(list, "; ") + ". The notch and the corner at the bottom left stay whole: there a mask keeps base plus fog."
	if n > 4 {
		text += " Left and right are the middles of those edges."
	}
	if n > MostClips {
		text += fmt.Sprintf(" From sheet %d on they are not told apart by clips.", MostClips+1)
	}
	return text
}

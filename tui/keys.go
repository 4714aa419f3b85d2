package tui

// Every key, what it does and how help names it. The line of help at the foot of
// a screen is drawn from the same list.

import (
	"slices"
	"strings"
	"unicode/utf8"
)

// keyAction is what a key asks for.
type keyAction int

// The actions.
const (
	noAction keyAction = iota
	up
	down
	left
	right
	enter
	goBack
	quit
	bigKeyAction // the big key: space, a foot switch, a presenter
	rehearse
	edit // in the person's own editor
	undo
	holdKey
	lateKey
	temperature
	remark
	stop
	lights
	lost
	advice
	shorten
	startAt // with the temperature that the plan proposes
	records // the notebook
	search
	readings // densities
	curves
	leaveOut
	target
	borrow
	smoothing
	keepRecipe
	beside
	looks
	emulsion
	again
	aside       // put away
	showBottles // the rack
	throwAway
	rotate
	openBottles
	clearIt
	menu // the second key in the dark: a spoken menu
	waitingSheets
	listen
	addSheet
	dropSheet
	group
	otherRecipe
	tryFilm // plan a film test
	printing
	tolerance
	mostSheets
	measuredOff // the panel
	outside     // the laptop
	acceptIt    // a danger
)

// binding is some keys with one meaning.
type binding struct {
	keys []string
	show string // as help names the key; "" for not at all
	does string
	act  keyAction
}

// bindings are those of each screen, in the order in which help names them.
var bindings = map[screenID][]binding{
	recipeListScreen: {
		{[]string{"up", "k"}, "", "", up},
		{[]string{"down", "j"}, "", "", down},
		{[]string{"enter", " "}, "enter", "plan", enter},
		{[]string{"r"}, "r", "rehearse", rehearse},
		{[]string{"e"}, "e", "edit", edit},
		{[]string{"t"}, "t", "film test", tryFilm},
		{[]string{"n"}, "n", "notebook", records},
		{[]string{"d"}, "d", "densities", readings},
		{[]string{"b"}, "b", "bottles", showBottles},
		{[]string{"s"}, "s", "sheets", waitingSheets},
		{[]string{"l"}, "l", "sounds", listen},
		{[]string{"y"}, "", "", acceptIt},
		{[]string{"q", "esc", "ctrl+c"}, "q", "leave", quit},
	},
	soundsScreen: {
		{[]string{"up", "k"}, "↑↓", "hear", up},
		{[]string{"down", "j"}, "", "", down},
		{[]string{"enter", " "}, "enter", "hear again", enter},
		{[]string{"esc"}, "esc", "back", goBack},
		{[]string{"ctrl+c"}, "", "", quit},
	},
	planScreen: {
		{[]string{"up"}, "↑↓", "choose", up},
		{[]string{"down", "tab"}, "", "", down},
		{[]string{"left"}, "←→", "change", left},
		{[]string{"right"}, "", "", right},
		{[]string{"+"}, "+", "shorten", shorten},
		{[]string{"-"}, "-", "take back", undo},
		{[]string{"enter"}, "enter", "prepare", enter},
		{[]string{"="}, "=", "proposed start", startAt},
		{[]string{"f5"}, "f5", "rehearse", rehearse},
		{[]string{"esc"}, "esc", "back", goBack},
		{[]string{"ctrl+c"}, "", "", quit},
	},
	prepareScreen: {
		{[]string{" ", "pgdown"}, "space", "go on", bigKeyAction},
		{[]string{"o"}, "", "", measuredOff},
		{[]string{"l"}, "", "", outside},
		{[]string{"y"}, "", "", acceptIt},
		{[]string{"up"}, "↑↓", "read on", up},
		{[]string{"down"}, "", "", down},
		{[]string{"esc"}, "esc", "back", goBack},
		{[]string{"ctrl+c"}, "", "", quit},
	},
	runScreen: {
		{[]string{" ", "pgdown"}, "space", "move on", bigKeyAction},
		{[]string{"h"}, "h", "hold", holdKey},
		{[]string{"u"}, "u", "undo", undo},
		{[]string{"l"}, "l", "late", lateKey},
		{[]string{"x"}, "x", "aside", lost},
		{[]string{"a"}, "a", "advice", advice},
		{[]string{"t"}, "t", "temp", temperature},
		{[]string{"n"}, "n", "note", remark},
		{[]string{"w"}, "w", "white", lights},
		{[]string{"s", "ctrl+c"}, "s", "end session", stop},
		{[]string{"m"}, "", "", menu},
		{[]string{"esc"}, "", "", goBack},
	},
	summaryScreen: {
		{[]string{"up"}, "↑↓", "read on", up},
		{[]string{"down"}, "", "", down},
		{[]string{"d"}, "d", "densities", readings},
		{[]string{"n"}, "n", "note", remark},
		{[]string{"l"}, "l", "looks", looks},
		{[]string{"e"}, "e", "emulsion", emulsion},
		{[]string{"enter", "esc", " "}, "enter", "recipes", goBack},
		{[]string{"a"}, "a", "next round", again},
		{[]string{"q", "ctrl+c"}, "q", "leave", quit},
	},
	notebookScreen: {
		{[]string{"up", "k"}, "↑↓", "choose", up},
		{[]string{"down", "j"}, "", "", down},
		{[]string{"enter", " "}, "enter", "read it", enter},
		{[]string{"/"}, "/", "search", search},
		{[]string{"c"}, "c", "compare", beside},
		{[]string{"esc"}, "esc", "back", goBack},
		{[]string{"ctrl+c"}, "", "", quit},
	},
	bottlesScreen: {
		{[]string{"up", "k"}, "↑↓", "choose", up},
		{[]string{"down", "j"}, "", "", down},
		{[]string{"o"}, "o", "open recipe's", openBottles},
		{[]string{"t"}, "t", "throw away", throwAway},
		{[]string{"r"}, "r", "rotate", rotate},
		{[]string{"c"}, "c", "clearing test", clearIt},
		{[]string{"esc"}, "esc", "back", goBack},
		{[]string{"ctrl+c"}, "", "", quit},
	},
	sessionScreen: {
		{[]string{"up"}, "↑↓", "read on", up},
		{[]string{"down"}, "", "", down},
		{[]string{"a"}, "a", "again", again},
		{[]string{"n"}, "n", "note", remark},
		{[]string{"l"}, "l", "looks", looks},
		{[]string{"e"}, "e", "emulsion", emulsion},
		{[]string{"d"}, "d", "densities", readings},
		{[]string{"x"}, "x", "put away", aside},
		{[]string{"esc"}, "esc", "back", goBack},
		{[]string{"ctrl+c"}, "", "", quit},
	},
	compareScreen: {
		{[]string{"up"}, "↑↓", "read on", up},
		{[]string{"down"}, "", "", down},
		{[]string{"esc"}, "esc", "back", goBack},
		{[]string{"ctrl+c"}, "", "", quit},
	},
	holdersScreen: {
		{[]string{"up", "k"}, "↑↓", "choose", up},
		{[]string{"down", "j"}, "", "", down},
		{[]string{"a"}, "a", "add", addSheet},
		{[]string{"enter"}, "enter", "change", enter},
		{[]string{"x"}, "x", "take off", dropSheet},
		{[]string{"g"}, "g", "sessions for them", group},
		{[]string{"esc"}, "esc", "back", goBack},
		{[]string{"ctrl+c"}, "", "", quit},
	},
	holderGroupsScreen: {
		{[]string{"up", "k"}, "↑↓", "choose", up},
		{[]string{"down", "j"}, "", "", down},
		{[]string{"left"}, "←→", "move the sheet", left},
		{[]string{"right"}, "", "", right},
		{[]string{"enter"}, "enter", "plan it", enter},
		{[]string{"r"}, "r", "other recipe", otherRecipe},
		{[]string{"p"}, "p", "print", printing},
		{[]string{"t"}, "t", "tolerance", tolerance},
		{[]string{"m"}, "m", "most", mostSheets},
		{[]string{"esc"}, "esc", "back", goBack},
		{[]string{"ctrl+c"}, "", "", quit},
	},
	densitiesScreen: {
		{[]string{"up", "k"}, "↑↓", "choose", up},
		{[]string{"down", "j"}, "", "", down},
		{[]string{"enter", " "}, "enter", "read on", enter},
		{[]string{"c"}, "c", "curves", curves},
		{[]string{"esc"}, "esc", "back", goBack},
		{[]string{"ctrl+c"}, "", "", quit},
	},
	readingSetupScreen: {
		{[]string{"up"}, "↑↓", "choose", up},
		{[]string{"down", "tab"}, "", "", down},
		{[]string{"left"}, "←→", "change", left},
		{[]string{"right"}, "", "", right},
		{[]string{"enter"}, "enter", "begin reading", enter},
		{[]string{"esc"}, "esc", "back", goBack},
		{[]string{"ctrl+c"}, "", "", quit},
	},
	readingsScreen: {
		{[]string{"enter"}, "enter", "take it", enter},
		{[]string{"up"}, "↑↓", "step", up},
		{[]string{"down"}, "", "", down},
		{[]string{"left"}, "←→", "sheet", left},
		{[]string{"right", "tab"}, "", "", right},
		{[]string{"u"}, "u", "undo", undo},
		{[]string{"x"}, "x", "leave out", leaveOut},
		{[]string{"r"}, "r", "turn", rotate},
		{[]string{"c"}, "c", "curves", curves},
		{[]string{"esc"}, "esc", "back", goBack},
		{[]string{"ctrl+c"}, "", "", quit},
	},
	filmTestScreen: {
		{[]string{"up"}, "↑↓", "choose", up},
		{[]string{"down", "tab"}, "", "", down},
		{[]string{"left"}, "←→", "change", left},
		{[]string{"right"}, "", "", right},
		{[]string{"enter"}, "enter", "write and plan it", enter},
		{[]string{"esc"}, "esc", "back", goBack},
		{[]string{"ctrl+c"}, "", "", quit},
	},
	curvesScreen: {
		{[]string{"up"}, "↑↓", "read on", up},
		{[]string{"down"}, "", "", down},
		{[]string{"t"}, "t", "target", target},
		{[]string{"b"}, "b", "borrowed", borrow},
		{[]string{"s"}, "s", "smooth", smoothing},
		{[]string{"w"}, "w", "write recipe", keepRecipe},
		{[]string{"left"}, "←→", "from", left},
		{[]string{"right"}, "", "", right},
		{[]string{"enter"}, "enter", "plan it", enter},
		{[]string{"esc"}, "esc", "back", goBack},
		{[]string{"ctrl+c"}, "", "", quit},
	},
}

// actionOf is what a key does on a screen.
func actionOf(s screenID, key string) keyAction {
	for _, b := range bindings[s] {
		for _, k := range b.keys {
			if k == key {
				return b.act
			}
		}
	}
	return noAction
}

// usualBig and usualMenu are the big key and the menu's in the bindings above; settings
// put others in their place.
var (
	usualBig  = []string{" ", "pgdown"}
	usualMenu = []string{"m"}
)

// heard is a key as the bindings know it: the person's own big key for the usual one,
// and the menu's likewise.
func (o Options) heard(key string) string {
	replaced := false
	for _, k := range []struct{ own, usual []string }{{o.BigKeys, usualBig}, {o.MenuKeys, usualMenu}} {
		switch {
		case slices.Contains(k.own, key):
			return k.usual[0]
		case k.own != nil && slices.Contains(k.usual, key):
			replaced = true
		}
	}
	if replaced {
		return "" // what it did is done by another key
	}
	return key
}

// bigName is what the big key is called.
func (o Options) bigName() string {
	if len(o.BigKeys) == 0 || o.BigKeys[0] == usualBig[0] {
		return "space"
	}
	return o.BigKeys[0]
}

// Taken are the keys that mean something else where the big key and the menu's count:
// these cannot be one of them.
func Taken() []string {
	var keys []string
	for _, s := range []screenID{prepareScreen, runScreen} {
		for _, b := range bindings[s] {
			if b.act != bigKeyAction && b.act != menu {
				keys = append(keys, b.keys...)
			}
		}
	}
	return keys
}

// help is the line of keys of a screen, the big one by its name: as many as fit with what they do, the
// last ones by their keys alone.
func help(s screenID, width int, bigKey string) string {
	var full, keys []string
	for _, b := range shownKeys(s, bigKey) {
		full, keys = append(full, b.show+" "+b.does), append(keys, b.show)
	}
	if line := strings.Join(full, "   "); utf8.RuneCountInString(line) <= width {
		return line
	}
	for n := len(full) - 1; n >= 0; n-- {
		line := strings.TrimSpace(strings.Join(full[:n], "  ")+"  "+strings.Join(keys[n:], " ")) + "  " + allKeys
		if room := width - utf8.RuneCountInString(line); room >= len(" all keys") {
			return line + " all keys"
		} else if room >= 0 {
			return line
		}
	}
	return strings.Join(append(keys, allKeys), " ")
}

// allKeys is the key that tells all keys of a lit screen with what they do.
const allKeys = "?"

// helpInFull is that telling.
func helpInFull(s screenID, bigKey string) string {
	var full []string
	for _, b := range shownKeys(s, bigKey) {
		full = append(full, b.show+" "+b.does)
	}
	return strings.Join(full, ", ")
}

// shownKeys are the bindings that help names.
func shownKeys(s screenID, bigKey string) []binding {
	var list []binding
	for _, b := range bindings[s] {
		if b.act == bigKeyAction {
			b.show = bigKey
		}
		if b.show != "" {
			list = append(list, b)
		}
	}
	return list
}

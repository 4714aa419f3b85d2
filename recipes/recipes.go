// Package recipes reads and checks recipes, and ships some to start from.
//
// A recipe is a TOML file: film, load, baths, steps. Read is the way in; it
// turns a file into a sequence.Recipe or into Faults, every one with its line
// and column. Find resolves what a person typed, List shows what there is.
// The checks are about the file alone; what depends on the day (temperature,
// vessel, number of sheets) is judged when a plan is made.
//
// Files come from strangers: nothing in one can make this package panic, take
// long or put a control character on a terminal (prescan.go, safetext). It never
// writes a file.
package recipes

import (
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"sort"
	"strings"

	"example.org/wetside/recipes/safetext"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/places"
)

//go:embed starters/*.toml
var starters embed.FS

// KeyReference is every key that a recipe may hold, as comments to stand below one.
//
//go:embed explained.txt
var KeyReference []byte

const suffix = ".toml"

// Entry is one line of a list of recipes. Of a broken one only Name, Own and
// Fault are known.
type Entry struct {
	Name   string // what Find takes: the file's name without .toml
	Title  string
	Film   string
	Vessel sequence.Vessel
	Sheets int
	IsOwn  bool  // from the person's own folder, not shipped
	Fault  error // nil where the recipe is sound
}

// ShippedEntries lists the recipes that come with the program, by name.
func ShippedEntries() []Entry {
	var entries []Entry
	for _, name := range shippedNames() {
		text, _ := ShippedSource(name)
		recipe, err := Read(name+suffix, text)
		entries = append(entries, newEntry(name, recipe, err, false))
	}
	return entries
}

// List lists the recipes in ownDir and the shipped ones, by name; one's own
// hides a shipped one of the same name. A folder that is not there is empty.
// A recipe, or a folder, that cannot be read is listed with its fault.
func List(ownDir string) []Entry {
	own, err := ownNames(ownDir)
	entries := []Entry{}
	if err != nil {
		entries = append(entries, Entry{Name: safetext.Clean(ownDir), IsOwn: true, Fault: err})
	}
	for _, name := range own {
		recipe, err := ReadFile(filepath.Join(ownDir, name+suffix))
		entries = append(entries, newEntry(name, recipe, err, true))
	}
	for _, e := range ShippedEntries() {
		if !slices.Contains(own, e.Name) {
			entries = append(entries, e)
		}
	}
	sort.SliceStable(entries, func(i, j int) bool { return entries[i].Name < entries[j].Name })
	return entries
}

// OwnFirst is recipes in the same order, but the person's own before the shipped ones.
func OwnFirst(list []Entry) []Entry {
	own := func(e Entry) bool { return e.IsOwn }
	shipped := func(e Entry) bool { return !e.IsOwn }
	return append(slices.DeleteFunc(slices.Clone(list), shipped), slices.DeleteFunc(slices.Clone(list), own)...)
}

// Usable are those of a list that have no fault.
func Usable(list []Entry) []Entry {
	return slices.DeleteFunc(slices.Clone(list), func(e Entry) bool { return e.Fault != nil })
}

// Find reads the recipe that a person asked for: a path, where it holds a
// slash or ends in .toml; otherwise the name of a recipe in ownDir or of a
// shipped one. The error is Faults, that of opening the file, or says that
// there is no such name and what was probably meant.
func Find(nameOrPath, ownDir string) (sequence.Recipe, error) {
	text, file, err := located(nameOrPath, ownDir)
	if err != nil {
		return sequence.Recipe{}, err
	}
	return Read(file, text)
}

// Source is the TOML text of the recipe that Find reads, for copying, be it sound or
// not.
func Source(nameOrPath, ownDir string) ([]byte, error) {
	text, _, err := located(nameOrPath, ownDir)
	return text, err
}

// located is the text of a recipe, and what its file is called.
func located(nameOrPath, ownDir string) (text []byte, file string, err error) {
	if isPath(nameOrPath) {
		text, err = readSmall(nameOrPath)
		return text, nameOrPath, withoutEnding(nameOrPath, ownDir, err)
	}
	own, err := ownNames(ownDir)
	if slices.Contains(own, nameOrPath) {
		file = filepath.Join(ownDir, nameOrPath+suffix)
		text, err = readSmall(file)
		return text, file, err
	}
	if text, ok := ShippedSource(nameOrPath); ok {
		return text, nameOrPath + suffix, nil
	}
	names := append(own, shippedNames()...)
	slices.Sort(names)
	return nil, "", errors.Join(unknown(nameOrPath, slices.Compact(names)), err)
}

// ShippedSource is the TOML text of a shipped recipe, for copying; false where none
// has that name.
func ShippedSource(name string) ([]byte, bool) {
	if !slices.Contains(shippedNames(), name) {
		return nil, false
	}
	data, err := starters.ReadFile(path.Join("starters", name+suffix))
	return data, err == nil
}

// OwnPath is the path of one's own recipe of that name, whether it is there or not. It
// errs for a name that no file should have.
func OwnPath(name, ownDir string) (string, error) {
	if last := name[strings.LastIndexAny(name, `/\`)+1:]; places.IsDevice(last) {
		return "", fmt.Errorf("recipe %s: Windows takes %s for a device; expected another name, such as plover-at-home", quote(name), quote(last))
	}
	if isPath(name) {
		return name, nil
	}
	if name == "" || name[0] == '.' || safetext.Clean(name) != name || strings.ContainsAny(name, ` "'<>|*?:`) || len(name) > 64 {
		return "", fmt.Errorf("recipe %s: no name for a file; expected letters, digits and hyphens, such as plover-at-home", quote(name))
	}
	if ownDir == "" {
		return "", errors.New("recipes: there is no home folder to keep them in; expected XDG_CONFIG_HOME or HOME")
	}
	return filepath.Join(ownDir, name+suffix), nil
}

// isPath tells a path from a name.
func isPath(s string) bool {
	return strings.ContainsAny(s, `/\`) || strings.HasSuffix(s, suffix)
}

// unknown is the error for a name that no recipe has.
func unknown(name string, names []string) error {
	if hint := didYouMean(name, names); hint != "" {
		return fmt.Errorf("recipe %s: there is none of that name; %s", quote(name), hint)
	}
	if info, err := os.Stat(name); err == nil && info.Mode().IsRegular() {
		return fmt.Errorf("recipe %s: a file, but no recipe by its name; expected one of its kind, a file that ends in .toml", quote(name))
	}
	if some := alike(name, names); len(some) > 0 {
		names = some
	}
	return fmt.Errorf("recipe %s: there is none of that name; expected %s, or a file that ends in .toml", quote(name), oneOf(names))
}

// alike are the names that begin with the first word of what was typed: a film's name, mostly.
func alike(typed string, names []string) (list []string) {
	words := strings.FieldsFunc(strings.ToLower(typed), func(r rune) bool { return r == ' ' || r == '-' })
	for _, name := range names {
		if len(words) > 0 && strings.HasPrefix(name, words[0]) {
			list = append(list, name)
		}
	}
	return list
}

// withoutEnding adds to a file's not being there that a recipe is known by that name.
func withoutEnding(path, ownDir string, err error) error {
	name := strings.TrimSuffix(path, suffix)
	if !errors.Is(err, fs.ErrNotExist) || isPath(name) {
		return err
	}
	if own, _ := ownNames(ownDir); slices.Contains(own, name) || slices.Contains(shippedNames(), name) {
		return fmt.Errorf("%w; the recipe of that name has no ending: %s", err, name)
	}
	return err
}

// newEntry makes a line of a list.
func newEntry(name string, r sequence.Recipe, err error, own bool) Entry {
	e := Entry{Name: name, IsOwn: own, Fault: err}
	if err == nil {
		e.Title, e.Film = r.Title, r.Film.Name
		e.Vessel, e.Sheets = r.Load.Vessel, r.Load.Sheets
	}
	return e
}

// ownNames are the names of the recipes in a folder: plain files that end in
// .toml, whose names are not hidden and can be shown on a terminal.
func ownNames(dir string) ([]string, error) {
	if dir == "" {
		return nil, nil
	}
	files, err := os.ReadDir(dir)
	if errors.Is(err, fs.ErrNotExist) {
		if _, there := os.Stat(dir); there == nil { // Windows says the same of a file
			return nil, fmt.Errorf("%s: expected a folder", dir)
		}
		return nil, nil
	}
	var names []string
	for _, f := range files {
		name, isRecipe := strings.CutSuffix(f.Name(), suffix)
		if !isRecipe || name == "" || name[0] == '.' || safetext.Clean(name) != name {
			continue
		}
		if info, err := os.Stat(filepath.Join(dir, f.Name())); err == nil && !info.Mode().IsRegular() {
			continue // a folder or a pipe
		}
		names = append(names, name)
	}
	return names, err
}

// shippedNames are the names of the shipped recipes, sorted.
func shippedNames() []string {
	files, _ := starters.ReadDir("starters") // embedded: it is there
	var names []string
	for _, f := range files {
		names = append(names, strings.TrimSuffix(f.Name(), suffix))
	}
	return names
}

package recipes

import (
	"errors"
	"os"
	"path/filepath"
	"reflect"
	"runtime"
	"strings"
	"testing"
	"time"

	"example.org/wetside/sequence"
)

// TestStarters reads every shipped recipe and checks what each owes the
// person: what it is about, that its times are invented, cautions for each
// bath, and that it comes through the journal's JSON unchanged.
func TestStarters(t *testing.T) {
	entries := ShippedEntries()
	if len(entries) < 10 {
		t.Fatalf("%d recipes are shipped", len(entries))
	}
	for _, e := range entries {
		t.Run(e.Name, func(t *testing.T) {
			if e.Fault != nil {
				t.Fatal(e.Fault)
			}
			source, ok := ShippedSource(e.Name)
			if !ok {
				t.Fatal("no source")
			}
			recipe, err := Read(e.Name, source)
			if err != nil {
				t.Fatal(err)
			}
			if !strings.Contains(recipe.About, "invented") || e.Title != recipe.Title ||
				e.Film != recipe.Film.Name || e.Vessel != recipe.Load.Vessel || e.Sheets != recipe.Load.Sheets || e.IsOwn {
				t.Errorf("entry %+v", e)
			}
			for _, b := range recipe.Baths {
				if len(b.Cautions) == 0 || len(b.Parts) == 0 || b.Volume == 0 {
					t.Errorf("bath %q lacks cautions, parts or volume", b.ID)
				}
			}
			data, err := sequence.Marshal(recipe)
			if err != nil {
				t.Fatal(err)
			}
			var back sequence.Recipe
			if err := sequence.Unmarshal(data, &back); err != nil || !reflect.DeepEqual(back, recipe) {
				t.Errorf("came back changed (%v):\n%+v\n%+v", err, back, recipe)
			}
		})
	}
}

// TestStartersStateTheSilverAndTheVapour looks for the usual cautions where a
// fixer is used.
func TestStartersStateTheSilverAndTheVapour(t *testing.T) {
	for _, e := range ShippedEntries() {
		source, _ := ShippedSource(e.Name)
		text := strings.ToLower(string(source))
		for _, word := range []string{"silver", "local rules", "air", "gloves", "safety data sheet", "saltmarsh harbour darkroom"} {
			if !strings.Contains(text, word) {
				t.Errorf("%s does not say %q", e.Name, word)
			}
		}
	}
}

// TestPublishedRhythm: agitation in a tank, 30 s at the start, then 5 s each
// minute (NAVEDTRA 14209, 1993, pp. 258 and 266).
func TestPublishedRhythm(t *testing.T) {
	recipe, err := Find("curlew-tank", "")
	if err != nil {
		t.Fatal(err)
	}
	want := sequence.Agitation{Mode: sequence.Pattern, Initial: 30 * time.Second, For: 5 * time.Second, Every: time.Minute}
	if got := recipe.Steps[0].Agitate; !reflect.DeepEqual(got, want) {
		t.Errorf("%+v, want %+v", got, want)
	}
}

// TestStartersShowEachWay makes sure that between them the recipes use what a
// recipe can say.
func TestStartersShowEachWay(t *testing.T) {
	used := map[string]bool{}
	for _, e := range ShippedEntries() {
		source, _ := ShippedSource(e.Name)
		root := positions(source)
		for _, table := range []*node{root, root.child("film"), root.child("load")} {
			for _, k := range table.keys() {
				used[k] = true
			}
		}
		for _, lists := range []*node{root.child("bath"), root.child("step")} {
			for _, row := range lists.items {
				for _, k := range row.keys() {
					used[k] = true
				}
			}
		}
		used[string(e.Vessel)] = true
	}
	for _, keys := range [][]string{topKeys, filmKeys, loadKeys, bathKeys, stepKeys} {
		for _, k := range keys {
			if !used[k] {
				t.Errorf("no starter uses %q", k)
			}
		}
	}
	for _, v := range sequence.Vessels {
		if !used[string(v)] && v != sequence.Tube {
			t.Errorf("no starter is for the vessel %q", v)
		}
	}
}

// own makes a folder of recipes of one's own.
func own(t *testing.T, files map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range files {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

const ownRecipe = sound + "step = [{ kind = 'fix', time = '5m' }]"

func TestFind(t *testing.T) {
	dir := own(t, map[string]string{"mine.toml": ownRecipe, "plover-tray.toml": ownRecipe, "broken.toml": "x",
		".hidden.toml": ownRecipe, "notes.txt": ""})
	for name, title := range map[string]string{
		"mine": "t", "plover-tray": "t", filepath.Join(dir, "mine.toml"): "t", "tern-drum": "Tern 125, six sheets in a drum",
	} {
		if r, err := Find(name, dir); err != nil || r.Title != title {
			t.Errorf("%s: %q, %v; want %q", name, r.Title, err, title)
		}
	}
	if r, err := Find("plover-tray", ""); err != nil || r.Title == "t" {
		t.Errorf("shipped: %q, %v", r.Title, err)
	}
	var faults Faults
	if _, err := Find("broken", dir); !errors.As(err, &faults) {
		t.Errorf("broken: %v", err)
	}
	for _, path := range []string{"none.toml", "./mine", "../mine"} {
		if _, err := Find(path, dir); !errors.Is(err, os.ErrNotExist) {
			t.Errorf("%s: %v, want a file that is not there", path, err)
		}
	}
}

func TestFindSuggests(t *testing.T) {
	dir := own(t, map[string]string{"harbour-soft.toml": ownRecipe, ".hidden.toml": ownRecipe})
	for name, hint := range map[string]string{
		"plover-tary": `of that name; did you mean "plover-tray"?`, "Harbour-soft": `of that name; did you mean "harbour-soft"?`,
		"zzz": "harbour-soft, plover-cradle", ".hidden": ", or a file that ends in .toml",
	} {
		_, err := Find(name, dir)
		if err == nil || !strings.Contains(err.Error(), hint) {
			t.Errorf("%s: %v, want %s", name, err, hint)
		}
	}
}

func TestList(t *testing.T) {
	files := map[string]string{"broken.toml": "title = 1", "plover-tray.toml": ownRecipe, "not\x1bshown.toml": ownRecipe, "other.txt": "x"}
	if runtime.GOOS == "windows" { // which has no such names
		delete(files, "not\x1bshown.toml")
	}
	dir := own(t, files)
	if err := os.Mkdir(filepath.Join(dir, "folder.toml"), 0o700); err != nil {
		t.Fatal(err)
	}
	entries := List(dir)
	if got, want := len(entries), len(ShippedEntries())+1; got != want {
		t.Errorf("%d entries, want %d", got, want)
	}
	byName := map[string]Entry{}
	for i, e := range entries {
		byName[e.Name] = e
		if i > 0 && entries[i-1].Name >= e.Name {
			t.Errorf("%q after %q", e.Name, entries[i-1].Name)
		}
	}
	if e := byName["broken"]; e.Fault == nil || !e.IsOwn {
		t.Errorf("broken: %+v", e)
	}
	want := Entry{Name: "plover-tray", Title: "t", Film: "Plover 80", Vessel: sequence.Tray, Sheets: 1, IsOwn: true}
	if e := byName["plover-tray"]; e != want {
		t.Errorf("%+v, want %+v", e, want)
	}
	if e := byName["tern-drum"]; e.IsOwn || e.Fault != nil || e.Sheets != 6 || e.Vessel != sequence.Drum {
		t.Errorf("%+v", e)
	}
}

func TestListWithoutAFolder(t *testing.T) {
	for _, dir := range []string{"", filepath.Join(t.TempDir(), "none")} {
		if got := List(dir); !reflect.DeepEqual(got, ShippedEntries()) {
			t.Errorf("%q: %+v", dir, got)
		}
	}
	file := filepath.Join(own(t, map[string]string{"a": ""}), "a")
	if got := List(file); len(got) != len(ShippedEntries())+1 || got[0].Fault == nil {
		t.Errorf("a file for a folder: %+v", got[0])
	}
}

func TestSource(t *testing.T) {
	for _, name := range []string{"none", "", "../recipes", "../starters/plover-tray", "plover-tray.toml"} {
		if _, ok := ShippedSource(name); ok {
			t.Errorf("%q has a source", name)
		}
	}
}

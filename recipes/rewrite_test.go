package recipes

// A file that is changed: what differs is written, all else stays byte for byte.

import (
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"example.org/wetside/sequence"
)

func shipped(t testing.TB, name string) ([]byte, sequence.Recipe) {
	t.Helper()
	text, _ := ShippedSource(name)
	r, err := Find(name, "")
	if err != nil {
		t.Fatal(err)
	}
	return text, r
}

// changedLines are those of b that are not in a, and those of a that are not in b.
func changedLines(a, b []byte) (added, gone []string) {
	x, y := strings.Split(string(a), "\n"), strings.Split(string(b), "\n")
	for _, l := range y {
		if i := slices.Index(x, l); i >= 0 {
			x = slices.Delete(x, i, i+1)
		} else {
			added = append(added, l)
		}
	}
	return added, x
}

func TestRewriteChangesWhatDiffers(t *testing.T) {
	src, r := shipped(t, "plover-tray")
	r.Film.ExposureIndex = 50
	r.Steps[1].Time = 8 * time.Minute
	r.Film.WetLimit = sequence.WetLimit{All: 20 * time.Minute}
	r.Steps[1].Note = "watch the clock"
	text, err := Rewrite("x", src, r)
	if err != nil {
		t.Fatal(err)
	}
	added, gone := changedLines(src, text)
	wantAdded := []string{
		"exposure_index = 50        # what these times are for; half the box speed is a usual start with staining developers",
		`wet_limit      = "20m"`,
		`time        = "8m"      # exact for each sheet, from its own entry`,
		`note        = "watch the clock"`,
	}
	if !slices.Equal(added, wantAdded) || len(gone) != 3 {
		t.Errorf("added\n%q\nexpected\n%q\ngone %q", added, wantAdded, gone)
	}
}

func TestRewriteTakesStepsAwayAndPutsThemIn(t *testing.T) {
	src, r := shipped(t, "tern-hangers")
	r.Steps = slices.Delete(slices.Clone(r.Steps), 0, 1)
	text, err := Rewrite("x", src, r)
	if err != nil {
		t.Fatal(err)
	}
	if added, gone := changedLines(src, text); len(added) != 0 || !slices.Contains(gone, `kind    = "presoak"`) || len(gone) != 5 {
		t.Errorf("added %q, gone %q", added, gone)
	}
	above := strings.Replace(string(src), "[[step]]", "# soak first\n[[step]]", 1)
	if text, err := Rewrite("x", []byte(above), r); err != nil || strings.Contains(string(text), "soak first") {
		t.Errorf("the comment above it stayed: %v", err)
	}
	aid := sequence.Step{Kind: sequence.Other, Name: "toner", Time: time.Minute, RoomLight: sequence.White, Agitate: sequence.Agitation{Mode: sequence.Still}}
	dry := aid
	dry.Name = "drying"
	r.Steps = append(slices.Clone(r.Steps), aid, dry)
	if text, err = Rewrite("x", text, r); err != nil {
		t.Fatal(err)
	}
	if got, err := Read("x", text); err != nil || !reflect.DeepEqual(got, r) {
		t.Errorf("%v\n%s", err, text)
	}
}

// Whatever is changed, the file reads as the recipe asked for and no comment is lost.
func TestRewriteIsReadBack(t *testing.T) {
	for _, e := range ShippedEntries() {
		src, _ := shipped(t, e.Name)
		rapid.Check(t, func(rt *rapid.T) {
			_, r := shipped(t, e.Name)
			r.Title = rapid.SampledFrom([]string{r.Title, `a "quoted" title`}).Draw(rt, "title")
			r.Load.Sheets = rapid.IntRange(max(2, len(r.Load.Names)), 12).Draw(rt, "sheets")
			r.Load.Names = nil
			r.Film.WetWarning = time.Duration(rapid.IntRange(1, 9).Draw(rt, "warning")) * time.Minute
			r.Film.BoxSpeed = rapid.SampledFrom([]float64{0, 25, 400}).Draw(rt, "speed")
			for i := range r.Steps {
				if rapid.Bool().Draw(rt, "note") {
					r.Steps[i].Note = "noted"
				}
			}
			want, err := Read("x", Write(r))
			if err != nil {
				return // a film test with another number of sheets
			}
			text, err := Rewrite("x", src, r)
			if err != nil {
				rt.Fatal(err)
			}
			if got, err := Read("x", text); err != nil || !reflect.DeepEqual(got, want) {
				rt.Fatalf("%v\n%s", err, text)
			}
			for line := range strings.Lines(string(src)) {
				if strings.HasPrefix(line, "#") && !strings.Contains(string(text), line) {
					rt.Fatalf("lost %q", line)
				}
			}
		})
	}
}

func TestRewriteRefuses(t *testing.T) {
	src, r := shipped(t, "tern-hangers")
	if _, err := Rewrite("x", []byte("title = 1"), r); err == nil {
		t.Error("a broken source was changed")
	}
	r.Steps[1].Time = -1
	if _, err := Rewrite("x", src, r); err == nil {
		t.Error("a broken recipe was written")
	}
	_, r = shipped(t, "tern-hangers")
	r.Film.Name = "Tern 250"
	inline := strings.Replace(string(src), "[film]\nname           = \"Tern 125\"\nbox_speed      = 125\nexposure_index = 100\nwet_limit      = \"1h30m\"",
		`film = { name = "Tern 125", box_speed = 125, exposure_index = 100, wet_limit = "1h30m" }`, 1)
	if _, err := Rewrite("x", []byte(inline), r); err != errOwnLayout {
		t.Errorf("an inline table: %v", err)
	}
	_, wet := shipped(t, "plover-tray")
	plover, _ := shipped(t, "plover-tray")
	wet.Film.WetLimit.ByVessel[sequence.Tray] = time.Hour
	table := strings.Replace(string(plover), `wet_limit      = { tray = "20m", hangers = "1h30m" }`, "", 1)
	table = strings.Replace(table, "[load]", "[film.wet_limit]\ntray = \"20m\"\nhangers = \"1h30m\"\n\n[load]", 1)
	if _, err := Rewrite("x", []byte(table), wet); err != errOwnLayout {
		t.Errorf("a table of its own: %v", err)
	}
	if got, err := Rewrite("x", src[:len(src)-1], r); err != nil || !strings.Contains(string(got), `"Tern 250"`) {
		t.Errorf("without the last line's end: %v", err)
	}
}

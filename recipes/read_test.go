package recipes

// Reading: every sound file gives what it says, every bad one all its faults,
// word for word.

import (
	"errors"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
)

var rewrite = flag.Bool("rewrite", false, "write the error texts under testdata/bad anew")

// TestBadRecipes reads each file under testdata/bad; the .want file beside it
// holds the whole error. With -rewrite the .want files are written: read the
// difference before believing it.
func TestBadRecipes(t *testing.T) {
	files, err := filepath.Glob("testdata/bad/*.toml")
	if err != nil || len(files) == 0 {
		t.Fatal("no files", err)
	}
	for _, file := range files {
		name := strings.TrimSuffix(filepath.Base(file), ".toml")
		t.Run(name, func(t *testing.T) {
			data, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			recipe, err := Read(name+".toml", data)
			var faults Faults
			if !errors.As(err, &faults) {
				t.Fatalf("error %v, want Faults", err)
			}
			if !reflect.DeepEqual(recipe, sequence.Recipe{}) {
				t.Error("a recipe came with the faults")
			}
			wantFile := strings.TrimSuffix(file, ".toml") + ".want"
			got := faults.Error() + "\n"
			if *rewrite {
				if err := os.WriteFile(wantFile, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(wantFile)
			if err != nil {
				t.Fatal(err)
			}
			if got != string(want) {
				t.Errorf("got\n%s\nwant\n%s", got, want)
			}
		})
	}
}

// sound is a recipe with one step, for tests that add something.
const sound = `
title = "t"
film = { name = "Plover 80" }
load = { vessel = "tray", sheets = 1, size = "4x5in" }
`

// TestEveryKey reads the file in which each key stands, and compares with its
// meaning written out by hand.
func TestEveryKey(t *testing.T) {
	got, err := ReadFile("testdata/good/every-key.toml")
	if err != nil {
		t.Fatal(err)
	}
	const s, m = time.Second, time.Minute
	shuffle := sequence.Agitation{Mode: sequence.Shuffle}
	rest := sequence.Agitation{Mode: sequence.Still}
	want := sequence.Recipe{
		Title: "Plover 80, six sheets in open trays",
		About: "A soft emulsion in a two-part developer.",
		Film: sequence.Film{Name: "Plover 80", Sensitivity: sequence.Pan, BoxSpeed: 80, ExposureIndex: 50,
			WetLimit: sequence.WetLimit{ByVessel: map[sequence.Vessel]sequence.Elapsed{
				sequence.Tray: 18 * m, sequence.Hangers: 75 * m}},
			WetWarning: 4 * m,
			Reciprocity: &sequence.Reciprocity{
				Table: [][2]sequence.Elapsed{{s, 1400 * time.Millisecond}, {8 * s, 40 * s}}, Longest: 10 * s}},
		Load: sequence.Load{Vessel: sequence.Tray, Sheets: 6, Size: sequence.Size{Name: "4x5in", Width: 4, Height: 5},
			LoadEvery: 15 * s, ShuffleEvery: 10 * s, TransferEvery: 10 * s},
		Baths: []sequence.Bath{{ID: "developer", Parts: []chem.Part{{Name: "A", Parts: 1}, {Name: "B", Parts: 3},
			{Name: "water", Parts: 80}}, Volume: 1500, StockPerSheet: 2, SheetsPerLitre: 6, WorkingLife: time.Hour, OneShot: true,
			Cautions: []string{"Wear nitrile gloves: the developing agent is absorbed through the skin."}}},
		Steps: []sequence.Step{
			{Name: "presoak", Kind: sequence.Presoak, Time: 2 * m, RoomLight: sequence.Dark, Agitate: shuffle},
			{Name: "develop", Kind: sequence.Develop, Bath: "developer", Time: 510 * s, RoomLight: sequence.Dark,
				Agitate: shuffle, Drain: 8 * s, Temperature: &sequence.Temperature{At: 20, Coefficient: 2.2,
					Range: []chem.Celsius{18, 24}}},
			{Name: "fix", Kind: sequence.Fix, Bath: "fixer", Time: 5 * m, RoomLight: sequence.Dark, Agitate: shuffle,
				LightsOnAfter: 2 * m},
			{Name: "wash", Kind: sequence.Wash, Vessel: sequence.Hangers, Time: 10 * m, RoomLight: sequence.White,
				Agitate: rest, LeastTime: 5 * m},
		},
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got\n%+v\nwant\n%+v", got, want)
	}
}

// TestDefaults reads a recipe with the required keys alone.
func TestDefaults(t *testing.T) {
	got, err := Read("t.toml", []byte(sound+"step = [{ kind = 'fix', time = '5m' }, { kind = 'fix', time = '3m' }]"))
	if err != nil {
		t.Fatal(err)
	}
	if f := got.Film; f.Sensitivity != sequence.Pan || f.WetWarning != 3*time.Minute || f.Reciprocity != nil {
		t.Errorf("film %+v", f)
	}
	if l := got.Load; l.LoadEvery != 15*time.Second || l.ShuffleEvery != 10*time.Second || l.TransferEvery != 10*time.Second {
		t.Errorf("load %+v", l)
	}
	want := sequence.Step{Name: "fix 2", Kind: sequence.Fix, Time: 3 * time.Minute, RoomLight: sequence.Dark,
		Agitate: sequence.Agitation{Mode: sequence.Still}}
	if !reflect.DeepEqual(got.Steps[1], want) {
		t.Errorf("step %+v, want %+v", got.Steps[1], want)
	}
}

// TestStepForms reads the forms that a step's keys may take.
func TestStepForms(t *testing.T) {
	third := 1.0 / 3
	for _, c := range []struct {
		source string
		want   func(*sequence.Step)
	}{
		{"time = '1h10m'", func(s *sequence.Step) { s.Time = 70 * time.Minute }},
		{"time = '8:30'", func(s *sequence.Step) { s.Time = 510 * time.Second }},
		{"times = { 'N-1' = '6m40s', N = '8m30s', 'N+1' = '11m' }", func(s *sequence.Step) {
			s.Times = []sequence.NamedTime{{Name: "N-1", Time: 400 * time.Second}, {Name: "N", Time: 510 * time.Second},
				{Name: "N+1", Time: 660 * time.Second}}
		}},
		{"take_out = ['5m']", func(s *sequence.Step) { s.PullTimes = []sequence.Elapsed{5 * time.Minute} }},
		{"time = '5m'\nadvance = 'wait'\noptional = true\nwet = false", func(s *sequence.Step) {
			s.Time, s.WaitForPerson, s.Optional, s.OutsideWetTime = 5*time.Minute, true, true, true
		}},
		{"time = '5m'\nvessel = 'drum'\nreverse_every = '15s'\nroom_light = 'white'", func(s *sequence.Step) {
			s.Time, s.Vessel, s.ReverseEvery, s.RoomLight = 5*time.Minute, sequence.Drum, 15*time.Second, sequence.White
		}},
		{"time = '5m'\nagitate = { initial = '60s', for = '10s', every = '60s' }", func(s *sequence.Step) {
			s.Time = 5 * time.Minute
			s.Agitate = sequence.Agitation{Mode: sequence.Pattern, Initial: time.Minute, For: 10 * time.Second, Every: time.Minute}
		}},
		{"time = '5m'\nagitate = { for = '15s', at = ['1/3', 0.5] }", func(s *sequence.Step) {
			s.Time = 5 * time.Minute
			s.Agitate = sequence.Agitation{Mode: sequence.Pattern, For: 15 * time.Second, At: []float64{third, 0.5}}
		}},
		{"time = '5m'\ntemperature = { at = '68F', table = [[18, '10m'], ['75.2F', '6m12s']] }", func(s *sequence.Step) {
			s.Time = 5 * time.Minute
			s.Temperature = &sequence.Temperature{At: 20, Table: []chem.Pair{{T: 18, Seconds: 600}, {T: 24, Seconds: 372}}}
		}},
		{"time = '5m'\nname = 'slow bath'\nnote = '''\nA note\r\nof two lines.'''", func(s *sequence.Step) {
			s.Time, s.Name, s.Note = 5*time.Minute, "slow bath", "A note of two lines."
		}},
	} {
		want := sequence.Step{Name: "develop", Kind: sequence.Develop, RoomLight: sequence.Dark,
			Agitate: sequence.Agitation{Mode: sequence.Still}}
		c.want(&want)
		got, err := Read("t.toml", []byte(sound+"[[step]]\nkind = 'develop'\n"+c.source))
		if err != nil {
			t.Errorf("%s: %v", c.source, err)
		} else if !reflect.DeepEqual(got.Steps[0], want) {
			t.Errorf("%s:\ngot  %+v\nwant %+v", c.source, got.Steps[0], want)
		}
	}
}

// TestSizes checks sheet sizes in inches; 2.54 cm to the inch by definition.
func TestSizes(t *testing.T) {
	for text, want := range map[string][2]float64{
		"4x5in": {4, 5}, "8x10in": {8, 10}, "5x7in": {5, 7}, "2.25x3.25in": {2.25, 3.25}, "4x5 in": {4, 5},
		"25.4x50.8cm": {10, 20}, "9x12cm": {9 / 2.54, 12 / 2.54},
	} {
		got, ok := ParseSize(text)
		if !ok || got.Name != text || got.Width != want[0] || got.Height != want[1] {
			t.Errorf("%q: %+v %v, want %v", text, got, ok, want)
		}
	}
	for _, text := range []string{"", "4x5", "x", "xin", "4xin", "4x5x6in", "-4x5in", "4x5mm", "1e1x5in", "0.9x5in", "4x61in", "+4x5in", "NaNxNaNin"} {
		if got, ok := ParseSize(text); ok {
			t.Errorf("%q was read as %+v", text, got)
		}
	}
}

// TestLightRule walks through who may have light before the film is fixed.
func TestLightRule(t *testing.T) {
	for _, c := range []struct {
		film, vessel, light string
		fine                bool
	}{
		{"pan", "tray", "dark", true}, {"pan", "tray", "safelight", false}, {"pan", "hangers", "white", false},
		{"pan", "drum", "white", true}, {"pan", "daylight-tank", "white", true}, {"pan", "tube", "safelight", true},
		{"ortho", "tray", "safelight", true}, {"blue", "cradle", "safelight", true}, {"pan", "single", "white", false},
	} {
		source := fmt.Sprintf(`title = "t"
film = { name = "Plover 80", sensitivity = %q }
load = { vessel = %q, sheets = 1, size = "4x5in" }
step = [{ kind = "develop", time = "8m", room_light = %q }, { kind = "fix", time = "5m" }]`, c.film, c.vessel, c.light)
		if _, err := Read("t.toml", []byte(source)); (err == nil) != c.fine {
			t.Errorf("%+v: %v", c, err)
		}
	}
	washing := sound + `step = [{ kind = "wash", time = "8m", room_light = "white" }]`
	if _, err := Read("t.toml", []byte(washing)); err != nil {
		t.Error("washing finished film in the light:", err)
	}
}

// TestMostSteps reads 200 steps and refuses 201.
func TestMostSteps(t *testing.T) {
	step := "[[step]]\nkind = 'wash'\ntime = '1m'\n"
	if r, err := Read("t.toml", []byte(sound+strings.Repeat(step, 200))); err != nil || len(r.Steps) != 200 {
		t.Errorf("200 steps: %d, %v", len(r.Steps), err)
	}
	_, err := Read("t.toml", []byte(sound+strings.Repeat(step, 201)))
	if want := "t.toml:605:1: step 201: 201 steps; expected at most 200"; err == nil || err.Error() != want {
		t.Errorf("got %v, want %s", err, want)
	}
}

func TestReadFile(t *testing.T) {
	dir := t.TempDir()
	if _, err := ReadFile(filepath.Join(dir, "none.toml")); !errors.Is(err, os.ErrNotExist) {
		t.Error("no file:", err)
	}
	if _, err := ReadFile(dir); err == nil {
		t.Error("a folder was read")
	}
	large := filepath.Join(dir, "large.toml")
	if err := os.WriteFile(large, make([]byte, 10*maxFileSize), 0o600); err != nil {
		t.Fatal(err)
	}
	_, err := ReadFile(large)
	if want := large + ": the file has more than 65536 bytes; expected at most 65536"; err == nil || err.Error() != want {
		t.Errorf("got %v, want %s", err, want)
	}
}

// ExampleRead shows how a bad file is told.
func ExampleRead() {
	_, err := Read("mine.toml", []byte(`title = "My way"
[film]
name = "Plover 80"
[load]
vessel = "trey"
sheets = 6
size = "4x5in"
[[step]]
kind = "develop"
time = "8 minutes"
`))
	fmt.Println(err)
	// Output:
	// mine.toml:5:1: load.vessel: unknown word "trey"; expected one of tray, single, cradle, hangers, daylight-tank, drum, tube (did you mean "tray"?)
	// mine.toml:10:1: step 1 time: "8 minutes" is not a time; expected 1 s to 24 h, such as "8m30s"
}

func BenchmarkRead(b *testing.B) {
	data, ok := ShippedSource("plover-tray")
	if !ok {
		b.Fatal("no such starter")
	}
	b.SetBytes(int64(len(data)))
	for b.Loop() {
		if _, err := Read("plover-tray.toml", data); err != nil {
			b.Fatal(err)
		}
	}
}

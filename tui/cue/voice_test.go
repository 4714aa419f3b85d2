package cue

// The recordings: complete, of one format and loudness, and brought to our rate
// without harm; phrases joined as they should be.

import (
	"go/ast"
	"go/parser"
	"go/token"
	"maps"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"
)

// listed are the phrases of words/phrases.txt by id.
func listed(t *testing.T) map[Word]string {
	t.Helper()
	data, err := os.ReadFile("words/phrases.txt")
	if err != nil {
		t.Fatal(err)
	}
	list := map[Word]string{}
	for line := range strings.Lines(string(data)) {
		id, text, found := strings.Cut(strings.TrimSuffix(line, "\n"), "\t")
		if _, twice := list[Word(id)]; !found || text == "" || twice {
			t.Errorf("phrases.txt: %q; expected an id of its own, a tab and a text", line)
		}
		list[Word(id)] = text
	}
	return list
}

// written are the ids that the code can say: all string literals of the
// vocabulary's functions, and in the rules those inside a Clause.
func written(t *testing.T) map[Word]bool {
	t.Helper()
	ids := map[Word]bool{}
	collect := func(n ast.Node) bool {
		if _, is := n.(*ast.ImportSpec); is {
			return false
		}
		if lit, is := n.(*ast.BasicLit); is && lit.Kind == token.STRING {
			if id, err := strconv.Unquote(lit.Value); err == nil && id != "" {
				ids[Word(id)] = true
			}
		}
		return true
	}
	parse := func(name string) *ast.File {
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		return f
	}
	ast.Inspect(parse("speech_say.go"), collect)
	ast.Inspect(parse("speech.go"), func(n ast.Node) bool {
		if lit, is := n.(*ast.CompositeLit); is {
			if name, is := lit.Type.(*ast.Ident); is && (name.Name == "Clause" || name.Name == "Phrase") {
				ast.Inspect(lit, collect)
			}
		}
		return true
	})
	for n := range 100 {
		for _, w := range number(n) {
			ids[w] = true
		}
	}
	return ids
}

func sorted[V any](m map[Word]V) []Word { return slices.Sorted(maps.Keys(m)) }

func TestEveryWordIsListedRecordedAndUsed(t *testing.T) {
	list, used, there := sorted(listed(t)), sorted(written(t)), sorted(recorded())
	if !slices.Equal(list, there) {
		t.Errorf("listed %v\nrecorded %v", list, there)
	}
	if !slices.Equal(used, there) {
		t.Errorf("used %v\nrecorded %v", used, there)
	}
}

// Peak -3 dBFS; the power of a word lies within 12 dB; no silence at either end.
func TestRecordingsAreOfOneFormatAndLoudness(t *testing.T) {
	total := int64(0)
	for id := range listed(t) {
		name := "words/" + string(id) + ".wav"
		info, err := os.Stat(name)
		if err != nil {
			t.Fatal(err)
		}
		total += info.Size()
		samples, err := read(name) // checks the format
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		peak, power := 0.0, 0.0
		for _, s := range samples {
			peak, power = max(peak, math.Abs(float64(s))), power+float64(s)*float64(s)
		}
		if db := 20 * math.Log10(peak); math.Abs(db+3) > 0.1 {
			t.Errorf("%s: peak %.2f dBFS, want -3", name, db)
		}
		if db := 10 * math.Log10(power/float64(len(samples))); db < -24 || db > -10 {
			t.Errorf("%s: mean power %.1f dBFS, want -24 to -10", name, db)
		}
		loud := func(s float32) bool { return math.Abs(float64(s)) > 0.01 }
		first, rest := slices.IndexFunc(samples, loud), slices.Clone(samples)
		slices.Reverse(rest)
		if last := slices.IndexFunc(rest, loud); first > 960 || last > 960 {
			t.Errorf("%s: %d frames of silence before, %d after; want 60 ms at most", name, first, last)
		}
	}
	if total > 3_000_000 {
		t.Errorf("%d bytes of recordings, want under 3 MB", total)
	}
}

func TestOtherFormatIsRefused(t *testing.T) {
	if _, err := read("words/phrases.txt"); err == nil {
		t.Error("a text was read as a recording")
	}
}

// A tone keeps its pitch and height, and has no mirror image above 8 kHz.
func TestResamplingKeepsATone(t *testing.T) {
	for _, hz := range []float64{200, 1000, 3000, 6000} {
		given := make([]float32, 16000)
		for i := range given {
			given[i] = float32(0.5 * math.Sin(2*math.Pi*hz*float64(i)/16000))
		}
		made := resampled(given)
		if len(made) != 44100 {
			t.Fatalf("%d frames for a second", len(made))
		}
		both := make([][2]float64, len(made))
		peak := 0.0
		for i, x := range made {
			both[i] = [2]float64{float64(x), float64(x)}
			if i > 1000 && i < 43000 {
				peak = max(peak, math.Abs(float64(x)))
			}
		}
		if f := fundamental(both[20000:]); math.Abs(f-hz) > 1 {
			t.Errorf("%v Hz became %v", hz, f)
		}
		if math.Abs(peak-0.5) > 0.005 {
			t.Errorf("%v Hz: height %.4f, want 0.5", hz, peak)
		}
		s := spectrum(both[20000:])
		for k := 9000 * window / 44100; k < len(s); k++ {
			if s[k] > s[int(math.Round(hz*window/44100))]/1000 {
				t.Errorf("%v Hz: an image at %.0f Hz", hz, float64(k)*44100/window)
				break
			}
		}
	}
}

// Sox resamples a word; ours differs from it by less than a hundredth of its power.
func TestSoxResamplesAlike(t *testing.T) {
	out := filepath.Join(t.TempDir(), "word.raw")
	sox(t, "-D", "words/developer.wav", "-r", "44100", "-e", "float", "-b", "32", "-t", "raw", out)
	data, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	ours := recorded()["developer"]
	theirs := floats(data)
	difference, power := 0.0, 0.0
	for i := range min(len(ours), len(theirs)) {
		d := float64(ours[i]) - float64(theirs[i])
		difference, power = difference+d*d, power+float64(theirs[i])*float64(theirs[i])
	}
	if n := len(ours) - len(theirs); n < -1 || n > 1 {
		t.Errorf("%d frames, sox has %d", len(ours), len(theirs))
	}
	if difference > power/100 {
		t.Errorf("differs from sox by %.1f dB, want -20", 10*math.Log10(difference/power))
	}
}

func floats(data []byte) []float32 {
	list := make([]float32, len(data)/4)
	for i := range list {
		list[i] = math.Float32frombits(uint32(data[4*i]) | uint32(data[4*i+1])<<8 | uint32(data[4*i+2])<<16 | uint32(data[4*i+3])<<24)
	}
	return list
}

// spoken streams a phrase in portions of these sizes.
func spokenIn(p Phrase, sizes ...int) [][2]float64 {
	var all [][2]float64
	s := p.Streamer()
	for i := 0; ; i++ {
		block := make([][2]float64, sizes[i%len(sizes)])
		n, ok := s.Stream(block)
		all = append(all, block[:n]...)
		if !ok {
			return all
		}
	}
}

func TestPhraseIsItsWordsAndPauses(t *testing.T) {
	p := Phrase{{"move-sheet", "3"}, {"developer"}}
	words := recorded()
	want := len(words["move-sheet"]) + 2646 + len(words["3"]) + 7938 + len(words["developer"]) // 60 and 180 ms
	whole := spokenIn(p, 1<<20)
	if len(whole) != want || p.Length() != inTime(int64(want)) {
		t.Errorf("%d frames, %v long; want %d", len(whole), p.Length(), want)
	}
	for i, s := range whole {
		if at := len(words["move-sheet"]); i >= at && i < at+2646 && s[0] != 0 {
			t.Fatalf("frame %d, between two words, is %v", i, s[0])
		}
	}
	if !slices.Equal(whole, spokenIn(p, 7, 1009, 1, 333)) {
		t.Error("portions change what is heard")
	}
}

func TestPhraseBeginsAtOnce(t *testing.T) {
	for id := range recorded() {
		if o := onsets(spokenIn(Phrase{{id}}, 4096)); len(o) == 0 || o[0] > 2646 {
			t.Errorf("%s begins at frame %v, want within 60 ms", id, o)
		}
	}
}

func TestNothingIsSaidOfNothing(t *testing.T) {
	if p := (Phrase{}); p.Length() != 0 || len(spokenIn(p, 10)) != 0 {
		t.Error("an empty phrase sounds")
	}
	if p := (Phrase{{"no such word"}, {"ready"}}); p.Length() != (Phrase{{"ready"}}).Length() {
		t.Error("an unknown word leaves a gap")
	}
}

func TestReadingTheWordsIsQuick(t *testing.T) {
	if testing.Short() {
		t.Skip("measures time")
	}
	from := time.Now()
	for _, id := range []Word{"developer", "holding", "59"} {
		samples, err := read("words/" + string(id) + ".wav")
		if err != nil {
			t.Fatal(err)
		}
		resampled(samples)
	}
	if took := time.Since(from); took > 2*time.Second {
		t.Errorf("%v for three words", took)
	}
}

package cue

// The recordings: complete, of one format and loudness, and brought to our rate
// without harm; phrases joined as they should be.

import (
	"encoding/binary"
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
	ast.Inspect(parse("phrases.go"), collect)
	ast.Inspect(parse("speech_schedule.go"), func(n ast.Node) bool {
		if lit, is := n.(*ast.CompositeLit); is {
			if name, is := lit.Type.(*ast.Ident); is && (name.Name == "Clause" || name.Name == "Phrase") {
				ast.Inspect(lit, collect)
			}
		}
		return true
	})
	for n := range 100 {
		for _, w := range numberWords(n) {
			ids[w] = true
		}
	}
	return ids
}

// recorded is every word with its samples.
func recorded(t testing.TB) map[Word][]float32 {
	t.Helper()
	entries, err := recordings.ReadDir("words")
	if err != nil {
		t.Fatal(err)
	}
	all := map[Word][]float32{}
	for _, entry := range entries {
		w := Word(strings.TrimSuffix(entry.Name(), ".wav"))
		all[w] = wordSamples(w)
	}
	return all
}

func sorted[V any](m map[Word]V) []Word { return slices.Sorted(maps.Keys(m)) }

func TestEveryWordIsListedRecordedAndUsed(t *testing.T) {
	list, used, there := sorted(listed(t)), sorted(written(t)), sorted(recorded(t))
	if !slices.Equal(list, there) {
		t.Errorf("listed %v\nrecorded %v", list, there)
	}
	if !slices.Equal(used, there) {
		t.Errorf("used %v\nrecorded %v", used, there)
	}
}

// Peak -3 dBFS before four bits a sample, which cannot follow the steepest peaks; the power of a word lies within 12 dB; no silence at either end.
func TestRecordingsAreOfOneFormatAndLoudness(t *testing.T) {
	total := int64(0)
	for id := range listed(t) {
		name := "words/" + string(id) + ".wav"
		info, err := os.Stat(name)
		if err != nil {
			t.Fatal(err)
		}
		total += info.Size()
		samples, err := readWord(name) // checks the format
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		peak, power := 0.0, 0.0
		for _, s := range samples {
			peak, power = max(peak, math.Abs(float64(s))), power+float64(s)*float64(s)
		}
		if db := 20 * math.Log10(peak); db < -6 || db > -1 {
			t.Errorf("%s: peak %.2f dBFS, want -6 to -1", name, db)
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
	if total > 800_000 {
		t.Errorf("%d bytes of recordings, want under 0.8 MB", total)
	}
}

func TestOtherFormatIsRefused(t *testing.T) {
	if _, err := readWord("words/phrases.txt"); err == nil {
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
		made := resample(given)
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

// Sox decodes every recording to the same samples.
func TestSoxDecodesAlike(t *testing.T) {
	out := filepath.Join(t.TempDir(), "word.raw")
	for id := range listed(t) {
		name := "words/" + string(id) + ".wav"
		sox(t, "-D", name, "-e", "signed", "-b", "16", "-t", "raw", out)
		theirs, err := os.ReadFile(out)
		if err != nil {
			t.Fatal(err)
		}
		ours, err := readWord(name)
		if err != nil || len(ours) == 0 || 2*len(ours) > len(theirs) {
			t.Fatalf("%s: %d samples, sox has %d: %v", name, len(ours), len(theirs)/2, err)
		}
		for i, x := range ours {
			if their := int16(binary.LittleEndian.Uint16(theirs[2*i:])); int16(x*32768) != their {
				t.Fatalf("%s: sample %d is %v, sox has %d", name, i, x*32768, their)
			}
		}
	}
}

// What is no recording is refused, and does not crash.
func TestBrokenRecordingsAreRefused(t *testing.T) {
	whole, err := recordings.ReadFile("words/ready.wav")
	if err != nil {
		t.Fatal(err)
	}
	number, err := recordings.ReadFile("words/9.wav")
	if err != nil {
		t.Fatal(err)
	}
	for n := range len(number) {
		if _, err := readRecording(number[:n]); err == nil {
			t.Fatalf("%d of %d bytes were taken for a number", n, len(number))
		}
	}
	for n := range len(whole) {
		if _, err := readRecording(whole[:n]); err == nil {
			t.Fatalf("%d of %d bytes were taken for a recording", n, len(whole))
		}
	}
	for at, value := range map[int]byte{0: 'x', 8: 'x', 20: 1, 22: 2, 24: 0, 32: 2, 62: 89, 40: 'F', 46: 1, 52: 'D'} {
		broken := slices.Clone(whole)
		broken[at] = value
		if _, err := readRecording(broken); err == nil {
			t.Errorf("byte %d as %d was taken for a recording", at, value)
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
	const block = 256 // bytes
	ours := wordSamples("developer")
	theirs := floats(data)
	difference, power := 0.0, 0.0
	for i := range min(len(ours), len(theirs)) {
		d := float64(ours[i]) - float64(theirs[i])
		difference, power = difference+d*d, power+float64(theirs[i])*float64(theirs[i])
	}
	if n := len(theirs) - len(ours); n < -1 || n > 2*block*upFactor/downFactor+1 { // sox plays what fills the last block
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
	words := recorded(t)
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
	for id := range recorded(t) {
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

func BenchmarkReadingThreeWords(b *testing.B) {
	for b.Loop() {
		for _, id := range []Word{"developer", "holding", "90"} {
			samples, err := readWord("words/" + string(id) + ".wav")
			if err != nil {
				b.Fatal(err)
			}
			resample(samples)
		}
	}
}

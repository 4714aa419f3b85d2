package cue

// The recordings: complete, of one format and loudness, decoded without harm; phrases
// joined as they should be.

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
	for _, topic := range []string{"numbers", "time_left", "state", "cues", "events", "menu", "no_session"} {
		ast.Inspect(parse("voice_"+topic+".go"), collect)
	}
	ast.Inspect(parse("voice_schedule_cues.go"), func(n ast.Node) bool {
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
		w := Word(strings.TrimSuffix(entry.Name(), ".ogg"))
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

// Peak -3 dBFS before encoding, which moves peaks a little; the power of a word lies
// within 12 dB; no silence at either end.
func TestRecordingsAreOfOneFormatAndLoudness(t *testing.T) {
	const most = 2646 // frames: 60 ms
	total := int64(0)
	for id := range listed(t) {
		name := "words/" + string(id) + ".ogg"
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
		if db := 20 * math.Log10(peak); db < -6 || db > -0.2 { // recorded at -3; a lossy codec overshoots
			t.Errorf("%s: peak %.2f dBFS, want -6 to -0.2", name, db)
		}
		if db := 10 * math.Log10(power/float64(len(samples))); db < -24 || db > -10 {
			t.Errorf("%s: mean power %.1f dBFS, want -24 to -10", name, db)
		}
		loud := func(s float32) bool { return math.Abs(float64(s)) > 0.01 }
		first, rest := slices.IndexFunc(samples, loud), slices.Clone(samples)
		slices.Reverse(rest)
		if last := slices.IndexFunc(rest, loud); first > most || last > most {
			t.Errorf("%s: %d frames of silence before, %d after; want 60 ms at most", name, first, last)
		}
	}
	if total > 1_000_000 {
		t.Errorf("%d bytes of recordings, want under 1 MB", total)
	}
}

// Sox decodes every recording alike: the loudest difference is a thousandth of full
// scale, and no word is longer or shorter.
func TestSoxDecodesAlike(t *testing.T) {
	out := filepath.Join(t.TempDir(), "word.raw")
	for id := range listed(t) {
		name := "words/" + string(id) + ".ogg"
		sox(t, "-D", name, "-e", "float", "-b", "32", "-t", "raw", out)
		data, err := os.ReadFile(out)
		if err != nil {
			t.Fatal(err)
		}
		ours, err := readWord(name)
		if err != nil || 4*len(ours) != len(data) {
			t.Fatalf("%s: %d samples, sox has %d: %v", name, len(ours), len(data)/4, err)
		}
		for i, x := range ours {
			their := math.Float32frombits(binary.LittleEndian.Uint32(data[4*i:]))
			if math.Abs(float64(x-their)) > 0.001 {
				t.Fatalf("%s: sample %d is %v, sox has %v", name, i, x, their)
			}
		}
	}
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
	p := Phrase{{"transfer-sheet", "3"}, {"developer"}}
	words := recorded(t)
	want := len(words["transfer-sheet"]) + 2646 + len(words["3"]) + 7938 + len(words["developer"]) // 60 and 180 ms
	whole := spokenIn(p, 1<<20)
	if len(whole) != want || p.Length() != inTime(int64(want)) {
		t.Errorf("%d frames, %v long; want %d", len(whole), p.Length(), want)
	}
	for i, s := range whole {
		if at := len(words["transfer-sheet"]); i >= at && i < at+2646 && s[0] != 0 {
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
		for _, id := range []Word{"developer", "time-up", "90"} {
			if _, err := readWord("words/" + string(id) + ".ogg"); err != nil {
				b.Fatal(err)
			}
		}
	}
}

package cue

// The spoken words: phrases rendered once by words/make.sh to Ogg Vorbis files at this
// package's rate, embedded, and decoded when they are first used. words/phrases.txt
// says what each of them says.

import (
	"bytes"
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"strings"
	"sync"
	"time"

	"github.com/faiface/beep"
	"github.com/jfreymuth/oggvorbis" // beep's own vorbis package plays mono at double speed
)

//go:generate words/make.sh

//go:embed words/*.ogg
var recordings embed.FS

// Word is the id of a recording: its file's name without .ogg.
type Word string

// spokenLevel is what the recordings are played at, so that a voice that peaks
// at -3 dBFS is about as loud as the tones.
const spokenLevel = 0.9

// decoded are the words that have been said, at Rate. A word is decoded at its first
// use, which takes about three milliseconds; all of them would hold up the start.
var decoded = struct {
	sync.Mutex
	words map[Word][]float32
}{words: map[Word][]float32{}}

// wordSamples are a word's samples at Rate; none for one that was never recorded.
func wordSamples(w Word) []float32 {
	decoded.Lock()
	defer decoded.Unlock()
	samples, known := decoded.words[w]
	if known {
		return samples
	}
	samples, err := readWord(path.Join("words", string(w)+".ogg"))
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		panic(fmt.Errorf("words/%s: %w", w, err)) // the program was built wrongly
	}
	decoded.words[w] = samples
	return samples
}

// readWord decodes a recording.
func readWord(name string) ([]float32, error) {
	data, err := recordings.ReadFile(name)
	if err != nil {
		return nil, err
	}
	samples, format, err := oggvorbis.ReadAll(bytes.NewReader(data))
	if err != nil {
		return nil, err
	}
	if format.Channels != 1 || format.SampleRate != int(Rate) {
		return nil, fmt.Errorf("%d channels, %d Hz; expected mono, %d Hz", format.Channels, format.SampleRate, Rate)
	}
	return samples, nil
}

// Pauses between what is joined, in ms.
const (
	betweenDigits  = 20 // of twenty and one
	betweenWords   = 60
	betweenClauses = 180
)

// Clause is words said in one breath.
type Clause []Word

// Phrase is clauses said one after the other; the zero value says nothing.
type Phrase []Clause

// Length is how long a phrase sounds; 0 for the empty one.
func (p Phrase) Length() time.Duration { return inTime(int64(p.frames())) }

func (p Phrase) frames() int {
	total := 0
	for _, part := range p.parts() {
		total += part.pause + len(part.samples)
	}
	return total
}

// part is a word with the pause before it, in frames.
type part struct {
	pause   int
	samples []float32
}

// parts are the words of a phrase; one that was never recorded is left out.
func (p Phrase) parts() []part {
	var list []part
	pause := 0
	for _, clause := range p {
		for i, w := range clause {
			if samples := wordSamples(w); len(samples) > 0 {
				list = append(list, part{pause, samples})
				pause = frames(betweenWords)
				if i+1 < len(clause) && runsTogether(w, clause[i+1]) {
					pause = frames(betweenDigits)
				}
			}
		}
		if len(list) > 0 {
			pause = frames(betweenClauses)
		}
	}
	return list
}

// runsTogether says whether two words are the tens and the ones of a number.
func runsTogether(tens, ones Word) bool {
	return len(tens) == 2 && tens[0] >= '2' && tens[0] <= '9' && tens[1] == '0' && len(ones) == 1 && ones[0] >= '1' && ones[0] <= '9'
}

// Streamer speaks the phrase once, from its first sample on.
func (p Phrase) Streamer() beep.Streamer {
	parts, at := p.parts(), 0 // at: within the first part, its pause included
	return beep.StreamerFunc(func(samples [][2]float64) (int, bool) {
		n := 0
		for n < len(samples) && len(parts) > 0 {
			first := parts[0]
			if at >= first.pause+len(first.samples) {
				parts, at = parts[1:], 0
				continue
			}
			x := 0.0
			if at >= first.pause {
				x = spokenLevel * float64(first.samples[at-first.pause])
			}
			samples[n] = [2]float64{x, x}
			n++
			at++
		}
		return n, n > 0
	})
}

// String is the ids of a phrase's words, a clause in brackets each.
func (p Phrase) String() string {
	clauses := make([]string, 0, len(p))
	for _, c := range p {
		words := make([]string, 0, len(c))
		for _, w := range c {
			words = append(words, string(w))
		}
		clauses = append(clauses, "["+strings.Join(words, " ")+"]")
	}
	return strings.Join(clauses, " ")
}

package cue

// The spoken words: phrases rendered once by words/make.sh to 16 kHz mono WAV
// files, embedded, and brought to this package's rate at the first use of a
// voice. words/phrases.txt says what each of them says.

import (
	"bytes"
	"embed"
	"fmt"
	"path"
	"strings"
	"sync"
	"time"

	"github.com/faiface/beep"
	"github.com/faiface/beep/wav"
)

//go:generate words/make.sh

//go:embed words/*.wav
var recordings embed.FS

// Word is the id of a recording: its file's name without .wav.
type Word string

// spokenRate is the recordings' sample rate, in frames a second.
const spokenRate = beep.SampleRate(16000)

// decoded brings 16-bit samples of beep's decoder, which divides them by 65535,
// to full scale.
const decoded = 65535.0 / 32768

// spokenLevel is what the recordings are played at, so that a voice that peaks
// at -3 dBFS is about as loud as the tones.
const spokenLevel = 0.9

// recorded is every word with its samples at Rate. Reading takes a tenth of a
// second; the first caller waits for it.
var recorded = sync.OnceValue(func() map[Word][]float32 {
	all := map[Word][]float32{}
	entries, err := recordings.ReadDir("words")
	if err != nil {
		panic(err) // the program was built wrongly
	}
	for _, entry := range entries {
		name := entry.Name()
		samples, err := read(path.Join("words", name))
		if err != nil {
			panic(fmt.Errorf("words/%s: %w", name, err)) // as above
		}
		all[Word(strings.TrimSuffix(name, ".wav"))] = resampled(samples)
	}
	return all
})

// read gives a recording's samples as they are.
func read(name string) ([]float32, error) {
	data, err := recordings.ReadFile(name)
	if err != nil {
		return nil, err
	}
	in, format, err := wav.Decode(bytes.NewReader(data))
	if err != nil {
		return nil, err
	}
	if format != (beep.Format{SampleRate: spokenRate, NumChannels: 1, Precision: 2}) {
		return nil, fmt.Errorf("%+v; expected 16 kHz, mono, 16-bit", format)
	}
	samples := make([]float32, 0, in.Len())
	var block [512][2]float64
	for {
		n, ok := in.Stream(block[:])
		if !ok {
			return samples, in.Err()
		}
		for _, s := range block[:n] {
			samples = append(samples, float32(decoded*s[0]))
		}
	}
}

// Pauses between what is joined, in ms.
const (
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
	words := recorded()
	pause := 0
	for _, clause := range p {
		for _, w := range clause {
			if samples := words[w]; len(samples) > 0 {
				list = append(list, part{pause, samples})
				pause = frames(betweenWords)
			}
		}
		if len(list) > 0 {
			pause = frames(betweenClauses)
		}
	}
	return list
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

package cue

// Cues without a loudspeaker: a list rendered to samples, and one WAV file for
// each kind beside a legend.

import (
	"cmp"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/faiface/beep"
	"github.com/faiface/beep/wav"

	"example.org/wetside/sequence"
)

// Legend is the name of the file that says what the WAV files are.
const Legend = "legend.txt"

// Render is a stretch of time from elapsed 0 on, in frames at Rate, with these
// cues in it.
func Render(cues []sequence.Cue, length time.Duration) [][2]float64 {
	var line Timeline
	for i, c := range cues {
		if !isMergedRest(cues, c) && !containsCue(cues[:i], c) {
			line.Add(inFrames(c.At), Sound(c.Kind))
		}
	}
	samples := make([][2]float64, inFrames(length))
	line.Stream(samples)
	return samples
}

// WriteFiles writes each kind of cue and signal to KIND.wav (44.1 kHz, 16-bit, stereo) in a
// folder, which is made where it is missing, and the legend beside them, once each of these
// files may be written.
func WriteFiles(dir string, mayWrite func(path string) error) error {
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return fmt.Errorf("cues: %w", err)
	}
	for _, name := range fileNames() {
		if err := mayWrite(filepath.Join(dir, name)); err != nil {
			return err
		}
	}
	var legend strings.Builder
	for _, kind := range Kinds() {
		name := string(kind) + ".wav"
		if err := writeFile(filepath.Join(dir, name), kind); err != nil {
			return fmt.Errorf("cues: %w", err)
		}
		fmt.Fprintf(&legend, "%-18s %s\n", name, Describe(kind))
	}
	if err := os.WriteFile(filepath.Join(dir, Legend), []byte(legend.String()), 0o600); err != nil {
		return fmt.Errorf("cues: %w", err)
	}
	return nil
}

// fileNames are those of all that WriteFiles writes.
func fileNames() []string {
	names := []string{Legend}
	for _, kind := range Kinds() {
		names = append(names, string(kind)+".wav")
	}
	return names
}

func writeFile(path string, kind sequence.CueKind) error {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_TRUNC, 0o600)
	if err != nil {
		return err
	}
	format := beep.Format{SampleRate: Rate, NumChannels: 2, Precision: 2}
	err = wav.Encode(f, Sound(kind), format)
	return cmp.Or(err, f.Close())
}

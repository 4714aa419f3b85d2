package film

// Times from elsewhere: another film's, a forum's. One JSON object a line, only ever added to, in the user's data
// ($XDG_DATA_HOME/wetside/films), one file a laptop.

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
)

// BorrowedTime is a developing time that somebody else found.
type BorrowedTime struct {
	V           int              `json:"v"`
	Film        string           `json:"film"`
	Developer   string           `json:"developer,omitzero"` // "": whichever the film is developed in
	Time        sequence.Elapsed `json:"time_s"`
	Temperature chem.Celsius     `json:"temperature_c"`
	Wanted      float64          `json:"average_gradient"` // that it is for
	Within      float64          `json:"within"`           // two in three such times are right to this share
	From        string           `json:"from"`
	Written     time.Time        `json:"written"`
}

const (
	borrowedVersion = 1
	borrowedSuffix  = ".borrowed.jsonl"
	longestBorrowed = 1 << 20 // bytes of one file
	longestFrom     = 200
)

// UsualWithin is how good a time from elsewhere is taken to be where nobody says (our own rule).
const UsualWithin = 0.35

// Check says what is wrong with a borrowed time.
func (b *BorrowedTime) Check() error {
	switch {
	case b.Film == "":
		return errors.New("film: nothing in it; expected its name")
	case !(b.Time >= time.Second && b.Time <= 24*time.Hour):
		return fmt.Errorf("time %s; expected 1 s to 24 h", sequence.FormatElapsed(b.Time))
	case !(b.Temperature >= 5 && b.Temperature <= 40):
		return fmt.Errorf("temperature %g; expected 5 to 40 °C", float64(b.Temperature))
	case !(b.Wanted >= 0.2 && b.Wanted < 2):
		return fmt.Errorf("gradient %g; expected 0.2 to 2", b.Wanted)
	case !(b.Within >= 0.05 && b.Within <= 1):
		return fmt.Errorf("within %g%%; expected 5 to 100%%", 100*b.Within)
	case strings.TrimSpace(b.From) == "" || len(b.From) > longestFrom:
		return fmt.Errorf("from: %d bytes; expected where the time comes from, in %d bytes at most", len(b.From), longestFrom)
	}
	return nil
}

// BorrowedStore is where borrowed times are.
type BorrowedStore struct {
	Folder, Laptop string
	Disk           journal.Disk // for writing; nil means the computer's own
}

// Add keeps a borrowed time, on disk when it returns.
func (s BorrowedStore) Add(b BorrowedTime) error {
	if err := b.Check(); err != nil {
		return err
	}
	if s.Folder == "" {
		return errors.New("borrowed time: nowhere to keep it")
	}
	b.V = borrowedVersion
	if err := journal.AddLine(s.Disk, s.Folder, journal.FileName(s.Laptop)+borrowedSuffix, b); err != nil {
		return fmt.Errorf("borrowed time: %w", err)
	}
	return nil
}

// List is every borrowed time, oldest first; lines that cannot be read are passed over.
func (s BorrowedStore) List() (list []BorrowedTime) {
	paths, _ := filepath.Glob(filepath.Join(s.Folder, "*"+borrowedSuffix))
	for _, path := range paths {
		info, err := os.Lstat(path)
		if s.Folder == "" || err != nil || !info.Mode().IsRegular() || info.Size() > longestBorrowed {
			continue
		}
		text, err := os.ReadFile(path)
		if err != nil {
			continue
		}
		for line := range strings.Lines(string(text)) {
			var b BorrowedTime
			if sequence.Unmarshal([]byte(strings.TrimSpace(line)), &b) == nil && b.Check() == nil {
				list = append(list, b)
			}
		}
	}
	slices.SortStableFunc(list, func(a, b BorrowedTime) int { return a.Written.Compare(b.Written) })
	return list
}
